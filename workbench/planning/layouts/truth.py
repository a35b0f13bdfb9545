"""True cuts: each measures something wanted.

The first part of a cut bears a wanted piece, and is just as wide as the pieces in it. So nothing is
cut off only for the sake of what remains, and a piece whose side is never measured itself is the
last of a row of wanted pieces that closes exactly (12 = 3 x 4). Any cutting can be made true
without more paper: each part shrinks to what it bears, and all that is not wanted gathers at the
end of its row.
"""

from dataclasses import dataclass

from workbench.craft.direction import Direction
from workbench.planning.instance.trimmer_limits import TrimmerLimits
from workbench.planning.layouts.tree import Chain, Leaf, Node
from workbench.planning.shape import Shape, across, along, split


def true_layout(root: Node, trimmer: TrimmerLimits) -> Node:
    """`root` with the same pieces, cut by true cuts alone; as it is where the trimmer forbids."""
    content = _content(root)
    if content is None:
        return Leaf(*root.shape)
    made = _placed(content, root.shape, trimmer)
    return root if made is None else made


def made_true(root: Node, trimmer: TrimmerLimits) -> Node:
    """`root` itself if every cut measures something wanted, else the same parts cut so."""
    return root if is_true(root, trimmer) else true_layout(root, trimmer)


def is_true(root: Node, trimmer: TrimmerLimits) -> bool:
    """Whether every cut of `root` measures something wanted.

    A part wider than the rule is measured by what is beside it, and counts as measured.
    """
    if isinstance(root, Leaf):
        return True
    whole = root.shape
    for mark, first in root.cuts:
        content = _content(first)
        if content is None or along(_extent(content), root.direction) != mark:
            _, rest = split(whole, root.direction, mark)
            if along(rest, root.direction) <= trimmer.rule:
                return False
        _, whole = split(whole, root.direction, mark)
    return is_true(root.rest, trimmer) and all(is_true(first, trimmer) for _, first in root.cuts)


def extent(root: Node) -> Shape | None:
    """The width and height that the pieces of `root` take up at least; None where it has none."""
    content = _content(root)
    return None if content is None else _extent(content)


@dataclass(frozen=True, slots=True)
class _Row:
    """Contents side by side in `direction`, two or more; none is a row in that direction."""

    direction: Direction
    parts: tuple["_Content", ...]


_Content = Leaf | _Row


def _content(node: Node) -> _Content | None:
    """The pieces of `node`, in rows, without anything that is left over."""
    if isinstance(node, Leaf):
        return node if node.item is not None else None
    parts: list[_Content] = []
    for part in (*(first for _, first in node.cuts), node.rest):
        found = _content(part)
        if isinstance(found, _Row) and found.direction is node.direction:
            parts += found.parts
        elif found is not None:
            parts.append(found)
    if len(parts) < 2:
        return parts[0] if parts else None
    return _Row(node.direction, tuple(parts))


def _extent(content: _Content) -> Shape:
    if isinstance(content, Leaf):
        return content.shape
    direction = content.direction
    extents = [_extent(part) for part in content.parts]
    length = sum(along(one, direction) for one in extents)
    breadth = max(across(one, direction) for one in extents)
    return (length, breadth) if direction is Direction.WIDTH else (breadth, length)


def _placed(content: _Content, shape: Shape, trimmer: TrimmerLimits) -> Node | None:
    """`content` cut out of a rectangle at least as large; None where the trimmer forbids."""
    needed = _extent(content)
    if isinstance(content, Leaf):
        if needed == shape:
            return content
        ways = [way for way in Direction if along(needed, way) < along(shape, way)]
    else:
        # One cut across frees the whole row; else each part is trimmed by itself.
        aside = content.direction.other
        ways = [aside] if along(needed, aside) < along(shape, aside) else []
    for way in ways:
        if trimmed := _trimmed(content, shape, way, trimmer):
            return trimmed
    return None if isinstance(content, Leaf) else _in_a_row(content, shape, trimmer)


def _trimmed(
    content: _Content, shape: Shape, direction: Direction, trimmer: TrimmerLimits
) -> Node | None:
    """All beyond what `content` needs in `direction` cut off at once."""
    mark = along(_extent(content), direction)
    if not trimmer.cuts(across(shape, direction), mark, along(shape, direction)):
        return None
    part, waste = split(shape, direction, mark)
    first = _placed(content, part, trimmer)
    return first and Chain(*shape, direction, ((mark, first),), Leaf(*waste))


def _in_a_row(row: _Row, shape: Shape, trimmer: TrimmerLimits) -> Node | None:
    """The parts of a row cut off one after the other, the widest first."""
    direction, left = row.direction, shape
    parts = sorted(row.parts, key=lambda part: -along(_extent(part), direction))
    cuts: list[tuple[int, Node]] = []
    for part in parts:
        mark = along(_extent(part), direction)
        if mark == along(left, direction):  # the row closes: what is left is the last part
            rest = _placed(part, left, trimmer)
            return rest and Chain(*shape, direction, tuple(cuts), rest)
        if not trimmer.cuts(across(left, direction), mark, along(left, direction)):
            return None
        first, left_after = split(left, direction, mark)
        made = _placed(part, first, trimmer)
        if made is None:
            return None
        cuts.append((mark, made))
        left = left_after
    return Chain(*shape, direction, tuple(cuts), Leaf(*left))
