"""Rectangles on a printed page, in millimetres from its top left, and how they are drawn."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple
from xml.etree.ElementTree import Element, SubElement

from workbench.drawing.svg_elements import number

_HATCH = 2.0


class Box(NamedTuple):
    """A rectangle on the page, in millimetres from the top left."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        """Whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def within(self, other: "Box") -> bool:
        """Whether this lies wholly in the other."""
        return (
            other.left <= self.left
            and self.right <= other.right
            and other.top <= self.top
            and self.bottom <= other.bottom
        )

    def grown(self, by: float) -> "Box":
        """The same, larger by so much on each side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    @property
    def in_words(self) -> str:
        """Its four edges, as tests read where something lies."""
        return " ".join(map(number, self))


def hatching(box: Box) -> Iterator[str]:
    """Slanting lines that fill a box."""
    width, height = box.right - box.left, box.bottom - box.top
    reach = _HATCH
    while reach < width + height:
        start = (box.left + min(reach, width), box.top + max(0.0, reach - width))
        end = (box.left + max(0.0, reach - height), box.top + min(reach, height))
        yield f"M{number(start[0])} {number(start[1])} L{number(end[0])} {number(end[1])}"
        reach += _HATCH


def rectangle(root: Element, box: Box, look: Mapping[str, str]) -> None:
    """Add a rectangle that looks so to `root`."""
    SubElement(
        root,
        "rect",
        {
            "x": number(box.left),
            "y": number(box.top),
            "width": number(box.right - box.left),
            "height": number(box.bottom - box.top),
            **look,
        },
    )
