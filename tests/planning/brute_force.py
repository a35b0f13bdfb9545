"""Every way to cut a tiny sheet edge to edge, tried one by one, on a whole-number grid."""

from collections.abc import Iterable, Sequence
from functools import cache

Counts = tuple[int, ...]
Way = tuple[Counts, int, int]  # pieces had, the marks set (one bit a length), strokes of the blade
Kind = tuple[int, int, int]  # width, height, how many


def best(
    width: int, height: int, kinds: Sequence[Kind], *, turning: bool, most: int
) -> tuple[int, int, int] | None:
    """(sheets, marks, cuts), the fewest of each in that order, or None if `most` do not do."""
    wanted = tuple(count for _, _, count in kinds)

    def had(one: Counts, other: Counts) -> Counts:
        return tuple(min(w, a + b) for w, a, b in zip(wanted, one, other, strict=True))

    def joined(firsts: Iterable[Way], rests: Sequence[Way], mark: int) -> Iterable[Way]:
        for counts, marks, cuts in firsts:
            for more, other_marks, other_cuts in rests:
                new = marks | other_marks | (1 << mark if mark else 0)
                yield had(counts, more), new, cuts + other_cuts + (1 if mark else 0)

    @cache
    def ways(across: int, up: int) -> tuple[Way, ...]:
        nothing = (0,) * len(kinds)
        found: list[Way] = [(nothing, 0, 0)]
        for index, (w, h, _) in enumerate(kinds):
            if (w, h) == (across, up) or (turning and (h, w) == (across, up)):
                found.append((tuple(int(i == index) for i in range(len(kinds))), 0, 0))
        for mark in range(1, across):
            found += joined(ways(mark, up), ways(across - mark, up), mark)
        for mark in range(1, up):
            found += joined(ways(across, mark), ways(across, up - mark), mark)
        return _undominated(found)

    had_so_far: tuple[Way, ...] = ways(width, height)
    for sheets in range(1, most + 1):
        done = [(marks.bit_count(), cuts) for counts, marks, cuts in had_so_far if counts == wanted]
        if done:
            return (sheets, *min(done))
        had_so_far = _undominated(joined(had_so_far, ways(width, height), 0))
    return None


def _undominated(found: Iterable[Way]) -> tuple[Way, ...]:
    """Only the ways that no other beats in pieces, marks and cuts at once."""
    kept: list[Way] = []
    for way in sorted(set(found), key=lambda w: (-sum(w[0]), w[1].bit_count(), w[2])):
        counts, marks, cuts = way
        if not any(
            other_cuts <= cuts
            and other_marks & ~marks == 0
            and all(a >= b for a, b in zip(more, counts, strict=True))
            for more, other_marks, other_cuts in kept
        ):
            kept.append(way)
    return tuple(kept)
