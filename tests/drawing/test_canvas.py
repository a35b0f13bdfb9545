from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from workbench.craft.paper import Size
from workbench.drawing.canvas import BLANK, Box, Canvas, Cell, _spread, fit, shortened, width_of
from workbench.measure.length import Length

lengths = st.integers(1, 4000).map(Length.from_ticks)
room = st.integers(1, 200)


@given(lengths, lengths, room, room)
def test_fit_stays_inside_and_keeps_the_proportions(
    width: Length, height: Length, columns: int, rows: int
) -> None:
    across, up = fit(Size(width, height), columns, rows)
    assert 1 <= across <= columns
    assert 1 <= up <= rows
    # A cell is twice as tall as it is wide; rounding may cost half a cell either way.
    shape = width.ratio(height) * 2
    low = Fraction(2 * across - 1, 2 * up + 1)
    high = Fraction(2 * across + 1, 2 * up - 1)
    assert low <= shape <= high or 1 in (across, up)


@given(lengths, lengths, room, room)
def test_fit_leaves_no_room_in_both_directions(
    width: Length, height: Length, columns: int, rows: int
) -> None:
    across, up = fit(Size(width, height), columns, rows)
    assert across == columns or up == rows


def test_lines_join_where_they_meet() -> None:
    canvas = Canvas(7, 5)
    canvas.frame(Box(0, 0, 7, 5))
    canvas.vline(3, 0, 5)
    canvas.hline(0, 2, 7)
    assert canvas.lines() == [
        "┌──┬──┐",
        "│  │  │",
        "├──┼──┤",
        "│  │  │",
        "└──┴──┘",
    ]


def test_lines_in_the_outermost_cells_move_out_to_the_edge() -> None:
    canvas = Canvas(7, 5)
    canvas.frame(Box(0, 0, 7, 5))
    canvas.vline(3, 0, 5)
    canvas.hline(0, 2, 7)
    canvas.outward()
    assert canvas.lines() == [
        "▏▔▔│▔▔▕",
        "▏  │  ▕",
        "───┼───",
        "▏  │  ▕",
        "▏▁▁│▁▁▕",
    ]


@given(st.integers(-9, 9), st.integers(-9, 9), st.integers(0, 20), st.integers(0, 20))
def test_drawing_outside_is_cut_off(x: int, y: int, width: int, height: int) -> None:
    canvas = Canvas(4, 3)
    canvas.fill(Box(x, y, width, height), Cell("#"))
    canvas.frame(Box(x, y, width, height))
    canvas.centred(Box(x, y, width, height), "a label too long for it")
    assert canvas.cell(-1, 0) == BLANK
    assert [len(row) for row in canvas.rows()] == [4, 4, 4]


@given(st.lists(st.tuples(st.integers(-5, 9), st.text("a船̈", max_size=6)), max_size=5))
def test_a_row_is_as_wide_as_the_canvas_whatever_wide_characters_are_drawn_over(
    texts: list[tuple[int, str]],
) -> None:
    canvas = Canvas(8, 1)
    for x, text in texts:
        canvas.text(x, 0, text)
        canvas.put(x + 1, 0, Cell("|"))
    (row,) = canvas.to_text().plain.split("\n")
    assert cell_len(row) == 8
    assert [cell.char for cells in canvas.rows() for cell in cells] == _spread(row)


def test_text_is_shown_as_it_is() -> None:
    canvas = Canvas(16, 1)
    canvas.text(0, 0, "[bold]x[/] {y}")
    assert canvas.to_text().plain == "[bold]x[/] {y}  "
    assert canvas.to_text().spans == []


def test_to_text_carries_colours_and_looks() -> None:
    canvas = Canvas(3, 2)
    canvas.put(1, 0, Cell("x", "#102030", "#f0f0f0", bold=True, reverse=True))
    text = canvas.to_text()
    assert text.plain == " x \n   "
    (span,) = [span for span in text.spans if span.style]
    assert str(span.style) == "bold reverse #102030 on #f0f0f0"


@given(st.text(max_size=20), st.integers(0, 12))
def test_shortened_never_exceeds_its_width(text: str, width: int) -> None:
    short = shortened(text, width)
    assert width_of(short) <= width
    assert short == text or short.endswith("…") or width == 0


def test_wide_characters_take_two_cells_and_marks_above_others_none() -> None:
    canvas = Canvas(8, 1)
    canvas.text(0, 0, "花e\u0301x")
    assert canvas.cell(0, 0).char + canvas.cell(1, 0).char + canvas.cell(2, 0).char == "花e"
    assert canvas.lines() == ["花ex"]
    assert (width_of("花"), shortened("花花花", 4)) == (2, "花…")


@given(st.integers(-6, 12), st.integers(-2, 4), st.integers(0, 14))
def test_a_row_is_cut_off_like_single_cells(x: int, y: int, many: int) -> None:
    cells = [Cell(str(number % 10)) for number in range(many)]
    row, single = Canvas(8, 3), Canvas(8, 3)
    row.put_row(x, y, cells)
    for number, cell in enumerate(cells):
        single.put(x + number, y, cell)
    assert list(row.rows()) == list(single.rows())
