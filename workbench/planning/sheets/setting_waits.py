"""Settings that wait for one another, and what that costs in settings and turns of the sheets.

Where cuts wait for others, some order of the settings has to be kept, in which sheets are turned to
and fro, or a mark is set twice.
"""

import heapq
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator

from workbench.craft.pace import Pace
from workbench.planning.layouts.tree import Chain, Node
from workbench.planning.sheets.cut_states import Setting

SettingWait = tuple[Setting, Setting]
"""Two settings: some cut at the second waits for one at the first."""


def setting_waits(roots: Iterable[Node]) -> set[SettingWait]:
    """Every two settings of which some cut at the second waits for one at the first."""
    found: set[SettingWait] = set()
    for root in set(roots):
        found.update(_waits(root))
    return found


def _waits(node: Node) -> Iterator[SettingWait]:
    if not isinstance(node, Chain):
        return
    for mark, first in node.cuts:
        for part in (first, node.rest):
            if isinstance(part, Chain):
                for later, _ in part.cuts:
                    if (later, part.direction) != (mark, node.direction):
                        yield (mark, node.direction), (later, part.direction)
        yield from _waits(first)
    yield from _waits(node.rest)


def order_cost(waits: Collection[SettingWait], pace: Pace) -> int:
    """The seconds that no order of the settings goes below, beyond one setting for each mark.

    Of every two, the first comes somewhere before the second; the shortest way through what was
    come to, and what was come to after all that it waits for.
    """
    settings = sorted({setting for wait in waits for setting in wait})
    bits = {setting: 1 << place for place, setting in enumerate(settings)}
    before: dict[Setting, int] = defaultdict(int)
    for first, second in waits:
        before[second] |= bits[first]
    everything = (1 << len(settings)) - 1
    of_mark: dict[int, int] = defaultdict(int)
    for (mark, _), bit in bits.items():
        of_mark[mark] |= bit

    def ahead(done: int, at: int) -> int:
        """What the marks still to be set take at least."""
        left = [mark for mark, those in of_mark.items() if those & ~done]
        return pace.setting * (len(left) - (settings[at][0] in left))

    heap: list[tuple[int, int, int, int, int]] = [(0, 0, 0, 0, -1)]
    closed = set[tuple[int, int, int]]()
    while heap:
        _, cost, met, done, at = heapq.heappop(heap)
        if done == everything:
            return cost - len(of_mark) * pace.setting
        if (met, done, at) in closed:
            continue
        closed.add((met, done, at))
        for place, (mark, way) in enumerate(settings):
            bit = 1 << place
            ready = not before[mark, way] & ~met
            if done & bit or (met & bit and not ready):
                continue
            moved = at < 0 or settings[at][0] != mark
            turned = at >= 0 and settings[at][1] is not way
            seconds = cost + pace.setting * moved + pace.turn * turned
            after = done | bit * ready
            heapq.heappush(heap, (seconds + ahead(after, place), seconds, met | bit, after, place))
    raise AssertionError


def decisive(waits: Collection[SettingWait], pace: Pace) -> tuple[SettingWait, ...]:
    """As few of the waits as cost what all of them do: none of them can be left out."""
    kept = sorted(waits)
    cost = order_cost(kept, pace)
    for wait in list(kept):
        fewer = [one for one in kept if one != wait]
        if order_cost(fewer, pace) >= cost:
            kept = fewer
    return tuple(kept)
