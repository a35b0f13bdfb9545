"""What a batch leaves for the stock, and what it has taken from it."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.craft.paper import Offcut, Size, offcuts_of
from workbench.craft.project import Project
from workbench.making.plan_index import LikeParts, PlanIndex
from workbench.making.words import listed, written_size
from workbench.measure.counting import counted
from workbench.measure.writing import Graduation


@dataclass(frozen=True, slots=True)
class Leftovers:
    """The offcuts that are worth keeping when all is cut, like ones of a paper together."""

    lots: tuple[Offcut, ...]

    @classmethod
    def of(cls, index: PlanIndex) -> "Leftovers":
        """The offcuts worth keeping that the plan leaves."""
        return cls(tuple(offcut for lot in index.offcuts for offcut in _by_paper(index, lot)))

    @property
    def in_words(self) -> str:
        """How many there are."""
        return f"{sum(offcut.count for offcut in self.lots)} worth keeping"


@dataclass(frozen=True, slots=True)
class StockTake:
    """`offcuts` go in the stock; with `used`, what the batch took is taken off it as well."""

    offcuts: tuple[Offcut, ...]
    used: bool


def each_in_words(offcut: Offcut, graduation: Graduation) -> str:
    """Such as "2 of 2 1/4 × 4 3/4 in, net weave"."""
    return f"{offcut.count} of {written_size(offcut.size, graduation)}, {offcut.paper}"


def used_in_words(index: PlanIndex) -> str:
    """Such as "3 sheets and 1 offcut"; nothing where nothing was opened."""
    sheets, offcuts = _opened(index)
    words = [(sheets.total(), "sheet"), (offcuts.total(), "offcut")]
    return listed([counted(count, thing) for count, thing in words if count])


def restocked(project: Project, index: PlanIndex, take: StockTake) -> Project:
    """`project`, whose stock may have changed since, after the batch. Papers gone are left out."""
    now = _names_now(project, index)
    sheets, taken = _taken(index, take)
    used = Counter({now[name]: count for name, count in sheets.items() if name in now})
    papers = tuple(
        replace(paper, sheets=max(0, paper.sheets - used[paper.name])) for paper in project.papers
    )
    kept = tuple(
        replace(offcut, paper=now[offcut.paper]) for offcut in take.offcuts if offcut.paper in now
    )
    gone = Counter({(now[name], size): n for (name, size), n in taken.items() if name in now})
    stock = replace(project, offcuts=(*project.offcuts, *kept)).offcuts_on_hand() - gone
    return replace(project, papers=papers, offcuts=offcuts_of(stock))


def papers_gone(project: Project, index: PlanIndex, take: StockTake) -> tuple[str, ...]:
    """The papers that `take` is about and `project` no longer has, as the batch calls them."""
    now = _names_now(project, index)
    sheets, taken = _taken(index, take)
    told = (*(offcut.paper for offcut in take.offcuts), *sheets, *(name for name, _ in taken))
    return tuple(dict.fromkeys(name for name in told if name not in now))


def _names_now(project: Project, index: PlanIndex) -> dict[str, str]:
    """What the batch's papers are called in `project` now: one of the drawer keeps its key."""
    names = {paper.name for paper in project.papers}
    return {
        then.name: now.name
        for then in index.project.papers
        for now in project.papers
        if now.name == then.name
        or (then.stock and then.stock == now.stock and then.name not in names)
    }


def _by_paper(index: PlanIndex, lot: LikeParts) -> Sequence[Offcut]:
    counts = Counter(index.paper_of(label) for label in lot.labels)
    return [Offcut(paper, lot.size, count) for paper, count in counts.items()]


def _taken(index: PlanIndex, take: StockTake) -> tuple[Counter[str], Counter[tuple[str, Size]]]:
    return _opened(index) if take.used else (Counter(), Counter())


def _opened(index: PlanIndex) -> tuple[Counter[str], Counter[tuple[str, Size]]]:
    """The sheets the batch opened, by paper, and the offcuts it took."""
    sheets: Counter[str] = Counter()
    offcuts: Counter[tuple[str, Size]] = Counter()
    for sheet in index.plan.sheets:
        if sheet.offcut:
            offcuts[sheet.paper, sheet.size] += 1
        else:
            sheets[sheet.paper] += 1
    return sheets, offcuts
