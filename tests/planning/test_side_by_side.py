"""Tasks at the same time: what they give comes in their order, and what fails is raised."""

import threading

import pytest

from workbench.planning.side_by_side import both, side_by_side


def test_what_each_gives_comes_in_their_order() -> None:
    """The second ends first: the first waits for it."""
    ended = threading.Event()

    def first() -> str:
        assert ended.wait(timeout=60)
        return "first"

    def second() -> str:
        ended.set()
        return "second"

    assert side_by_side([first, second]) == ["first", "second"]
    ended.clear()
    assert both(first, second) == ("first", "second")


def test_none_and_one_need_no_other_thread() -> None:
    assert side_by_side([]) == []
    assert side_by_side([threading.get_ident]) == [threading.get_ident()]


def test_what_fails_is_raised_once_the_others_ended() -> None:
    ended: list[str] = []

    def fails() -> None:
        raise ValueError("no paper")

    with pytest.raises(ValueError, match="no paper"):
        side_by_side([lambda: ended.append("first"), fails])
    with pytest.raises(ValueError, match="no paper"):
        both(fails, lambda: ended.append("second"))
    assert ended == ["first", "second"]
