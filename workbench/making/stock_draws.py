"""What a batch draws from the drawer and gives back to it, by where it stands."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from workbench.craft.paper import Offcut, Size
from workbench.craft.stock import LeastUseful, Move, Source
from workbench.making.batch import BatchState, recoveries
from workbench.making.events import Event
from workbench.making.plan_index import PlanIndex
from workbench.making.work_state import work_state_of
from workbench.planning import Assemble, Fold, Mount, Own, PartId, Plan, Round, Score, Sheet

# What is done to a part that makes it more, or less, than a rectangle of paper.
_SHAPING = Score | Fold | Round | Mount | Assemble | Own


@dataclass(frozen=True, slots=True)
class Opening:
    """The step that opens so many sheets, or offcuts, of a source."""

    step: int
    source: Source
    count: int


@dataclass(frozen=True)
class Drawn:
    """A batch whose papers, by name, were taken from the drawer's papers with those keys.

    `begun` is the batch as it was begun; smaller offcuts than `least` are not given back.
    """

    begun: PlanIndex
    stock: Mapping[str, str]
    least: LeastUseful

    def effects(self, state: BatchState, events: Iterable[Event]) -> dict[Source, Move]:
        """What the batch has done to the drawer in all, once it stands at `state`.

        Sheets not opened are reserved, opened ones used, spoilt ones thrown away; what is left is
        given back when all is done, when the batch is abandoned, or as the maker put it in stock.
        """
        reserved, used = self._reserved_and_used(state)
        thrown = self._thrown(state)
        back = self._given_back(state, events)
        return {
            source: Move(
                bought=back[source],
                on_hand=back[source] - reserved[source] - used[source] - thrown[source],
                reserved=reserved[source],
                used=used[source],
                thrown=thrown[source],
            )
            for source in {*reserved, *used, *thrown, *back}
        }

    def openings(self, state: BatchState) -> tuple[Opening, ...]:
        """Which steps of the plan that is worked by open what, in their order."""
        index = self.begun.after(state)
        opened: Counter[tuple[int, Source]] = Counter()
        for sheet, step in _opened_by(index).items():
            if source := self._source(index.sheets[sheet]):
                opened[step, source] += 1
        found = (Opening(step, source, count) for (step, source), count in opened.items())
        return tuple(sorted(found, key=lambda each: each.step))

    def _reserved_and_used(self, state: BatchState) -> tuple[Counter[Source], Counter[Source]]:
        reserved: Counter[Source] = Counter()
        used: Counter[Source] = Counter()
        for opening in self.openings(state):
            if opening.step <= state.done:
                used[opening.source] += opening.count
            elif not state.abandoned:
                reserved[opening.source] += opening.count
        return reserved, used

    def _thrown(self, state: BatchState) -> Counter[Source]:
        """The sheets, and offcuts from the drawer, that were spoilt before they were opened."""
        thrown: Counter[Source] = Counter()
        before = self.begun
        for recovery in recoveries(state):
            after = PlanIndex(recovery.project, recovery.plan)
            thrown += self._there(before) - self._there(after, bought=False)
            before = after
        return thrown

    def _there(self, index: PlanIndex, *, bought: bool = True) -> Counter[Source]:
        there: Counter[Source] = Counter()
        for paper in index.project.papers:
            if key := self.stock.get(paper.name):
                there[Source(key)] += paper.sheets
        for short in index.plan.shortages if bought else ():
            if key := self.stock.get(short.paper):
                there[Source(key)] += short.sheets
        for (name, size), count in index.project.offcuts_on_hand().items():
            if key := self.stock.get(name):
                there[Source(key, size)] += count
        return there

    def _given_back(self, state: BatchState, events: Iterable[Event]) -> Counter[Source]:
        index = self.begun.after(state)
        stocked = [event.offcuts for event in events if event.what == "stocked"]
        if stocked:
            return self._kept(_each(offcut for offcuts in stocked for offcut in offcuts))
        if state.finished:
            return self._kept(_offcuts(index.plan))
        return self._kept(_lying(index, state)) if state.abandoned else Counter()

    def _kept(self, left: Iterable[tuple[str, Size]]) -> Counter[Source]:
        return Counter(
            Source(self.stock[name], size)
            for name, size in left
            if name in self.stock and self.least.keeps(size)
        )

    def _source(self, sheet: Sheet) -> Source | None:
        key = self.stock.get(sheet.paper)
        return (key and Source(key, sheet.size if sheet.offcut else None)) or None


def lacking(plan: Plan, stock: Mapping[str, str]) -> Counter[Source]:
    """What the plan counts as bought."""
    return Counter(
        {
            Source(stock[short.paper]): short.sheets
            for short in plan.shortages
            if short.paper in stock
        }
    )


def _opened_by(index: PlanIndex) -> dict[str, int]:
    """The first step that takes each sheet or a part of it; the last where none does."""
    opened = dict.fromkeys(index.sheets, max(1, len(index.plan.steps)))
    for step in reversed(index.plan.steps):
        for label in step.takes:
            opened[label.sheet] = step.n
    return opened


def _offcuts(plan: Plan) -> Iterator[tuple[str, Size]]:
    for sheet in plan.sheets:
        for part in sheet.parts:
            if part.role == "offcut":
                yield sheet.paper, part.size


def _lying(index: PlanIndex, state: BatchState) -> Iterator[tuple[str, Size]]:
    """Every rectangle of an opened sheet that lies there and has only been cut."""
    work = work_state_of(index, state)
    opened = {label.sheet for label in _taken(index, state)}
    shaped = {label for step in work.past if isinstance(step, _SHAPING) for label in step.takes}
    for label in work.in_hand - shaped:
        found = work.rectangles[label]
        if label.sheet in opened and not index.is_scrap(label) and not work.strip_on(label):
            yield index.paper_of(label), found.size


def _taken(index: PlanIndex, state: BatchState) -> Sequence[PartId]:
    return [label for step in index.plan.steps[: state.done] for label in step.takes]


def _each(offcuts: Iterable[Offcut]) -> Iterator[tuple[str, Size]]:
    for offcut in offcuts:
        for _ in range(offcut.count):
            yield offcut.paper, offcut.size
