"""Run as a process of its own: the colours of the picture on its standard input, one a line."""

import sys
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from PIL.Image import Image as Picture

MOST_PIXELS = 80_000_000
"""A sheet of 12 by 12 in scanned at 600 dots to the inch has 52 million."""
MOST_BYTES = 1 << 30
TOO_MANY_PIXELS = 3
"""The exit code where that is exceeded; any other but 0 stands for a picture that is damaged."""
_SIDE = 96
_SHADES = 24
_APART = 72


def main(most: int) -> int:
    """Print up to `most` colours; returns the exit code."""
    from PIL import Image

    _bound_memory()
    Image.MAX_IMAGE_PIXELS = None  # our own bound is looked at below
    with Image.open(sys.stdin.buffer) as picture:
        # A photograph is read at a smaller size, where its kind allows that.
        picture.draft("RGB", (_SIDE, _SIDE))
        if picture.width * picture.height > MOST_PIXELS:
            return TOO_MANY_PIXELS
        # Nearest, as blending would make colours that are nowhere on the paper.
        picture.thumbnail((_SIDE, _SIDE), Image.Resampling.NEAREST)
        small = picture.convert("RGB")
    print(*_colours(small, most), sep="\n")
    return 0


def _bound_memory() -> None:
    try:
        import resource
    except ImportError:  # Windows
        return
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))


def _colours(small: "Picture", most: int) -> list[str]:
    from PIL import Image

    few = small.quantize(_SHADES, Image.Quantize.MEDIANCUT)
    palette = few.getpalette() or []
    shades = [
        _Shade(*palette[3 * index : 3 * index + 3])
        for _, index in sorted(few.getcolors() or [], reverse=True)
        if isinstance(index, int)
    ]
    chosen: list[_Shade] = []
    for shade in shades:
        if len(chosen) < most and all(shade.differs(other) for other in chosen):
            chosen.append(shade)
    return [str(shade) for shade in reversed(chosen)]


class _Shade(NamedTuple):
    red: int
    green: int
    blue: int

    def differs(self, other: "_Shade") -> bool:
        """Whether the two look like two inks rather than one in light and shade."""
        return sum(abs(one - two) for one, two in zip(self, other, strict=True)) > _APART

    def __str__(self) -> str:
        return "#" + "".join(f"{part:02x}" for part in self)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1])))
