"""The picture of a finished card, made fit to be printed in a guide and given away."""

import os
from base64 import b64encode
from io import BytesIO
from pathlib import Path

from workbench.craft.imprint import Imprint
from workbench.store.errors import StoreError, reason, visible
from workbench.store.ordinary import OddFileError, read_ordinary
from workbench.store.picture_decoder import MOST_PIXELS

_MOST_MB = 40
_LARGEST = 1200


def guide_picture(imprint: Imprint, project_file: Path | None) -> str:
    """The picture as a data URI, without what a camera notes in it, such as a place.

    It is empty where there is none, or the project has no file to find it beside.

    Raises:
        StoreError: where it cannot be read, or is no picture.
    """
    if imprint.picture is None or project_file is None:
        return ""
    path = project_file.parent / imprint.picture
    try:
        _check_inside(path, project_file.parent)
        return _data_uri(read_ordinary(path, _MOST_MB))
    except (OddFileError, OSError, ValueError) as error:
        said = reason(error) or "it is no picture"
        raise StoreError(
            visible(str(path)),
            f"it cannot be shown in the guide ({said})",
            "choose another picture",
        ) from error


def _check_inside(path: Path, folder: Path) -> None:
    """A link may lead out of the folder, which a stranger's project must not."""
    # Unlike Path.resolve, which raises RuntimeError, this goes round no loop of links.
    if not Path(os.path.realpath(path)).is_relative_to(os.path.realpath(folder)):
        raise OddFileError("it lies in another folder")


def _data_uri(content: bytes) -> str:
    from PIL import Image, ImageOps

    try:
        with Image.open(BytesIO(content), formats=("JPEG", "PNG")) as image:
            if image.width * image.height > MOST_PIXELS:
                raise OddFileError("it has too many pixels")
            upright = ImageOps.exif_transpose(image).convert("RGB")
    except (Image.DecompressionBombError, SyntaxError, OSError) as error:
        raise OddFileError("it is no picture, or a damaged one") from error
    upright.thumbnail((_LARGEST, _LARGEST))
    made = BytesIO()
    # A new picture of the same points: nothing that was noted in the old one comes along.
    upright.save(made, "JPEG", quality=85)
    return f"data:image/jpeg;base64,{b64encode(made.getvalue()).decode()}"
