"""Papers and offcuts refuse what cannot be; a strip and a run say what may be cut."""

import pytest

from tests.craft.projects import Refusal, check_refused, mm, paper, size
from workbench.craft.paper import KINDS, RUNS, Edge, Offcut, Run, Size, Strip
from workbench.craft.project import fits

REFUSED: dict[str, Refusal] = {
    "a paper without a name": (lambda: paper(" "), "papers", "blank"),
    "a name with blanks around": (lambda: paper("fern "), "papers", "blanks around it"),
    "a name with an escape": (lambda: paper("fe\x1brn"), "papers", "cannot be printed"),
    "a name with a joiner": (
        lambda: paper("fe\u200drn"),
        "papers",
        "U+200D (zero width joiner) as character 3",
    ),
    "a name with a direction mark": (lambda: paper("fe\u202ern"), "papers", "cannot be printed"),
    "a name too long": (lambda: paper("f" * 61), "papers", "61 characters"),
    "a strip of no width": (
        lambda: paper(strip=Strip("top", mm(0))),
        'paper "fern", strip',
        "nothing or less",
    ),
    "a strip as wide as the sheet": (
        lambda: paper(strip=Strip("left", mm(200))),
        'paper "fern", strip',
        "leaves nothing of the sheet",
    ),
    "a strip as high as the sheet": (
        lambda: paper(strip=Strip("bottom", mm(300))),
        'paper "fern", strip',
        "leaves nothing of the sheet",
    ),
    "a paper of no height": (
        lambda: paper(size=size(10, 0)),
        'paper "fern", size',
        "nothing or less",
    ),
    "sheets below none": (lambda: paper(sheets=-1), 'paper "fern", sheets', "-1 sheets"),
    "sheets beyond counting": (
        lambda: paper(sheets=100_001),
        'paper "fern", sheets',
        "100001 sheets",
    ),
    "a colour by name": (
        lambda: paper(colours=("red",)),
        'paper "fern", colours',
        "'red' is not a colour",
    ),
    "a colour with more behind it": (
        lambda: paper(colours=("#a0b1c2 ",)),
        'paper "fern", colours',
        "is not a colour",
    ),
    "no offcut": (lambda: Offcut("fern", size(5, 5), 0), 'offcut of "fern", count', "0 offcuts"),
    "an offcut of no size": (
        lambda: Offcut("fern", size(5, -5)),
        'offcut of "fern", size',
        "nothing or less",
    ),
}


@pytest.mark.parametrize("refusal", REFUSED.values(), ids=REFUSED)
def test_refused_with_place_and_reason(refusal: Refusal) -> None:
    check_refused(refusal)


@pytest.mark.parametrize("run", RUNS)
def test_only_a_print_without_a_run_turns(run: Run) -> None:
    sheet = paper(run=run)
    assert sheet.turns == (run == "none")
    assert fits(sheet, size(200, 300))
    assert fits(sheet, size(300, 200)) == sheet.turns
    assert not fits(sheet, size(201, 201))


@pytest.mark.parametrize("kind", KINDS)
def test_a_print_shows_and_plain_card_does_not(kind: str) -> None:
    assert paper(kind=kind).shows_print == (kind == "patterned")
    assert paper(kind=kind, print="dot").shows_print


@pytest.mark.parametrize(
    ("edge", "left"),
    [
        ("left", size(188, 300)),
        ("right", size(188, 300)),
        ("top", size(200, 288)),
        ("bottom", size(200, 288)),
    ],
)
def test_a_strip_takes_its_width_from_the_side_it_lies_along(edge: Edge, left: Size) -> None:
    assert paper(strip=Strip(edge, mm(12))).usable == left
    assert paper().usable == size(200, 300)
