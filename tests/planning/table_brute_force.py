"""The least time at the table, by the shortest way through every state it can be in.

It shares no code with the planner. A state is what lies on the table, what is still wanted, where
the guide stands and which way the sheets lie; a step cuts one rectangle. A first part owes, in the
direction it was measured, that pieces use it up; a rectangle that owes cannot be left over.
"""

import heapq
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import count

Kind = tuple[int, int, int]  # width, height, how many
Box = tuple[int, int, int]  # width, height, what it owes: 1 across, 2 up
Shapes = tuple[frozenset[tuple[int, int]], ...]  # of each kind, as it may lie
State = tuple[tuple[Box, ...], tuple[int, ...], int, int]  # boxes, wanted, mark, direction

SETTING, STROKE, SHEET, TURN = 20, 8, 3, 2  # seconds, as the program's estimates are
MOST_STATES = 40_000


def least_time(
    width: int, height: int, kinds: Sequence[Kind], sheets: int, limit: int, *, turning: bool
) -> int | None:
    """Seconds, one sheet at a time; more than `limit` are given as one more. None: too hard."""
    shapes = tuple(frozenset([(w, h), *([(h, w)] if turning else [])]) for w, h, _ in kinds)
    start: State = (((width, height, 0),) * sheets, tuple(n for _, _, n in kinds), 0, -1)
    best, turn = {start: 0}, count()
    heap = [(0, next(turn), 0, start)]
    while heap and len(best) < MOST_STATES:
        _, _, spent, state = heapq.heappop(heap)
        boxes, wanted, _, _ = state
        if best[state] < spent:
            continue
        if not any(wanted) and not any(owes for _, _, owes in boxes):
            return spent
        for seconds, after in _steps(state, shapes):
            total = spent + seconds
            # A cut makes one part more at most: those nearest to all that is wanted come first.
            least = total + max(0, sum(after[1]) - len(after[0])) * (STROKE + SHEET)
            if least <= limit and total < best.get(after, limit + 1):
                best[after] = total
                heapq.heappush(heap, (least, next(turn), total, after))
    return limit + 1 if not heap else None


def _steps(state: State, shapes: Shapes) -> Iterator[tuple[int, State]]:
    boxes, wanted, mark, lies = state
    for box in dict.fromkeys(boxes):
        others = list(boxes)
        others.remove(box)
        for number, lying in enumerate(shapes):
            if wanted[number] and box[:2] in lying:
                left = tuple(n - (i == number) for i, n in enumerate(wanted))
                yield 0, (tuple(others), left, mark, lies)
        may_owe = sum(wanted) - sum(owes > 0 for _, _, owes in others)
        for direction, at, parts, owing in _cuts(box, shapes):
            if owing <= may_owe:
                seconds = STROKE + SHEET + SETTING * (at != mark)
                seconds += TURN * (lies not in (-1, direction))
                yield seconds, (tuple(sorted((*others, *parts))), wanted, at, direction)


@cache
def _cuts(box: Box, shapes: Shapes) -> list[tuple[int, int, list[Box], int]]:
    """Every cut: its direction, its mark, the parts it gives and how many of them owe."""
    return [
        (direction, at, parts, sum(owes > 0 for _, _, owes in parts))
        for direction in (0, 1)
        for at in range(1, box[direction])
        for parts in _parts(box, direction, at, shapes)
    ]


def _parts(box: Box, direction: int, at: int, shapes: Shapes) -> Iterator[list[Box]]:
    """What a cut gives: each way to hand on what the box owes; scrap is left out."""
    width, height, owes = box
    first = (at, height) if direction == 0 else (width, at)
    rest = (width - at, height) if direction == 0 else (width, height - at)
    own, other = 1 << direction, 1 << (1 - direction)
    closing = owes & own
    handed = [(other, 0), (0, other)] if owes & other else [(0, 0)]
    for by_first, by_rest in handed:
        parts = [(*first, own | by_first)]
        if _bears(rest, shapes):
            parts.append((*rest, closing | by_rest))
        elif closing | by_rest:
            continue
        if _bears(first, shapes):
            yield parts


def _bears(size: tuple[int, int], shapes: Shapes) -> bool:
    return any(w <= size[0] and h <= size[1] for lying in shapes for w, h in lying)
