"""The picture in a guide: only one beside the project, and nothing that the camera noted."""

from base64 import b64decode
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from workbench.craft.errors import CraftError
from workbench.craft.imprint import Imprint
from workbench.store.errors import StoreError
from workbench.store.guide_picture import guide_picture

GPS = 0x8825  # the place where it was taken (Exif 2.32, GPSInfo IFD pointer)


@pytest.mark.parametrize(
    "name", ["../secret.png", "/etc/secret.png", "C:\\secret.png", "a.svg", "a"]
)
def test_a_project_reaches_for_nothing_but_its_own_pictures(name: str) -> None:
    with pytest.raises(CraftError, match="imprint, picture"):
        Imprint(picture=name)


def test_a_picture_comes_without_what_the_camera_noted(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[GPS] = {1: "N"}
    Image.new("RGB", (2400, 1200), "#b4532f").save(tmp_path / "card.jpg", exif=exif)
    uri = guide_picture(Imprint(picture="card.jpg"), tmp_path / "card.toml")
    head, _, data = uri.partition(",")
    assert head == "data:image/jpeg;base64"
    with Image.open(BytesIO(b64decode(data))) as shown:
        assert shown.size == (1200, 600)
        assert not shown.getexif()


def test_a_link_that_leads_elsewhere_and_a_file_that_is_no_picture_are_refused(
    tmp_path: Path,
) -> None:
    (tmp_path / "here").mkdir()
    Image.new("RGB", (9, 9)).save(tmp_path / "there.png")
    (tmp_path / "here" / "link.png").symlink_to(tmp_path / "there.png")
    (tmp_path / "here" / "words.png").write_text("no picture")
    (tmp_path / "here" / "loop.png").symlink_to("loop.png")
    for name in ("link.png", "words.png", "missing.png", "loop.png"):
        with pytest.raises(StoreError, match="cannot be shown in the guide"):
            guide_picture(Imprint(picture=name), tmp_path / "here" / "card.toml")


def test_none_is_shown_where_none_is_named_or_there_is_no_file(tmp_path: Path) -> None:
    assert guide_picture(Imprint(), tmp_path / "card.toml") == ""
    assert guide_picture(Imprint(picture="card.jpg"), None) == ""
