"""What is written on the parts of a sheet drawn in cells: whole words, or a number and a key."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from workbench.craft.paper import Size
from workbench.drawing.canvas import Box, width_of, wrapped
from workbench.drawing.labels import write_short
from workbench.measure.length import Unit
from workbench.planning import Part

_SIDEWAYS = "(sideways)"


class Likeness(NamedTuple):
    """What parts have in common that share a number: name, size as it will be used, how it lies."""

    name: str
    size: Size
    turned: bool


@dataclass(frozen=True)
class Labels:
    """What is written on parts, by their places in the sheet's parts.

    Attributes:
        words: lines of words, where they have room.
        numbered: the numbers of all others that have room for that.
        numbers: the numbers used.
    """

    words: Mapping[int, tuple[str, ...]]
    numbered: Mapping[int, int] = field(default_factory=dict)
    numbers: Mapping[Likeness, int] = field(default_factory=dict)

    @property
    def lines(self) -> dict[int, tuple[str, ...]]:
        """All that is written."""
        numbered = {place: (str(number),) for place, number in self.numbered.items()}
        return {**self.words, **numbered}


def likeness(part: Part) -> Likeness:
    """The role, piece and size by which parts that bear the same label are told."""
    size = part.size.turned if part.turned else part.size
    return Likeness(part.piece or part.role, size, part.turned)


def labels_of(boxes: Mapping[int, Box], parts: Sequence[Part], unit: Unit) -> Labels:
    """The labels of the `parts` drawn in these `boxes`, by their places; none is ever cut off."""
    words: dict[int, tuple[str, ...]] = {}
    numbered: dict[int, int] = {}
    numbers: dict[Likeness, int] = {}
    for place, box in boxes.items():
        like = likeness(parts[place])
        if lines := next((each for each in _wordings(like, unit) if _fits(each, box.inner)), None):
            words[place] = lines
            continue
        number = numbers.get(like, len(numbers) + 1)
        if len(str(number)) <= max(1, box.inner.width):
            numbered[place] = numbers[like] = number
    return Labels(words, numbered, numbers)


def label_box(box: Box, lines: Sequence[str]) -> Box:
    """Where in the frame of a part its label goes: inside, or upon a line where there is no room.

    Of a part too flat to write in that is its upper line, of one too narrow its left one.
    """
    room = box.inner
    x, width = (room.x, room.width) if room.width else (box.x, 1)
    if room.height < len(lines):
        return Box(x, box.y, width, 1)
    return Box(x, room.y + (room.height - len(lines)) // 2, width, len(lines))


def key_lines(numbers: Mapping[Likeness, int], unit: Unit, columns: int) -> list[str]:
    """The key, in lines of so many cells at most; words that are wider still are broken."""
    found: list[str] = []
    for like, number in numbers.items():
        head, sideways = f"{number} ", [_SIDEWAYS] if like.turned else []
        words = [*like.name.split(" "), " × ".join(_sides(like, unit)), *sideways]
        for line in wrapped(words, columns - len(head)):
            found.append(f"{head}{line}")
            head = " " * len(head)
    return found


def _wordings(like: Likeness, unit: Unit) -> Iterator[tuple[str, ...]]:
    """All that could be said, the most first; that a part lies sideways is never left out."""
    across, up = _sides(like, unit)
    size, sideways = f"{across} × {up}", (_SIDEWAYS,) if like.turned else ()
    yield like.name, size, *sideways
    yield like.name, f"{across} ×", up, *sideways
    yield (" ".join((like.name, size, *sideways)),)
    yield like.name, *sideways
    yield (" ".join((like.name, *sideways)),)


def _sides(like: Likeness, unit: Unit) -> tuple[str, str]:
    return write_short(like.size.width, unit), write_short(like.size.height, unit)


def _fits(lines: Sequence[str], room: Box) -> bool:
    return len(lines) <= room.height and max(map(width_of, lines)) <= room.width
