"""What can be made of the drawer: the projects of a folder, ranked, and what to buy for them."""

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from textual import getters, on, work
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option
from textual.worker import get_current_worker

from workbench.app.base import WorkbenchApp
from workbench.app.commands import ChooseFolder, CloseForm, MarkProject, ShowShopping, bindings
from workbench.app.views import View
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.questions import PathQuestion
from workbench.craft.paper import Size
from workbench.drawing.labels import write_size
from workbench.making.possible import Possible, general_uses, uses
from workbench.making.shopping import Wanted, WantedEnvelope
from workbench.measure.counting import counted
from workbench.store.drawer_rows import DrawerRow
from workbench.store.errors import StoreError

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.store.drawer import Drawer

MOST_PROJECTS = 500


def projects_in(folder: Path, drawer: "Drawer") -> "list[tuple[Path, Project]]":
    """Every sound project file of `folder`, with the stock that it can draw on."""
    from workbench.store.drawer_projects import matched_stock
    from workbench.store.errors import ProjectFileError
    from workbench.store.project_file import read_project

    found = {}
    for path in sorted(folder.glob("*.toml"))[:MOST_PROJECTS]:
        with suppress(ProjectFileError):  # it is said when it is opened
            found[path] = read_project(path)
    return list(zip(found, matched_stock(drawer, [*found.values()]), strict=True))


def usual_folder(app: WorkbenchApp) -> Path:
    """Where the project lies that was opened last, or else where the app was started."""
    try:
        recent = app.workshop.recent() if app.workshop.exists else ()
    except StoreError:
        recent = ()
    return recent[0].path.parent if recent else Path.cwd()


class PossibleScreen(View[None]):
    """One list of projects, the best first; it grows while they are looked through."""

    CSS_PATH = "drawer.tcss"
    BINDINGS = bindings((MarkProject, ShowShopping, ChooseFolder, CloseForm))
    ABOUT = (
        "How many cards of each project the drawer makes now, and what is missing for all of them;"
        " of those that can be made, the ones that use up most offcuts come first. Enter opens a"
        " project. Mark some to see what to buy for them together."
    )
    app = getters.app(WorkbenchApp)

    class Found(Message):
        """Another project was looked at, number `done` of `of`."""

        def __init__(self, one: Possible, path: Path, done: int, of: int) -> None:
            super().__init__()
            self.one, self.path, self.done, self.of = one, path, done, of

    class Finished(Message):
        """All were looked at, or none is there."""

    def __init__(self) -> None:
        super().__init__()
        self._folder = Path()
        self._found: list[tuple[Possible, Path]] = []
        self._marked: set[Path] = set()

    @property
    def drawer(self) -> "Drawer":
        from workbench.store.drawer import Drawer

        return Drawer(self.app.workshop)

    def compose(self) -> ComposeResult:
        yield Static(Content("What can I make?"), classes="heading", id="title")
        yield OptionList(id="rows", markup=False, compact=True)
        yield Keys(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        self._folder = usual_folder(self.app)
        self._begin()

    def _begin(self) -> None:
        self._found, self._marked = [], set()
        self.query_one(OptionList).clear_options()
        self.query_one(OptionList).focus()
        self._look()

    @work(thread=True, exclusive=True, group="possible")
    def _look(self) -> None:
        from workbench.making.possible import possible
        from workbench.planning import Cancelled, Watch

        worker = get_current_worker()
        try:
            pairs = projects_in(self._folder, self.drawer)
            projects = [project for _, project in pairs]
            watch = Watch(stop=lambda: worker.is_cancelled)
            for number, one in possible(projects, self.app.trimmer(), watch):
                path = pairs[number][0]
                self.post_message(self.Found(one, path, number + 1, len(pairs)))
        except Cancelled:
            return
        except StoreError as error:
            self.app.call_from_thread(self.app.say_wrong, str(error))
        self.post_message(self.Finished())

    @on(Found)
    def _take_up(self, message: Found) -> None:
        self._found.append((message.one, message.path))
        self._found.sort(key=lambda pair: pair[0].rank)
        words = f"{message.done} of {counted(message.of, 'project')} looked through …"
        self._show(words if message.done < message.of else "")

    @on(Finished)
    def _finish(self) -> None:
        self._show("" if self._found else "there are no projects here")

    def _show(self, words: str) -> None:
        title = f"What can I make? {self._folder}" + (f": {words}" if words else "")
        self.query_one("#title", Static).update(Content(title))
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        options.clear_options()
        options.add_options([Option(Content(self._line(*pair))) for pair in self._found])
        if self._found:
            options.highlighted = min(at, len(self._found) - 1)

    def _line(self, one: Possible, path: Path) -> str:
        mark = "✓" if path in self._marked else " "
        return f"{mark} {in_words(one)}"

    @on(OptionList.OptionSelected)
    def _open(self, event: OptionList.OptionSelected) -> None:
        from workbench.app.opening import open_file

        path = self._found[event.option_index][1]
        if self.app.session is None:
            self.dismiss()
            open_file(self.app, path)
        else:
            self.notify("Close the open project first.", markup=False)

    def action_mark_project(self) -> None:
        at = self.query_one(OptionList).highlighted
        if at is not None:
            self._marked ^= {self._found[at][1]}
            self._show("")

    @work
    async def action_choose_folder(self) -> None:
        question = PathQuestion("Look at the projects of a folder", self._folder, "Look")
        if path := await self.app.push_screen_wait(question):
            self._folder = path if path.is_dir() else path.parent
            self._begin()

    def action_show_shopping(self) -> None:
        chosen = [
            one.project
            for one, path in self._found
            if path in self._marked or (not self._marked and not one.complete)
        ]
        if chosen:
            self.app.push_screen(ShoppingScreen(chosen))
        else:
            self.notify("Nothing needs to be bought.", markup=False)

    def action_close_form(self) -> None:
        self.workers.cancel_group(self, "possible")
        self.dismiss()


class WordsScreen(View[None]):
    """A page of words under a heading."""

    CSS_PATH = "drawer.tcss"
    BINDINGS = bindings((CloseForm,))
    ABOUT: str
    HEADING: str
    app = getters.app(WorkbenchApp)

    def compose(self) -> ComposeResult:
        yield Static(Content(self.HEADING), classes="heading", id="title")
        with VerticalScroll(id="page"):
            yield Static("…", id="said", markup=False)
        yield Keys(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        self.query_one("#page").focus()
        self._work()

    @work(thread=True, exclusive=True, group="words")
    def _work(self) -> None:
        from workbench.planning import Cancelled, PlanningError

        try:
            words = "\n".join(self.lines())
        except Cancelled:
            return
        except (StoreError, PlanningError) as error:
            words = str(error)
        self.app.call_from_thread(self._say, words)

    def lines(self) -> Sequence[str]:
        """The words, worked out in a thread. Raises StoreError, PlanningError."""
        raise NotImplementedError

    def _say(self, words: str) -> None:
        if self.is_mounted:
            self.query_one("#said", Static).update(Content(words))

    def action_close_form(self) -> None:
        self.workers.cancel_group(self, "words")
        self.dismiss()


class ShoppingScreen(WordsScreen):
    """What to buy for several projects together."""

    HEADING = "Shopping list"
    ABOUT = (
        "What to buy to make all these projects, one after the other: each uses what the ones"
        " before leave of the papers they share, offcuts too. Envelopes are those that each card"
        " goes in, unless they are cut from paper; how many of them you have nobody counts."
    )

    def __init__(self, projects: "Sequence[Project]") -> None:
        super().__init__()
        self._projects = projects

    def on_mount(self) -> None:
        self._desk = self.app.post_desk()

    def lines(self) -> Sequence[str]:
        from workbench.making.shopping import envelopes_wanted, shopping_list
        from workbench.planning import Watch

        worker = get_current_worker()
        watch = Watch(stop=lambda: worker.is_cancelled)
        wanted = shopping_list(self._projects, self.app.trimmer(), watch)
        lines = [self._line(one) for one in wanted] or ["No paper needs to be bought."]
        envelopes = envelopes_wanted(self._projects, self._desk)
        return [*lines, "", *map(self._envelope_line, envelopes)]

    def _line(self, one: Wanted) -> str:
        size = write_size(one.paper.size, self.app.unit)
        return f"{one.sheets:>4} × {one.paper.name}, {size}\n       for {', '.join(one.projects)}"

    def _envelope_line(self, one: WantedEnvelope) -> str:
        envelope = one.envelope
        size = write_size(Size(envelope.short, envelope.long), self.app.unit)
        said = f"{one.count:>4} × envelope {envelope.name}, {size}"
        return f"{said}\n       for {', '.join(one.projects)}"


class UsesScreen(WordsScreen):
    """Where a paper or an offcut came from, and where it could go."""

    HEADING = "Where it could go"
    ABOUT = (
        "Where it came from, and every piece of your projects that could be cut from it, the one"
        " that fits most often first."
    )

    def __init__(self, row: DrawerRow) -> None:
        super().__init__()
        self._row = row

    def lines(self) -> Sequence[str]:
        from workbench.store.drawer import Drawer

        drawer, row = Drawer(self.app.workshop), self._row
        offcut = row.size if row.offcut else None
        thing = "offcut" if offcut else "sheet"
        lines = [f"{row.paper.data.name}, {write_size(row.size, self.app.unit)}", ""]
        if row.offcut:
            for origin in drawer.origins(row.offcut.id):
                whence = f"“{origin.title}”" if origin.batch else "put in by hand"
                lines.append(f"{origin.offcuts} from {whence}, {origin.at.astimezone():%d %b %Y}")
            lines += [f"good for {name} of any card" for name in general_uses(row.size)]
            lines.append("")
        projects = [project for _, project in projects_in(usual_folder(self.app), drawer)]
        found = uses(row.paper.paper.paper, projects, offcut)
        lines += [
            f"{use.count:>4} a {thing}: {use.piece} of “{use.project}”"
            + ("" if use.needed else ", if it fits")
            for use in found
        ]
        return lines if found else [*lines, "No piece of your projects could be cut from it."]


def in_words(one: Possible) -> str:
    """ "9 of 12 Title", and below it what is missing, or what it uses up."""
    head = f"{one.makeable:>4} of {one.project.card.count:<4} {one.project.title}"
    if one.trouble:
        return f"{head}\n             {one.trouble}"
    missing = ", ".join(f"{short.sheets} of {short.paper}" for short in one.shortages)
    if missing:
        return f"{head}\n             missing {missing}"
    return f"{head}\n             uses {counted(one.offcuts, 'offcut')}" if one.offcuts else head
