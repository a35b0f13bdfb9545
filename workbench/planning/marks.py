"""The fewest marks: which sizes need never be set, because the cuts at others leave them."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from workbench.planning.search import Cutting, GroupSearch
from workbench.planning.watch import Watch

MOST_TRIALS = 60


def fewest_marks(
    searches: Sequence[GroupSearch], cuttings: Sequence[Cutting], watch: Watch
) -> list[Cutting]:
    """The cuttings again, in as many sheets, with as many marks done away with as is possible.

    A set of marks can only go if each smaller set of them can, so sets are tried by size, each
    made of sets that went. The groups share the guide: a mark counts once for all of them.
    """
    best = list(cuttings)
    going = [frozenset((mark,)) for mark in sorted(_marks(best))]
    trials = 0
    while going:
        gone: dict[frozenset[int], list[Cutting]] = {}
        for marks in going:
            trials += 1
            if trials > MOST_TRIALS:
                break
            watch.stage("looking for the fewest marks")
            without = _without(marks, searches, cuttings)
            if without:
                gone[marks] = without
        if gone:
            best = min(gone.values(), key=lambda found: _strokes(searches, found))
        going = list(_grown(list(gone)))
    return best


def _without(
    marks: frozenset[int], searches: Sequence[GroupSearch], cuttings: Sequence[Cutting]
) -> list[Cutting] | None:
    """Every group cut again without `marks`, or None if some group needs one of them."""
    allowed = _marks(cuttings) - marks
    found = []
    for search, cutting in zip(searches, cuttings, strict=True):
        if cutting.marks & marks:
            layouts = search.layouts(cutting.sheets, allowed)
            if layouts is None:
                return None
            found.append(Cutting(layouts, cutting.fewest))
        else:
            found.append(cutting)
    return found if len(_marks(found)) < len(_marks(cuttings)) else None


def _grown(gone: Sequence[frozenset[int]]) -> Iterator[frozenset[int]]:
    """Each set one larger whose every part of the size below is in `gone`."""
    known = set(gone)
    seen = set()
    for one, other in combinations(gone, 2):
        joined = one | other
        if len(joined) == len(one) + 1 and joined not in seen:
            seen.add(joined)
            if all(joined - {mark} in known for mark in joined):
                yield joined


def _marks(cuttings: Sequence[Cutting]) -> frozenset[int]:
    return frozenset[int]().union(*(cutting.marks for cutting in cuttings))


def _strokes(searches: Sequence[GroupSearch], cuttings: Sequence[Cutting]) -> int:
    return sum(
        search.strokes(cutting.layouts) for search, cutting in zip(searches, cuttings, strict=True)
    )
