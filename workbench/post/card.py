"""A card as it will be posted: what it is, its envelope, and what its post makes of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache

from workbench.craft.envelope import UNENVELOPED, Envelope
from workbench.craft.errors import CraftError, nearest
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.length import Length, Unit
from workbench.measure.writing import write_near
from workbench.post.envelopes import (
    CLEARANCE,
    Fit,
    envelope_grams,
    envelope_mm,
    fit,
    fitting,
    measured_in,
)
from workbench.post.figures import CardFigures, card_figures, sides_words
from workbench.post.judging import Judgement, Letter, judge
from workbench.post.rule_files import built_in_envelopes, built_in_posts
from workbench.post.rules import Post

# Where neither the project nor the workshop says: the post of the country that measures so.
_USUAL_POST: dict[Unit, str] = {"in": "us", "mm": "world"}


@dataclass(frozen=True, slots=True)
class Desk:
    """What all projects share: the posts by key, the envelopes, and what the maker has set."""

    posts: Mapping[str, Post] = field(default_factory=built_in_posts)
    envelopes: tuple[Envelope, ...] = field(default_factory=built_in_envelopes)
    to: str | None = None
    clearance: Length = CLEARANCE


@dataclass(frozen=True, slots=True)
class CardByPost:
    """All there is to know of one card before it is posted.

    `fits` are the envelopes that take it, those of the tables that are sold by the other unit last,
    else the snuggest first; `chosen` is the one it goes in: the project's own choice, else the
    first of these. `judgement` is what the post makes of it, None where
    no envelope takes the card. An unenveloped card has a judgement and nothing chosen.
    """

    figures: CardFigures
    clearance: Length
    fits: tuple[Fit, ...]
    chosen: Fit | None
    letter: Letter | None
    judgement: Judgement | None
    post: Post


def card_by_post(
    project: Project, desk: Desk, to: str | None = None, figures: CardFigures | None = None
) -> CardByPost:
    """Work out what one card is, which envelopes take it, and how it travels.

    Args:
        project: whose card it is.
        desk: the posts and envelopes there are, and the maker's usual choices.
        to: the key of a post; None for that of the project, of the desk, or of the project's units.
        figures: what `card_figures` gives, where that is known already.

    Raises:
        CraftError: for a post or an envelope that nobody knows, and for an envelope that the card
            is too large or too thick for.
    """
    figures = figures or card_figures(project)
    post = post_of(project, desk, to)
    clearance = project.posting.clearance
    clearance = desk.clearance if clearance is None else clearance
    envelopes = envelopes_of(project, desk)
    fits = fitting(figures, envelopes.values(), clearance, _foreign(project.units))
    chosen = _chosen(project, figures, envelopes, fits, clearance)
    letter = None
    if chosen or project.posting.envelope == UNENVELOPED:
        letter = _letter(project, figures, chosen)
    judgement = judge(letter, post) if letter else None
    return CardByPost(figures, clearance, fits, chosen, letter, judgement, post)


def post_of(project: Project, desk: Desk, to: str | None = None) -> Post:
    """The post that the card is meant for.

    Raises:
        CraftError: for one that nobody knows.
    """
    key = to or project.posting.to or desk.to or _USUAL_POST[project.units]
    if key not in desk.posts:
        raise CraftError("post, to", f'no post is called "{key}"', nearest(key, desk.posts))
    return desk.posts[key]


def envelopes_of(project: Project, desk: Desk) -> dict[str, Envelope]:
    """Every envelope by name, the project's own in place of others that share their name."""
    return {envelope.name: envelope for envelope in (*desk.envelopes, *project.envelopes)}


@cache
def _foreign(unit: Unit) -> frozenset[Envelope]:
    """The envelopes of the tables that are sold where people measure in the other unit."""
    return frozenset(each for each in built_in_envelopes() if not measured_in(each, unit))


def with_envelope(project: Project, name: str) -> Project:
    """The project with another choice of envelope."""
    return replace(project, posting=replace(project.posting, envelope=name))


def _chosen(
    project: Project,
    figures: CardFigures,
    envelopes: Mapping[str, Envelope],
    fits: tuple[Fit, ...],
    clearance: Length,
) -> Fit | None:
    name = project.posting.envelope
    if name == UNENVELOPED:
        return None
    if name is None:
        return fits[0] if fits else None
    if name not in envelopes:
        right = nearest(name, (*envelopes, UNENVELOPED))
        raise CraftError("post, envelope", f'no envelope is called "{name}"', right)
    found = fit(figures, envelopes[name], clearance)
    if not found.fits:
        raise _too_small(project, figures, found, clearance, fits)
    return found


def _too_small(
    project: Project,
    figures: CardFigures,
    found: Fit,
    clearance: Length,
    fits: tuple[Fit, ...],
) -> CraftError:
    unit, thick = project.units, Length(figures.thickness.high)
    envelope = sides_words(Size(found.envelope.short, found.envelope.long), unit)
    card = sides_words(figures.size, unit)
    if thick > clearance:
        why = f"a card of {card} that may be {float(thick.mm):.1f} mm thick needs that much more"
    else:
        why = f"a card of {card} needs {write_near(clearance, unit)} more each way"
    right = f'use "{fits[0].envelope.name}"' if fits else "make the card smaller or thinner"
    return CraftError(
        "post, envelope", f'"{found.envelope.name}" ({envelope}) is too small: {why}', right
    )


def _letter(project: Project, figures: CardFigures, chosen: Fit | None) -> Letter:
    if chosen:
        long, short = chosen.envelope.long.mm, chosen.envelope.short.mm
        grams = figures.grams + envelope_grams(chosen.envelope)
        thickness = figures.thickness + envelope_mm()
    else:
        sides = (figures.size.width.mm, figures.size.height.mm)
        long, short = max(sides), min(sides)
        grams, thickness = figures.grams, figures.thickness
    shape = short / long if project.posting.upright else long / short
    return Letter(
        length=long,
        height=short,
        thickness=thickness,
        grams=grams,
        unevenness=figures.unevenness,
        lumps=len(figures.lumps),
        shape=Fraction(shape),
        enveloped=chosen is not None,
    )
