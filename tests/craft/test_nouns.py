"""The nouns of the craft refuse what could not be made, and say what would be right."""

from collections.abc import Callable
from dataclasses import FrozenInstanceError
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.craft.card import BASE, FRONT, INSIDE, Card, Fold, Piece, Place, Rounding
from workbench.craft.errors import LONGEST_NAME, CraftError, checked_name
from workbench.craft.geometry import placements
from workbench.craft.paper import KINDS, RUNS, Edge, Offcut, Paper, Run, Size, Strip
from workbench.craft.project import Project, fits, layer_names
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length


def mm(number: int) -> Length:
    return Length.of(number, "mm")


def size(width: int, height: int) -> Size:
    return Size(mm(width), mm(height))


def paper(name: str = "fern", run: Run = "none", **changes: object) -> Paper:
    fields: dict[str, object] = {"kind": "patterned", "size": size(200, 300), "run": run}
    return Paper(name, **(fields | changes))  # type: ignore[arg-type]


def piece(name: str = "panel", **changes: object) -> Piece:
    fields: dict[str, object] = {"size": size(90, 130), "papers": ("fern",)}
    return Piece(name, **(fields | changes))  # type: ignore[arg-type]


def card(fold: Fold = "side", count: int = 4) -> Card:
    return Card(size(100, 140), fold, "fern", count)


def project(*pieces: Piece, **changes: object) -> Project:
    fields: dict[str, object] = {
        "title": "Ferns",
        "units": "mm",
        "card": card(),
        "papers": (paper(),),
        "pieces": pieces,
    }
    return Project(**(fields | changes))  # type: ignore[arg-type]


REFUSED: dict[str, tuple[Callable[[], object], str, str]] = {
    "a card of no width": (
        lambda: Card(size(0, 140), "top", "fern", 1),
        "card, size",
        "a side is nothing or less",
    ),
    "no card at all": (lambda: card(count=0), "card, count", "0 cards"),
    "too many cards": (lambda: card(count=100_001), "card, count", "100001 cards"),
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
    "a trimmer that cuts nothing": (
        lambda: Trimmer(cut_length=mm(0)),
        "trimmer, longest cut",
        "nothing",
    ),
    "a rule of no length": (lambda: Trimmer(rule_length=mm(0)), "trimmer, rule", "nothing"),
    "a strip less than nothing": (
        lambda: Trimmer(hold=mm(-1)),
        "trimmer, narrowest strip",
        "less",
    ),
    "no sheet at once": (
        lambda: Trimmer(at_once={"patterned": 0}),
        "trimmer, patterned at once",
        "0 sheets",
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
    "a piece called as the base": (lambda: piece(BASE), f'piece "{BASE}"', "taken"),
    "a piece called inside": (lambda: piece(INSIDE), f'piece "{INSIDE}"', "taken"),
    "a piece called card": (lambda: piece(FRONT), f'piece "{FRONT}"', "taken"),
    "a piece from nothing": (lambda: piece(papers=()), 'piece "panel", from', "no paper"),
    "a piece twice from one paper": (
        lambda: piece(papers=("fern", "fern")),
        'piece "panel", from',
        "named twice",
    ),
    "a piece no times": (lambda: piece(per_card=0), 'piece "panel", per_card', "0 on each"),
    "a piece too often": (lambda: piece(per_card=51), 'piece "panel", per_card', "51 on each"),
    "no corner rounded": (
        lambda: piece(rounding=Rounding((), mm(5))),
        'piece "panel", round',
        "corners are missing",
    ),
    "a corner rounded twice": (
        lambda: piece(rounding=Rounding(("top left", "top left"), mm(5))),
        'piece "panel", round',
        "named twice",
    ),
    "a radius of nothing": (
        lambda: piece(rounding=Rounding(("top left",), mm(0))),
        'piece "panel", round',
        "radius is nothing",
    ),
    "a radius beyond the middle": (
        lambda: piece(rounding=Rounding(("top left",), mm(46))),
        'piece "panel", round',
        "more than half the piece's shorter side",
    ),
    "a project without a title": (lambda: project(title=""), "title", "blank"),
    "two papers of one name": (
        lambda: project(papers=(paper(), paper())),
        "papers",
        '"fern" stands there twice',
    ),
    "two pieces of one name": (
        lambda: project(piece(), piece()),
        "pieces",
        '"panel" stands there twice',
    ),
    "a piece called as another's copy": (
        lambda: project(piece(per_card=2), piece("panel 2")),
        "pieces",
        '"panel 2" stands there twice',
    ),
    "a base from no known paper": (
        lambda: project(papers=()),
        "card, paper",
        'no paper is called "fern"',
    ),
    "a piece from no known paper": (
        lambda: project(piece(papers=("fir",))),
        'piece "panel", from',
        'no paper is called "fir"',
    ),
    "an offcut of no known paper": (
        lambda: project(offcuts=(Offcut("fir", size(5, 5)),)),
        "offcuts[1], paper",
        'no paper is called "fir"',
    ),
    "a piece on nothing": (
        lambda: project(piece(on="mat")),
        'piece "panel", on',
        '"mat" is not the card',
    ),
    "a piece inside a flat card": (
        lambda: project(piece(on=INSIDE), card=card("none")),
        'piece "panel", on',
        "no inside",
    ),
    "a piece on itself": (
        lambda: project(piece(on="panel")),
        'piece "panel", on',
        '"panel" is not the card',
    ),
    "a piece on one above it": (
        lambda: project(piece(on="mat"), piece("mat")),
        'piece "panel", on',
        '"mat" is not the card',
    ),
    "a piece larger than its paper": (
        lambda: project(piece(size=size(201, 300))),
        'piece "panel", size',
        "larger than a sheet",
    ),
    "a base larger than its paper": (
        lambda: project(card=Card(size(160, 140), "side", "fern", 1)),
        "card, size",
        "larger than a sheet",
    ),
    "a piece that fits only against the run": (
        lambda: project(piece(size=size(300, 200)), papers=(paper(run="along"),)),
        'piece "panel", size',
        "larger than a sheet",
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refused_with_place_and_reason(case: str) -> None:
    make, place, wrong = REFUSED[case]
    with pytest.raises(CraftError) as caught:
        make()
    error = caught.value
    assert error.place == place
    assert wrong in error.wrong
    assert error.right
    assert str(error) == f"{place}: {error.wrong}; {error.right}"


def test_nouns_are_frozen() -> None:
    with pytest.raises(FrozenInstanceError):
        card().count = 5  # type: ignore[misc]


@pytest.mark.parametrize(
    ("fold", "unfolded"),
    [("top", size(100, 280)), ("side", size(200, 140)), ("none", size(100, 140))],
)
def test_a_base_is_cut_unfolded(fold: Fold, unfolded: Size) -> None:
    assert card(fold).base_size == unfolded


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


@given(st.text(max_size=LONGEST_NAME + 5))
def test_a_name_is_kept_as_it_is_or_refused(name: str) -> None:
    try:
        assert checked_name(name, "here") == name
    except CraftError as error:
        assert error.place == "here"
    else:
        assert name == name.strip() != ""
        assert len(name) <= LONGEST_NAME
        assert "\n" not in name


def test_layers_number_the_copies_of_a_piece() -> None:
    assert layer_names(piece(per_card=3)) == ("panel", "panel 2", "panel 3")
    layers = project(piece(), piece("tab", size=size(9, 9), per_card=2)).layers()
    assert [layer.name for layer in layers] == ["panel", "tab", "tab 2"]


def test_papers_and_pieces_are_found_by_name() -> None:
    asked = project(piece())
    assert asked.paper("fern").name == "fern"
    assert asked.mixed(asked.piece("panel")) is False
    with pytest.raises(KeyError):
        asked.piece("mat")


def test_pieces_lie_where_they_are_placed() -> None:
    placed = placements(
        project(
            piece(),
            piece("mat", size=size(50, 40), on="panel", place=Place("right", mm(10))),
            piece("patch", size=size(40, 30), on="mat", place=Place("centre", "top")),
            piece("verse", size=size(80, 100), on=INSIDE, place=Place("left", "bottom")),
            piece("stamp", size=size(20, 20), on="verse"),
        )
    )
    assert [(p.x, p.y, p.inside) for p in placed] == [
        (mm(5), mm(5), False),
        (mm(5 + 40), mm(5 + 10), False),
        (mm(45 + 5), mm(15 + 10), False),
        (mm(0), mm(0), True),
        (mm(30), mm(40), True),
    ]


def test_a_panel_of_4_3_4_leaves_an_even_eighth() -> None:
    """(5 - 4 3/4) / 2 = 1/8 in, exactly."""
    front = Size(Length.of(5, "in"), Length.of(7, "in"))
    panel = Size(Length.of(Fraction(19, 4), "in"), front.height)
    (placed,) = placements(
        project(
            piece(size=panel),
            card=Card(front, "none", "fern", 1),
        )
    )
    assert placed.x * 8 == Length.of(1, "in")


def test_the_trimmer_is_careful_by_default() -> None:
    trimmer = Trimmer()
    assert trimmer.at_once == {"patterned": 2, "cardstock": 1, "vellum": 1, "other": 1}
    assert trimmer.cut_length >= Length.of(12, "in")
    # Sixteenths: federal item description A-A-355B; whole millimetres: common practice, no source.
    assert trimmer.graduations["in"].interval == Length.of(Fraction(1, 16), "in")
    assert trimmer.graduations["mm"].interval == mm(1)


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


def test_what_fits_is_what_fits_beside_the_strip() -> None:
    striped = paper(strip=Strip("bottom", mm(10)))
    assert fits(striped, size(200, 290))
    assert not fits(striped, size(200, 291))
    assert fits(striped, size(290, 200))
