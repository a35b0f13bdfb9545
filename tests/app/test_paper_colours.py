"""A paper's colours from a picture of it."""

import os
import struct
import zlib
from contextlib import suppress
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from tests.app.running import opened, press, running, type_over
from tests.making.plans import FOG
from workbench.store import pictures
from workbench.store.errors import StoreError
from workbench.store.pictures import picture_colours


@pytest.fixture
def scan(tmp_path: Path) -> Path:
    """Cream paper with a blue third and a few red dots."""
    picture = Image.new("RGB", (300, 200), "#f4efe4")
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 0, 99, 200), fill="#2f6f8f")
    draw.rectangle((250, 150, 290, 190), fill="#a02020")
    path = tmp_path / "scan.png"
    picture.save(path)
    return path


def near(one: str, other: str) -> bool:
    return all(
        abs(int(one[at : at + 2], 16) - int(other[at : at + 2], 16)) < 12 for at in (1, 3, 5)
    )


def test_what_covers_most_is_the_ground_and_comes_last(scan: Path) -> None:
    found = picture_colours(scan)
    assert len(found) == 3
    assert all(map(near, found, ("#a02020", "#2f6f8f", "#f4efe4")))


def test_a_picture_of_one_colour_has_one(tmp_path: Path) -> None:
    Image.new("L", (20, 20), 128).save(tmp_path / "grey.png")
    assert picture_colours(tmp_path / "grey.png") == ("#808080",)


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\x89PNG\r\n\x1a\n half"])
def test_what_is_no_picture_is_said_in_words(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "scan.png"
    path.write_bytes(content)
    with pytest.raises(StoreError, match="cannot be read as a picture"):
        picture_colours(path)
    with pytest.raises(StoreError):
        picture_colours(tmp_path / "missing.png")


@pytest.mark.skipif(os.name == "nt", reason="no such pipes there")
def test_only_ordinary_files_are_read_as_pictures(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def not_opened(*_: object, **__: object) -> None:
        raise AssertionError("opening it would wait for a writer")

    pipe, huge = tmp_path / "pipe.png", tmp_path / "huge.png"
    os.mkfifo(pipe)
    huge.touch()
    os.truncate(huge, 1 << 40)
    monkeypatch.setattr(os, "open", not_opened)
    for path, words in ((pipe, "a pipe"), (tmp_path, "a folder"), (huge, "larger than 200 MB")):
        with pytest.raises(StoreError, match=words):
            picture_colours(path)


def chunk(kind: bytes, content: bytes) -> bytes:
    checked = kind + content
    return struct.pack(">I", len(content)) + checked + struct.pack(">I", zlib.crc32(checked))


def test_a_small_picture_of_too_many_pixels_is_not_decoded(tmp_path: Path) -> None:
    """A PNG of 20000 by 20000 in half a megabyte (PNG specification, ISO/IEC 15948, 11.2)."""
    header = struct.pack(">IIBBBBB", 20_000, 20_000, 8, 2, 0, 0, 0)
    rows = zlib.compress(bytes(100_000_000))
    path = tmp_path / "bomb.png"
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    )
    with pytest.raises(StoreError, match="more than 80 million pixels"):
        picture_colours(path)


def test_a_damaged_picture_writes_nothing_on_the_terminal(
    tmp_path: Path, scan: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "scan.tiff"
    with Image.open(scan) as picture:
        picture.save(path, compression="tiff_lzw")
    whole = path.read_bytes()
    for at in range(8, len(whole), len(whole) // 8):
        path.write_bytes(whole[:at] + bytes([whole[at] ^ 0xFF]) + whole[at + 1 :])
        with suppress(StoreError):
            picture_colours(path)
    assert capfd.readouterr() == ("", "")


def test_a_picture_that_never_ends_is_given_up(scan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pictures, "_SECONDS", 0)
    with pytest.raises(StoreError, match="takes longer"):
        picture_colours(scan)


async def test_the_form_takes_the_colours_and_keeps_no_picture(harbour: Path, scan: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "enter")
        await type_over(pilot, "colours", str(scan))
        await press(pilot, "f4", "s")
        paper = opened(app).project.paper(FOG)
        assert paper.colours == picture_colours(scan)
        kept = harbour.read_text(encoding="utf-8")
        assert paper.colours[-1] in kept
        assert "scan" not in kept
