"""The cutting as steps at the trimmer: sheets named, like parts stacked, every part placed."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

from workbench.craft.paper import Kind
from workbench.measure.length import Length
from workbench.planning.demand import Demand
from workbench.planning.layout import Chain, Layout, Leaf, Node
from workbench.planning.order import fewest_settings
from workbench.planning.plan import Direction, Part, Role, Sheet, Step
from workbench.planning.trees import Trees

KEEP_SIDE = Length.of(1, "in")
KEEP_AREA = 6
DIRECTIONS: tuple[Direction, Direction] = ("width", "height")


class _Lot(NamedTuple):
    """Rectangles of one kind of paper that are cut alike; `tree` numbers how."""

    tree: int
    kind: Kind


class _Pile(NamedTuple):
    """Rectangles that can be stacked where they are cut at the same mark."""

    width: int
    height: int
    direction: int
    kind: Kind


@dataclass(slots=True)
class _Rectangle:
    """A part in hand: its sheet, by number, and where it lies there."""

    id: str
    sheet: int
    x: int
    y: int
    lot: _Lot


@dataclass
class Work:
    """Turns layouts into sheets and cut steps. `at_once`: how many of a kind are stacked.

    No order needs fewer than `fewest_settings` settings of the guide.
    """

    demand: Demand
    layouts: Sequence[Layout]
    kinds: Mapping[str, Kind]
    at_once: Mapping[Kind, int]
    steps: list[Step] = field(default_factory=list)
    sheets: list[Sheet] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._trees = Trees()
        self._length = cache(self.demand.length)
        self._role = cache(self._role_of)
        self._parts: dict[int, list[Part]] = defaultdict(list)
        self._lots: dict[_Lot, list[_Rectangle]] = defaultdict(list)
        self._lies: int | None = None
        order = fewest_settings([layout.root for layout in self.layouts], self.demand.blade.hold)
        self.fewest_settings = order.fewest
        for number, (name, layout) in enumerate(_labelled(self.layouts)):
            lot = _Lot(self._trees.number(order.roots[layout.root]), self.kinds[layout.paper])
            self._lay(_Rectangle(name, number, 0, 0, lot))
        for mark in order.marks:
            self._cut_at(mark)
        self._finish_sheets()

    def _lay(self, rectangle: _Rectangle) -> None:
        """Keep it at hand to be cut on, or put it down for good."""
        node = self._trees.nodes[rectangle.lot.tree]
        if isinstance(node, Chain):
            self._lots[rectangle.lot].append(rectangle)
        else:
            self._put_down(rectangle, node)

    def _cut_at(self, mark: int) -> None:
        """Make every cut at one mark, pile by pile."""
        due: dict[_Pile, set[_Lot]] = defaultdict(set)
        self._add_due(due, self._lots, mark)
        while due:
            pile = self._next(due, mark)
            taken = [
                rectangle for lot in sorted(due.pop(pile)) for rectangle in self._lots.pop(lot)
            ]
            at_once = self.at_once[pile.kind]
            for start in range(0, len(taken), at_once):
                halves = self._stroke(mark, pile.direction, taken[start : start + at_once])
                self._add_due(due, {half.lot for half in halves}, mark)
            self._lies = pile.direction

    def _add_due(self, due: dict[_Pile, set[_Lot]], lots: Iterable[_Lot], mark: int) -> None:
        for lot in lots:
            if self._trees.has(lot.tree, mark):
                due[self._pile(lot)].add(lot)

    def _pile(self, lot: _Lot) -> _Pile:
        chain = self._trees.chain(lot.tree)
        assert chain is not None
        return _Pile(chain.width, chain.height, chain.direction, lot.kind)

    def _next(self, due: Mapping[_Pile, set[_Lot]], mark: int) -> _Pile:
        """The pile to cut now: one that will not grow, lying as the last did, the largest."""
        growing = {
            self._pile(_Lot(tree, lot.kind))
            for lots in due.values()
            for lot in lots
            for tree in self._trees.opened(lot.tree, mark)
        }
        return max(
            due.keys() - growing,
            key=lambda pile: (pile.direction == self._lies, pile.width * pile.height, pile),
        )

    def _stroke(
        self, mark: int, direction: int, taken: Sequence[_Rectangle]
    ) -> Iterable[_Rectangle]:
        pairs = [self._halves(rectangle, mark, direction) for rectangle in taken]
        self.steps.append(
            Step(
                len(self.steps) + 1,
                "cut",
                tuple(rectangle.id for rectangle in taken),
                DIRECTIONS[direction],
                self._length(mark),
                tuple((first.id, rest.id) for first, rest in pairs),
            )
        )
        halves = [half for pair in pairs for half in pair]
        for half in halves:
            self._lay(half)
        return halves

    def _halves(
        self, rectangle: _Rectangle, mark: int, direction: int
    ) -> tuple[_Rectangle, _Rectangle]:
        name, sheet, x, y, (tree, kind) = (
            rectangle.id,
            rectangle.sheet,
            rectangle.x,
            rectangle.y,
            rectangle.lot,
        )
        first, rest = self._trees.halves(tree, mark)
        beside = (x + mark, y) if direction == 0 else (x, y + mark)
        return (
            _Rectangle(f"{name}.1", sheet, x, y, _Lot(first, kind)),
            _Rectangle(f"{name}.2", sheet, *beside, _Lot(rest, kind)),
        )

    def _put_down(self, rectangle: _Rectangle, leaf: Leaf) -> None:
        length = self._length
        width, height = length(leaf.width), length(leaf.height)
        self._parts[rectangle.sheet].append(
            Part(
                rectangle.id,
                self._role(leaf),
                length(rectangle.x),
                length(rectangle.y),
                width,
                height,
                leaf.item,
                leaf.turned,
            )
        )

    def _role_of(self, leaf: Leaf) -> Role:
        if leaf.item:
            return "piece"
        kept = worth_keeping(self._length(leaf.width), self._length(leaf.height))
        return "offcut" if kept and not leaf.strip else "scrap"

    def _finish_sheets(self) -> None:
        for number, (name, layout) in enumerate(_labelled(self.layouts)):
            self.sheets.append(
                Sheet(
                    name,
                    layout.paper,
                    self._length(layout.root.width),
                    self._length(layout.root.height),
                    tuple(sorted(self._parts[number], key=lambda part: part.id)),
                    layout.source.offcut,
                )
            )


def worth_keeping(width: Length, height: Length) -> bool:
    """Whether a leftover goes in the drawer: 1 in wide and 6 sq in (common practice, no source)."""
    return min(width, height) >= KEEP_SIDE and width.inches * height.inches >= KEEP_AREA


def in_cutting_order(layouts: Sequence[Layout]) -> list[Layout]:
    """Like layouts side by side, each paper's whole sheets before its offcuts."""
    first: dict[Node, int] = {}
    for number, layout in enumerate(layouts):
        first.setdefault(layout.root, number)
    return sorted(layouts, key=lambda layout: (layout.source.offcut, first[layout.root]))


def _labelled(layouts: Sequence[Layout]) -> Iterator[tuple[str, Layout]]:
    counts = {False: 0, True: 0}
    for layout in layouts:
        counts[layout.source.offcut] += 1
        yield f"{'O' if layout.source.offcut else 'S'}{counts[layout.source.offcut]}", layout
