"""The plan of a whole batch that follows from what truly lies on the table."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from workbench.craft.paper import Size
from workbench.making.plan_index import kind_of
from workbench.making.work_state import WorkState
from workbench.planning import (
    Cut,
    Deal,
    Group,
    Part,
    PartId,
    Plan,
    Role,
    Sheet,
    Shortage,
    Step,
    finishing_steps,
    opening_steps,
    worth_keeping,
)


def worked_plan(work: WorkState) -> Plan:
    """The whole batch from its first sheet on: what was done, and what is to be done."""
    sheets = _sheets(work)
    steps = [*work.past, *_opening(work, sheets), *work.cuts, *_finishing(work, sheets)]
    numbered = tuple(replace(step, n=n) for n, step in enumerate(steps, 1))
    opened = Counter(sheet.paper for sheet in sheets if not sheet.offcut)
    groups = tuple(_regrouped(work.plan, opened))
    on_hand = {paper.name: paper.sheets for paper in work.project.papers}
    cuts = [step for step in numbered if isinstance(step, Cut)]
    return replace(
        work.plan,
        cards=work.project.card.count,
        totals=replace(
            work.plan.totals,
            sheets=opened.total(),
            fewest_possible=sum(group.fewest_possible for group in groups),
            cuts=len(cuts),
            marks=len({step.mark for step in cuts}),
            fewest_settings=None,
            fewest_marks=None,
            least_table_seconds=None,
        ),
        groups=groups,
        shortages=tuple(
            Shortage(paper, count - on_hand[paper])
            for paper, count in sorted(opened.items())
            if count > on_hand[paper]
        ),
        sheets=sheets,
        steps=numbered,
        combinations=tuple(sorted(work.combinations, key=lambda each: each.card)),
        makeable=work.project.card.count,
    )


def _finishing(work: WorkState, sheets: Sequence[Sheet]) -> Iterator[Step]:
    free = [
        replace(
            sheet,
            parts=tuple(part for part in sheet.parts if sheet.part_id(part) not in work.used),
        )
        for sheet in sheets
    ]
    cards = [each for each in work.combinations if each.card not in work.made]
    # What is dealt already is known by where it lies: a part may have to change its pile.
    steps = finishing_steps(work.project, free, cards, 0, work.lying)
    return _not_done(work, _new_first(work, steps))


def _opening(work: WorkState, sheets: Sequence[Sheet]) -> Iterator[Step]:
    """What the maker does to sheets before they are cut, and did not do yet."""
    whole = [sheet for sheet in sheets if sheet.whole in work.in_hand]
    return _not_done(work, opening_steps(work.project, whole))


def _not_done(work: WorkState, steps: Iterable[Step]) -> Iterator[Step]:
    """The steps without the parts that had such work done already."""
    done = {
        (kind_of(step), label)
        for step in work.past
        if not isinstance(step, Deal)
        for label in step.takes
    }
    for step in steps:
        takes = tuple(label for label in step.takes if (kind_of(step), label) not in done)
        if takes:
            yield replace(step, takes=takes)


def _new_first(work: WorkState, steps: Sequence[Step]) -> list[Step]:
    """What changes its pile is dealt last: its card has two of it then, so it shows."""
    order = list(dict.fromkeys(map(kind_of, steps)))
    return sorted(
        steps,
        key=lambda step: (
            order.index(kind_of(step)),
            isinstance(step, Deal) and not work.lying.keys().isdisjoint(step.takes),
        ),
    )


def _sheets(work: WorkState) -> tuple[Sheet, ...]:
    parts: dict[str, list[Part]] = {sheet.id: [] for sheet in work.sheets}
    for label in work.finals:
        parts[label.sheet].append(_part(work, label))
    return tuple(replace(sheet, parts=tuple(parts[sheet.id])) for sheet in work.sheets)


def _part(work: WorkState, label: PartId) -> Part:
    found = work.rectangles[label]
    piece, turned = work.pieces.get(label, (None, False))
    width, height = found.size.width, found.size.height
    role = "piece" if piece else _role(work, label, found.size)
    return Part(label.path, role, piece, found.x, found.y, width, height, turned)


def _role(work: WorkState, label: PartId, size: Size) -> Role:
    if label in work.ruined or work.was_scrap(label, size) or work.strip_on(label):
        return "scrap"
    return "offcut" if worth_keeping(size.width, size.height) else "scrap"


def _regrouped(plan: Plan, opened: Counter[str]) -> Iterator[Group]:
    for group in plan.groups:
        sheets = sum(opened[paper] for paper in group.papers)
        fewest = min(group.fewest_possible, sheets)
        yield replace(group, sheets=sheets, fewest_possible=fewest)
