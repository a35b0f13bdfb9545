"""Marks that wait for one another in a circle, so that one of them must be set twice."""

from collections import defaultdict
from collections.abc import Collection, Iterable

from workbench.planning.sheets.setting_waits import SettingWait

Wait = tuple[int, int]
"""Two marks: some cut at the second waits for one at the first."""


def mark_waits(waits: Iterable[SettingWait]) -> set[Wait]:
    """The marks of settings that wait for one another, whichever way is cut at them."""
    return {(before, after) for (before, _), (after, _) in waits if before != after}


def circles(waits: Collection[Wait]) -> list[tuple[int, ...]]:
    """Shortest circles of marks, each waiting for the one before; one through every mark in any.

    Each begins with its smallest mark.
    """
    following: dict[int, list[int]] = defaultdict(list)
    for before, after in sorted(waits):
        following[before].append(after)
    found: dict[tuple[int, ...], None] = {}
    for start in sorted(following):
        circle = _shortest(following, start)
        if circle:
            least = circle.index(min(circle))
            found[circle[least:] + circle[:least]] = None
    return list(found)


def _shortest(following: dict[int, list[int]], start: int) -> tuple[int, ...]:
    paths: list[tuple[int, ...]] = [(start,)]
    seen: set[int] = set()
    while paths:
        further: list[tuple[int, ...]] = []
        for path in paths:
            for mark in following.get(path[-1], ()):
                if mark == start:
                    return path
                if mark not in seen:
                    seen.add(mark)
                    further.append((*path, mark))
        paths = further
    return ()
