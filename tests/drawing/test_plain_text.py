"""ASCII where the terminal knows no more."""

import pytest
from rich.cells import cell_len

from workbench.drawing.plain_text import HANDLER, ascii_locale, in_ascii


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("9 × 6 in", "9 x 6 in"),
        ("┌─┐│└┘", "+-+|++"),
        ("café “so” …", 'cafe "so" ~'),
        ("█▀▄", "###"),
    ],
)
def test_what_is_drawn_stays_as_wide(text: str, plain: str) -> None:
    assert in_ascii(text) == plain
    assert cell_len(text) == len(plain)


def test_a_stream_writes_what_it_cannot_encode_so() -> None:
    assert "4 × 3 → kept".encode("ascii", HANDLER) == b"4 x 3 > kept"


@pytest.mark.parametrize(
    ("environment", "ascii_only"),
    [
        ({"LC_ALL": "C"}, True),
        ({"LANG": "C", "LC_CTYPE": "C.UTF-8"}, True),  # as Python leaves it, PEP 538
        ({"LANG": "en_GB.UTF-8"}, False),
        ({"LC_ALL": "C.UTF-8", "LANG": "C"}, False),
        ({}, False),
    ],
)
def test_the_locale_says_so(environment: dict[str, str], ascii_only: bool) -> None:
    """POSIX.1-2017, 8.2: LC_ALL comes before LC_CTYPE, and that before LANG."""
    assert ascii_locale(environment) is ascii_only
