"""The scales that drawings of a recipe have."""

from collections.abc import Sequence
from fractions import Fraction

from workbench.craft.paper import Size
from workbench.drawing.sheet_svg import page_size

# Scales that a reader can undo in the head, the largest first.
_SCALES = tuple(
    Fraction(1) / Fraction(part)
    for part in ("1", "3/2", "2", "5/2", "3", "4", "5", "6", "8", "10", "12", "16", "20", "25")
)


def scale_for(sizes: Sequence[Size], room: tuple[float, float]) -> Fraction:
    """The largest scale at which all of these sizes have room."""
    width = max(float(size.width.mm) for size in sizes)
    height = max(float(size.height.mm) for size in sizes)
    margin = page_size(sizes[0], Fraction(0))[0]
    for scale in _SCALES:
        if width * scale + margin <= room[0] and height * scale <= room[1]:
            return scale
    return _SCALES[-1]


def scale_words(scale: Fraction) -> str:
    """ "1 : 4", "1 : 2.5"."""
    whole = 1 / scale
    return f"1 : {whole.numerator if whole.denominator == 1 else float(whole)}"
