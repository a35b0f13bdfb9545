"""Sheets filled piece by piece: every filling is a whole cutting that the trimmer can make."""

from collections import Counter

import pytest

from tests.benchmarks.batches import batch, scaled
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.bound.column_generation import linear_bound
from workbench.planning.instance.instance import Subproblem, instance_of
from workbench.planning.instance.stock_classes import StockClasses
from workbench.planning.layouts.tree import leaves
from workbench.planning.layouts.trimmer import makes
from workbench.planning.progress import Watch
from workbench.planning.sheets.residual_heuristic import FilledSheets, ResidualHeuristic


def groups(project: Project) -> list[Subproblem]:
    return list(instance_of(project, Trimmer()).groups)


def check(group: Subproblem, filling: FilledSheets) -> None:
    """Enough of every item, from sheets that there are, by cuts that can be made."""
    cut: Counter[int] = Counter()
    opened = 0
    every = StockClasses(group).every
    for (number, root), times in filling.takes.items():
        stock = every[number]
        served = {oriented.item for oriented in stock.items}
        parts = [leaf for leaf in leaves(root) if leaf.item is not None]
        assert (root.width, root.height) == (stock.source.width, stock.source.height)
        assert makes(group.trimmer, root)
        assert {leaf.item for leaf in parts} <= served
        opened += stock.source.cost * times
        for leaf in parts:
            assert leaf.item is not None
            cut[leaf.item] += times
        sides = {item.id: (item.width, item.height) for item in group.items}
        for leaf in parts:
            assert leaf.item is not None
            lying = (leaf.height, leaf.width) if leaf.turned else (leaf.width, leaf.height)
            assert lying == sides[leaf.item]
            assert not leaf.turned or stock.supplies[0].turns
    assert all(cut[item.id] >= item.least for item in group.items)
    assert opened == filling.sheets


@pytest.mark.parametrize("seed", [1, 6, 20])
def test_every_filling_is_a_whole_cutting(seed: int) -> None:
    for group in groups(scaled(batch(seed), 60)):
        bound = linear_bound(group, Watch())
        assert bound.sheets is not None
        seen = 0
        for handful in ResidualHeuristic(bound, Watch()).handfuls():
            for filling in handful:
                check(group, filling)
                assert filling.sheets >= bound.sheets
                seen += 1
        assert seen


def test_fillings_are_the_same_every_time() -> None:
    (group, *_) = groups(scaled(batch(6), 20))
    one, other = (
        [
            [(root, times) for (_, root), times in filling.takes.items()]
            for handful in ResidualHeuristic(linear_bound(group, Watch()), Watch()).handfuls()
            for filling in handful
        ]
        for _ in range(2)
    )
    assert one == other
