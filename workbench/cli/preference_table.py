"""All that the maker sets once for all batches, each with its words: what is shown and read."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from workbench.cli.command import CommandError
from workbench.cli.questions import square_inches
from workbench.craft.errors import CraftError
from workbench.craft.money import Money, checked_currency
from workbench.craft.paper import KINDS
from workbench.craft.stock import LeastUseful
from workbench.drawing.labels import write_exactly
from workbench.making.costs import ExtraCost, Pricing
from workbench.measure.length import UNITS, Length, MeasureError, Unit
from workbench.measure.numerals import read_whole
from workbench.measure.reading import read_length
from workbench.measure.writing import Graduation
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.preferences import Preferences, keep_preferences, preferences_of
from workbench.store.pricing import keep_pricing, pricing_of

USUAL, NONE = "usual", "none"


@dataclass(frozen=True, slots=True)
class Kept:
    """All that is set, as the workshop keeps it."""

    preferences: Preferences = field(default_factory=Preferences)
    pricing: Pricing = field(default_factory=Pricing)
    least: LeastUseful = field(default_factory=LeastUseful)

    @property
    def unit(self) -> Unit:
        """The unit that lengths are told in."""
        return self.preferences.unit or "in"


@dataclass(frozen=True, slots=True)
class Preference:
    """One thing that can be set.

    Attributes:
        name: what it is called on the command line.
        about: what it is, and what may be written.
        shown: its value, in words that `read` reads.
        read: what is kept where those words are given; raises CraftError or MeasureError.
    """

    name: str
    about: str
    shown: Callable[[Kept], str]
    read: Callable[[Kept, str], Kept]


def changed(workshop: Workshop, kept: Kept, one: Preference, words: str) -> Kept:
    """All that is set, with this one as `words` say. Raises CraftError."""
    if words == USUAL:
        # Lengths are shown in the unit that they are read in.
        unit = None if one.name == "units" else kept.preferences.unit
        words = one.shown(Kept(Preferences(unit=unit)))
    if one.name == "post" and words != one.shown(Kept()):
        _check_post(workshop, kept, words)
    try:
        return one.read(kept, words.strip())
    except MeasureError as error:
        raise CraftError(one.name, error.what, error.mend) from error


def kept_in(workshop: Workshop) -> Kept:
    """All that is set in the workshop."""
    return Kept(preferences_of(workshop), pricing_of(workshop), Drawer(workshop).least_useful)


def keep(workshop: Workshop, before: Kept, kept: Kept) -> None:
    """Keep what is another than `before` in the workshop."""
    if kept.preferences != before.preferences:
        keep_preferences(workshop, kept.preferences)
    if kept.pricing != before.pricing:
        keep_pricing(workshop, kept.pricing)
    if kept.least != before.least:
        Drawer(workshop).keep_least_useful(kept.least)


def named(name: str) -> Preference:
    """The one that is called so. Raises CommandError."""
    from difflib import get_close_matches

    by_name = {one.name: one for one in ALL}
    if name in by_name:
        return by_name[name]
    close = get_close_matches(name, by_name, n=1)
    mend = f"did you mean “{close[0]}”?" if close else f"there are {', '.join(by_name)}"
    raise CommandError(f"trimtally settings: nothing is called “{name}”; {mend}")


def _check_post(workshop: Workshop, kept: Kept, key: str) -> None:
    from workbench.store.post_desk import desk_of

    posts = desk_of(workshop, kept.preferences).posts
    if key not in posts:
        right = f"use one of {', '.join(posts)}, or {USUAL}"
        raise CraftError("post", f"no post is called “{key}”", right)


# What is read and shown


def _of_preferences(
    name: str, about: str, attribute: str, shown: Callable[[Any], str], read: Callable[[str], Any]
) -> Preference:
    return Preference(
        name,
        about,
        lambda kept: shown(getattr(kept.preferences, attribute)),
        lambda kept, words: replace(
            kept, preferences=replace(kept.preferences, **{attribute: read(words)})
        ),
    )


def _yes_or_no(name: str, about: str, yes: str = "yes", no: str = "no") -> Preference:
    def read(words: str) -> bool:
        if words not in (yes, no):
            raise CraftError(name, f"“{words}” is neither {yes} nor {no}", "write one of them")
        return words == yes

    attribute = "own_pace" if name == "pace" else name
    return _of_preferences(name, about, attribute, lambda on: yes if on else no, read)


def _length(kept: Kept, length: Length) -> str:
    words = write_exactly(length, kept.unit)
    return words if words.endswith(UNITS) else f"{words} {kept.unit}"


def _own_length(name: str, about: str, attribute: str) -> Preference:
    """A length among the preferences."""

    def read(kept: Kept, words: str) -> Kept:
        change: dict[str, Any] = {attribute: read_length(words, kept.unit)}
        return replace(kept, preferences=replace(kept.preferences, **change))

    return Preference(
        name, about, lambda kept: _length(kept, getattr(kept.preferences, attribute)), read
    )


def _of_trimmer(kept: Kept, **change: Any) -> Kept:
    trimmer = replace(kept.preferences.trimmer, **change)
    return replace(kept, preferences=replace(kept.preferences, trimmer=trimmer))


def _trimmer_length(name: str, about: str, attribute: str) -> Preference:
    return Preference(
        name,
        about,
        lambda kept: _length(kept, getattr(kept.preferences.trimmer, attribute)),
        lambda kept, words: _of_trimmer(kept, **{attribute: read_length(words, kept.unit)}),
    )


def _marks(unit: Unit, name: str) -> Preference:
    def read(kept: Kept, words: str) -> Kept:
        step = read_length(words, unit).number(unit)
        graduations = kept.preferences.trimmer.graduations
        return _of_trimmer(kept, graduations={**graduations, unit: Graduation(unit, step)})

    return Preference(
        name,
        f"how finely your trimmer's {name.removesuffix('-marks')} rule is divided",
        lambda kept: f"{kept.preferences.trimmer.graduations[unit].step} {unit}",
        read,
    )


def _at_once(kind: Any) -> Preference:
    name = f"{kind}-at-once"

    def read(kept: Kept, words: str) -> Kept:
        return _of_trimmer(
            kept, at_once={**kept.preferences.trimmer.at_once, kind: read_whole(words)}
        )

    paper = "any other kind" if kind == "other" else kind
    return Preference(
        name,
        f"how many sheets of {paper} your trimmer cuts at once",
        lambda kept: str(kept.preferences.trimmer.at_once[kind]),
        read,
    )


def _unit(words: str) -> Unit | None:
    for unit in UNITS:
        if words == unit:
            return unit
    if words != "project":
        raise CraftError("units", f"“{words}” is no unit here", "write in, mm or project")
    return None


def _keys(words: str) -> dict[str, str]:
    from workbench.app.commands.command import keys_read

    return keys_read("" if words == NONE else words)


def _extras(kept: Kept, words: str) -> Kept:
    each = () if words == NONE else tuple(one for one in words.split(";") if one.strip())
    extras = tuple(ExtraCost.read(one, kept.pricing.currency) for one in each)
    return _of_pricing(kept, extras=extras)


def _hour(kept: Kept, words: str) -> Kept:
    money = None if words == NONE else Money.read(words, kept.pricing.currency)
    return _of_pricing(kept, hourly=money)


def _of_pricing(kept: Kept, **change: Any) -> Kept:
    return replace(kept, pricing=replace(kept.pricing, **change))


def _least(kept: Kept, **change: Any) -> Kept:
    return replace(kept, least=replace(kept.least, **change))


def _joined(keys: Any) -> str:
    return " ".join(f"{name}={given}" for name, given in keys.items()) or NONE


ALL: tuple[Preference, ...] = (
    _trimmer_length("longest-cut", "the longest cut of your trimmer", "cut_length"),
    _trimmer_length("rule", "the longest measure on your trimmer's rule", "rule_length"),
    _trimmer_length("least-strip", "the narrowest strip that you can hold safely", "hold"),
    _marks("in", "inch-marks"),
    _marks("mm", "millimetre-marks"),
    *map(_at_once, KINDS),
    _own_length(
        "even-within", "how far off a piece may be and its border still look even", "tolerance"
    ),
    _of_preferences(
        "units",
        "what lengths are shown in: in, mm, or those of each project",
        "unit",
        lambda unit: unit or "project",
        _unit,
    ),
    _yes_or_no("bell", "whether the terminal's bell rings at every step: yes or no"),
    _yes_or_no("voice", "whether every step is spoken: yes or no"),
    _yes_or_no(
        "pace",
        "how minutes are counted: at your own pace, once your ticks have timed it, or by estimates",
        "own",
        "estimates",
    ),
    _of_preferences(
        "post",
        "the post that your letters go by: us, uk, ca, de, world, or as the units suggest",
        "post",
        lambda key: key or "units",
        lambda words: None if words == "units" else words,
    ),
    _own_length("spare-room", "how much larger than its card an envelope must be", "clearance"),
    _of_preferences(
        "keys", "keys of your own, as in tick=space,t pause=k, or none", "keys", _joined, _keys
    ),
    Preference(
        "currency",
        "what you reckon in, three letters; figures that are set stay as they are",
        lambda kept: kept.pricing.currency,
        lambda kept, words: replace(
            kept, pricing=kept.pricing.paid_in(checked_currency(words.upper()))
        ),
    ),
    Preference(
        "hour",
        "what an hour of yours costs, or none where it is not reckoned",
        lambda kept: str(kept.pricing.hourly or NONE),
        _hour,
    ),
    Preference(
        "margin",
        "the part of a card's price, in hundredths, that stays with you",
        lambda kept: str(kept.pricing.margin),
        lambda kept, words: _of_pricing(kept, margin=read_whole(words)),
    ),
    Preference(
        "extras",
        "what costs beside the paper, as in envelope = 0.12; glue = 0.35 a batch, or none",
        lambda kept: "; ".join(map(str, kept.pricing.extras)) or NONE,
        _extras,
    ),
    Preference(
        "least-side",
        "the shorter side of the smallest offcut worth keeping",
        lambda kept: _length(kept, kept.least.side),
        lambda kept, words: _least(kept, side=read_length(words, kept.unit)),
    ),
    Preference(
        "least-area",
        "its area in square inches, as in 6 or 13/2",
        lambda kept: str(kept.least.area),
        lambda kept, words: _least(kept, area=square_inches(words)),
    ),
)
