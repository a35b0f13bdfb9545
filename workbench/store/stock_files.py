"""Stock in files, CSV for spreadsheets and TOML for hands: their rows read and written."""

import csv
import io
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

import tomli_w

from workbench.craft.paper import Offcut
from workbench.craft.stock import StockPaper
from workbench.measure.numerals import MOST_WHOLE
from workbench.store.errors import StoreError, reason, shown
from workbench.store.ordinary import OddFileError, read_ordinary
from workbench.store.stock_rows import (
    COLUMNS,
    NEEDED,
    OFFCUT_OF,
    Row,
    offcut_row,
    paper_row,
    unknown_column,
)
from workbench.store.toml_bounds import check_bounds

MOST_MB = 20
MOST_ROWS = 20_000
LONGEST_CELL = 5_000
_SHORTER = f"use at most {LONGEST_CELL} characters"
_SEPARATORS = ",;\t|"
# A spreadsheet runs a cell that begins so as a formula (OWASP, "CSV Injection").
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_TABLES = {"papers": "", "offcuts": OFFCUT_OF}


class StockFileError(StoreError):
    """Raised for a file of stock that cannot be read at all, or not be written."""


def read_rows(path: Path) -> list[tuple[str, Row]]:
    """The rows of a CSV or a TOML file, each after its place: "row 3" or "papers[2]".

    Raises:
        StockFileError: where the file as a whole cannot be read.
    """
    return _toml_rows(path) if path.suffix.lower() == ".toml" else _csv_rows(path)


def csv_text(papers: Iterable[StockPaper], offcuts: Iterable[Offcut]) -> str:
    """Stock as a CSV file, no cell of which a spreadsheet will run."""
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\r\n")  # as RFC 4180 says
    writer.writerow(COLUMNS)
    for row in _rows(papers, offcuts):
        writer.writerow(safe(row[column]) for column in COLUMNS)
    return written.getvalue()


def toml_text(papers: Iterable[StockPaper], offcuts: Iterable[Offcut]) -> str:
    """Stock as a TOML file."""
    tables = []
    for row in _rows(papers, offcuts):
        said: dict[str, object] = {key.replace(" ", "_"): one for key, one in row.items() if one}
        said["sheets"] = int(row["sheets"])
        heading = "offcuts" if row[OFFCUT_OF] else "papers"
        tables.append(f"[[{heading}]]\n{tomli_w.dumps(said)}")
    return "\n".join(tables)


def safe(cell: str) -> str:
    """`cell` so that no spreadsheet runs it: an apostrophe goes before what begins a formula."""
    return f"'{cell}" if cell.startswith((*_FORMULA, "'")) else cell


def plain(cell: str) -> str:
    """What `safe` was given."""
    return cell[1:] if cell.startswith(tuple(f"'{sign}" for sign in (*_FORMULA, "'"))) else cell


def _rows(papers: Iterable[StockPaper], offcuts: Iterable[Offcut]) -> Iterator[Row]:
    yield from map(paper_row, papers)
    yield from map(offcut_row, offcuts)


def _csv_rows(path: Path) -> list[tuple[str, Row]]:
    text = _text(path)
    lines = text.splitlines()
    header = next((line for line in lines if line.strip()), "")
    separator = max(_SEPARATORS, key=header.count)
    try:
        cells = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        if "limit" in str(error):
            raise StockFileError(str(path), "a cell is too long", _SHORTER) from error
        raise StockFileError(
            str(path),
            f"its rows cannot be told apart ({error})",
            "close every quotation mark, and save it as CSV again",
        ) from error
    rows = [(number, row) for number, row in enumerate(cells, 1) if any(map(str.strip, row))]
    if not rows:
        raise StockFileError(str(path), "it is empty", f"begin it with {', '.join(NEEDED)}")
    (_, first), *others = rows
    columns = _columns(path, first)
    if len(others) > MOST_ROWS:
        raise StockFileError(str(path), "it has too many rows", f"give {MOST_ROWS} at most")
    return [(f"row {number}", _row(path, number, columns, row)) for number, row in others]


def _columns(path: Path, header: Sequence[str]) -> list[str]:
    columns = [" ".join(cell.split()).lower().replace("_", " ") for cell in header]
    while columns and not columns[-1]:
        columns.pop()
    if len(columns) == 1 and len(header[0]) > 20:
        raise StockFileError(
            str(path), "its columns cannot be told apart", "part them by commas or semicolons"
        )
    for column in columns:
        if column not in COLUMNS:
            raise StockFileError(str(path), *unknown_column(column))
        if columns.count(column) > 1:
            raise StockFileError(
                str(path), f"the column {shown(column)} stands there twice", "keep one of them"
            )
    for column in NEEDED:
        if column not in columns:
            raise StockFileError(
                str(path),
                f"the column {shown(column)} is missing",
                f"add it to {', '.join(NEEDED)}",
            )
    return columns


def _row(path: Path, number: int, columns: Sequence[str], cells: Sequence[str]) -> Row:
    if len(cells) > len(columns) and any(map(str.strip, cells[len(columns) :])):
        raise StockFileError(
            f"{path}: row {number}",
            f"it has {len(cells)} cells, and there are {len(columns)} columns",
            "put a cell that holds the separator in quotation marks",
        )
    if any(len(cell) > LONGEST_CELL for cell in cells):
        raise StockFileError(
            f"{path}: row {number}",
            "a cell is too long",
            _SHORTER,
        )
    return {
        column: plain(cell.strip()) for column, cell in zip(columns, cells, strict=False) if cell
    }


def _toml_rows(path: Path) -> list[tuple[str, Row]]:
    text = _text(path)
    check_bounds(text, str(path))
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise StockFileError(
            str(path), f"it is no TOML ({error})", "write tables headed [[papers]]"
        ) from error
    found = []
    for heading, tables in data.items():
        if heading not in _TABLES or not isinstance(tables, list):
            raise StockFileError(
                str(path), f"{shown(heading)} is not known", "use [[papers]] and [[offcuts]]"
            )
        for number, table in enumerate(tables, 1):
            place = f"{heading}[{number}]"
            found.append((place, _toml_row(path, place, table)))
    if not found:
        raise StockFileError(str(path), "it is empty", "write tables headed [[papers]]")
    return found


def _toml_row(path: Path, place: str, table: Any) -> Row:
    if not isinstance(table, dict):
        raise StockFileError(f"{path}: {place}", "it is no table", 'write name = "..." below it')
    row = {}
    for key, value in table.items():
        column = key.replace("_", " ")
        if column not in COLUMNS:
            raise StockFileError(f"{path}: {place}", *unknown_column(key, "key"))
        if type(value) is int and abs(value) > MOST_WHOLE:
            raise StockFileError(
                f"{path}: {place}, {key}", "it is too large", f"give {MOST_WHOLE} at most"
            )
        if isinstance(value, bool) or not isinstance(value, str | int):
            raise StockFileError(
                f"{path}: {place}, {key}", "it is no text", f'write it as {key} = "..."'
            )
        row[column] = str(value).strip()
    return row


def _text(path: Path) -> str:
    try:
        content = read_ordinary(path, MOST_MB)
    except FileNotFoundError as error:
        raise StockFileError(
            str(path), "there is no such file", "check the name and the folder"
        ) from error
    except (OddFileError, OSError) as error:
        raise StockFileError(
            str(path), f"it cannot be read ({reason(error)})", "name another file"
        ) from error
    try:
        if content.startswith((b"\xff\xfe", b"\xfe\xff")):
            text = content.decode("utf-16")
        else:
            text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise StockFileError(
            str(path),
            f"byte {error.start + 1} is no text of UTF-8",
            "save it in UTF-8 (spreadsheets offer that as a choice of its own)",
        ) from error
    if "\0" in text:
        raise StockFileError(
            str(path), "it holds bytes of nothing, as no text does", "save it as CSV in UTF-8"
        )
    return text
