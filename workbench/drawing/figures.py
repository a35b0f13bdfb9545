"""Numbers in tall figures, to be read from across the room: characters only.

A figure is a grid of dots, two to a character (half blocks), built from straight bars, so that it
stays crisp at every height. Figures are an odd number of rows tall: a fraction is two numerals
with a bar of one row between them.
"""

from collections.abc import Callable, Sequence
from functools import reduce

Rows = tuple[str, ...]
Dots = frozenset[tuple[int, int]]

HEIGHTS = tuple(range(21, 5, -2))
LOWEST = HEIGHTS[-1]
_UNIT_ROWS = 3
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}

# Which bars each numeral has: top, middle, bottom; and columns: u(pper) or l(ower), l(eft) or r.
_BARS = {
    "0": "t b ul ur ll lr",
    "2": "t m b ur ll",
    "3": "t m b ur lr",
    "4": "m ul ur lr",
    "5": "t m b ul lr",
    "6": "t m b ul ll lr",
    "7": "t ur lr",
    "8": "t m b ul ur ll lr",
    "9": "t m b ul ur lr",
}
_LETTERS = {
    "i": ("█", " ", "█", "█", "█", "█"),
    "n": ("    ", "    ", "███ ", "█  █", "█  █", "█  █"),
    "m": ("     ", "     ", "████ ", "█ █ █", "█ █ █", "█ █ █"),
}


def tall(text: str, unit: str, height: int = LOWEST) -> Rows:
    """Draw a number in figures.

    Args:
        text: the number as it is written: "3 1/8", "5/16", "133.5", "12".
        unit: "in", "mm" or "", which stands small at its foot.
        height: rows, one of `HEIGHTS`.

    Returns:
        The rows from the top, all equally long.
    """
    blocks = []
    for word in text.split():
        if "/" in word:
            numerator, denominator = word.split("/")
            blocks.append(_fraction(numerator, denominator, height))
        else:
            blocks.append(_number(word, height))
    if unit:
        blocks.append(_standing(_unit(unit), height))
    return _beside(blocks, gap=2)


def tallest(text: str, unit: str, width: int, height: int) -> Rows:
    """Draw a number in the tallest figures that fit in `width` by `height` cells.

    Where none fit they are `LOWEST` rows tall, larger than the room.
    """
    for rows in HEIGHTS:
        drawn = tall(text, unit, rows)
        if rows <= height and len(drawn[0]) <= width:
            return drawn
    return tall(text, unit, LOWEST)


def _number(digits: str, height: int) -> Rows:
    gap = max(1, _thickness(height) // 2)
    return _beside([_character(digit, height) for digit in digits], gap)


def _fraction(numerator: str, denominator: str, height: int) -> Rows:
    above, below = (_number(digits, height // 2) for digits in (numerator, denominator))
    width = max(len(above[0]), len(below[0])) + 2
    return (
        *(row.center(width) for row in above),
        "━" * width,
        *(row.center(width) for row in below),
    )


def _character(character: str, rows: int) -> Rows:
    height, thick = rows * 2, _thickness(rows)
    if character == ".":
        return _drawn(_box(0, height - thick, thick, thick), thick, rows)
    if character == "1":
        return _drawn(_one(height, thick), thick * 3, rows)
    width = max(4, height // 2)
    return _drawn(_numeral(_BARS[character].split(), width, height, thick), width, rows)


def _thickness(rows: int) -> int:
    return max(1, (rows * 2 + 2) // 7)


def _box(x: int, y: int, width: int, height: int) -> Dots:
    return frozenset((x + i, y + j) for i in range(width) for j in range(height))


def _one(height: int, thick: int) -> Dots:
    return (
        _box(thick, 0, thick, height)
        | _box(0, thick, thick, thick)
        | _box(0, height - thick, thick * 3, thick)
    )


def _numeral(bars: Sequence[str], width: int, height: int, thick: int) -> Dots:
    middle, right = (height - thick) // 2, width - thick
    lower = height - middle
    places: dict[str, Callable[[], Dots]] = {
        "t": lambda: _box(0, 0, width, thick),
        "m": lambda: _box(0, middle, width, thick),
        "b": lambda: _box(0, height - thick, width, thick),
        "ul": lambda: _box(0, 0, thick, middle + thick),
        "ur": lambda: _box(right, 0, thick, middle + thick),
        "ll": lambda: _box(0, middle, thick, lower),
        "lr": lambda: _box(right, middle, thick, lower),
    }
    dots: Dots = reduce(frozenset.union, (places[bar]() for bar in bars), frozenset())
    return dots - _outer_corners(bars, width, height) if thick > 1 else dots


def _outer_corners(bars: Sequence[str], width: int, height: int) -> Dots:
    """The corner dots to leave out where a bar turns into a column."""
    corners = {
        ("t", "ul"): (0, 0),
        ("t", "ur"): (width - 1, 0),
        ("b", "ll"): (0, height - 1),
        ("b", "lr"): (width - 1, height - 1),
    }
    return frozenset(dot for both, dot in corners.items() if set(both) <= set(bars))


def _unit(unit: str) -> Rows:
    return _beside([_letter(letter) for letter in unit], gap=1)


def _letter(letter: str) -> Rows:
    lines = _LETTERS[letter]
    dots = frozenset((x, y) for y, line in enumerate(lines) for x, c in enumerate(line) if c == "█")
    return _drawn(dots, len(lines[0]), _UNIT_ROWS)


def _drawn(dots: Dots, width: int, rows: int) -> Rows:
    return tuple(
        "".join(_HALVES[(x, 2 * row) in dots, (x, 2 * row + 1) in dots] for x in range(width))
        for row in range(rows)
    )


def _standing(block: Rows, height: int) -> Rows:
    return (" " * len(block[0]),) * (height - len(block)) + block


def _beside(blocks: Sequence[Rows], gap: int) -> Rows:
    return tuple((" " * gap).join(rows) for rows in zip(*blocks, strict=True))
