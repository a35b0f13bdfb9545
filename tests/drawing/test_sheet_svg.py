"""A sheet as SVG: its words lie clear of its lines, in letters that the typeface has."""

from fractions import Fraction
from typing import get_args
from xml.etree.ElementTree import fromstring

import pytest
from PIL import ImageFont

from tests.making.plans import inches
from workbench.craft.paper import Run
from workbench.drawing.lettering import font_folder
from workbench.drawing.sheet_svg import sheet_svg
from workbench.drawing.two_units import TwoUnits
from workbench.measure.length import ZERO
from workbench.planning.result import Part, Sheet

SVG = "{http://www.w3.org/2000/svg}"
WIDE, HIGH = inches("2 7/8"), inches("6 7/16")
OFFCUT = Sheet("S1", "frost", WIDE, HIGH, parts=(Part((), "offcut", None, ZERO, ZERO, WIDE, HIGH),))


@pytest.mark.parametrize("sixteenths", range(1, 5))
def test_the_words_of_an_offcut_keep_within_its_dashes(sixteenths: int) -> None:
    root = fromstring(sheet_svg(OFFCUT, (), {}, TwoUnits("in"), scale=Fraction(sixteenths, 16)))
    (frame,) = root.findall(f"{SVG}rect[@stroke-dasharray]")
    left, top, width, height = (float(frame.attrib[at]) for at in ("x", "y", "width", "height"))
    for group in root.findall(f"{SVG}g[@data-words]"):
        box = [float(number) for number in group.attrib["data-words"].split()]
        assert left <= box[0]
        assert top <= box[1]
        assert box[2] <= left + width
        assert box[3] <= top + height


@pytest.mark.parametrize("sixteenths", range(1, 17))
def test_no_side_is_told_beyond_the_picture(sixteenths: int) -> None:
    side = inches("1 1/2")
    tag = Part((), "piece", "tag", ZERO, ZERO, side, side)
    small = Sheet("S1", "frost", side, side, parts=(tag,))
    drawn = sheet_svg(small, (), {"tag": "A"}, TwoUnits("in"), scale=Fraction(sixteenths, 16))
    _, _, width, height = (float(number) for number in fromstring(drawn).attrib["viewBox"].split())
    told = [words for words in fromstring(drawn).iter(f"{SVG}text") if " in" in (words.text or "")]
    for words in told:
        along, room = ("y", height) if "transform" in words.attrib else ("x", width)
        half = float(words.attrib["textLength"]) / 2
        assert half <= float(words.attrib[along]) <= room - half
    assert told


@pytest.mark.parametrize("run", get_args(Run))
def test_every_letter_is_of_the_typeface(run: Run) -> None:
    """Pages take no other, so that a missing one would come from whatever the machine has."""
    font = ImageFont.truetype(font_folder() / "SourceSansPro-Regular.ttf", 100)
    missing = bytes(font.getmask("\U0010ffff"))
    words = "".join(fromstring(sheet_svg(OFFCUT, (), {}, TwoUnits("in"), run=run)).itertext())
    assert {letter for letter in set(words) if bytes(font.getmask(letter)) == missing} == set()
