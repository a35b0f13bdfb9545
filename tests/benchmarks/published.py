"""Published cutting problems against what we find.

The files lie in ../shared/benchmarks beside the repository; their README names the sources:
J. E. Beasley, J. Oper. Res. Soc. 36 (1985) 297-306 (gcut); N. Christofides and C. Whitlock,
Oper. Res. 25 (1977) 30-44 (cgcut1); V. Chvatal, Linear Programming (1983), Wikipedia, "Cutting
stock problem", and an exercise from the AMPL book (strips).
"""

import csv
import time
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from tests.benchmarks.tables import Row, Table
from tests.planning.parts import best_sheet
from tests.planning.test_published import edge_to_edge
from workbench.planning.bound.column_generation import priced
from workbench.planning.bound.guillotine_dp import Raster, ValuedRectangle
from workbench.planning.bound.pattern_enumeration import enumerate_patterns
from workbench.planning.instance.instance import Item, Source, Subproblem, Supply
from workbench.planning.instance.stock_classes import StockClasses
from workbench.planning.instance.trimmer_limits import UNLIMITED
from workbench.planning.layouts.tree import Node
from workbench.planning.progress import Watch
from workbench.planning.sheets.cutting import Cutting
from workbench.planning.sheets.search import SheetSearch

FOLDER = Path(__file__).parents[3] / "shared" / "benchmarks"
Shape = tuple[int, int]

# Upright and turning: G. Cintra's results page (the same work as G. Cintra et al., Eur. J. Oper.
# Res. 191 (2008) 61-85), each recomputed for this project.
BEST_SHEETS = {
    "gcut1": (56460, 58136),
    "gcut2": (60536, 60611),
    "gcut3": (61036, 61626),
    "gcut4": (61698, 62265),
    "gcut5": (246000, 246000),
    "gcut6": (238998, 240951),
    "gcut7": (242567, 245866),
    "gcut8": (246633, 247787),
}
# cgcut1 without and with its limits on copies: the same page, recomputed.
CGCUT1_UNLIMITED, CGCUT1_LIMITED = 249, 244
# Computed over all maximal patterns; the linear bound rounds up to both.
GCUT1D = (294, 291)
STRIPS = {"wikipedia": 73, "chvatal1983": 453, "ampl_book": 47}


def published() -> Table:
    table = Table(
        "Published problems", ["problem", "published", "found", "met", "proven", "seconds"]
    )
    if not FOLDER.is_dir():
        table.notes.append("The published problems are not beside this repository: left out.")
        return table
    table.rows += [*_best_sheets(), *_limited_sheet(), *_fewest_sheets(), *_strips()]
    return table


def _row(name: str, value: int, found: int, proven: str, begun: float) -> Row:
    seconds = time.process_time() - begun
    return (name, str(value), str(found), _yes(found == value), proven, f"{seconds:.3f}")


def _best_sheets() -> Iterator[Row]:
    for name, values in {**BEST_SHEETS, "cgcut1": (CGCUT1_UNLIMITED,)}.items():
        sheet, rows = _read(f"{name}.csv")
        prizes = [ValuedRectangle(n, r["w"], r["h"], r["value"]) for n, r in enumerate(rows)]
        shapes = [(prize.width, prize.height) for prize in prizes]
        for turning, value in zip((False, True), values, strict=False):
            begun = time.process_time()
            found, root = best_sheet(*sheet, prizes, turning=turning)
            row = _row(f"{name}, one sheet{_lying(turning)}", value, int(found), "exact", begun)
            cut = _parts(root, sheet, shapes, turning=turning)
            if sum(prize.value * cut[prize.item] for prize in prizes) != found:
                raise AssertionError(f"{name}: the cutting is not worth what was said")
            yield row


def _lying(turning: bool) -> str:
    return ", turning" if turning else ", upright"


def _limited_sheet() -> Iterator[Row]:
    """The best of every way to fill one sheet of cgcut1, with no more of a piece than allowed."""
    begun = time.process_time()
    sheet, rows = _read("cgcut1.csv")
    shapes = [(row["w"], row["h"]) for row in rows]
    most = {number: row["max_copies"] for number, row in enumerate(rows)}
    classes = StockClasses(
        _group(sheet, dict(zip(shapes, most.values(), strict=True)), turning=False)
    )
    (stock,) = classes.every
    raster, prizes = Raster(*sheet, stock.shapes), priced(stock, dict.fromkeys(most, 0))
    table = raster.values(prizes)
    best = 0
    for way in enumerate_patterns(raster, table, prizes, most, 0, watch=Watch()):
        cut = _parts(way, sheet, shapes, turning=False)
        # What a way gives beyond the copies allowed is waste.
        best = max(best, sum(rows[item]["value"] * min(n, most[item]) for item, n in cut.items()))
    yield _row("cgcut1, one sheet, copies limited", CGCUT1_LIMITED, best, "exact", begun)


def _fewest_sheets() -> Iterator[Row]:
    sheet, rows = _read("gcut1d.csv")
    demand = {(row["w"], row["h"]): row["demand"] for row in rows}
    for turning, value in zip((False, True), GCUT1D, strict=True):
        begun = time.process_time()
        cutting = _cut(sheet, demand, turning=turning)
        name = f"gcut1d, all sheets{_lying(turning)}"
        yield _row(name, value, cutting.sheets, _proof(cutting), begun)


def _strips() -> Iterator[Row]:
    with (FOLDER / "worked_examples_1d.csv").open() as file:
        rows = list(csv.DictReader(file))
    for name, value in STRIPS.items():
        mine = [row for row in rows if row["example"] == name]
        demand = {(int(row["item_length"]), 1): int(row["demand"]) for row in mine}
        begun = time.process_time()
        cutting = _cut((int(mine[0]["stock_length"]), 1), demand, turning=False)
        yield _row(f"strips, {name}", value, cutting.sheets, _proof(cutting), begun)


def _proof(cutting: Cutting) -> str:
    return _yes(cutting.sheets == cutting.fewest)


def _yes(true: bool) -> str:
    return "yes" if true else "NO"


def _read(name: str) -> tuple[Shape, list[dict[str, int]]]:
    """The sheet and the pieces of a file, whose first line gives the sheet."""
    with (FOLDER / name).open() as file:
        first = dict(word.split("=") for word in file.readline().split() if "=" in word)
        rows = [{k: int(v) for k, v in row.items() if v} for row in csv.DictReader(file)]
    return (int(first["sheet_w"]), int(first["sheet_h"])), rows


def _group(sheet: Shape, demand: Mapping[Shape, int], *, turning: bool) -> Subproblem:
    items = tuple(
        Item(number, str(shape), *shape, count, count, ("sheet",), needed=True, dealt=False)
        for number, (shape, count) in enumerate(demand.items())
    )
    source = Source(*sheet, available=sum(demand.values()), offcut=False, cost=1)
    return Subproblem(items, (Supply("sheet", turning, (source,)),), 1, UNLIMITED)


def _cut(sheet: Shape, demand: Mapping[Shape, int], *, turning: bool) -> Cutting:
    """The fewest sheets found for the demand, each of them cut apart and counted again."""
    group = _group(sheet, demand, turning=turning)
    cutting = SheetSearch(group, {"sheet": 1}, Watch()).fewest()
    cut: Counter[int] = Counter()
    for layout in cutting.layouts:
        for _ in range(layout.times):
            cut += _parts(layout.root, sheet, list(demand), turning=turning)
    if cut != dict(enumerate(demand.values())):
        raise AssertionError("the sheets do not yield what was asked")
    return cutting


def _parts(root: Node, sheet: Shape, shapes: Sequence[Shape], *, turning: bool) -> Counter[int]:
    """How many of each piece come off a sheet when it is cut as said."""
    cut: Counter[int] = Counter()
    for leaf in edge_to_edge(root, *sheet):
        if leaf.item is None:
            continue
        lies = (leaf.height, leaf.width) if leaf.turned else (leaf.width, leaf.height)
        if lies != shapes[leaf.item] or (leaf.turned and not turning):
            raise AssertionError(f"{leaf.item}: cut in another size, or turned")
        cut[leaf.item] += 1
    return cut
