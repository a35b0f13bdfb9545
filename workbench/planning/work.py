"""The cutting as steps at the trimmer: sheets named, like parts stacked, every part placed."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from workbench.craft.paper import Kind
from workbench.measure.length import Length
from workbench.planning.demand import Demand
from workbench.planning.layout import Chain, Layout, Leaf, Node
from workbench.planning.order import fewest_settings
from workbench.planning.plan import Direction, Part, Role, Sheet, Step

KEEP_SIDE = Length.of(1, "in")
KEEP_AREA = 6
DIRECTIONS: tuple[Direction, Direction] = ("width", "height")


@dataclass(slots=True)
class _Rectangle:
    """A part in hand: where it lies on its sheet and how it is to be cut on."""

    id: str
    sheet: int
    x: int
    y: int
    node: Node

    @property
    def shape(self) -> tuple[int, int]:
        return self.node.width, self.node.height


@dataclass
class Work:
    """Turns layouts into sheets and cut steps. `at_once`: how many of a kind are stacked."""

    demand: Demand
    layouts: Sequence[Layout]
    kinds: Mapping[str, Kind]
    at_once: Mapping[Kind, int]
    steps: list[Step] = field(default_factory=list)
    sheets: list[Sheet] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._parts: dict[int, list[Part]] = defaultdict(list)
        self._named = [
            _Rectangle(name, number, 0, 0, layout.root)
            for number, (name, layout) in enumerate(_labelled(self.layouts))
        ]
        in_hand = list(self._named)
        for mark in fewest_settings([layout.root for layout in self.layouts]).marks:
            in_hand = self._cut_at(mark, in_hand)
        for rectangle in in_hand:
            self._put_down(rectangle)
        self._finish_sheets()

    def _cut_at(self, mark: int, in_hand: list[_Rectangle]) -> list[_Rectangle]:
        """Make every cut at one mark, the largest parts first so that like parts meet."""
        while True:
            due: dict[tuple[object, ...], list[_Rectangle]] = defaultdict(list)
            for rectangle in in_hand:
                if isinstance(rectangle.node, Chain) and _has(rectangle.node, mark):
                    due[self._pile(rectangle)].append(rectangle)
            if not due:
                return in_hand
            pile = max(due, key=lambda key: (due[key][0].shape[0] * due[key][0].shape[1], key))
            taken = due[pile][: self._stack(due[pile][0])]
            ids = {rectangle.id for rectangle in taken}
            in_hand = [rectangle for rectangle in in_hand if rectangle.id not in ids]
            in_hand += self._stroke(mark, taken)

    def _pile(self, rectangle: _Rectangle) -> tuple[object, ...]:
        node = rectangle.node
        direction = node.direction if isinstance(node, Chain) else 0
        return (*rectangle.shape, direction, self._kind(rectangle))

    def _kind(self, rectangle: _Rectangle) -> Kind:
        return self.kinds[self.layouts[rectangle.sheet].paper]

    def _stack(self, rectangle: _Rectangle) -> int:
        return self.at_once[self._kind(rectangle)]

    def _stroke(self, mark: int, taken: list[_Rectangle]) -> list[_Rectangle]:
        parts = [_halves(rectangle, mark) for rectangle in taken]
        node = taken[0].node
        assert isinstance(node, Chain)
        self.steps.append(
            Step(
                len(self.steps) + 1,
                "cut",
                tuple(rectangle.id for rectangle in taken),
                DIRECTIONS[node.direction],
                self.demand.length(mark),
                tuple((first.id, rest.id) for first, rest in parts),
            )
        )
        open_parts = []
        for part in (half for pair in parts for half in pair):
            if isinstance(part.node, Chain):
                open_parts.append(part)
            else:
                self._put_down(part)
        return open_parts

    def _put_down(self, rectangle: _Rectangle) -> None:
        leaf = rectangle.node
        assert isinstance(leaf, Leaf)
        length = self.demand.length
        width, height = length(leaf.width), length(leaf.height)
        role: Role = (
            "piece"
            if leaf.item
            else ("offcut" if worth_keeping(width, height) and not leaf.strip else "scrap")
        )
        self._parts[rectangle.sheet].append(
            Part(
                rectangle.id,
                role,
                length(rectangle.x),
                length(rectangle.y),
                width,
                height,
                leaf.item,
                leaf.turned,
            )
        )

    def _finish_sheets(self) -> None:
        for rectangle in self._named:
            layout = self.layouts[rectangle.sheet]
            parts = sorted(self._parts[rectangle.sheet], key=lambda part: _numbers(part.id))
            self.sheets.append(
                Sheet(
                    rectangle.id,
                    layout.paper,
                    self.demand.length(layout.root.width),
                    self.demand.length(layout.root.height),
                    tuple(parts),
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


def _labelled(layouts: Sequence[Layout]) -> list[tuple[str, Layout]]:
    counts = {False: 0, True: 0}
    named = []
    for layout in layouts:
        counts[layout.source.offcut] += 1
        named.append(
            (f"{'O' if layout.source.offcut else 'S'}{counts[layout.source.offcut]}", layout)
        )
    return named


def _has(chain: Chain, mark: int) -> bool:
    return any(m == mark for m, _ in chain.cuts)


def _halves(rectangle: _Rectangle, mark: int) -> tuple[_Rectangle, _Rectangle]:
    chain = rectangle.node
    assert isinstance(chain, Chain)
    which = next(number for number, (m, _) in enumerate(chain.cuts) if m == mark)
    left = chain.cuts[:which] + chain.cuts[which + 1 :]
    across = chain.direction == 0
    rest: Node = chain.rest
    if left:
        width = chain.width - mark if across else chain.width
        height = chain.height if across else chain.height - mark
        rest = Chain(width, height, chain.direction, left, chain.rest)
    x, y = (rectangle.x + mark, rectangle.y) if across else (rectangle.x, rectangle.y + mark)
    first = chain.cuts[which][1]
    return (
        _Rectangle(f"{rectangle.id}.1", rectangle.sheet, rectangle.x, rectangle.y, first),
        _Rectangle(f"{rectangle.id}.2", rectangle.sheet, x, y, rest),
    )


def _numbers(part: str) -> tuple[int, ...]:
    return tuple(int(number) for number in part[1:].split("."))
