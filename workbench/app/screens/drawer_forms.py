"""The forms of the drawer: a paper, offcuts of one, a pad to be split."""

from collections.abc import Mapping
from pathlib import Path
from typing import ClassVar, NamedTuple

from textual.app import ComposeResult

from workbench.app.screens.paper_forms import RUN_WORDS
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import Form, row, text
from workbench.craft.colour_words import colours_of
from workbench.craft.errors import CraftError
from workbench.craft.paper import KINDS, RUNS, Offcut, Size
from workbench.craft.sheet_sizes import SHEETS, read_whole_sheet
from workbench.craft.stock import StockPaper
from workbench.drawing.prints import PRINTS
from workbench.measure.length import Unit
from workbench.store.errors import StoreError
from workbench.store.pictures import SUFFIXES, picture_colours
from workbench.store.stock_rows import RowError, RowReader, paper_row, sheet_words

_TYPED = (
    ("Size", "size", "A4, Letter, 12 × 12 in"),
    ("Print", "print", ""),
    ("Colours", "colours", "teal ivory, or a photograph"),
    ("Weight", "weight", "110 lb cover, 300 gsm"),
    ("Thickness", "thickness", "0.36 mm"),
    ("Printed strip", "strip", "bottom 1/2 in"),
    ("Back", "back", "its own name, if it may show"),
    ("Its print", "back print", ""),
    ("Its colours", "back colours", ""),
    ("Pad", "pad", "the pad it belongs to"),
    ("Price", "price", "0.80, or for a pad 12.95 / 24"),
    ("Lies", "lies", "drawer 3"),
    ("Tags", "tags", "sea; blue"),
    ("Note", "note", ""),
)


class StockForm(Form[StockPaper]):
    """Puts a paper in the drawer, or describes `stock` anew; `counted` asks for its sheets."""

    TITLE = "Paper of the drawer"
    ABOUT = (
        "What the drawer knows of a paper. The size is a name, as A4 or Letter, or two lengths."
        " Colours are words or codes, or the path of a photograph. A price is for a sheet, or for a"
        " pad of so many: 12.95 / 24. Tags are parted by semicolons."
    )

    def __init__(
        self, unit: Unit, currency: str, stock: StockPaper | None = None, *, counted: bool = True
    ) -> None:
        super().__init__(unit)
        self.stock, self.currency, self.counted = stock, currency, counted

    def fields(self) -> ComposeResult:
        said = paper_row(self.stock) if self.stock else {}
        yield row("Name", text("name", said.get("name", "")))
        yield row("Kind", Choice(KINDS, said.get("kind", KINDS[0]), key="kind"))
        if self.counted:
            yield row("Sheets", text("sheets", said.get("sheets", "0")))
        run = self.stock.paper.run if self.stock else "none"
        yield row("Run", Choice(tuple(RUN_WORDS.values()), RUN_WORDS[run], key="run"))
        for label, key, hint in _TYPED:
            known = {"size": tuple(SHEETS), "print": PRINTS}.get(key, ())
            yield row(label, text(key.replace(" ", "-"), said.get(key, ""), hint, tuple(known)))

    def read(self) -> StockPaper:
        self.named("name", "name")
        self.both_sides(read_whole_sheet)
        said = {key: self.typed(key.replace(" ", "-")) for _, key, _ in _TYPED}
        said |= {"name": self.typed("name"), "kind": self.chosen("kind")}
        said["run"] = next(run for run in RUNS if RUN_WORDS[run] == self.chosen("run"))
        said["sheets"] = self.typed("sheets") if self.counted else "0"
        for key in ("colours", "back colours"):
            said[key] = " ".join(_colours(said[key]))
        return _read(self.unit, self.currency, said)


class StockOffcutForm(Form[Offcut]):
    """Puts offcuts of `paper` in the drawer."""

    TITLE = "Offcuts"
    ABOUT = "Leftover rectangles of this paper, measured with its print upright."

    def __init__(self, unit: Unit, paper: str, size: Size) -> None:
        super().__init__(unit)
        self.paper, self.size_of_sheet = paper, size

    def fields(self) -> ComposeResult:
        yield row("Size", text("size", "", f"less than {sheet_words(self.size_of_sheet)}"))
        yield row("How many", text("sheets", "1"))

    def read(self) -> Offcut:
        offcut = Offcut(self.paper, self.both_sides(), self.count("sheets", "how many"))
        sheet, size = self.size_of_sheet, offcut.size
        if not (sheet.holds(size) or sheet.holds(size.turned)):
            raise CraftError("size", "it is larger than a sheet", "measure it again")
        return offcut


class Split(NamedTuple):
    """The papers that a pad is split into, and how many sheets each gets."""

    names: tuple[str, ...]
    sheets: int


class SplitForm(Form[Split]):
    """Splits a pad of which so many sheets are `free`."""

    TITLE = "Split a pad"
    ABOUT = "Each print of the pad becomes a paper of its own, of equally many sheets."
    PLACES: ClassVar[Mapping[str, str]] = {"sheets of each": "sheets"}

    def __init__(self, unit: Unit, free: int) -> None:
        super().__init__(unit)
        self.free = free

    def fields(self) -> ComposeResult:
        yield row("Names", text("names", "", "wave; shell; rope"))
        yield row("Sheets of each", text("sheets", "1", f"{self.free} are free"))

    def read(self) -> Split:
        names = tuple(name for word in self.typed("names").split(";") if (name := word.strip()))
        sheets = self.count("sheets", "sheets of each")
        if not names:
            raise CraftError("names", "there are none", "part them by semicolons")
        if len(names) * sheets > self.free:
            raise CraftError("sheets of each", f"only {self.free} are free", "give fewer")
        return Split(names, sheets)


def _read(unit: Unit, currency: str, said: dict[str, str]) -> StockPaper:
    try:
        read = RowReader(unit, currency).read(said)
    except RowError as error:
        wrong, _, right = str(error).partition("; ")
        raise CraftError("paper", wrong, right or "say it otherwise") from error
    assert isinstance(read, StockPaper)
    return read


def _colours(said: str) -> tuple[str, ...]:
    """As they are written, or of the picture whose path is."""
    if not said.lower().endswith(SUFFIXES):
        return colours_of(said)
    try:
        return picture_colours(Path(said).expanduser())
    except StoreError as error:
        raise CraftError("colours", error.what, error.mend) from error
