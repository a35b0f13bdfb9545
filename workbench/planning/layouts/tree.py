"""How one sheet is cut: a tree of chains of parallel cuts, down to pieces and what is left."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple, Union

from workbench.craft.direction import Direction
from workbench.planning.instance.instance import Source
from workbench.planning.shape import Shape, split


@dataclass(frozen=True, slots=True)
class Leaf:
    """A rectangle that is not cut on: an item by its id, or left over (None).

    `strip`: what is left over is the sheet's printed strip, never worth keeping.
    """

    width: int
    height: int
    item: int | None = None
    turned: bool = False
    strip: bool = False

    @property
    def shape(self) -> Shape:
        """Its width and height."""
        return self.width, self.height


@dataclass(frozen=True, slots=True)
class Chain:
    """A rectangle cut several times in one `direction`.

    Each cut takes off a part that measures its mark; the cuts may be made in any order. `rest`
    is what remains after the last.
    """

    width: int
    height: int
    direction: Direction
    cuts: tuple[tuple[int, "Node"], ...]
    rest: "Node"
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        # Trees are looked up often: none is gone through twice.
        whole = self.width, self.height, self.direction, self.cuts, self.rest
        object.__setattr__(self, "_hash", hash(whole))

    def __hash__(self) -> int:
        return self._hash

    @property
    def shape(self) -> Shape:
        """Its width and height before the first cut."""
        return self.width, self.height


Node = Union[Leaf, Chain]  # noqa: UP007 - the two name each other


@dataclass(frozen=True, slots=True)
class Layout:
    """The cutting of `times` rectangles of `paper`, from `source`, all alike."""

    paper: str
    source: Source
    root: Node
    times: int = 1


def leaves(node: Node) -> Iterator[Leaf]:
    """Every final part, in cutting order."""
    todo = [node]
    while todo:
        at = todo.pop()
        if isinstance(at, Leaf):
            yield at
        else:
            todo.append(at.rest)
            todo += [first for _, first in reversed(at.cuts)]


class Stroke(NamedTuple):
    """One cut: the rectangle as it is before, the direction and the mark."""

    width: int
    height: int
    direction: Direction
    mark: int


def strokes_of(node: Node) -> Iterator[Stroke]:
    """Every cut, those of a chain in turn."""
    if isinstance(node, Chain):
        shape = node.shape
        for mark, first in node.cuts:
            yield Stroke(*shape, node.direction, mark)
            yield from strokes_of(first)
            _, shape = split(shape, node.direction, mark)
        yield from strokes_of(node.rest)


def cuts_of(node: Node) -> int:
    """How many cuts it takes."""
    if isinstance(node, Leaf):
        return 0
    return len(node.cuts) + cuts_of(node.rest) + sum(cuts_of(first) for _, first in node.cuts)


def marks_of(node: Node) -> Iterator[int]:
    """The mark of every cut."""
    return (stroke.mark for stroke in strokes_of(node))
