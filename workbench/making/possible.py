"""What can be made of the stock: project by project, and where a paper could go."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project, fits
from workbench.craft.trimmer import Trimmer
from workbench.planning import PlanningError, Shortage, Watch, survey


@dataclass(frozen=True, slots=True)
class Possible:
    """What the stock makes of a project.

    Attributes:
        project: the project, with the stock it can draw on.
        makeable: how many of its cards, up to all it asks for.
        shortages: what must be bought for all of them.
        offcuts: how many offcuts all of them use up, as far as they are there.
        trouble: why none can be made however much is bought, None where they can.
    """

    project: Project
    makeable: int
    shortages: tuple[Shortage, ...] = ()
    offcuts: int = 0
    trouble: str | None = None

    @property
    def complete(self) -> bool:
        """Whether all cards can be made now."""
        return self.makeable == self.project.card.count

    @property
    def rank(self) -> tuple[Fraction, int, str]:
        """Sorts the best first: all can be made, most offcuts used up, in the order of titles."""
        share = Fraction(self.makeable, self.project.card.count)
        return -share, -self.offcuts, self.project.title


def possible(
    projects: Iterable[Project], trimmer: Trimmer, watch: Watch
) -> Iterator[tuple[int, Possible]]:
    """What the stock makes of each project by itself, one after the other as it is found.

    Gives the number of the project, from 0, with each. Raises Cancelled.
    """
    for number, project in enumerate(projects):
        watch.stage(f"“{project.title}”")
        yield number, _possible(project, trimmer, watch)


def ranked(found: Iterable[Possible]) -> tuple[Possible, ...]:
    """The same, the best first."""
    return tuple(sorted(found, key=lambda each: each.rank))


def _possible(project: Project, trimmer: Trimmer, watch: Watch) -> Possible:
    quiet = Watch(stop=watch.stop, limits=watch.limits)
    try:
        seen = survey(project, trimmer, quiet, soon=True)
    except PlanningError as error:
        return Possible(project, 0, trouble=str(error))
    return Possible(project, seen.makeable, seen.shortages, sum(seen.offcuts.values()))


@dataclass(frozen=True, slots=True)
class Use:
    """A piece of a project that a paper or an offcut could be, and how often it fits in one."""

    project: str
    piece: str
    needed: bool
    count: int


def uses(paper: Paper, projects: Iterable[Project], offcut: Size | None = None) -> tuple[Use, ...]:
    """Where a paper could go: every piece that is cut from that kind and fits; the most first.

    With `offcut` one of that size is looked at in place of a whole sheet.
    """
    sheet = replace(paper, size=offcut, strip=None) if offcut else paper
    found = [
        Use(project.title, piece.name, piece.needed, times_on(sheet, piece.size))
        for project in projects
        for piece in project.pieces
        if fits(sheet, piece.size)
        and any(project.paper(name).kind == paper.kind for name in piece.papers)
    ]
    return tuple(sorted(found, key=lambda use: (-use.count, use.project, use.piece)))


# What small pieces of paper are good for on any card (common practice, no source), in inches.
_GENERAL = (
    ("a strip", Fraction(1, 2), Fraction(4)),
    ("a tag", Fraction(3, 2), Fraction(5, 2)),
    ("an inside panel", Fraction(3), Fraction(4)),
)


def general_uses(size: Size) -> tuple[str, ...]:
    """What an offcut of `size` is good for on any card."""
    short, long = sorted((size.width.inches, size.height.inches))
    return tuple(name for name, least, most in _GENERAL if short >= least and long >= most)


def times_on(paper: Paper, size: Size) -> int:
    """How many rectangles of `size` one sheet of `paper` gives in rows, all lying one way."""
    ways = [size, size.turned] if paper.turns else [size]
    usable = paper.usable
    return max(
        int(usable.width.ratio(way.width)) * int(usable.height.ratio(way.height)) for way in ways
    )
