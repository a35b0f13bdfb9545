"""`trimtally stock`: the paper drawer."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.cli.command import BAD_INPUT, DONE, Command, whole_number
from workbench.cli.questions import answered, ask, asked_in, say
from workbench.cli.reckoning import least_options, least_useful, pricing, pricing_options
from workbench.cli.stock_words import (
    adopted_words,
    csv_table,
    offcut_data,
    offcut_words,
    paper_data,
    paper_words,
    possible_data,
    possible_words,
    preview_data,
    preview_words,
    shopping_data,
    shopping_rows,
)
from workbench.measure.counting import counted
from workbench.store.errors import WorkshopError, visible

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.planning import Watch
    from workbench.store.drawer import Drawer

_SAID = (
    *("name", "kind", "size", "sheets", "print", "colours", "run", "weight"),
    *("thickness", "strip", "pad", "price", "lies", "note"),
)


def _stock_options(parser: ArgumentParser) -> None:
    """What can be asked of the drawer."""
    asked = asked_in(parser)
    listed = ask(asked, "list", "list what lies in the drawer", _list)
    listed.add_argument("words", metavar="WORD", nargs="*", help="only what has all these words")
    _add_options(ask(asked, "add", "put a paper in", _add))
    use = ask(asked, "use", "use sheets without a batch, or throw them away", _use)
    _paper_and_sheets(use, least=1)
    use.add_argument("--thrown", action="store_true", help="they were thrown away, or lost")
    _paper_and_sheets(ask(asked, "buy", "more sheets of a paper come in", _buy), least=1)
    _paper_and_sheets(ask(asked, "count", "say how many free sheets there really are", _count))
    _table_file(ask(asked, "import", "take in a CSV or TOML file, after its rows' fates", _import))
    asked.choices["import"].add_argument("--yes", action="store_true", help="take it in")
    _table_file(ask(asked, "export", "write the stock to a CSV or TOML file", _export))
    ask(asked, "audit", "see whether all sums agree", _audit)
    ask(asked, "undo", "take back the last change made by hand", _undo)
    adopt = ask(asked, "adopt", "put a project's papers in the drawer", _adopt)
    adopt.add_argument("file", metavar="FILE", type=Path, nargs="?", help="a project file")
    adopt.add_argument(
        "--batch", type=whole_number, metavar="N", help="a batch begun before, by its number"
    )
    shop = ask(asked, "shop", "list what to buy for projects together", _shop)
    shop.add_argument("files", metavar="FILE", type=Path, nargs="+", help="project files")
    shop.add_argument("--csv", action="store_true", help="write it as CSV")
    make = ask(asked, "make", "say what can be made of the stock", _make)
    make.add_argument("folder", metavar="FOLDER", type=Path, help="a folder of project files")
    uses = ask(asked, "uses", "say where a paper could go", _uses)
    uses.add_argument("paper", metavar="PAPER", help="its name or number")
    uses.add_argument("folder", metavar="FOLDER", type=Path, help="a folder of project files")
    clear = ask(asked, "clear", "list offcuts too small or too old to keep", _clear)
    clear.add_argument("--days", type=whole_number, default=365, help="older than so many (365)")
    clear.add_argument("--yes", action="store_true", help="throw them away")
    least = ask(asked, "least", "say or change the smallest offcut worth keeping", least_useful)
    least_options(least)
    _units(least)
    pricing_options(ask(asked, "pricing", "say or change how costs are reckoned", pricing))


def _list(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    papers, offcuts = drawer.listing()
    wanted = [word.casefold() for word in given.words]
    papers = tuple(line for line in papers if _matches(line.data.search_text, wanted))
    offcuts = tuple(line for line in offcuts if _matches(line.name.casefold(), wanted))
    data = {"papers": list(map(paper_data, papers)), "offcuts": list(map(offcut_data, offcuts))}
    lines = [*map(paper_words, papers), *map(offcut_words, offcuts)]
    nothing = "Nothing in the drawer has these words." if wanted else "The drawer is empty."
    say(given, data, lines or [nothing])
    return DONE


def _add(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.stock_rows import RowError, RowReader

    row = {name: value for name in _SAID if (value := getattr(given, name)) is not None}
    row["tags"] = ";".join(given.tag)
    try:
        stock = RowReader(given.units, _currency(drawer)).read(row)
    except RowError as error:
        what, _semicolon, mend = str(error).partition("; ")
        raise WorkshopError(f"“{given.name}”", what, mend or "see --help") from error
    number = drawer.add(stock)  # type: ignore[arg-type]
    return _told(given, drawer, number, "is in the drawer")


def _use(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    paper = drawer.find(given.paper)
    (drawer.throw if given.thrown else drawer.use)(paper.id, given.sheets)
    return _told(given, drawer, paper.id, "thrown away" if given.thrown else "used")


def _buy(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    paper = drawer.find(given.paper)
    drawer.buy(paper.id, given.sheets)
    return _told(given, drawer, paper.id, "bought")


def _count(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    paper = drawer.find(given.paper)
    drawer.count(paper.id, given.sheets)
    return _told(given, drawer, paper.id, "counted")


def _import(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.stock_preview import preview

    found = preview(given.file, drawer.known(), unit=given.units, currency=_currency(drawer))
    written = given.yes and not found.refused
    if written:
        drawer.take_in(found)
    say(given, preview_data(found, written=written), [*preview_words(found, written=written)])
    return BAD_INPUT if found.refused else DONE


def _export(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.stock_export import export

    papers, lots = export(drawer, given.file)
    said = {"file": str(given.file), "papers": papers, "offcuts": lots}
    words = f"{counted(papers, 'paper')} and {counted(lots, 'kind')} of offcuts are in {given.file}"
    say(given, said, [words])
    return DONE


def _audit(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.backup import trouble

    damage = trouble(drawer.workshop.file)
    found = [f"the file is damaged ({damage})"] if damage else list(drawer.audit())
    good = "All sums agree: bought = on hand + reserved + used + thrown away."
    say(given, {"agrees": not found, "found": found}, found or [good])
    return BAD_INPUT if found else DONE


def _undo(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    words = drawer.undo()
    said = f"Taken back: {words}" if words else "There is nothing to take back."
    say(given, {"taken_back": words}, [said])
    return DONE


def _adopt(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.drawer_projects import adopt_batch, adopt_papers
    from workbench.store.places import check_place
    from workbench.store.project_file import read_project_file, write_project

    if (given.file is None) == (given.batch is None):
        raise WorkshopError("trimtally stock adopt", "it needs one thing", "give FILE or --batch N")
    if given.batch is not None:
        links = adopt_batch(drawer, given.batch)
        names = sorted(links)
        lines = [f"{name} is taken from the drawer" for name in names]
    else:
        found = read_project_file(given.file)
        check_place(given.file)
        adopted = adopt_papers(drawer, found.project)
        write_project(given.file, adopted, found)
        names = [paper.name for paper in adopted.papers]
        lines = [adopted_words(name, found.project, adopted) for name in names]
    say(given, {"papers": names}, lines)
    return DONE


def _shop(given: Namespace, drawer: "Drawer", watch: "Watch") -> int:
    from workbench.cli.own_workshop import own_desk
    from workbench.making.shopping import envelopes_wanted, shopping_list
    from workbench.store.drawer_projects import matched_stock
    from workbench.store.preferences import preferences_of
    from workbench.store.project_file import read_project

    projects = matched_stock(drawer, [read_project(file) for file in given.files])
    bought = shopping_list(projects, _trimmer(drawer), watch)
    envelopes = envelopes_wanted(projects, own_desk(preferences_of(drawer.workshop)))
    if given.csv:
        print(csv_table(("what", "size", "count", "for"), shopping_rows(bought, envelopes)))
        return DONE
    lines = [] if bought else ["No paper needs to be bought."]
    lines += [
        f"{count:>5} × {name}, {sides} (for {for_})"
        for name, sides, count, for_ in shopping_rows(bought, envelopes)
    ]
    say(given, shopping_data(bought, envelopes), lines)
    return DONE


def _make(given: Namespace, drawer: "Drawer", watch: "Watch") -> int:
    from workbench.making.possible import possible, ranked

    files, projects = _projects_in(given.folder, drawer)
    found = dict(possible(projects, _trimmer(drawer), watch))
    file_of = {id(one): files[number] for number, one in found.items()}
    best = ranked(found.values())
    data = [possible_data(one, file_of[id(one)]) for one in best]
    say(given, data, [possible_words(one) for one in best] or ["There are no projects there."])
    return DONE


def _uses(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.making.possible import uses

    paper = drawer.find(given.paper).paper.paper
    projects = _projects_in(given.folder, drawer)[1]
    found = uses(paper, projects)
    data = [
        {"project": one.project, "piece": one.piece, "needed": one.needed, "a_sheet": one.count}
        for one in found
    ]
    lines = [
        f"{one.count:>5} a sheet: {one.piece} of “{one.project}”"
        + ("" if one.needed else ", if it fits")
        for one in found
    ]
    say(given, data, lines or [f"No piece there could be cut from {paper.name}."])
    return DONE


def _clear(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    found = drawer.not_worth_keeping(given.days)
    cleared = drawer.clear_out(line.id for line in found) if given.yes and found else 0
    data = {"offcuts": list(map(offcut_data, found)), "cleared": cleared}
    lines = [*map(offcut_words, found)] or ["Every offcut is worth keeping."]
    if cleared:
        lines.append(f"{cleared} are thrown away; `trimtally stock undo` takes that back.")
    say(given, data, lines)
    return DONE


def _table_file(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="its name ends in .csv or .toml")
    _units(parser)


def _units(parser: ArgumentParser) -> None:
    parser.add_argument("--units", choices=("in", "mm"), default="in", help="of bare numbers")


def _paper_and_sheets(parser: ArgumentParser, least: int = 0) -> None:
    parser.add_argument("paper", metavar="PAPER", help="its name or number")
    parser.add_argument("sheets", metavar="SHEETS", type=partial(whole_number, least=least))


def _add_options(parser: ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME")
    parser.add_argument("--kind", default="patterned", help="patterned if not given")
    parser.add_argument("--size", required=True, help='"A4", "letter", "12 x 12 in"')
    parser.add_argument("--sheets", default="0")
    for option, words in (
        ("print", "how to draw it"),
        ("colours", '"#2f6f8f #f4efe4"'),
        ("run", "none, up or along"),
        ("weight", '"110 lb cover"'),
        ("thickness", '"0.36 mm"'),
        ("strip", '"bottom 1/2"'),
        ("pad", "the pad it belongs to"),
        ("price", '"0.80", or for a pad "12.95 / 24"'),
        ("lies", "where it lies"),
        ("note", "whatever is to be said of it"),
    ):
        parser.add_argument(f"--{option}", help=words)
    parser.add_argument("--tag", action="append", default=[], help="as often as wanted")
    _units(parser)


def _told(given: Namespace, drawer: "Drawer", paper_id: int, what: str) -> int:
    line = drawer.paper(paper_id)
    say(given, paper_data(line), [f"{what}: {paper_words(line)}"])
    return DONE


def _matches(text: str, words: Sequence[str]) -> bool:
    return all(word in text for word in words)


def _currency(drawer: "Drawer") -> str:
    from workbench.store.pricing import pricing_of

    return pricing_of(drawer.workshop).currency


def _trimmer(drawer: "Drawer") -> Any:
    from workbench.store.preferences import preferences_of

    return preferences_of(drawer.workshop).trimmer


def _projects_in(folder: Path, drawer: "Drawer") -> "tuple[list[Path], Sequence[Project]]":
    from workbench.store.drawer_projects import matched_stock
    from workbench.store.errors import ProjectFileError
    from workbench.store.project_file import read_project

    files, projects = [], []
    try:
        if not folder.is_dir():
            raise WorkshopError(str(folder), "there is no such folder", "name a folder of projects")
        found = sorted(folder.glob("*.toml"))
    except OSError as error:
        raise WorkshopError(
            str(folder), f"it cannot be looked through ({error.strerror})", "name a folder"
        ) from error
    for file in found:
        try:
            projects.append(read_project(file))
            files.append(file)
        except ProjectFileError as error:
            print(visible(str(error)), file=sys.stderr)
    return files, matched_stock(drawer, projects)


STOCK = Command(
    "stock",
    "keep the paper drawer: what lies there, what it makes, what to buy",
    "trimtally stock list stripe",
    answered,
    _stock_options,
    "WHAT",
)
