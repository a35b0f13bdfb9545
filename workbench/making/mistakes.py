"""What can go wrong at the table, and what lies there afterwards."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from typing import Literal, get_args

from workbench.craft.card import BASE
from workbench.making.batch import BatchState
from workbench.making.plan_index import PlanIndex
from workbench.making.work_state import ImpossibleMistake, WorkState, work_state_of
from workbench.measure.length import ZERO, Length
from workbench.planning import Assemble, Cut, Mount, PartId

Wrong = Literal[
    "cut at another length",
    "cut the wrong way",
    "crooked",
    "torn or smudged",
    "of the wrong print",
    "lost",
]
WRONGS: tuple[Wrong, ...] = get_args(Wrong)
AT_THE_CUT: tuple[Wrong, ...] = WRONGS[:2]


@dataclass(frozen=True, slots=True)
class Mistake:
    """A cut gone wrong at `step`, really made at `mark` or across; or `labels` that are spoilt.

    `step` is the one at hand (it was cut, but not as prompted) or one ticked before.
    """

    wrong: Wrong
    step: int = 0
    mark: Length | None = None
    labels: tuple[PartId, ...] = ()


def cuts_made(index: PlanIndex, state: BatchState) -> tuple[Cut, ...]:
    """The cuts that may have gone wrong, the last first: the one at hand, and those done."""
    last = state.current or state.done
    return tuple(cut for cut in reversed(index.plan.cuts) if cut.n <= last)


def spoilable(index: PlanIndex, state: BatchState) -> tuple[PartId, ...]:
    """Every part there is now that may be torn or lost. A finished card is named by its base."""
    work = work_state_of(index, state)
    bases = {step.takes[0] for step in work.past if isinstance(step, Assemble)}
    return tuple(
        label
        for label in work.rectangles
        if label in work.in_hand
        and (label not in work.used or label in bases)
        and not index.is_scrap(label)
    )


def after(index: PlanIndex, state: BatchState, mistake: Mistake) -> WorkState:
    """The table as it lies after the mistake. Raises ImpossibleMistake where cuts contradict it."""
    work = work_state_of(index, state)
    if mistake.wrong in AT_THE_CUT:
        return _miscut(work, mistake)
    gone = set(mistake.labels)
    for step in work.past:
        if isinstance(step, Assemble) and gone.intersection(step.takes):
            gone.update(step.takes)
        if isinstance(step, Mount):
            gone.update(_glued(index, step, gone))
    return work.without(gone)


def _glued(index: PlanIndex, step: Mount, gone: Collection[PartId]) -> Iterator[PartId]:
    """What was mounted into bases that are gone."""
    cards = {
        index.layer_of[part][0] for part in gone if index.layer_of.get(part, (0, ""))[1] == BASE
    }
    return (part for part in step.takes if index.layer_of.get(part, (0, ""))[0] in cards)


def _miscut(work: WorkState, mistake: Mistake) -> WorkState:
    made = (step for step in work.past if isinstance(step, Cut))
    step = next(cut for cut in (*made, *work.cuts) if cut.n == mistake.step)
    true = replace(step, mark=mistake.mark or step.mark)
    if mistake.wrong == "cut the wrong way":
        true = replace(true, measure=step.measure.other)
    _check(work, true)
    if step in work.past:
        past = tuple(true if each == step else each for each in work.past)
        cuts = work.cuts
    else:
        past, cuts = (*work.past, true), tuple(each for each in work.cuts if each != step)
    amended = replace(work, past=past, cuts=cuts).settled()
    amended = amended.uncut([label for label in amended.pieces if amended.strip_on(label)])
    if amended.used.intersection(amended.off()):
        raise ImpossibleMistake("A part of it is on a finished card; say that the card is spoilt.")
    return amended


def _check(work: WorkState, step: Cut) -> None:
    extent = work.rectangles[step.takes[0]].size.along(step.measure)
    if not ZERO < step.mark < extent:
        raise ImpossibleMistake("A cut at that length would lie outside the part that was cut.")
