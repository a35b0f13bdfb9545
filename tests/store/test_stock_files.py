"""Stock in files: whatever is wrong is said in one line, and nothing goes in half."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.making.plans import HARBOUR, size
from tests.store.strategies import NAMES, lengths, sizes
from workbench.craft.money import Price
from workbench.craft.paper import EDGES, KINDS, RUNS, Back, Offcut, Paper, Strip
from workbench.craft.stock import StockPaper
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.errors import StoreError, WorkshopError
from workbench.store.stock_data import stock_data, stock_paper, stock_text
from workbench.store.stock_export import export
from workbench.store.stock_files import csv_text, plain, safe, toml_text
from workbench.store.stock_preview import Preview, preview
from workbench.store.stock_rows import sheet_words

HEAD = "name,kind,size,sheets"
GOOD = f"{HEAD}\nkite stripe,patterned,12 x 12 in,3\n"


@pytest.fixture
def drawer(tmp_path: Path) -> Drawer:
    return Drawer(Workshop.open(tmp_path / "home"))


def read(tmp_path: Path, content: str | bytes, name: str = "stock.csv") -> Preview:
    file = tmp_path / name
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return preview(file, ())


def read_again(drawer: Drawer, tmp_path: Path, before: str, after: str) -> Preview:
    """A table that was taken in, then changed and read once more."""
    file = tmp_path / "stock.csv"
    file.write_text(before, encoding="utf-8")
    drawer.take_in(preview(file, drawer.known()))
    file.write_text(after, encoding="utf-8")
    return preview(file, drawer.known())


def test_a_key_of_many_parts_is_refused_before_it_takes_the_machine(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="40000 parts"):
        read(tmp_path, ".".join(["a"] * 40_000) + " = 1\n", "stock.toml")


def test_papers_alike_are_each_met_by_one_row(drawer: Drawer, tmp_path: Path) -> None:
    file = tmp_path / "stock.csv"
    file.write_text(f"{HEAD}\nkite,other,A4,3\nkite,other,A4,5\n", encoding="utf-8")
    drawer.take_in(preview(file, drawer.known()))
    fates = [row.fate for row in preview(file, drawer.known()).rows]
    assert fates == ["as it is", "as it is"]
    file.write_text(f"{HEAD}\nkite,other,A4,7\nkite,other,A4,9\n", encoding="utf-8")
    drawer.take_in(preview(file, drawer.known()))
    assert sorted(line.counts.on_hand for line in drawer.papers()) == [7, 9]


def test_what_is_added_beside_its_name_is_told_with_how_it_differs(
    drawer: Drawer, tmp_path: Path
) -> None:
    before = f"{HEAD}\nkite,other,A4,3\n"
    after = f"{HEAD}\nkite,other,A5,3\nmoth,other,A4,1\n"
    kite, moth = read_again(drawer, tmp_path, before, after).rows
    assert (kite.fate, moth.fate) == ("added", "added")
    assert kite.why == "one of that name is there too; they differ in size"
    assert moth.why == ""


def test_a_price_list_taken_in_again_describes_papers_anew(drawer: Drawer, tmp_path: Path) -> None:
    """Nobody shall find the drawer doubled, nor lose what the list says nothing of."""
    before = f"{HEAD},lies,price\nkite,other,A4,3,box,0.80\nmoth,other,A4,1,box,\n"
    after = f"{HEAD},price\nkite,other,A4,3,0.90\nmoth,other,A4,2,0.50\n"
    found = read_again(drawer, tmp_path, before, after)
    assert [(row.fate, row.why) for row in found.rows] == [
        ("described anew", "price: 0.80 EUR → 0.90 EUR"),
        ("described anew", "price: none → 0.50 EUR, sheets: 1 → 2"),
    ]
    earlier = drawer.papers()
    drawer.take_in(found)
    assert [(line.paper.lies, str(line.paper.price)) for line in drawer.papers()] == [
        ("box", "0.90 EUR"),
        ("box", "0.50 EUR"),
    ]
    assert [line.counts.on_hand for line in drawer.papers()] == [3, 2]
    assert [line.key for line in drawer.papers()] == [line.key for line in earlier]
    assert drawer.audit() == ()
    drawer.undo()
    assert [line.data for line in drawer.papers()] == [line.data for line in earlier]


def test_a_row_that_says_nothing_else_is_sure_before_one_that_does(
    drawer: Drawer, tmp_path: Path
) -> None:
    """Of two of a name and size a row that differs takes the one that is left, if just one is."""
    before = f"{HEAD},lies\nkite,other,A4,3,box\nkite,other,A4,3,shelf\n"
    after = f"{HEAD},lies\nkite,other,A4,3,door\nkite,other,A4,4,box\n"
    door, box = read_again(drawer, tmp_path, before, after).rows
    assert (door.fate, door.why) == ("described anew", "lies: shelf → door")
    assert (box.fate, box.why) == ("counted again", "3 → 4")
    (tmp_path / "stock.csv").write_text(f"{HEAD},lies\nkite,other,A4,3,door\n", encoding="utf-8")
    (either,) = preview(tmp_path / "stock.csv", drawer.known()).rows
    assert either.fate == "added"


def test_of_many_that_are_alike_each_is_looked_at_once(drawer: Drawer, tmp_path: Path) -> None:
    before = f"{HEAD},lies\n" + "kite,other,A4,1,box\n" * 60
    after = f"{HEAD},lies\n" + "kite,other,A4,2,box\n" * 60 + "kite,other,A4,1,door\n"
    fates = [row.fate for row in read_again(drawer, tmp_path, before, after).rows]
    assert fates == ["counted again"] * 60 + ["added"]


_ROWS = st.tuples(
    st.sampled_from(("kite", "moth")),
    st.sampled_from(("other", "vellum")),
    st.sampled_from(("A4", "A5")),
    st.integers(0, 2).map(str),
    st.sampled_from(("", "box", "shelf")),
    st.sampled_from(("", "0.80", "0.90")),
).map(",".join)
_TABLES = st.lists(_ROWS, min_size=1, max_size=4).map(
    lambda rows: "\n".join((f"{HEAD},lies,price", *rows))
)


@given(_TABLES, _TABLES)
@settings(max_examples=examples(15))
def test_what_was_taken_in_is_as_it_is_and_can_be_taken_back(
    tmp_path_factory: pytest.TempPathFactory, before: str, after: str
) -> None:
    folder = tmp_path_factory.mktemp("stock")
    drawer = Drawer(Workshop.open(folder))
    found = read_again(drawer, folder, before, after)
    there = [(line.data, line.counts.on_hand) for line in drawer.papers()]
    drawer.take_in(found)
    assert {row.fate for row in preview(folder / "stock.csv", drawer.known()).rows} == {"as it is"}
    drawer.undo()
    assert [(line.data, line.counts.on_hand) for line in drawer.papers()] == there


# What is wrong with a file as a whole

BROKEN_FILES: dict[str, tuple[str | bytes, str]] = {
    "nothing in it": ("", "it is empty"),
    "blank lines alone": ("\n\n  \n", "it is empty"),
    "a western encoding": (f"{HEAD}\ncr\xeape,other,A4,1\n".encode("cp1252"), "UTF-8"),
    "an eastern encoding": (f"{HEAD}\n和紙,other,A4,1\n".encode("shift_jis"), "UTF-8"),
    "UTF-16 without its mark": (GOOD.encode("utf-16-le"), "bytes of nothing"),
    "half of UTF-16": (GOOD.encode("utf-16")[:-1], "UTF-8"),
    "a spreadsheet's own file": (b"PK\x03\x04\x14\x00\x08\x00\xe2", "UTF-8"),
    "bytes of nothing": (b"name,kind\x00,size,sheets\n", "bytes of nothing"),
    "parted by blanks": ("name kind size sheets\nkite other A4 1\n", "parted|told apart|commas"),
    "parted by colons": ("name:kind:size:sheets\nkite:other:A4:1\n", "told apart|commas"),
    "no name column": ("kind,size,sheets\nother,A4,1\n", "“?name.*missing"),
    "no size column": ("name,kind,sheets\nkite,other,1\n", "size.*missing"),
    "no sheets column": ("name,kind,size\nkite,other,A4\n", "sheets.*missing"),
    "no header at all": ("kite stripe,patterned,A4,3\n", "kite stripe.*is not known"),
    "a column misspelt": (f"{HEAD},colors\n", 'did you mean "colours"'),
    "a column twice": (f"{HEAD},name\n", "stands there twice"),
    "a quotation mark left open": (f'{HEAD}\n"kite,other,A4,1\n', "told apart|quotation"),
    "text after a quotation": (f'{HEAD}\n"kite"s,other,A4,1\n', "told apart|quotation"),
    "a cell too many": (f"{HEAD}\nkite, striped,patterned,A4,3\n", "row 2.*5 cells.*4 columns"),
    "a long cell": (f"{HEAD},note\nkite,other,A4,1,{'x' * 6000}\n", "a cell is too long"),
    "a huge cell": (f"{HEAD},note\nkite,other,A4,1,{'x' * 200_000}\n", "a cell is too long"),
    "rows without end": (HEAD + "\nkite,other,A4,1" * 20_001, "too many rows"),
}

# What is wrong with one row

BROKEN_ROWS = {
    "no name": (",patterned,A4,3", "it has no name"),
    "a row cut off": ("kite,patterned", "it has no size"),
    "a kind of its own": ("kite,wallpaper,A4,3", "no kind"),
    "a size of one side": ("kite,other,12 in,3", "12 in"),
    "a size of words": ("kite,other,large,3", "large"),
    "a side of nothing": ("kite,other,0 x 5 in,3", "side of nothing|a side"),
    "sheets with a decimal comma": ('kite,other,A4,"2,5"', "2,5.*whole number"),
    "sheets less than nothing": ("kite,other,A4,-3", "sheets: “-3” is less than nothing"),
    "sheets in another script": ("kite,other,A4,٣", "whole number"),
    "sheets past all reason": ("kite,other,A4,999999", "too large; give 100000 at most"),
    "a formula for sheets": ("kite,other,A4,=SUM(A1:A9)", "whole number"),
    "a name of control characters": ("ki\x1bte,other,A4,3", "cannot be printed"),
    "a name too long": (f"{'k' * 61},other,A4,3", "61 characters"),
    "a thousand with a comma": ('kite,other,"1,000 x 12 in",3', "1,000|comma"),
}
BROKEN_EXTRAS = {
    "a price in words": ("price", "cheap", "no amount of money"),
    "a price for sheets past all reason": ("price", f"1 / {'9' * 4500}", "how many sheets"),
    "a price too fine": ("price", "0.999", "finer"),
    "a colour of no name": ("colours", "rubescent", "not a colour"),
    "a weight of nothing": ("weight", "heavy", "heavy"),
    "a strip without width": ("strip", "bottom", "length|is no|empty|nothing"),
    "a run of its own": ("run", "sideways", "no run"),
    "a tag twice": ("tags", "sea; sea", "twice"),
    "offcuts of nobody": ("offcut of", "no such paper", "no paper here or there"),
}


def test_thirty_kinds_and_more_are_tried() -> None:
    assert len(BROKEN_FILES) + len(BROKEN_ROWS) + len(BROKEN_EXTRAS) >= 30


@pytest.mark.parametrize("kind", BROKEN_FILES)
def test_a_broken_file_is_said_to_be_so(tmp_path: Path, kind: str) -> None:
    content, said = BROKEN_FILES[kind]
    with pytest.raises(StoreError, match=said) as refused:
        read(tmp_path, content)
    assert str(refused.value).isprintable()
    assert len(str(refused.value)) < 1200


def refused_row(drawer: Drawer, tmp_path: Path, content: str, said: str) -> None:
    """A row between good ones is refused, and none of them goes in."""
    import re

    good = content.splitlines()[0].count(",") - HEAD.count(",")
    row = "kite stripe,patterned,12 x 12 in,3" + "," * good
    found = read(tmp_path, f"{content.splitlines()[0]}\n{row}\n{content.splitlines()[1]}\n{row}\n")
    assert [each.fate for each in found.rows] == ["added", "refused", "added"]
    (why,) = [each.why for each in found.refused]
    assert re.search(said, why)
    assert found.refused[0].place == "row 3"
    with pytest.raises(WorkshopError, match="row 3"):
        drawer.take_in(found)
    assert drawer.papers() == ()


@pytest.mark.parametrize("kind", BROKEN_ROWS)
def test_a_broken_row_keeps_all_out(drawer: Drawer, tmp_path: Path, kind: str) -> None:
    row, said = BROKEN_ROWS[kind]
    refused_row(drawer, tmp_path, f"{HEAD}\n{row}", said)


@pytest.mark.parametrize("kind", BROKEN_EXTRAS)
def test_a_broken_extra_keeps_all_out(drawer: Drawer, tmp_path: Path, kind: str) -> None:
    column, value, said = BROKEN_EXTRAS[kind]
    refused_row(drawer, tmp_path, f"{HEAD},{column}\nkite,other,A4,3,{value}", said)


# What is not wrong


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_encodings_and_separators_of_spreadsheets(
    tmp_path: Path, encoding: str, separator: str
) -> None:
    # A German spreadsheet writes decimal commas, and parts by semicolons.
    text = 'name,kind,size,sheets,price\r\ncrêpe,other,"15,5 x 20 cm",7,"4,50"\r\n'
    rows = csv.reader(io.StringIO(text))
    written = io.StringIO()
    csv.writer(written, delimiter=separator).writerows(rows)
    (row,) = read(tmp_path, written.getvalue().encode(encoding)).rows
    assert isinstance(row.read, StockPaper)
    assert row.read.paper.size.width.mm == 155
    assert str(row.read.price) == "4.50 EUR"


def test_each_row_is_told_its_fate_before_anything_is_written(
    drawer: Drawer, tmp_path: Path
) -> None:
    before = f"{GOOD}moth dot,patterned,A4,2\n"
    after = f"{GOOD}moth dot,patterned,A4,5\nmoth dot,vellum,A4,1\n"
    again = read_again(drawer, tmp_path, before, after)
    assert [(row.fate, row.why) for row in again.rows] == [
        ("as it is", ""),
        ("counted again", "2 → 5"),
        ("added", "one of that name is there too; they differ in kind"),
    ]
    assert again.in_words == "1 as it is, 1 counted again, 1 added"
    assert [line.counts.on_hand for line in drawer.papers()] == [3, 2]
    drawer.take_in(again)
    assert [line.counts.on_hand for line in drawer.papers()] == [3, 5, 1]
    drawer.undo()
    assert [line.counts.on_hand for line in drawer.papers()] == [3, 2]
    assert drawer.audit() == ()


def test_offcuts_come_in_with_their_papers(drawer: Drawer, tmp_path: Path) -> None:
    file = tmp_path / "stock.csv"
    file.write_text(f"{HEAD},offcut of\n,,3 x 4 in,2,kite\nkite,other,A4,1,\n", encoding="utf-8")
    drawer.take_in(preview(file, drawer.known()))
    (offcut,) = drawer.listing().offcuts
    assert (offcut.name, offcut.measures, offcut.counts.on_hand) == ("kite", size(3, 4), 2)


def test_offcuts_taken_in_again_are_counted_and_not_added(drawer: Drawer, tmp_path: Path) -> None:
    """What was written out and taken in again doubled every offcut."""
    drawer.add(StockPaper(Paper("kite", "other", size(8, 11), 1)))
    drawer.add_offcuts(drawer.find("kite").id, size(3, 4), 2)
    file = tmp_path / "stock.csv"
    export(drawer, file)
    found = preview(file, drawer.known())
    assert [row.fate for row in found.rows] == ["as it is", "as it is"]
    drawer.take_in(found)
    file.write_text(f"{HEAD},offcut of\n,,3 x 4 in,1,kite\n,,4 x 4 in,1,kite\n,,3 x 4 in,4,kite\n")
    found = preview(file, drawer.known())
    told = [(row.fate, row.why) for row in found.rows]
    assert told == [("counted again", "2 → 5"), ("added", ""), ("counted again", "2 → 5")]
    drawer.take_in(found)
    counts = [line.counts.on_hand for line in drawer.listing().offcuts]
    assert sorted(counts) == [1, 5]
    assert drawer.audit() == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("papers = 1", "not known"),
        ("[[papers]]\nname = 1.5", "name"),
        ("[[papers]]\nnmae = 'x'", "nmae"),
        ("[[sheets]]\nname = 'x'", "sheets"),
        ("name = ", "TOML"),
        ("papers = [1]", "no table"),
        (f"[[papers]]\nname = 'x'\nsheets = 0x{'f' * 5000}", "too large"),
        ("", "empty"),
    ],
)
def test_broken_toml(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(StoreError, match=said):
        read(tmp_path, text, "stock.toml")


@pytest.mark.parametrize(
    ("width", "words"),
    [("1 1/2", "1 1/2 × 1 1/2 in"), ("3 3/8", "3 3/8 × 3 3/8 in"), ("20/127", "4 × 4 mm")],
)
def test_a_size_is_written_in_the_unit_whose_rule_has_it(width: str, words: str) -> None:
    """38.1 mm is shorter to write than 1 1/2 in, and is on no rule."""
    assert sheet_words(size(width, width)) == words


# Formulas


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "'=1", "kite", ""])
def test_no_exported_cell_begins_as_a_formula_does(cell: str) -> None:
    assert not safe(cell).startswith(("=", "+", "-", "@", "\t", "\r"))
    assert plain(safe(cell)) == cell


def test_a_name_like_a_formula_is_written_so_that_no_spreadsheet_runs_it(tmp_path: Path) -> None:
    paper = StockPaper(replace(HARBOUR.papers[0], name='=HYPERLINK("x")'))
    text = csv_text([paper], [])
    rows = list(csv.reader(io.StringIO(text)))
    assert rows[1][0] == '\'=HYPERLINK("x")'
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row)
    (row,) = read(tmp_path, text).rows
    assert row.read == paper


# Out and in again

_ONE_LINE = NAMES.filter(lambda name: not set(name) & set(";") and name == name.strip())
_COLOURS = st.lists(st.from_regex(r"#[0-9a-f]{6}", fullmatch=True), max_size=3).map(tuple)
STOCKS = st.builds(
    StockPaper,
    st.builds(
        Paper,
        name=NAMES,
        kind=st.sampled_from(KINDS),
        size=sizes(700, 350),
        sheets=st.integers(0, 100),
        print=NAMES,
        colours=_COLOURS,
        run=st.sampled_from(RUNS),
        weight=st.sampled_from([None, "300 gsm"]),
        thickness=st.sampled_from([None, "14 pt"]),
        strip=st.none() | st.builds(Strip, st.sampled_from(EDGES), lengths(50)),
        back=st.none() | st.builds(Back, NAMES, NAMES, _COLOURS, st.sampled_from(RUNS)),
    ),
    pad=st.just("") | NAMES,
    price=st.none() | st.builds(Price.read, st.sampled_from(["0.80 EUR", "12 GBP / 24"])),
    lies=st.just("") | NAMES,
    tags=st.lists(_ONE_LINE, max_size=3, unique=True).map(tuple),
    note=st.just("") | NAMES,
)


@pytest.mark.parametrize("suffix", ["csv", "toml"])
@given(stocks=st.lists(STOCKS, min_size=1, max_size=4))
def test_what_is_written_reads_back(
    suffix: str, tmp_path_factory: pytest.TempPathFactory, stocks: list[StockPaper]
) -> None:
    write = csv_text if suffix == "csv" else toml_text
    offcuts = [Offcut(stocks[0].paper.name, size(3, 4), 2)]
    folder = tmp_path_factory.mktemp("stock")
    found = read(folder, write(stocks, offcuts), f"stock.{suffix}")
    assert [row.read for row in found.rows] == [*stocks, *offcuts]


@given(STOCKS)
def test_what_the_drawer_keeps_of_a_paper_is_all_of_it(stock: StockPaper) -> None:
    assert stock_paper(stock_data(stock_text(stock)), stock.paper.sheets) == stock
