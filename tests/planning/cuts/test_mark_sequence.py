"""The order of the marks and of the strokes, against every order there is, tried one by one."""

import random
from collections.abc import Iterator, Sequence
from functools import cache

import networkx
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from workbench.craft.direction import Direction
from workbench.planning.cuts.feedback_vertex_set import apart, fewest_broken
from workbench.planning.cuts.mark_sequence import fewest_settings
from workbench.planning.layouts.tree import Chain, Leaf, Node, leaves, marks_of
from workbench.planning.layouts.trimmer import held_at_last
from workbench.planning.shape import DIRECTIONS, HEIGHT, WIDTH

# Every order, one stroke at a time


class Hand:
    """Layouts being cut in any order: open rectangles as (direction, cuts left, rest)."""

    def __init__(self, hold: int) -> None:
        self.hold = hold
        self.fewest = cache(self._fewest)

    def _fewest(self, nodes: frozenset[Node], mark: int) -> int | None:
        """The fewest settings still due with the guide at `mark`, or None if all gets stuck."""
        if not nodes:
            return 0
        found = []
        for node in nodes:
            for parts, at in self._strokes(node):
                left = self.fewest((nodes - {node}) | parts, at)
                if left is not None:
                    found.append(left + (at != mark))
        return min(found, default=None)

    def _strokes(self, node: Node) -> Iterator[tuple[frozenset[Node], int]]:
        assert isinstance(node, Chain)
        whole = node.width if node.direction is WIDTH else node.height
        for place, (mark, first) in enumerate(node.cuts):
            if max(mark, whole - mark) < self.hold:
                continue
            others = node.cuts[:place] + node.cuts[place + 1 :]
            rest = node.rest
            if others:
                width = node.width - (mark if node.direction is WIDTH else 0)
                height = node.height - (mark if node.direction is HEIGHT else 0)
                rest = Chain(width, height, node.direction, others, node.rest)
            yield frozenset(part for part in (first, rest) if isinstance(part, Chain)), mark


def by_hand(roots: Sequence[Node], hold: int = 0) -> int | None:
    return Hand(hold).fewest(frozenset(root for root in roots if isinstance(root, Chain)), 0)


@st.composite
def trees(draw: st.DrawFn, width: int, height: int, direction: Direction, depth: int) -> Node:
    """Any layout of a small rectangle, its marks few so that they meet."""
    whole = width if direction is WIDTH else height
    cuts: list[tuple[int, Node]] = []
    for _ in range(draw(st.integers(0, 3)) if depth else 0):
        mark = draw(st.integers(1, 4))
        if mark < whole:
            shape = (mark, height) if direction is WIDTH else (width, mark)
            cuts.append((mark, draw(trees(*shape, direction.other, depth - 1))))
            whole -= mark
    shape = (whole, height) if direction is WIDTH else (width, whole)
    if not cuts:
        return Leaf(*shape, 0)
    turned = draw(st.booleans()) and depth > 1
    rest = draw(trees(*shape, direction.other, depth - 1)) if turned else Leaf(*shape)
    return Chain(width, height, direction, tuple(cuts), rest)


LAYOUTS = st.lists(
    st.sampled_from(DIRECTIONS).flatmap(lambda direction: trees(9, 9, direction, 3)),
    min_size=1,
    max_size=2,
)


def small(roots: Sequence[Node]) -> bool:
    return sum(1 for root in roots for _ in marks_of(root)) <= 9


@settings(max_examples=examples(50), deadline=None)
@given(LAYOUTS.filter(small))
def test_no_order_sets_the_guide_less_often(roots: list[Node]) -> None:
    order = fewest_settings(roots)
    assert order.proven
    assert len(order.marks) == by_hand(roots)


@settings(max_examples=examples(50), deadline=None)
@given(LAYOUTS.filter(small), st.integers(2, 4))
def test_no_safe_order_sets_the_guide_less_often(roots: list[Node], hold: int) -> None:
    """Where every stroke can leave a part to hold; where not, the others still do."""
    order = fewest_settings(roots, hold)
    fewest = by_hand(roots, hold)
    if fewest is not None:
        assert (order.fewest, len(order.marks)) == (fewest, fewest)
    for root in roots:
        changed = order.roots[root]
        assert sorted(map(str, leaves(changed))) == sorted(map(str, leaves(root)))
        assert sorted(marks_of(changed)) == sorted(marks_of(root))


def test_the_wide_part_is_left_till_last_to_hold_by() -> None:
    narrow = [Leaf(1, 9), Leaf(1, 9)]
    wide = Leaf(5, 9)
    chain = Chain(8, 9, WIDTH, ((5, wide), (1, narrow[0])), Leaf(2, 9))
    assert held_at_last(chain, 3, 12) == [
        Chain(8, 9, WIDTH, ((1, narrow[0]),), Chain(7, 9, WIDTH, ((5, wide),), Leaf(2, 9)))
    ]
    assert held_at_last(chain, 2, 12) == [chain]
    assert held_at_last(chain, 6, 12) == [chain]


def rows(draw: random.Random, pieces: Sequence[tuple[int, int]]) -> Node:
    """A sheet cut in rows of pieces, some turned, as a maker would."""
    direction = DIRECTIONS[draw.randint(0, 1)]
    left, cuts = 960, list[tuple[int, Node]]()
    for _ in range(draw.randint(2, 4)):
        mark, along = draw.sample(draw.choice(pieces), 2)
        if mark < left:
            row = [(along, Leaf(*_lying(direction, mark, along), 0)) for _ in range(2)]
            rest = Leaf(*_lying(direction, mark, 960 - 2 * along))
            cuts.append(
                (mark, Chain(*_lying(direction, mark, 960), direction.other, (*row,), rest))
            )
            left -= mark
    return Chain(960, 960, direction, tuple(cuts), Leaf(*_lying(direction, left, 960)))


def _lying(direction: Direction, along: int, across: int) -> tuple[int, int]:
    return (along, across) if direction is WIDTH else (across, along)


def test_twenty_layouts_of_twelve_marks_are_proven() -> None:
    draw = random.Random(1900)
    for _ in range(5):
        pieces = [(draw.randint(40, 400), draw.randint(40, 400)) for _ in range(6)]
        order = fewest_settings([rows(draw, pieces) for _ in range(20)])
        assert order.proven


@settings(max_examples=examples(40), deadline=None)
@given(
    st.integers(1, 7).flatmap(lambda n: st.lists(st.integers(0, 2**n - 1), min_size=n, max_size=n))
)
def test_circles_are_broken_by_the_fewest(waiting: list[int]) -> None:
    """networkx says what a circle is."""
    nodes = range(len(waiting))
    graph = networkx.DiGraph((a, b) for a in nodes for b in nodes if waiting[a] >> b & 1)
    graph.add_nodes_from(nodes)
    fewest = min(
        taken.bit_count()
        for taken in range(1 << len(waiting))
        if networkx.is_directed_acyclic_graph(
            graph.subgraph([node for node in nodes if not taken >> node & 1])
        )
    )
    assert fewest_broken(waiting, len(waiting)) == fewest
    assert fewest_broken(waiting, 2) == min(2, fewest)
    assert not apart(waiting, fewest + 1)
    assert apart(waiting, 1) == bool(fewest)
