"""The command line: one thin function a command."""

import os
import sys
import time
from argparse import ArgumentParser, ArgumentTypeError, Namespace, RawDescriptionHelpFormatter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from workbench.measure.counting import counted

if TYPE_CHECKING:
    from rich.console import RenderableType

    from workbench.craft.paper import Paper
    from workbench.craft.project import Project
    from workbench.craft.trimmer import Trimmer
    from workbench.craft.wish import Wish
    from workbench.planning import Plan, Watch
    from workbench.post import CardByPost, Desk
    from workbench.publish.adaptation import Wishes
    from workbench.store.batch_rows import Batch
    from workbench.store.preferences import Preferences

DONE = 0
INTERNAL_FAULT = 1
BAD_INPUT = 2
NOT_ENOUGH_PAPER = 3
INTERRUPTED = 130  # what a shell gives for a program ended by Ctrl-C
PATIENCE = 0.5  # seconds that pass before it is shown what goes on
_STREAMS = (0, 1, 2)  # input, output, errors
_LAST_PORT = 65535
_SERVE_CAUTION = """\
Caution: everyone in the same network can reach this address. Whoever has the access word can do
all that you can do here: see and change projects and batches, read and write their files. What
passes is not encrypted, the word included: use a network of people you trust, and end it after."""


class CommandError(Exception):
    """Raised for a command that cannot be obeyed as it was given; its text is one line."""


@dataclass(frozen=True, slots=True)
class Command:
    """What a command is called, what its help says, and the function that does it."""

    name: str
    summary: str
    example: str
    run: Callable[[Namespace], int]
    options: Callable[[ArgumentParser], object]
    takes: str = "FILE"


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks; returns the exit code. No traceback reaches the maker."""
    from workbench.store.errors import StoreError, visible

    words = list(sys.argv[1:] if arguments is None else arguments)
    try:
        code = _obey(words)
        print(end="", flush=True)
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _let_the_pipe_be()
        return DONE
    except (CommandError, StoreError) as error:
        print(visible(str(error)), file=sys.stderr)
        return BAD_INPUT
    except OSError as error:  # kept files have errors of their own: this is the output's
        print(f"trimtally: the output cannot be written ({error.strerror})", file=sys.stderr)
        return INTERNAL_FAULT
    except Exception as error:
        from workbench.store.diagnostics import fault_in_words

        print(fault_in_words(error), file=sys.stderr)
        return INTERNAL_FAULT
    return code


def open_app(given: Namespace) -> int:
    from workbench.app.app import run
    from workbench.store.project_file import read_project

    if given.file:
        read_project(given.file)  # a bad file is refused here, where the refusal stays in sight
    if not all(map(os.isatty, _STREAMS)):
        raise CommandError(
            "trimtally: the workbench opens only in a terminal; see trimtally --help"
        )
    return INTERNAL_FAULT if run(given.file) else DONE


def plan(given: Namespace) -> int:
    from workbench.store.project_file import read_project

    started = time.monotonic()
    project = _with_free_stock(read_project(given.file))
    preferences = _preferences()
    trimmer, desk = preferences.trimmer, _desk(preferences)
    with _refusing(given.file), _watched() as watch:
        made = _planned(project, trimmer, given.wish, watch)
        watch.stage("writing it down")
        text = _json(made, project, desk) if given.json else _report(made, project, trimmer, desk)
    print(text)
    if made.shortages:
        print(_shortage(made), file=sys.stderr)
        _print_changes(given.file, project, trimmer)
        print(f"all of this took {time.monotonic() - started:.1f} s", file=sys.stderr)
        return NOT_ENOUGH_PAPER
    return DONE


def check(given: Namespace) -> int:
    from workbench.craft.checks import findings
    from workbench.planning import check_project
    from workbench.post.doubts import postal_findings
    from workbench.store.errors import visible
    from workbench.store.project_file import read_project

    project = read_project(given.file)
    preferences = _preferences()
    with _refusing(given.file), _watched() as watch:
        watch.stage("trying the rules of mixing")
        check_project(project, preferences.trimmer)
    counts = (
        counted(project.card.count, "card"),
        counted(len(project.papers), "paper"),
        counted(len(project.pieces), "piece"),
    )
    print(f"{visible(str(given.file))} is a sound project: {', '.join(counts)}")
    doubts = findings(project, preferences.trimmer, preferences.tolerance)
    for doubt in (*doubts, *postal_findings(project, _desk(preferences))):
        print(visible(f"  in doubt: {doubt} To mend: {doubt.mend}."))
    return DONE


def guide(given: Namespace) -> int:
    from workbench.making.plan_index import PlanIndex
    from workbench.publish.output import OutputError, Source, write, write_subtitles
    from workbench.publish.pages import usual_page
    from workbench.publish.writer import make_recipe
    from workbench.store.errors import visible
    from workbench.store.guide_picture import guide_picture
    from workbench.store.project_file import read_project

    project = read_project(given.file)
    try:
        if given.output.suffix.casefold() == ".vtt":
            batch = _last_finished(given.file)
            write_subtitles(PlanIndex(batch.project, batch.plan), batch.events, given.output)
            print(f"written: {visible(str(given.output))}")
            return DONE
        preferences = _preferences()
        trimmer, desk = preferences.trimmer, _desk(preferences)
        with _refusing(given.file), _watched() as watch:
            made = _planned(project, trimmer, None, watch)
            watch.stage("typesetting")
            first = given.units or project.units
            bench = PlanIndex(project, made)
            page = given.paper or usual_page(first)
            picture = guide_picture(project.imprint, given.file)
            source = Source(bench, make_recipe(bench, trimmer, first, picture, desk), page)
            written = write(source, given.only, given.output)
    except OutputError as error:
        raise CommandError(str(error)) from error
    for file in written:
        print(f"written: {visible(str(file))}")
    if made.shortages:
        print(f"{_shortage(made)}; the guide counts it as bought", file=sys.stderr)
    return DONE


def adapt(given: Namespace) -> int:
    from workbench.publish.adaptation import AdaptationError
    from workbench.publish.adaptation import adapt as adapted
    from workbench.store.errors import visible
    from workbench.store.project_file import read_project, write_project

    project = read_project(given.file)
    trimmer = _preferences().trimmer
    try:
        with _refusing(given.file), _watched() as watch:
            done = adapted(project, _wishes(project, given), trimmer, watch)
    except AdaptationError as error:
        raise CommandError(f"{given.file}: {error}") from error
    write_project(given.output, done.after.project)
    print(f"written: {visible(str(given.output))}")
    for change in done.changes():
        print(visible(f"  {change}"))
    return DONE


def _wishes(project: "Project", given: Namespace) -> "Wishes":
    """What the options of `adapt` say. Raises CommandError for a size that cannot be read."""
    from workbench.craft.sheet_sizes import read_card, read_sheet
    from workbench.measure.length import MeasureError
    from workbench.publish.adaptation import Wishes

    unit = given.units or project.units
    try:
        return Wishes(
            unit=given.units,
            sheet=read_sheet(given.sheet, unit) if given.sheet else None,
            patterned=read_sheet(given.patterned, unit) if given.patterned else None,
            count=given.count,
            card=read_card(given.card, unit) if given.card else None,
            stand_ins=_stand_ins(project, given) if given.papers_from else {},
        )
    except MeasureError as error:
        raise CommandError(f"trimtally adapt: {error}") from error


def _stand_ins(project: "Project", given: Namespace) -> dict[str, "Paper"]:
    """The reader's own papers by the papers they stand in for: as suggested, or as `--use` says."""
    from workbench.publish.stand_ins import suggest
    from workbench.store.errors import visible
    from workbench.store.project_file import read_project

    own = {paper.name: paper for paper in read_project(given.papers_from).papers}
    asked = dict(given.use)
    for name in (*asked.values(), *asked):
        if name not in own and name not in {paper.name for paper in project.papers}:
            raise CommandError(f"{given.papers_from}: no paper is called “{name}”")
    chosen = {}
    for found in suggest(project, tuple(own.values())):
        name = found.paper.name
        one = own.get(asked[name]) if name in asked else found.own
        if one:
            chosen[name] = one
        why = "as you say" if name in asked else found.words
        print(visible(f"{name}: {one.name if one else 'kept'} ({why})"))
    return chosen


def post(given: Namespace) -> int:
    from workbench.craft.errors import CraftError
    from workbench.post import card_by_post, suggestions
    from workbench.store.project_file import read_project

    project = read_project(given.file)
    desk = _desk(_preferences("The usual settings are used."))
    try:
        card = card_by_post(project, desk, given.to)
    except CraftError as error:
        raise CommandError(f"{given.file}: {error}") from error
    if given.amend:
        print(_amended(card.post.key))
        return DONE
    found = tuple(suggestions(project, desk, card))
    if given.json:
        import json

        from workbench.store.post_data import card_to_data, suggestion_to_data

        data = card_to_data(card, project.units)
        data["cheaper"] = [suggestion_to_data(each) for each in found]
        print(json.dumps(data, indent=2))
        return DONE
    from rich.console import Group
    from rich.text import Text

    from workbench.drawing.post import post_report

    title = Text(f"{project.title}, one card by post\n", style="bold")
    print(_drawn(lambda _: Group(title, post_report(card, project.units, found))))
    return DONE


def serve(given: Namespace) -> int:
    from workbench.app.tablet import server
    from workbench.app.tablet.guard import new_word
    from workbench.store.project_file import read_project

    if given.file:
        read_project(given.file)
    try:
        listener = server.listen(given.address, given.port)
    except server.AddressError as error:
        raise CommandError(f"trimtally serve: {error}") from error
    private = server.is_private(listener)
    if given.no_word and not private:
        raise CommandError(
            "trimtally serve: --no-word is for this machine alone; others come in by a word"
        )
    word = None if given.no_word else new_word()
    if not private:
        print(_SERVE_CAUTION, file=sys.stderr)
    print(f"Open {server.where(listener)} in a browser; Ctrl-C here ends it.", flush=True)
    if word:
        print(f"The access word, shown only once: {word}", flush=True)
    server.serve(listener, word, given.file)
    return INTERRUPTED


def stock(given: Namespace) -> int:
    from workbench.stock_commands import answer

    with _watched() as watch:
        return answer(given, watch)


def backup(given: Namespace) -> int:
    from workbench.stock_commands import back_up

    return back_up(given)


def restore(given: Namespace) -> int:
    from workbench.stock_commands import restore

    return restore(given)


def _stock_options(parser: ArgumentParser) -> None:
    from workbench.stock_commands import stock_options

    stock_options(parser)


def _batch_options(parser: ArgumentParser) -> None:
    from workbench.stock_commands import batch_options

    batch_options(parser)


def _backup_options(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="where to keep the copy")
    parser.add_argument("--over", action="store_true", help="write over a file that is there")


def _restore_options(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file",
        metavar="FILE",
        type=Path,
        nargs="?",
        help="a backup; without it those that were made by themselves are listed",
    )


def _file(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a project file")


def _file_if_any(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, nargs="?", help="a project file to open")


def _serve_options(parser: ArgumentParser) -> None:
    _file_if_any(parser)
    parser.add_argument(
        "--address",
        default="127.0.0.1",
        help="where to be reached: only from this machine if not given; the address of this "
        "machine in a network for a tablet there",
    )
    parser.add_argument(
        "--no-word",
        action="store_true",
        help="ask for no access word, where nobody else uses this machine",
    )
    parser.add_argument("--port", type=_port, default=8000, help="8000 if not given")


def _post_options(parser: ArgumentParser) -> None:
    _file(parser)
    parser.add_argument(
        "--to",
        metavar="POST",
        help="us, uk, ca, de, world, or one of your own; if not given, what the project or your "
        "settings say, else us for a project in inches and world for one in millimetres",
    )
    parser.add_argument("--json", action="store_true", help="write it as JSON")
    parser.add_argument(
        "--amend",
        action="store_true",
        help="put a copy of this post's rules and of the envelopes in your workshop, to change "
        "them there, and say where",
    )


def _port(word: str) -> int:
    if not (word.isdecimal() and int(word) <= _LAST_PORT):
        raise ArgumentTypeError(f"a port is a number up to {_LAST_PORT}, not {word!r}")
    return int(word)


def _plan_options(parser: ArgumentParser) -> None:
    from workbench.planning import WISHES

    _file(parser)
    parser.add_argument("--json", action="store_true", help="write the plan as JSON")
    words = "; ".join(f"{wish}: {words}" for wish, words in WISHES.items())
    parser.add_argument(
        "--wish",
        choices=tuple(WISHES),
        default=None,
        help=f"what the plan should be best at, all in the fewest sheets ({words}; what the "
        "project says if not given, else time)",
    )


def _guide_options(parser: ArgumentParser) -> None:
    from workbench.measure.length import UNITS
    from workbench.publish.pages import PAGE_SIZES

    _file(parser)
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        type=Path,
        required=True,
        help="the file to write; how its name ends says what it holds: pdf, png (pages), svg "
        "(drawings), txt, md, html (one web page), or vtt (subtitles of the last finished batch)",
    )
    parser.add_argument(
        "--paper",
        choices=PAGE_SIZES,
        help="the paper of the pages; if not given Letter for inches, A4 for millimetres",
    )
    parser.add_argument(
        "--units", choices=UNITS, help="the unit that comes first; the project's if not given"
    )
    parser.add_argument(
        "--only",
        choices=("guide", "cards", "cues"),
        default="guide",
        help="cards: all cards of the batch in one picture (png or svg); cues: what to say while "
        "it is made (txt); guide if not given",
    )


def _adapt_options(parser: ArgumentParser) -> None:
    from workbench.measure.length import UNITS

    _file(parser)
    parser.add_argument(
        "-o", "--output", metavar="NEW", type=Path, required=True, help="the project file to write"
    )
    parser.add_argument("--units", choices=UNITS, help="the unit of your rule")
    parser.add_argument("--sheet", help="your sheets of card: A4, Letter, or two lengths")
    parser.add_argument("--patterned", help='your printed sheets: "6 x 6 in", A4, "12 x 12 in"')
    parser.add_argument("--count", type=_cards, help="how many cards to make")
    parser.add_argument("--card", help='the size of the front: A6, "US A2", or two lengths')
    parser.add_argument(
        "--papers-from",
        metavar="MINE",
        type=Path,
        help="a project file with your own papers, to stand in for those named",
    )
    parser.add_argument(
        "--use",
        action="append",
        type=_pair,
        default=[],
        metavar="PAPER=MINE",
        help="which of your papers stands in for one, instead of the suggestion",
    )


def _cards(word: str) -> int:
    from workbench.craft.card import MOST_CARDS

    if not (word.isdecimal() and 1 <= int(word) <= MOST_CARDS):
        raise ArgumentTypeError(f"a count is a number from 1 to {MOST_CARDS}, not {word!r}")
    return int(word)


def _pair(word: str) -> tuple[str, str]:
    paper, sign, own = word.partition("=")
    if not sign:
        raise ArgumentTypeError(f'write "their paper=my paper", not {word!r}')
    return paper.strip(), own.strip()


OPEN = Command("", "open the workbench", "trimtally lantern_walk.toml", open_app, _file_if_any)
COMMANDS = {
    command.name: command
    for command in (
        Command(
            "plan",
            "plan a whole batch: what to take, where to cut, how to mix the prints",
            "trimtally plan lantern_walk.toml",
            plan,
            _plan_options,
        ),
        Command(
            "check",
            "say whether a project file is sound",
            "trimtally check lantern_walk.toml",
            check,
            _file,
        ),
        Command(
            "guide",
            "write the recipe of a batch for others: pages, pictures, text or a web page",
            "trimtally guide lantern_walk.toml -o lantern_walk.pdf",
            guide,
            _guide_options,
        ),
        Command(
            "adapt",
            "plan a card anew for other paper, another unit, count or size",
            "trimtally adapt lantern_walk.toml --units mm --sheet A4 -o mine.toml",
            adapt,
            _adapt_options,
        ),
        Command(
            "post",
            "say what a card weighs, which envelope takes it and how it travels by post",
            "trimtally post lantern_walk.toml --to uk",
            post,
            _post_options,
        ),
        Command(
            "stock",
            "keep the paper drawer: what lies there, what it makes, what to buy",
            "trimtally stock list stripe",
            stock,
            _stock_options,
            "WHAT",
        ),
        Command(
            "batch",
            "list, show, resume or abandon batches, and count what was made",
            "trimtally batch list",
            stock,
            _batch_options,
            "WHAT",
        ),
        Command(
            "backup",
            "copy the whole workshop to one file",
            "trimtally backup workshop-of-march.sqlite",
            backup,
            _backup_options,
        ),
        Command(
            "restore",
            "put a backup of the workshop back",
            "trimtally restore workshop-of-march.sqlite",
            restore,
            _restore_options,
        ),
        Command(
            "serve",
            "open the workbench in a browser, as on a tablet beside the trimmer",
            "trimtally serve lantern_walk.toml",
            serve,
            _serve_options,
        ),
    )
}


class _Parser(ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise CommandError(f"{self.prog}: {message}; see {self.prog} --help")


def _obey(words: list[str]) -> int:
    command = COMMANDS.get(words[0], OPEN) if words else OPEN
    try:
        given = _parser(command).parse_args(words[1:] if command.name else words)
    except SystemExit:  # help was asked for and given
        return DONE
    if command is not OPEN:
        from workbench.store.diagnostics import log_if_asked

        log_if_asked(to_file=False)
    return command.run(given)


def _parser(command: Command) -> ArgumentParser:
    epilog = f"example:\n  {command.example}"
    if command is OPEN:
        rows = [
            f"  {f'trimtally {name} {one.takes}':<24} {one.summary}"
            for name, one in COMMANDS.items()
        ]
        epilog += "\n\nother commands, each with its own --help:\n" + "\n".join(rows)
    parser = _Parser(
        prog=f"trimtally {command.name}".strip(),
        description=f"Trimtally: {command.summary}.",
        epilog=epilog,
        formatter_class=RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    if command is OPEN:
        from importlib.metadata import version

        said = f"trimtally {version('trimtally')}"
        parser.add_argument("--version", action="version", version=said, help="say which it is")
    command.options(parser)
    return parser


def _let_the_pipe_be() -> None:
    # Python writes what is left of standard output when it ends; nobody reads that any more.
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _with_free_stock(project: "Project") -> "Project":
    """The project with what is free now of the papers that it took from the maker's drawer."""
    from workbench.store.database import Workshop
    from workbench.store.drawer import Drawer

    workshop = Workshop.open()
    if not (workshop.exists and any(paper.stock for paper in project.papers)):
        return project
    return Drawer(workshop).fresh(project)


def _preferences(instead: str = "Planned for a common trimmer instead.") -> "Preferences":
    """The maker's own settings, without making a workshop only to look for them.

    Where the workshop cannot be used, that is said, and what is done `instead`.
    """
    from workbench.store.database import Workshop
    from workbench.store.errors import StoreError, visible
    from workbench.store.preferences import Preferences, preferences_of

    try:
        return preferences_of(Workshop.open())
    except StoreError as error:
        print(visible(f"{error}. {instead}"), file=sys.stderr)
        return Preferences()


def _desk(preferences: "Preferences") -> "Desk":
    """The posts and envelopes of the workshop, those built in where its own cannot be read."""
    from workbench.post import Desk
    from workbench.store.database import Workshop
    from workbench.store.errors import StoreError, visible
    from workbench.store.post_desk import desk_of

    try:
        return desk_of(Workshop.open(), preferences)
    except StoreError as error:
        print(visible(f"{error}. Only the built-in rules are used."), file=sys.stderr)
        return Desk(to=preferences.post, clearance=preferences.clearance)


def _last_finished(file: Path) -> "Batch":
    """The batch of that file that was finished last. Raises CommandError where there is none."""
    from workbench.store.database import Workshop

    workshop = Workshop.open()
    lines = workshop.batches() if workshop.exists else ()
    finished = [
        line
        for line in lines
        if line.path and line.path.resolve() == file.resolve() and line.done == line.steps
    ]
    if not finished:
        raise CommandError(f"{file}: no batch of it is finished yet, so nothing says when to speak")
    return workshop.batch(max(finished, key=lambda line: line.worked).id)


@contextmanager
def _refusing(file: Path) -> Iterator[None]:
    """Say of which file it is that no amount of paper would do."""
    from workbench.planning import PlanningError

    try:
        yield
    except PlanningError as error:
        raise CommandError(f"{file}: {error}") from error


def _planned(project: "Project", trimmer: "Trimmer", wish: "Wish | None", watch: "Watch") -> "Plan":
    """The plan that the app shows for the same wish: the best at it of all side by side."""
    from workbench.planning import find_alternatives, make_plan, wished

    wish = wish or project.wish
    if wish == "time":
        return make_plan(project, trimmer, watch)
    return wished(find_alternatives(project, trimmer, watch), wish)


@contextmanager
def _watched() -> Iterator["Watch"]:
    """Show each stage while it lasts, where somebody can see it and has waited for a while."""
    from workbench.planning import Watch

    if not sys.stderr.isatty():
        yield Watch()
        return
    from threading import Timer

    from rich.console import Console
    from rich.text import Text

    status = Console(stderr=True).status("")

    def say(stage: str) -> None:
        words = f"{stage} … (Ctrl-C ends it)"
        status.update(Text(words, no_wrap=True, overflow="ellipsis"))

    showing = Timer(PATIENCE, status.start)
    showing.start()
    try:
        yield Watch(say)
    finally:
        showing.cancel()
        showing.join()
        status.stop()


def _json(made: "Plan", project: "Project", desk: "Desk") -> str:
    import json

    from workbench.store.plan_data import plan_to_data
    from workbench.store.post_data import card_to_data

    card = _card(project, desk)
    data = plan_to_data(made, project.units)
    data["card"] = card and card_to_data(card, project.units)
    return json.dumps(data, indent=2)


def _card(project: "Project", desk: "Desk") -> "CardByPost | None":
    """The card by post; None, and why on standard error, where it cannot be as it is asked for."""
    from workbench.craft.errors import CraftError
    from workbench.post import card_by_post
    from workbench.store.errors import visible

    try:
        return card_by_post(project, desk)
    except CraftError as error:
        print(visible(str(error)), file=sys.stderr)
        return None


def _amended(key: str) -> str:
    from workbench.post.rule_files import BUILT_IN, ENVELOPES
    from workbench.store.database import Workshop
    from workbench.store.errors import visible
    from workbench.store.post_desk import copy_rules

    keys = (key, ENVELOPES) if key in BUILT_IN else (ENVELOPES,)
    paths = [visible(str(copy_rules(Workshop.open(), each))) for each in keys]
    return "\n".join(("Change these files; they take the place of what is built in:", *paths))


def _report(made: "Plan", project: "Project", trimmer: "Trimmer", desk: "Desk") -> str:
    from workbench.drawing.report import report
    from workbench.making.plan_index import PlanIndex

    card = _card(project, desk)
    return _drawn(lambda columns: report(PlanIndex(project, made), trimmer, columns, card))


def _drawn(draw: "Callable[[int], RenderableType]") -> str:
    """What `draw` makes for so many columns, as text for the terminal or the file behind it."""
    from rich.console import Console

    from workbench.drawing.graphemes import steady

    # A terminal that lacks a character shows one that is like it, and the plan goes on.
    from workbench.drawing.plain_text import HANDLER, ascii_locale

    if reconfigure := getattr(sys.stdout, "reconfigure", None):
        reconfigure(encoding="ascii" if ascii_locale() else None, errors=HANDLER)
    console = Console(highlight=False)
    # Not printed by rich itself, which ends the program when a pipe breaks.
    with console.capture() as drawn:
        console.print(draw(console.width))
    return "\n".join(line.rstrip() for line in steady(drawn.get()).splitlines())


def _shortage(made: "Plan") -> str:
    sheets = [f"{counted(short.sheets, 'sheet')} of {short.paper}" for short in made.shortages]
    return (
        f"not enough paper: buy {', '.join(sheets)}; "
        f"with what is there {made.makeable} of {counted(made.cards, 'card')} can be made"
    )


def _print_changes(file: Path, project: "Project", trimmer: "Trimmer") -> None:
    """Say, as they are found, which single changes would do as well as buying."""
    from workbench.planning import find_suggestions
    from workbench.store.errors import visible

    with _refusing(file), _watched() as watch:
        for number, change in enumerate(find_suggestions(project, trimmer, watch)):
            if number == 0:
                print("any one of these would make it enough:", file=sys.stderr)
            print(f"  {visible(change.words)}", file=sys.stderr)
