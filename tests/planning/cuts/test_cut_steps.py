"""Piles that are only counted, and piles cut part by part, are the same work."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.cuts.test_mark_sequence import LAYOUTS, small
from tests.planning.layouts.test_trimmer import shop
from workbench.planning.layouts.tree import Node
from workbench.planning.result import table_work


@settings(max_examples=examples(25), deadline=None)
@given(LAYOUTS.filter(small), st.integers(1, 5))
def test_what_is_counted_is_what_is_cut(roots: list[Node], copies: int) -> None:
    """The figures counted against those that `table_work` reads off the finished steps."""
    work = shop(roots, copies)
    assert table_work(work.steps) == work.cuts.work
