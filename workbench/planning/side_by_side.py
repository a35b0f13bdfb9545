"""Independent parts of a computation at the same time.

The solver lets other threads run while it works. What is done and found does not depend on which of
them is the quicker.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

_T = TypeVar("_T")
_U = TypeVar("_U")


def both(one: Callable[[], _T], other: Callable[[], _U]) -> tuple[_T, _U]:
    """What two tasks give; the same holds as of `side_by_side`."""
    with ThreadPoolExecutor(max_workers=1) as pool:
        second = pool.submit(other)
        return one(), second.result()


def side_by_side(tasks: Sequence[Callable[[], _T]]) -> list[_T]:
    """What each task gives, in their order; they must not change anything they share.

    Raises:
        Exception: what the first of them that failed raised, once all that had begun have ended.
    """
    if len(tasks) <= 1:
        return [task() for task in tasks]
    with ThreadPoolExecutor(max_workers=2) as pool:
        return list(pool.map(_done, tasks))


def _done(task: Callable[[], _T]) -> _T:
    return task()
