"""Batches that draw on a drawer: the small batch planned by hand, its papers taken from stock.

Run as a program it is another window: it does what it is told, line by line, and says so.
"""

import json
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from pathlib import Path

from tests.making.plans import FOG, GULL, HARBOUR, NET, PLAN
from workbench.craft.paper import Offcut
from workbench.craft.project import Project
from workbench.craft.stock import StockPaper
from workbench.making.batch import BatchState, StepNotReady, abandoning, replay, taking_back, tick
from workbench.making.events import Event, Recovery
from workbench.making.mistakes import Mistake, spoilable
from workbench.making.plan_index import PlanIndex
from workbench.making.recovery import ways_on
from workbench.making.work_state import ImpossibleMistake
from workbench.planning import PartId
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.drawer_projects import fresh_stock
from workbench.store.errors import StoreError

NOON = datetime(2026, 3, 14, 12, tzinfo=UTC)
LAST = len(PLAN.steps)
# By hand, from the plan: the step that opens the one sheet of each paper.
OPENS = {NET: 1, GULL: 1, FOG: 5}


def stocked(drawer: Drawer, sheets: int = 9) -> Project:
    """The harbour project, its papers put in the drawer, so many sheets of each."""
    papers = tuple(replace(paper, sheets=sheets) for paper in HARBOUR.papers)
    ids = drawer.add_all([StockPaper(paper) for paper in papers])
    return replace(HARBOUR, papers=tuple(drawer.paper(paper_id).taken for paper_id in ids))


def taken_again(drawer: Drawer) -> Project:
    """The harbour project, its papers taken from a drawer that holds them by the same names."""
    found = {line.data.name: line.id for line in reversed(drawer.papers())}
    papers = (drawer.paper(found[paper.name]).taken for paper in HARBOUR.papers)
    return replace(HARBOUR, papers=tuple(papers))


def begin(drawer: Drawer, project: Project) -> int:
    return drawer.workshop.create_batch(project, None, PLAN)


def happen(
    workshop: Workshop, batch_id: int, event_of: Callable[[BatchState, datetime], Event]
) -> None:
    """Let something happen to a batch as the bench does."""
    events = workshop.events(batch_id)
    seq = len(events) + 1
    event = event_of(replay(PLAN, events), NOON + timedelta(minutes=seq))
    workshop.append(batch_id, event, seq)


def ticked(workshop: Workshop, batch_id: int, steps: int) -> None:
    for _ in range(steps):
        happen(workshop, batch_id, tick)


def put_in_stock(state: BatchState, at: datetime) -> Event:
    """One strip of each print goes in the drawer, in the maker's own size."""
    size = PLAN.sheets[0].parts[1]
    return Event(
        "stocked",
        state.done,
        at,
        offcuts=tuple(
            Offcut(name, replace(HARBOUR.papers[1].size, width=size.width), 1)
            for name in (NET, GULL)
        ),
    )


@lru_cache(maxsize=512)
def ways(done: int, label: PartId) -> tuple[Recovery, ...]:
    """The ways on after `label` was torn when so many steps were done, with paper enough."""
    papers = tuple(replace(paper, sheets=3) for paper in HARBOUR.papers)
    index = PlanIndex(replace(HARBOUR, papers=papers), PLAN)
    try:
        found = ways_on(index, BatchState(LAST, done), Mistake("torn or smudged", labels=(label,)))
    except ImpossibleMistake:
        return ()
    return tuple(way.recovery for way in found)


def slip(choice: int) -> Callable[[BatchState, datetime], Event]:
    """Something that lies there is torn, and some way on is chosen."""

    def event(state: BatchState, at: datetime) -> Event:
        if state.recovery or state.abandoned or state.counted:
            raise StepNotReady("This batch is not that far.")
        there = spoilable(PlanIndex(HARBOUR, PLAN), BatchState(LAST, state.done))
        found = ways(state.done, there[choice % len(there)]) if there else ()
        if not found:
            raise StepNotReady("There is no way on.")
        mend = found[choice % len(found)]
        return Event("mended", mend.done, at, mend)

    return event


def sums(drawer: Drawer) -> dict[str, tuple[int, int, int, int, int]]:
    """Bought, on hand, reserved, used and thrown away, of each paper's sheets."""
    return {line.data.name: line.counts.as_tuple for line in drawer.papers()}


def drawn(workshop: Workshop) -> Counter[tuple[str, str]]:
    """What batches without slips hold of each paper, told by hand: reserved and used sheets."""
    held: Counter[tuple[str, str]] = Counter()
    for line in workshop.batches():
        for paper, step in OPENS.items():
            if line.done >= step:
                held[paper, "used"] += 1
            elif not line.abandoned:
                held[paper, "reserved"] += 1
    return held


def act(workshop: Workshop, what: str, which: int, choice: int) -> str:
    """Do one thing, to the paper or the batch that `which` points at; says what came of it."""
    drawer = Drawer(workshop)
    try:
        if what in BY_HAND:
            papers = [line.id for line in drawer.papers()]
            if not papers:
                return "no paper"
            BY_HAND[what](drawer, papers[which % len(papers)], choice)
        elif what == "begin":
            begin(drawer, fresh_stock(drawer, taken_again(drawer)))
        elif what == "undo":
            drawer.undo()
        else:
            batches = sorted(line.id for line in workshop.batches())
            if not batches:
                return "no batch"
            batch_id = batches[which % len(batches)]
            if what == "remove batch":
                workshop.remove_batch(batch_id)
            else:
                event = slip(choice) if what == "slip" else AT_THE_BENCH[what]
                happen(workshop, batch_id, event)
    except (StoreError, StepNotReady, KeyError) as refused:
        return f"refused: {refused}"
    return "done"


BY_HAND: dict[str, Callable[[Drawer, int, int], object]] = {
    "buy": lambda drawer, paper, choice: drawer.buy(paper, choice % 4),
    "use": lambda drawer, paper, choice: drawer.use(paper, choice % 3),
    "throw": lambda drawer, paper, choice: drawer.throw(paper, choice % 3),
    "count": lambda drawer, paper, choice: drawer.count(paper, choice % 7),
    "add": lambda drawer, paper, choice: drawer.add(
        StockPaper(replace(HARBOUR.papers[choice % 3], sheets=choice % 5))
    ),
    "offcuts": lambda drawer, paper, choice: drawer.add_offcuts(
        paper, HARBOUR.papers[1].size, 1 + choice % 2
    ),
    "merge": lambda drawer, paper, choice: drawer.merge(
        [
            paper,
            *(
                line.id
                for line in drawer.papers()
                if line.id != paper and line.data.name == drawer.paper(paper).data.name
            ),
        ]
    ),
    "split": lambda drawer, paper, choice: drawer.split(
        paper, [drawer.paper(paper).data.name] * 2, choice % 2
    ),
}
AT_THE_BENCH: dict[str, Callable[[BatchState, datetime], Event]] = {
    "tick": tick,
    "tick through": lambda state, at: Event("ticked through", min(state.done + 5, state.steps), at),
    "take back": taking_back,
    "abandon": abandoning,
    "put in stock": put_in_stock,
}
DEEDS = (*BY_HAND, *AT_THE_BENCH, "begin", "undo", "slip", "remove batch")


def main() -> None:
    for line in sys.stdin:
        folder, *deed = json.loads(line)
        print(act(Workshop.open(Path(folder)), *deed), flush=True)


if __name__ == "__main__":
    main()
