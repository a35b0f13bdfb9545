"""Rectangles in whole numbers: a shape is (width, height), in units of the instance."""

from workbench.craft.direction import Direction

Shape = tuple[int, int]

WIDTH, HEIGHT = Direction.WIDTH, Direction.HEIGHT
DIRECTIONS = WIDTH, HEIGHT
"""By axis: 0 is the width, 1 the height."""


def along(shape: Shape, direction: Direction) -> int:
    """The side of `shape` that a cut in `direction` measures."""
    return shape[0] if direction is WIDTH else shape[1]


def across(shape: Shape, direction: Direction) -> int:
    """The other side: how long a cut in `direction` is."""
    return shape[1] if direction is WIDTH else shape[0]


def with_side(shape: Shape, direction: Direction, side: int) -> Shape:
    """`shape` with its side along `direction` made `side`."""
    return (side, shape[1]) if direction is WIDTH else (shape[0], side)


def split(shape: Shape, direction: Direction, mark: int) -> tuple[Shape, Shape]:
    """The two parts of `shape` cut at `mark`: the one that measures `mark`, and the rest."""
    width, height = shape
    if direction is WIDTH:
        return (mark, height), (width - mark, height)
    return (width, mark), (width, height - mark)


def joined(one: Shape, other: Shape, direction: Direction) -> Shape:
    """Two parts put together again, as they were before a cut in `direction`."""
    return with_side(one, direction, along(one, direction) + along(other, direction))
