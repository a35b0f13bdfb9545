"""What rectpack's guillotine packers make of a batch: the best of all their settings.

Only packings that can be cut from edge to edge count. The packers join free parts again, which
can leave a packing that no trimmer cuts; we ask for both, joined and not.
"""

import math
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

Shape = tuple[int, int]
Box = tuple[int, int, int, int]

_UNBOUNDED = 10**6


@dataclass(frozen=True, slots=True)
class Packed:
    """The fewest sheets of any setting, how many settings were tried, and the time they took."""

    sheets: int
    settings: int
    seconds: float


def best_packing(
    sheet: Shape, demand: Mapping[Shape, int], *, turning: bool, enough: int
) -> Packed:
    """Pack how many of each shape are in demand, until a setting needs no more than `enough`.

    `enough` saves time where fewer sheets are known to be impossible.
    """
    begun = time.process_time()
    enough = max(enough, _by_area(sheet, demand))
    best, tried = _UNBOUNDED, 0
    for packer in _packers(turning=turning):
        packed = _pack(packer, sheet, demand)
        tried += 1
        if len(packed) < best and all(cuts_apart(boxes) for boxes in packed):
            best = len(packed)
        if best <= enough:
            break
    return Packed(best, tried, time.process_time() - begun)


def _by_area(sheet: Shape, demand: Mapping[Shape, int]) -> int:
    area = sum(width * height * count for (width, height), count in demand.items())
    return math.ceil(area / (sheet[0] * sheet[1]))


def _packers(*, turning: bool) -> Iterator[tuple[Any, bool]]:
    """A packer for every setting, and whether it joins free parts; the quicker ones first."""
    from rectpack import PackingBin, newPacker

    for bins in (PackingBin.BFF, PackingBin.BBF, PackingBin.BNF, PackingBin.Global):
        for shapes in _orders() if bins != PackingBin.Global else _orders()[:1]:
            for cutting in _cuttings():
                for joined in (True, False):
                    packer = newPacker(
                        bin_algo=bins, pack_algo=cutting, sort_algo=shapes, rotation=turning
                    )
                    yield packer, joined


@cache
def _orders() -> Sequence[Any]:
    from rectpack import packer

    return [getattr(packer, name) for name in sorted(dir(packer)) if name.startswith("SORT_")]


@cache
def _cuttings() -> Sequence[Any]:
    import rectpack

    return [getattr(rectpack, name) for name in sorted(dir(rectpack)) if "Guillotine" in name]


def _pack(packer: tuple[Any, bool], sheet: Shape, demand: Mapping[Shape, int]) -> list[list[Box]]:
    packing, joined = packer
    packing.add_bin(*sheet, count=_UNBOUNDED, merge=joined)
    for shape, count in demand.items():
        for _ in range(count):
            packing.add_rect(*shape)
    packing.pack()
    found = [[(box.x, box.y, box.x + box.width, box.y + box.height) for box in b] for b in packing]
    if sum(map(len, found)) != sum(demand.values()):
        raise AssertionError("rectpack left a piece out")
    return found


def cuts_apart(boxes: Sequence[Box]) -> bool:
    """Whether cuts from edge to edge part every box (left, bottom, right, top) from the others.

    Any cut that crosses none will do first: what can be cut apart stays so without some of it.
    """
    if len(boxes) < 2:
        return True
    for low, high in ((0, 2), (1, 3)):
        reach, ordered = 0, sorted(boxes, key=lambda box: box[low])
        for number, box in enumerate(ordered):
            if number and box[low] >= reach:
                return cuts_apart(ordered[:number]) and cuts_apart(ordered[number:])
            reach = max(reach, box[high])
    return False
