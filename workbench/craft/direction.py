"""The two directions in which a rectangle is measured and cut."""

from enum import StrEnum


class Direction(StrEnum):
    """A side of a rectangle as its print stands upright. A cut along the width runs up and down."""

    WIDTH = "width"
    HEIGHT = "height"

    @property
    def other(self) -> "Direction":
        """The direction across this one."""
        return Direction.HEIGHT if self is Direction.WIDTH else Direction.WIDTH
