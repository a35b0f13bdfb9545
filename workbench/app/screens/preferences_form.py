"""The form of the preferences: the trimmer, the maker's eye, bell, voice and keys."""

from collections.abc import Iterator, Mapping, Sequence

from textual.app import ComposeResult
from textual.widget import Widget
from textual.widgets import Label, Static

from workbench.app.commands.command import keys_read, keys_written
from workbench.app.widgets.fields import Choice, YesNo
from workbench.app.widgets.forms import UNIT_NAMES, Form, row, text
from workbench.craft.errors import CraftError
from workbench.craft.pace import Pace
from workbench.craft.paper import KINDS, PaperKind
from workbench.craft.trimmer import MOST_AT_ONCE, Trimmer
from workbench.drawing.labels import write_exactly
from workbench.making.pace import pace_words
from workbench.measure.length import UNITS, Length, Unit
from workbench.measure.reading import read_exact
from workbench.measure.writing import Graduation
from workbench.post.rules import Post
from workbench.store.preferences import Preferences

RULES: dict[Unit, tuple[str, ...]] = {
    "in": ("1/8 in", "1/16 in", "1/32 in", "1/64 in"),
    "mm": ("1 mm", "1/2 mm"),
}
AS_PROJECT = "those of each project"
UNIT_WORDS: dict[Unit | None, str] = {
    None: AS_PROJECT,
    "in": UNIT_NAMES["in"],
    "mm": UNIT_NAMES["mm"],
}
BELL, VOICE = "ring at every step", "say every step aloud"
OWN_PACE = "at your own pace, once known"
USUAL_POST = "as the units suggest"


class PreferencesForm(Form[Preferences]):
    """Changes `preferences`; `posts` are those to choose from, by key; `pace` is as measured."""

    TITLE = "Settings"
    ABOUT = (
        "What holds for all your batches. Longest cut, rule and narrowest strip are those of your"
        " trimmer; so is how finely its rule is divided, and how many sheets of a kind it cuts"
        " at once. Even within says how far a piece may be off before its border looks uneven to"
        " you. Post is the one your letters go by, and Spare room how much larger than its card"
        " an envelope must be each way. Minutes at the trimmer are estimates until thirty of a"
        " kind are timed by the ticks of your batches; then plans go by your own pace. Own keys"
        " gives commands other keys, as in tick=space,t pause=k; this help shows, on every"
        " screen, which keys there are, and DEVELOPERS.md the name of each command."
    )

    def __init__(
        self, preferences: Preferences, unit: Unit, posts: Mapping[str, Post], pace: Pace
    ) -> None:
        super().__init__(unit)
        self.preferences, self.posts, self.pace = preferences, posts, pace

    def fields(self) -> ComposeResult:
        trimmer = self.preferences.trimmer
        yield row(f"Longest cut ({self.unit})", text("cut", self._written(trimmer.cut_length)))
        yield row(f"Rule up to ({self.unit})", text("rule", self._written(trimmer.rule_length)))
        yield row(f"Least strip ({self.unit})", text("hold", self._written(trimmer.hold)))
        for unit, intervals in RULES.items():
            kept = _interval(trimmer.graduations[unit])
            options = intervals if kept in intervals else (*intervals, kept)
            yield row(f"Marks of {unit} rule", Choice(options, kept, key=f"marks-{unit}"))
        for label, kinds in (("At once", KINDS[:2]), ("", KINDS[2:])):
            yield row(label, *self._stacks(kinds))
        tolerance = self._written(self.preferences.tolerance)
        yield row(f"Even within ({self.unit})", text("tolerance", tolerance))
        names = (USUAL_POST, *(post.name for post in self.posts.values()))
        mine = self.posts.get(self.preferences.post or "")
        yield row("Post", Choice(names, mine.name if mine else None, key="post"))
        clearance = self._written(self.preferences.clearance)
        yield row(f"Spare room ({self.unit})", text("clearance", clearance))
        units = Choice(tuple(UNIT_WORDS.values()), UNIT_WORDS[self.preferences.unit], key="unit")
        yield row("Lengths in", units)
        yield row("At the bench", YesNo(BELL, self.preferences.bell, group="signals"))
        yield row("", YesNo(VOICE, self.preferences.voice, group="signals"))
        yield row("Minutes", YesNo(OWN_PACE, self.preferences.own_pace, group="pace"))
        yield row("", Static(f"so far {pace_words(self.pace)}", classes="note", markup=False))
        hint = "tick=space,t pause=k"
        yield row("Own keys", text("keys", keys_written(self.preferences.keys), hint))

    def _stacks(self, kinds: Sequence[PaperKind]) -> Iterator[Widget]:
        for kind in kinds:
            yield Label(kind, classes="kind")
            yield text(f"stack-{kind}", self.preferences.trimmer.at_once[kind])

    def read(self) -> Preferences:
        signals = self.marked("signals")
        return Preferences(
            trimmer=Trimmer(
                cut_length=self.length("cut", "longest cut"),
                rule_length=self.length("rule", "rule"),
                hold=self.length("hold", "narrowest strip"),
                at_once={kind: self._stack(kind) for kind in KINDS},
                graduations={
                    unit: _graduation(unit, self.chosen(f"marks-{unit}")) for unit in UNITS
                },
            ),
            tolerance=self.length("tolerance", "even within"),
            unit=next(unit for unit, words in UNIT_WORDS.items() if words == self.chosen("unit")),
            bell=BELL in signals,
            voice=VOICE in signals,
            keys=keys_read(self.typed("keys")),
            post=self._post(),
            clearance=self.length("clearance", "envelopes"),
            own_pace=OWN_PACE in self.marked("pace"),
        )

    def _post(self) -> str | None:
        named = (key for key, post in self.posts.items() if post.name == self.chosen("post"))
        return next(named, None)

    def _stack(self, kind: str) -> int:
        count = self.count(f"stack-{kind}", f"{kind} at once")
        if count > MOST_AT_ONCE:
            right = f"give a whole number from 1 to {MOST_AT_ONCE}"
            raise CraftError(f"{kind} at once", f"{count} sheets cannot be cut at once", right)
        return count

    def _written(self, length: Length) -> str:
        return write_exactly(length, self.unit)


def _interval(graduation: Graduation) -> str:
    return f"{graduation.step} {graduation.unit}"


def _graduation(unit: Unit, interval: str) -> Graduation:
    return Graduation(unit, read_exact(interval).number(unit))
