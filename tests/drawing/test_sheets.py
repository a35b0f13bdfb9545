from fractions import Fraction

from hypothesis import example, given
from hypothesis import strategies as st

from tests.making.plans import FOG, GULL, HARBOUR, NET, PLAN, inches
from workbench.craft.direction import Direction
from workbench.drawing.sheets import draw_numbered, draw_sheet
from workbench.measure.length import ZERO, Length
from workbench.planning.result import Part, PartId, Sheet, rectangles

PRINTED, DOTTED, BASES = PLAN.sheets
CORNERS = st.integers(1, 63).map(lambda n: Length.of(Fraction(n, 64), "in") * 12)

CORNER = Length.of(Fraction(3, 16), "in")


def test_a_sheet_is_drawn_to_scale_with_its_parts_named_and_measured() -> None:
    canvas = draw_sheet(PRINTED, HARBOUR.paper(NET), 60, 20, "in")
    assert (canvas.width, canvas.height) == (40, 20)
    drawn = "\n".join(canvas.lines())
    assert "panel" in drawn
    assert "3 3/4 × 4 3/4" in drawn
    assert "offcut" in drawn
    assert "╱" in drawn
    # The cut at 3 3/4 of 6 in lies at 5/8 of the way across, the one at 4 3/4 at 19/24 up.
    assert [canvas.cell(25, y).char for y in (0, 4, 19)] == ["│", "┼", "│"]


def test_its_outline_runs_along_the_edge_of_the_paper() -> None:
    drawn = draw_sheet(PRINTED, HARBOUR.paper(NET), 60, 20, "in").lines()
    assert drawn[0] == "▏" + "▔" * 24 + "│" + "▔" * 13 + "▕"
    assert drawn[-1] == "▏" + "▁" * 24 + "│" + "▁" * 13 + "▕"
    sides = [(line[0], line[-1]) for line in drawn[1:-1]]
    assert set(sides) == {("▏", "▕"), ("─", "▕"), ("─", "─")}
    assert sides.index(("─", "─")) == 3


def test_the_other_unit_is_told_with_how_near_it_is() -> None:
    drawn = "\n".join(draw_sheet(PRINTED, HARBOUR.paper(NET), 60, 20, "mm").lines())
    assert "≈95 × ≈121" in drawn


def test_the_rest_is_dimmed_and_the_cut_goes_through_the_rectangle_at_hand() -> None:
    found = rectangles(PLAN)
    canvas = draw_sheet(
        DOTTED,
        HARBOUR.paper(GULL),
        60,
        20,
        "in",
        active=found[PartId("S2", (1,))],
        cut=(Direction.WIDTH, inches("3 3/4")),
    )
    column = [canvas.cell(25, y) for y in range(canvas.height)]
    assert [cell.char == "┃" for cell in column] == [False] * 4 + [True] * 16
    dimmed = {y: canvas.cell(1, y).dim for y in (3, 10)}
    assert dimmed == {3: True, 10: False}


def test_a_cut_of_the_height_goes_across() -> None:
    canvas = draw_sheet(BASES, HARBOUR.paper(FOG), 60, 23, "in", cut=(Direction.HEIGHT, inches(10)))
    assert canvas.lines()[2] == "━" * canvas.width


def test_a_line_through_a_part_spares_the_words_on_it() -> None:
    base = Part((), "piece", "card base", ZERO, ZERO, inches(10), inches(5))
    sheet = Sheet("S1", FOG, inches(10), inches(5), parts=(base,))
    score = (Direction.WIDTH, inches(5))
    drawn = draw_sheet(sheet, HARBOUR.paper(FOG), 27, 10, "in", cut=score).lines()
    assert any("card base" in line for line in drawn)
    assert any("10 × 5" in line for line in drawn)
    assert sum("┃" in line for line in drawn) == len(drawn) - 2


def test_parts_that_are_gone_leave_an_empty_place() -> None:
    drawn = draw_sheet(PRINTED, HARBOUR.paper(NET), 60, 20, "in", gone=PRINTED.parts[:1]).lines()
    assert "panel" not in "\n".join(drawn)
    assert "·····" in drawn[10]


@given(CORNERS, CORNERS, st.integers(1, 90), st.integers(1, 40))
@example(CORNER, CORNER, 1, 39)  # of the key every word is wider
def test_any_sheet_fits_its_room(x: Length, y: Length, columns: int, rows: int) -> None:
    side = inches(12)
    parts = (
        Part((1,), "piece", "[b]tail", ZERO, ZERO, x, side),
        Part((2, 1), "piece", "b", x, ZERO, side - x, y, turned=True),
        Part((2, 2), "scrap", None, x, y, side - x, side - y),
    )
    sheet = Sheet("S1", NET, side, side, parts=parts)
    canvas = draw_sheet(sheet, HARBOUR.paper(NET), columns, rows, "mm", cut=(Direction.WIDTH, x))
    assert canvas.width <= columns
    assert canvas.height <= rows
    # Words are whole, or not there: a number stands for them.
    assert "…" not in "".join(canvas.lines())


def narrow() -> Sheet:
    """A panel, and beside it two strips that no word has room on, one cut sideways."""
    parts = (
        Part((1,), "piece", "panel", ZERO, ZERO, inches(10), inches(12)),
        Part((2, 1), "piece", "tide", inches(10), ZERO, inches(1), inches(12), turned=True),
        Part((2, 2), "offcut", None, inches(11), ZERO, inches(1), inches(12)),
    )
    return Sheet("S1", NET, inches(12), inches(12), parts=parts)


def test_what_is_too_narrow_for_its_words_bears_a_number_and_the_key_stands_beside() -> None:
    canvas = draw_sheet(narrow(), HARBOUR.paper(NET), 70, 20, "in")
    drawn = canvas.lines()
    assert drawn[0].endswith("1 tide 12 × 1 (sideways)")
    assert drawn[1].endswith("2 offcut 1 × 12")
    assert any("│1 │2 ▕" in line for line in drawn)


def test_without_room_beside_the_key_stands_below_and_the_sheet_makes_way() -> None:
    canvas = draw_sheet(narrow(), HARBOUR.paper(NET), 30, 20, "in")
    assert canvas.lines()[-2:] == ["1 tide 12 × 1 (sideways)", "2 offcut 1 × 12"]
    assert canvas.height <= 20


def test_where_the_key_would_take_half_the_sheet_there_is_none() -> None:
    drawn = "".join(draw_sheet(narrow(), HARBOUR.paper(NET), 12, 6, "in").lines())
    assert "tide" not in drawn
    assert not any(map(str.isdigit, drawn.replace("10 × 12", "")))


def test_the_numbers_are_told_to_whoever_names_them_in_a_legend() -> None:
    canvas, numbers = draw_numbered(narrow(), HARBOUR.paper(NET), 40, 20, "in")
    assert [(like.name, like.turned, number) for like, number in numbers.items()] == [
        ("tide", True, 1),
        ("offcut", False, 2),
    ]
    assert "tide" not in "".join(canvas.lines())
