"""The commands of the drawer: `trimtally stock`, `trimtally batch`, `backup` and `restore`."""

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.measure.counting import counted
from workbench.store.errors import StoreError, WorkshopError, visible

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.making.costs import Cost
    from workbench.making.possible import Possible
    from workbench.planning import Watch
    from workbench.store.drawer import Drawer, OffcutLine, PaperLine
    from workbench.store.stock_files import Preview

DONE, BAD_INPUT, NOT_ENOUGH_PAPER = 0, 2, 3
_SAID = (
    *("name", "kind", "size", "sheets", "print", "colours", "run", "weight"),
    *("thickness", "strip", "pad", "price", "lies", "note"),
)
_Answer = Callable[[Namespace, "Drawer", "Watch"], int]


def stock_options(parser: ArgumentParser) -> None:
    """What can be asked of the drawer."""
    asked = _asked(parser)
    _ask(asked, "list", "list what lies in the drawer", _list).add_argument("words", nargs="*")
    _add_options(_ask(asked, "add", "put a paper in", _add))
    use = _ask(asked, "use", "use sheets without a batch, or throw them away", _use)
    _paper_and_sheets(use)
    use.add_argument("--thrown", action="store_true", help="they were thrown away, or lost")
    _paper_and_sheets(_ask(asked, "buy", "more sheets of a paper come in", _buy))
    _paper_and_sheets(_ask(asked, "count", "say how many free sheets there really are", _count))
    _file(_ask(asked, "import", "take in a CSV or TOML file, after its rows' fates", _import))
    asked.choices["import"].add_argument("--yes", action="store_true", help="take it in")
    _file(_ask(asked, "export", "write the stock to a CSV or TOML file", _export))
    _ask(asked, "audit", "see whether all sums agree", _audit)
    _ask(asked, "undo", "take back the last change made by hand", _undo)
    adopt = _ask(asked, "adopt", "put a project's papers in the drawer", _adopt)
    adopt.add_argument("file", metavar="FILE", type=Path, nargs="?", help="a project file")
    adopt.add_argument("--batch", type=int, metavar="N", help="a batch begun before, by its number")
    shop = _ask(asked, "shop", "list what to buy for projects together", _shop)
    shop.add_argument("files", metavar="FILE", type=Path, nargs="+", help="project files")
    shop.add_argument("--csv", action="store_true", help="write it as CSV")
    make = _ask(asked, "make", "say what can be made of the stock", _make)
    make.add_argument("folder", metavar="FOLDER", type=Path, help="a folder of project files")
    uses = _ask(asked, "uses", "say where a paper could go", _uses)
    uses.add_argument("paper", metavar="PAPER", help="its name or number")
    uses.add_argument("folder", metavar="FOLDER", type=Path, help="a folder of project files")
    clear = _ask(asked, "clear", "list offcuts too small or too old to keep", _clear)
    clear.add_argument("--days", type=int, default=365, help="older than so many (365)")
    clear.add_argument("--yes", action="store_true", help="throw them away")
    _pricing_options(_ask(asked, "pricing", "say or change how costs are reckoned", _pricing))


def batch_options(parser: ArgumentParser) -> None:
    """What can be asked of the batches."""
    asked = _asked(parser)
    _ask(asked, "list", "list every batch", _batches)
    for name, summary, answer in (
        ("show", "tell a batch: its record, its paper, what it cost", _show_batch),
        ("resume", "go on with a batch at the bench", _resume),
        ("abandon", "give a batch up; its paper goes back", _abandon),
    ):
        _ask(asked, name, summary, answer).add_argument("batch", type=int, metavar="N")
    year = _ask(asked, "year", "count what was made in a year", _year)
    year.add_argument("year", type=int)
    give = _ask(asked, "give", "note who got a card", _give)
    give.add_argument("batch", type=int, metavar="N")
    give.add_argument("card", type=int, metavar="CARD")
    give.add_argument("name", help="nothing forgets it")


def answer(given: Namespace, watch: "Watch") -> int:
    """Do what was asked; returns the exit code. Raises StoreError."""
    from workbench.store.database import Workshop
    from workbench.store.drawer import Drawer

    with _refusing():
        code: int = given.answer(given, Drawer(Workshop.open()), watch)
    return code


def back_up(given: Namespace) -> int:
    """Copy the whole workshop to one file."""
    from workbench.store.backup import back_up as copy
    from workbench.store.database import Workshop

    file = Workshop.open().file
    if given.file.exists() and not given.over:
        raise WorkshopError(str(given.file), "it is there already", "name another, or give --over")
    copy(file, given.file)
    print(f"The workshop is kept in {visible(str(given.file))}")
    return DONE


def restore(given: Namespace) -> int:
    """Put a backup in the place of the workshop, or list those that were made by themselves."""
    from workbench.store.backup import backups
    from workbench.store.backup import restore as put_back
    from workbench.store.database import Workshop

    file = Workshop.open().file
    if given.file is None:
        for backup in backups(file):
            print(f"{backup.made.astimezone():%d %b %Y, %H:%M}  {visible(str(backup.path))}")
        return DONE
    aside = put_back(file, given.file)
    print(f"The workshop is that of {visible(str(given.file))}")
    if aside:
        print(f"What was there lies in {visible(str(aside))}")
    return DONE


# The drawer


def _list(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    papers, offcuts = drawer.listing()
    wanted = [word.casefold() for word in given.words]
    papers = tuple(line for line in papers if _matches(line.data.search_text, wanted))
    offcuts = tuple(line for line in offcuts if _matches(line.name.casefold(), wanted))
    data = {"papers": list(map(_paper_data, papers)), "offcuts": list(map(_offcut_data, offcuts))}
    _say(given, data, [*map(_paper_words, papers), *map(_offcut_words, offcuts)])
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
    from workbench.store.stock_files import preview

    found = preview(given.file, drawer.known(), unit=given.units, currency=_currency(drawer))
    written = given.yes and not found.refused
    if written:
        drawer.take_in(found)
    _say(given, _preview_data(found, written=written), [*_preview_words(found, written=written)])
    return BAD_INPUT if found.refused else DONE


def _export(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.craft.paper import Offcut
    from workbench.store.stock_files import csv_text, toml_text

    papers, offcuts = drawer.listing()
    free = [
        Offcut(line.name, line.measures, line.counts.on_hand)
        for line in offcuts
        if line.counts.on_hand
    ]
    write = toml_text if given.file.suffix.lower() == ".toml" else csv_text
    text = write([line.paper for line in papers], free)
    try:
        given.file.write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise WorkshopError(
            str(given.file), f"it cannot be written ({error.strerror})", "name another file"
        ) from error
    said = {"file": str(given.file), "papers": len(papers), "offcuts": len(free)}
    papers_said, lots = counted(len(papers), "paper"), counted(len(free), "lot")
    words = f"{papers_said} and {lots} of offcuts are in {given.file}"
    _say(given, said, [words])
    return DONE


def _audit(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.backup import trouble

    damage = trouble(drawer.workshop.file)
    found = [f"the file is damaged ({damage})"] if damage else list(drawer.audit())
    good = "All sums agree: bought = on hand + reserved + used + thrown away."
    _say(given, {"agrees": not found, "found": found}, found or [good])
    return BAD_INPUT if found else DONE


def _undo(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    words = drawer.undo()
    said = f"Taken back: {words}" if words else "There is nothing to take back."
    _say(given, {"taken_back": words}, [said])
    return DONE


def _adopt(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.project_file import read_project_file, write_project

    if (given.file is None) == (given.batch is None):
        raise WorkshopError("trimtally stock adopt", "it needs one thing", "give FILE or --batch N")
    if given.batch is not None:
        links = drawer.adopt_batch(given.batch)
        names = sorted(links)
    else:
        found = read_project_file(given.file)
        adopted = drawer.adopt(found.project)
        write_project(given.file, adopted, found)
        names = [paper.name for paper in adopted.papers]
    _say(given, {"papers": names}, [f"{name} is taken from the drawer" for name in names])
    return DONE


def _shop(given: Namespace, drawer: "Drawer", watch: "Watch") -> int:
    from workbench.making.possible import shopping_list
    from workbench.store.project_file import read_project

    projects = [drawer.matched(read_project(file)) for file in given.files]
    wanted = shopping_list(projects, _trimmer(drawer), watch)
    data = [
        {"paper": one.paper.name, "sheets": one.sheets, "projects": list(one.projects)}
        for one in wanted
    ]
    if given.csv:
        rows = [
            (one.paper.name, _size(one.paper.size), str(one.sheets), "; ".join(one.projects))
            for one in wanted
        ]
        print(_csv(("paper", "size", "sheets", "for"), rows))
        return DONE
    lines = [
        f"{one.sheets:>5} × {one.paper.name}, {_size(one.paper.size)} (for "
        f"{', '.join(one.projects)})"
        for one in wanted
    ]
    _say(given, data, lines or ["Nothing needs to be bought."])
    return DONE


def _make(given: Namespace, drawer: "Drawer", watch: "Watch") -> int:
    from workbench.making.possible import possible, ranked

    files, projects = _projects_in(given.folder, drawer)
    found = dict(possible(projects, _trimmer(drawer), watch))
    file_of = {id(one): files[number] for number, one in found.items()}
    best = ranked(found.values())
    data = [_possible_data(one, file_of[id(one)]) for one in best]
    _say(given, data, [_possible_words(one) for one in best] or ["There are no projects there."])
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
    _say(given, data, lines or [f"No piece there could be cut from {paper.name}."])
    return DONE


def _clear(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    found = drawer.not_worth_keeping(given.days)
    cleared = drawer.clear_out(line.id for line in found) if given.yes and found else 0
    data = {"offcuts": list(map(_offcut_data, found)), "cleared": cleared}
    lines = [*map(_offcut_words, found)] or ["Every offcut is worth keeping."]
    if cleared:
        lines.append(f"{cleared} are thrown away; `trimtally stock undo` takes that back.")
    _say(given, data, lines)
    return DONE


def _pricing(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from dataclasses import replace

    from workbench.craft.money import Money, checked_currency
    from workbench.store.pricing import keep_pricing, pricing_of

    pricing = pricing_of(drawer.workshop)
    if given.currency:
        pricing = replace(pricing, currency=checked_currency(given.currency.upper()))
    if given.hourly:
        pricing = replace(pricing, hourly=Money.read(given.hourly, pricing.currency))
    if given.margin is not None:
        pricing = replace(pricing, margin=given.margin)
    for words in given.extra:
        extra = _extra(words, pricing.currency)
        others = tuple(one for one in pricing.extras if one.name != extra.name)
        pricing = replace(pricing, extras=(*others, extra) if extra.money.exact else others)
    if given.currency or given.hourly or given.margin is not None or given.extra:
        keep_pricing(drawer.workshop, pricing)
    extras = [{"name": one.name, "money": str(one.money), "per": one.per} for one in pricing.extras]
    hourly = str(pricing.hourly) if pricing.hourly else None
    data = {
        "currency": pricing.currency,
        "hourly": hourly,
        "margin": pricing.margin,
        "extras": extras,
    }
    lines = [
        f"currency {pricing.currency}, an hour {hourly or 'not reckoned'}, margin "
        f"{pricing.margin} %",
        *(f"{one['name']}: {one['money']} a {one['per']}" for one in extras),
    ]
    _say(given, data, lines)
    return DONE


# The batches


def _batches(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    lines = drawer.workshop.batches()
    data = [
        {
            "batch": line.id,
            "title": line.title,
            "done": line.done,
            "steps": line.steps,
            "state": _state(line),
            "worked": line.worked.isoformat(),
        }
        for line in lines
    ]
    words = [
        f"{line.id:>5}  {line.title}, {_state(line)}: {line.done} of {line.steps} steps"
        for line in lines
    ]
    _say(given, data, words or ["There are no batches yet."])
    return DONE


def _show_batch(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.making.history import dated, told
    from workbench.store.made import batch_cost, recipients, worked

    batch = drawer.workshop.batch(given.batch)
    index, history = worked(batch)
    cost = batch_cost(drawer, batch)
    got = recipients(drawer.workshop, given.batch)
    lines = [
        f"{batch.project.title}, {counted(index.plan.cards, 'card')}",
        *dated(history),
        *told(history),
    ]
    lines += _cost_words(cost)
    lines += [f"Card {card} went to {name}." for card, name in got.items()]
    data = {
        "batch": given.batch,
        "title": batch.project.title,
        "cards": index.plan.cards,
        "started": batch.started.isoformat(),
        "finished": history.finished and history.finished.isoformat(),
        "minutes": history.minutes,
        "notes": list(history.notes),
        "papers": sorted({sheet.paper for sheet in index.plan.sheets}),
        "combinations": [dict(card.pieces) for card in index.plan.combinations],
        "recipients": {str(card): name for card, name in got.items()},
        "cost": _cost_data(cost),
    }
    _say(given, data, lines)
    return DONE


def _resume(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.making.batch import replay

    batch = drawer.workshop.batch(given.batch)
    state = replay(batch.plan, batch.events)
    if state.abandoned or state.finished:
        over = "abandoned" if state.abandoned else "finished"
        raise WorkshopError(f"batch {given.batch}", f"it is {over}", "begin another")
    if given.json:
        data = {"batch": given.batch, "next_step": state.current, "steps": state.steps}
        _say(given, data, [])
        return DONE
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise WorkshopError(
            "trimtally batch resume", "the bench opens only in a terminal", "--json"
        )
    from workbench.app.app import run

    return int(run(None, given.batch))


def _abandon(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from datetime import UTC, datetime

    from workbench.making.batch import StepNotReady, abandoning, replay

    batch = drawer.workshop.batch(given.batch)
    state = replay(batch.plan, batch.events)
    try:
        event = abandoning(state, datetime.now(UTC))
    except StepNotReady as error:
        raise WorkshopError(f"batch {given.batch}", str(error), "begin another") from error
    drawer.workshop.append(given.batch, event, len(batch.events) + 1)
    words = "It is given up; what was not opened is free again, and what is left is offcuts."
    _say(given, {"batch": given.batch, "state": "abandoned"}, [words])
    return DONE


def _year(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.drawing.year import chart
    from workbench.store.made import all_made, by_month, of_year

    months = by_month(all_made(drawer.workshop), given.year)
    whole = of_year(months)
    data = {
        "year": given.year,
        "cards": whole.cards,
        "sheets": whole.sheets,
        "waste": round(float(whole.waste), 4),
        "minutes": whole.minutes,
        "months": [month.cards for month in months],
    }
    words = (
        f"{given.year}: {counted(whole.cards, 'card')}, {counted(whole.sheets, 'sheet')}, "
        f"{round(100 * whole.waste)} % of them wasted, {whole.minutes} minutes at the table"
    )
    _say(given, data, [words, *chart([month.cards for month in months])])
    return DONE


def _give(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.made import give

    cards = drawer.workshop.batch(given.batch).project.card.count
    if not 1 <= given.card <= cards:
        raise WorkshopError(f"batch {given.batch}", f"it has no card {given.card}", f"1 to {cards}")
    give(drawer.workshop, given.batch, given.card, given.name)
    data = {"batch": given.batch, "card": given.card, "name": given.name}
    _say(given, data, [f"Card {given.card}: {given.name or 'nobody'}"])
    return DONE


# Options


def _asked(parser: ArgumentParser) -> Any:
    return parser.add_subparsers(dest="what", metavar="WHAT", required=True)


def _ask(asked: Any, name: str, summary: str, answer: _Answer) -> ArgumentParser:
    parser: ArgumentParser = asked.add_parser(name, help=summary, description=f"{summary}.")
    parser.add_argument("--json", action="store_true", help="write it as JSON")
    parser.set_defaults(answer=answer)
    return parser


def _file(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="its name ends in .csv or .toml")
    _units(parser)


def _units(parser: ArgumentParser) -> None:
    parser.add_argument("--units", choices=("in", "mm"), default="in", help="of bare numbers")


def _paper_and_sheets(parser: ArgumentParser) -> None:
    parser.add_argument("paper", metavar="PAPER", help="its name or number")
    parser.add_argument("sheets", metavar="SHEETS", type=int)


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


def _pricing_options(parser: ArgumentParser) -> None:
    parser.add_argument("--currency", help="three letters, as EUR")
    parser.add_argument("--hourly", help="what an hour at the table costs")
    parser.add_argument("--margin", type=int, help="hundredths of the price that are to stay")
    parser.add_argument(
        "--extra",
        action="append",
        default=[],
        help='"envelope = 0.12", for a whole batch "glue = 0.35 a batch"; 0 takes it out',
    )


# Words and data


def _say(given: Namespace, data: object, lines: Sequence[str]) -> None:
    if given.json:
        print(json.dumps(data, indent=2, ensure_ascii=False))
        return
    for line in lines:
        print(visible(line))


def _told(given: Namespace, drawer: "Drawer", paper_id: int, what: str) -> int:
    line = drawer.paper(paper_id)
    _say(given, _paper_data(line), [f"{what}: {_paper_words(line)}"])
    return DONE


def _matches(text: str, words: Sequence[str]) -> bool:
    return all(word in text for word in words)


def _counts_data(counts: Any) -> dict[str, int]:
    names = ("bought", "on_hand", "reserved", "used", "thrown")
    return dict(zip(names, counts.as_tuple, strict=True))


def _paper_data(line: "PaperLine") -> dict[str, object]:
    from workbench.store.stock_data import as_builtins

    return {
        "number": line.id,
        "key": line.key,
        **as_builtins(line.paper),
        **_counts_data(line.counts),
    }


def _paper_words(line: "PaperLine") -> str:
    counts, paper = line.counts, line.paper
    words = [f"{line.id:>5}  {line.data.name}, {line.data.kind}, {_size(paper.paper.size)}"]
    words.append(f"{counts.on_hand} free")
    words += [f"{counts.reserved} reserved"] if counts.reserved else []
    words += [f"in {paper.lies}"] if paper.lies else []
    words += [str(paper.price)] if paper.price else []
    return ", ".join(words)


def _offcut_data(line: "OffcutLine") -> dict[str, object]:
    from workbench.measure.writing import write_exact

    size = line.measures
    return {
        "lot": line.id,
        "paper": line.name,
        "width": write_exact(size.width, "mm"),
        "height": write_exact(size.height, "mm"),
        "since": line.since,
        **_counts_data(line.counts),
    }


def _offcut_words(line: "OffcutLine") -> str:
    return f"       offcut of {line.name}, {_size(line.measures)}, {line.counts.on_hand} free"


def _size(size: Any) -> str:
    from workbench.store.stock_rows import size_words

    return size_words(size)


def _preview_data(found: "Preview", *, written: bool) -> dict[str, object]:
    rows = [
        {"place": row.place, "name": row.name, "fate": row.fate, "why": row.why}
        for row in found.rows
    ]
    return {"rows": rows, "refused": len(found.refused), "written": written}


def _preview_words(found: "Preview", *, written: bool) -> Iterator[str]:
    for row in found.rows:
        yield f"{row.place}: {row.name}: {row.fate}" + (f" ({row.why})" if row.why else "")
    if found.refused:
        yield f"{found.in_words}; nothing is taken in before every row can be"
    else:
        yield f"{found.in_words}; " + ("taken in" if written else "give --yes to take it in")


def _possible_data(one: "Possible", file: Path) -> dict[str, object]:
    return {
        "file": str(file),
        "title": one.project.title,
        "cards": one.project.card.count,
        "makeable": one.makeable,
        "missing": [{"paper": short.paper, "sheets": short.sheets} for short in one.shortages],
        "offcuts": one.offcuts,
        "trouble": one.trouble,
    }


def _possible_words(one: "Possible") -> str:
    words = f"{one.makeable:>5} of {one.project.card.count} cards: {one.project.title}"
    if one.trouble:
        return f"{words}; {one.trouble}"
    missing = ", ".join(f"{short.sheets} of {short.paper}" for short in one.shortages)
    words += f"; missing {missing}" if missing else ""
    return words + (f"; uses {counted(one.offcuts, 'offcut')}" if one.offcuts else "")


def _cost_data(cost: "Cost") -> dict[str, object]:
    return {
        "lines": [{"name": name, "money": str(money)} for name, money in cost.rounded],
        "whole": str(cost.whole),
        "a_card": str(cost.by_card[0]),
        "to_ask": str(cost.to_ask),
        "unpriced": list(cost.unpriced),
    }


def _cost_words(cost: "Cost") -> Iterator[str]:
    if not cost.lines:
        return
    for name, money in cost.rounded:
        yield f"  {name}: {money}"
    yield f"  together {cost.whole}, a card {cost.by_card[0]}; at your margin ask {cost.to_ask}"
    if cost.unpriced:
        yield f"  without a price: {', '.join(cost.unpriced)}"


def _state(line: Any) -> str:
    return "abandoned" if line.abandoned else "finished" if line.finished else "under way"


def _csv(header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    import csv
    import io

    from workbench.store.stock_files import safe

    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(header)
    writer.writerows([safe(cell) for cell in row] for row in rows)
    return written.getvalue().rstrip("\n")


def _extra(words: str, currency: str) -> Any:
    from workbench.craft.money import Money
    from workbench.making.costs import Extra

    name, sign, money = words.partition("=")
    if not sign:
        raise WorkshopError(f"“{words}”", "it is no extra", 'write it as "envelope = 0.12"')
    money, _, per = money.partition(" a ")
    return Extra(name.strip(), Money.read(money, currency), "batch" if "batch" in per else "card")


def _currency(drawer: "Drawer") -> str:
    from workbench.store.pricing import pricing_of

    return pricing_of(drawer.workshop).currency


def _trimmer(drawer: "Drawer") -> Any:
    from workbench.store.preferences import preferences_of

    return preferences_of(drawer.workshop).trimmer


def _projects_in(folder: Path, drawer: "Drawer") -> "tuple[list[Path], list[Project]]":
    from workbench.store.errors import ProjectFileError
    from workbench.store.project_file import read_project

    files, projects = [], []
    for file in sorted(folder.glob("*.toml")):
        try:
            projects.append(drawer.matched(read_project(file)))
            files.append(file)
        except ProjectFileError as error:
            print(visible(str(error)), file=sys.stderr)
    return files, projects


@contextmanager
def _refusing() -> Iterator[None]:
    """Say in one line what the nouns of the craft and the planner refuse."""
    from workbench.craft.errors import CraftError
    from workbench.planning import PlanningError

    try:
        yield
    except CraftError as error:
        raise StoreError(error.place, error.wrong, error.right) from error
    except PlanningError as error:
        raise StoreError("the plan", str(error), "change the paper or the pieces") from error
