"""The least time at the table, by the shortest way through every state it can be in.

It shares no code with the planner. A state is what lies on the table, what is still wanted, where
the guide stands and which way the sheets lie; a step cuts one rectangle. A first part owes, in the
direction it was measured, that pieces use it up; a rectangle that owes cannot be left over.
"""

import heapq
from collections.abc import Iterator, Sequence
from itertools import count

Kind = tuple[int, int, int]  # width, height, how many
Box = tuple[int, int, int]  # width, height, what it owes: 1 across, 2 up
State = tuple[tuple[Box, ...], tuple[int, ...], int, int]  # boxes, wanted, mark, direction

SETTING, STROKE, SHEET, TURN = 20, 8, 3, 2  # seconds, as the program's estimates are
MOST_STATES = 40_000


def least_time(
    width: int, height: int, kinds: Sequence[Kind], sheets: int, limit: int, *, turning: bool
) -> int | None:
    """Seconds, one sheet at a time; more than `limit` are given as one more. None: too hard."""
    shapes = [{(w, h), *([(h, w)] if turning else [])} for w, h, _ in kinds]
    start: State = (((width, height, 0),) * sheets, tuple(n for _, _, n in kinds), 0, -1)
    best, turn = {start: 0}, count()
    heap = [(0, next(turn), start)]
    while heap and len(best) < MOST_STATES:
        spent, _, state = heapq.heappop(heap)
        boxes, wanted, _, _ = state
        if best[state] < spent:
            continue
        if not any(wanted) and not any(owes for _, _, owes in boxes):
            return spent
        for seconds, after in _steps(state, shapes):
            total = spent + seconds
            missing = max(0, sum(after[1]) - len(after[0])) * (STROKE + SHEET)
            if total + missing <= limit and total < best.get(after, limit + 1):
                best[after] = total
                heapq.heappush(heap, (total, next(turn), after))
    return limit + 1 if not heap else None


def _steps(state: State, shapes: Sequence[set[tuple[int, int]]]) -> Iterator[tuple[int, State]]:
    boxes, wanted, mark, lies = state
    for box in dict.fromkeys(boxes):
        others = list(boxes)
        others.remove(box)
        for number, lying in enumerate(shapes):
            if wanted[number] and box[:2] in lying:
                left = tuple(n - (i == number) for i, n in enumerate(wanted))
                yield 0, (tuple(others), left, mark, lies)
        for direction in (0, 1):
            for at in range(1, box[direction]):
                seconds = STROKE + SHEET + SETTING * (at != mark)
                seconds += TURN * (lies not in (-1, direction))
                for parts in _parts(box, direction, at, shapes):
                    if sum(owes > 0 for _, _, owes in (*others, *parts)) <= sum(wanted):
                        yield seconds, (tuple(sorted((*others, *parts))), wanted, at, direction)


def _parts(
    box: Box, direction: int, at: int, shapes: Sequence[set[tuple[int, int]]]
) -> Iterator[list[Box]]:
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


def _bears(size: tuple[int, int], shapes: Sequence[set[tuple[int, int]]]) -> bool:
    return any(w <= size[0] and h <= size[1] for lying in shapes for w, h in lying)
