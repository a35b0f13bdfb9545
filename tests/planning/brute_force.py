"""Every way to cut a tiny sheet edge to edge, tried one by one, on a whole-number grid."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import cache

Counts = tuple[int, ...]
Way = tuple[Counts, int, int]  # pieces had, the marks set (one bit a length), strokes of the blade
Kind = tuple[int, int, int]  # width, height, how many
Cut = tuple[int, tuple[int, int], tuple[int, int]]  # mark, first part, the rest


def best(
    width: int,
    height: int,
    kinds: Sequence[Kind],
    *,
    turning: bool,
    most: int,
    as_made: bool = False,
    cuts_first: bool = False,
    sides: Collection[int] = (),
) -> tuple[int, int, int] | None:
    """(sheets, marks, cuts), the fewest of each in that order, or None if `most` do not do.

    `cuts_first`: the fewest cuts before the fewest marks.

    `as_made`: as makers cut, each mark the size of something wanted (one of `sides`, if given),
    and never for a first part that could only be scrap.
    """
    wanted = tuple(count for _, _, count in kinds)
    shapes = [[(w, h), *([(h, w)] if turning else [])] for w, h, _ in kinds]
    sides = sides or {side for w, h, _ in kinds for side in (w, h)}

    def had(one: Counts, other: Counts) -> Counts:
        return tuple(min(w, a + b) for w, a, b in zip(wanted, one, other, strict=True))

    def joined(firsts: Iterable[Way], rests: Sequence[Way], mark: int) -> Iterator[Way]:
        for counts, marks, cuts in firsts:
            for more, other_marks, other_cuts in rests:
                new = marks | other_marks | (1 << mark if mark else 0)
                yield had(counts, more), new, cuts + other_cuts + (1 if mark else 0)

    def usual(mark: int, first: tuple[int, int]) -> bool:
        holds = any(w <= first[0] and h <= first[1] for lying in shapes for w, h in lying)
        return mark in sides and holds

    def cuts_of(across: int, up: int) -> Iterator[Cut]:
        for mark in range(1, across):
            yield mark, (mark, up), (across - mark, up)
        for mark in range(1, up):
            yield mark, (across, mark), (across, up - mark)

    @cache
    def ways(across: int, up: int) -> tuple[Way, ...]:
        found: list[Way] = [((0,) * len(kinds), 0, 0)]
        for index, lying in enumerate(shapes):
            if (across, up) in lying:
                found.append((tuple(int(i == index) for i in range(len(kinds))), 0, 0))
        for mark, first, rest in cuts_of(across, up):
            if not as_made or usual(mark, first):
                found += joined(ways(*first), ways(*rest), mark)
        return _undominated(found)

    so_far: tuple[Way, ...] = ways(width, height)
    for sheets in range(1, most + 1):
        done = [(marks.bit_count(), cuts) for counts, marks, cuts in so_far if counts == wanted]
        if done:
            return (sheets, *min(done, key=lambda way: way[::-1] if cuts_first else way))
        so_far = _undominated(joined(so_far, ways(width, height), 0))
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
