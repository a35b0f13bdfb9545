"""Stock as rows of words, one a paper or a lot of offcuts: what tables in files hold.

Read and written alike for CSV and TOML; `COLUMNS` are the words that head them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from workbench.craft.colour_words import colours_of
from workbench.craft.errors import CraftError, checked_name, nearest
from workbench.craft.money import Price
from workbench.craft.paper import (
    EDGES,
    KINDS,
    MOST_SHEETS,
    RUNS,
    SOLID,
    Back,
    Offcut,
    Paper,
    Size,
    Strip,
)
from workbench.craft.sheet_sizes import read_sheet, read_whole_sheet, sheet_name
from workbench.craft.stock import StockPaper
from workbench.measure.length import UNITS, Length, MeasureError, Unit
from workbench.measure.numerals import read_whole
from workbench.measure.reading import read_length
from workbench.measure.weights import read_thickness, read_weight
from workbench.measure.writing import write_number
from workbench.store.errors import shown

Row = Mapping[str, str]
# What no rule has marks finer than: 1/64 in, 1/2 mm.
_FINEST_MARK: Mapping[Unit, int] = {"in": 64, "mm": 2}
_Word = TypeVar("_Word", bound=str)

OFFCUT_OF = "offcut of"
NEEDED = ("name", "kind", "size", "sheets")
COLUMNS = (
    *NEEDED,
    *("print", "colours", "run", "weight", "thickness", "strip"),
    *("back", "back print", "back colours", "back run"),
    *("pad", "price", "lies", "tags", "note", OFFCUT_OF),
)


class RowError(ValueError):
    """Raised for a row that cannot be read; its text says what is wrong and what would be right."""


@dataclass(frozen=True, slots=True)
class RowReader:
    """Reads rows whose bare numbers are in `unit`, and whose bare prices are in `currency`."""

    unit: Unit
    currency: str

    def read(self, row: Row) -> StockPaper | Offcut:
        """The paper that `row` describes, or the offcuts. Raises RowError."""
        try:
            return self._offcut(row) if row.get(OFFCUT_OF) else self._paper(row)
        except CraftError as error:
            raise RowError(f"{error.wrong}; {error.right}") from error
        except MeasureError as error:
            raise RowError(str(error)) from error

    def _offcut(self, row: Row) -> Offcut:
        name = checked_name(row[OFFCUT_OF], OFFCUT_OF)
        return Offcut(name, read_sheet(_needed(row, "size"), self.unit), _count(row))

    def _paper(self, row: Row) -> StockPaper:
        back = row.get("back")
        paper = Paper(
            name=checked_name(_needed(row, "name"), "name"),
            kind=_one_of(_needed(row, "kind").lower(), KINDS, "kind"),
            size=read_whole_sheet(_needed(row, "size"), self.unit),
            sheets=_count(row),
            print=row.get("print") or SOLID,
            colours=colours_of(row.get("colours", "")),
            run=_one_of(row.get("run") or "none", RUNS, "run"),
            weight=_checked(row.get("weight"), read_weight),
            thickness=_checked(row.get("thickness"), read_thickness),
            strip=self._strip(row.get("strip")),
            back=Back(
                back,
                row.get("back print") or SOLID,
                colours_of(row.get("back colours", "")),
                _one_of(row.get("back run") or "none", RUNS, "back run"),
            )
            if back
            else None,
        )
        price = row.get("price")
        return StockPaper(
            paper,
            pad=row.get("pad", ""),
            price=Price.read(price, self.currency) if price else None,
            lies=row.get("lies", ""),
            tags=tuple(tag for word in row.get("tags", "").split(";") if (tag := word.strip())),
            note=row.get("note", ""),
        )

    def _strip(self, words: str | None) -> Strip | None:
        if not words:
            return None
        edge, _, width = words.partition(" ")
        return Strip(_one_of(edge, EDGES, "strip"), read_length(width, self.unit))


def paper_row(stock: StockPaper) -> Row:
    """`stock` as a row, which reads back as it was."""
    paper, strip, back = stock.paper, stock.paper.strip, stock.paper.back
    return {
        "name": paper.name,
        "kind": paper.kind,
        "size": sheet_words(paper.size),
        "sheets": str(paper.sheets),
        "print": paper.print,
        "colours": " ".join(paper.colours),
        "run": paper.run,
        "weight": paper.weight or "",
        "thickness": paper.thickness or "",
        "strip": f"{strip.edge} {_length(strip.width)}" if strip else "",
        "back": back.name if back else "",
        "back print": back.print if back else "",
        "back colours": " ".join(back.colours) if back else "",
        "back run": back.run if back else "",
        "pad": stock.pad,
        "price": str(stock.price) if stock.price else "",
        "lies": stock.lies,
        "tags": "; ".join(stock.tags),
        "note": stock.note,
        OFFCUT_OF: "",
    }


def offcut_row(offcut: Offcut) -> Row:
    """Offcuts as a row, which reads back as they were."""
    blank = dict.fromkeys(COLUMNS, "")
    said = {"size": sheet_words(offcut.size), "sheets": str(offcut.count), OFFCUT_OF: offcut.paper}
    return {**blank, **said}


def unknown_column(name: str, called: str = "column") -> tuple[str, str]:
    """What is wrong with a column that is none of `COLUMNS`, and what would be right."""
    return f"the {called} {shown(name)} is not known", nearest(name, COLUMNS, most=len(COLUMNS))


def alike(one: StockPaper, other: StockPaper) -> bool:
    """Whether two are the same but for how many there are."""
    return one.description == other.description


def differences(one: StockPaper, other: StockPaper) -> tuple[str, ...]:
    """The columns in which two differ, how many there are set aside."""
    told, here = paper_row(one), paper_row(other)
    return tuple(
        column for column in COLUMNS if column != "sheets" and told[column] != here[column]
    )


def _needed(row: Row, column: str) -> str:
    if not row.get(column):
        raise RowError(f"it has no {column}; every paper needs {', '.join(NEEDED)}")
    return row[column]


def _count(row: Row) -> int:
    try:
        return read_whole(_needed(row, "sheets"), MOST_SHEETS)
    except MeasureError as error:
        raise RowError(f"sheets: {error}") from error


def _one_of(word: str, words: tuple[_Word, ...], what: str) -> _Word:
    for one in words:
        if one == word:
            return one
    raise RowError(f"{shown(word)} is no {what}; {nearest(word, words)}")


def _checked(words: str | None, read: Callable[[str], object]) -> str | None:
    if not words:
        return None
    read(words)
    return words


def sheet_words(size: Size) -> str:
    """Write a size so that it reads back: "A4", "3 × 4 in"."""
    if (name := sheet_name(size)) and read_sheet(name, "mm") == size:
        return name
    return _shortest(size.width, size.height)


def _length(length: Length) -> str:
    return _shortest(length)


def _shortest(*lengths: Length) -> str:
    """Exactly, in the unit whose rule has marks for it, or else in fewer letters: "3 × 4 in"."""

    def order(unit: Unit) -> tuple[bool, int]:
        unmarked = any(length.number(unit).denominator > _FINEST_MARK[unit] for length in lengths)
        return unmarked, len(written[unit])

    written = {
        unit: f"{' × '.join(write_number(length, unit) for length in lengths)} {unit}"
        for unit in UNITS
    }
    return written[min(UNITS, key=order)]
