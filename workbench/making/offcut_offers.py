"""What the offcuts that lie there are good for on one card: its pieces, and small new ones."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain, count
from typing import NamedTuple

from workbench.craft.card import FRONT, INSIDE, Piece
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project, fits, put_back
from workbench.making.possible import times_on
from workbench.measure.length import Length, Unit


@dataclass(frozen=True, slots=True)
class Lying:
    """So many offcuts of one size, and the paper they came from as a project takes it."""

    paper: Paper
    size: Size
    count: int


class Offer(NamedTuple):
    """A piece that could be cut from offcuts.

    Attributes:
        piece: as it is in the project, or as it would be added.
        lying: the offcuts.
        makes: how many of it they make, in rows.
        wanted: how many the batch takes.
    """

    piece: Piece
    lying: Lying
    makes: int
    wanted: int

    @property
    def rank(self) -> tuple[bool, Fraction, int]:
        """Sorts the best first: enough for the whole batch, then the least paper left over."""
        area = self.lying.size.area * self.lying.count
        wasted = 1 - self.piece.size.area * min(self.makes, self.wanted) / area
        return self.makes < self.wanted, wasted, -self.makes


def lying_of(project: Project) -> tuple[Lying, ...]:
    """The offcuts on hand of the papers of a project."""
    return tuple(
        Lying(project.paper(name), size, count)
        for (name, size), count in project.offcuts_on_hand().items()
    )


def offers_for(project: Project, piece: Piece, lying: Iterable[Lying]) -> tuple[Offer, ...]:
    """The offcuts that a piece could be cut from, of a kind it is cut from; the best first."""
    kinds = {project.paper(name).kind for name in piece.papers}
    wanted = piece.per_card * project.card.count + piece.spare
    found = (
        Offer(piece, one, makes, wanted)
        for one in lying
        if one.paper.kind in kinds and (makes := _makes(one, piece.size))
    )
    return tuple(sorted(found, key=lambda offer: offer.rank))


def new_offers(project: Project, lying: Sequence[Lying]) -> Iterator[Offer]:
    """Small pieces that the card could have too, each with the offcuts that suit it best.

    They are cut only if they fit, so that no sheet is opened for them.
    """
    names = {piece.name for piece in project.pieces}
    for name, size, on in _small_pieces(project):
        offers = (
            Offer(
                Piece(_free(name, names), size, (one.paper.name,), needed=False, on=on),
                one,
                makes,
                project.card.count,
            )
            for one in lying
            if (makes := _makes(one, size))
        )
        yield from sorted(offers, key=lambda offer: offer.rank)[:_BEST]


def with_offer(project: Project, offer: Offer) -> Project:
    """The project in which the piece is cut from the offcuts of the offer too.

    Raises:
        CraftError: where the project has no room for another paper or piece.
    """
    project, paper = _with_paper(project, offer.lying.paper)
    there = next((each for each in project.pieces if each.name == offer.piece.name), None)
    if there is None:
        pieces = (*project.pieces, replace(offer.piece, papers=(paper,)))
    else:
        papers = there.papers if paper in there.papers else (paper, *there.papers)
        pieces = put_back(project, [replace(there, papers=papers)])
    return replace(project, pieces=pieces)


_BEST = 3
# Common practice, no source.
_STRIP: dict[Unit, Length] = {"in": Length.of("1/2", "in"), "mm": Length.of(12, "mm")}
_TAG: dict[Unit, Size] = {
    "in": Size(Length.of("3/2", "in"), Length.of("5/2", "in")),
    "mm": Size(Length.of(40, "mm"), Length.of(60, "mm")),
}
_INSIDE: dict[Unit, Length] = {"in": Length.of("1/2", "in"), "mm": Length.of(12, "mm")}
"""How much narrower and lower than the card an inside panel is."""


def _small_pieces(project: Project) -> Iterator[tuple[str, Size, str]]:
    front, unit = project.card.size, project.units
    yield "strip", Size(front.width, _STRIP[unit]), FRONT
    yield "tag", _TAG[unit], FRONT
    less = _INSIDE[unit]
    if project.card.fold != "none" and min(front.width, front.height) > less:
        yield "inside panel", Size(front.width - less, front.height - less), INSIDE


def _makes(lying: Lying, size: Size) -> int:
    offcut = replace(lying.paper, size=lying.size, strip=None)
    return times_on(offcut, size) * lying.count if fits(offcut, size) else 0


def _with_paper(project: Project, paper: Paper) -> tuple[Project, str]:
    """The project with that paper, under a name of its own, and the name."""
    for there in project.papers:
        if there == paper or (paper.stock and there.stock == paper.stock):
            return project, there.name
    names = {face.name for there in project.papers for face in there.faces}
    name = _free(paper.name, names)
    return replace(project, papers=(*project.papers, replace(paper, name=name))), name


def _free(name: str, names: Collection[str]) -> str:
    """The name, with a number behind it where it is one of `names`."""
    numbered = (f"{name} {number}" for number in count(2))
    return next(each for each in chain([name], numbered) if each not in names)
