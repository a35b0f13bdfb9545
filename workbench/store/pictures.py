"""The colours of a paper, taken from a photograph or scan of it; the picture is not kept."""

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from workbench.store.errors import StoreError, visible
from workbench.store.ordinary import why_not

if TYPE_CHECKING:
    from PIL.Image import Image as Picture

SUFFIXES = (".jpg", ".jpeg", ".png", ".webp", ".gif", ".bmp", ".tif", ".tiff")
MOST_COLOURS = 3
MOST_MB = 200
_SIDE = 96
_SHADES = 24
_APART = 72


def colours_of(path: Path, most: int = MOST_COLOURS) -> tuple[str, ...]:
    """The main colours of a picture.

    Args:
        path: the picture's file.
        most: how many colours to find at most.

    Returns:
        Colours "#rrggbb" that differ clearly, the one that covers most of the picture last.

    Raises:
        StoreError: for a file that is no picture, or is too large.
    """
    from PIL import Image

    small = _small(path)
    # Nearest, as blending would make colours that are nowhere on the paper.
    small.thumbnail((_SIDE, _SIDE), Image.Resampling.NEAREST)
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
    return tuple(str(shade) for shade in reversed(chosen))


def _small(path: Path) -> "Picture":
    """The picture, read at a smaller size where its kind allows that. Raises StoreError."""
    from PIL import Image

    try:
        wrong = why_not(path, MOST_MB)
        if wrong is None:
            with Image.open(path) as picture:
                picture.draft("RGB", (_SIDE, _SIDE))
                return picture.convert("RGB")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise _refusal(path, "it cannot be read as a picture") from error
    raise _refusal(path, wrong)


def _refusal(path: Path, wrong: str) -> StoreError:
    right = "choose a photograph or scan, such as a .jpg or .png file"
    return StoreError(visible(path.name), wrong, right)


class _Shade(NamedTuple):
    red: int
    green: int
    blue: int

    def differs(self, other: "_Shade") -> bool:
        """Whether the two look like two inks rather than one in light and shade."""
        return sum(abs(one - two) for one, two in zip(self, other, strict=True)) > _APART

    def __str__(self) -> str:
        return "#" + "".join(f"{part:02x}" for part in self)
