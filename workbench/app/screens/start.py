"""The start page: what waits to be finished, what was open last, the samples."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from textual import getters, work
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from workbench.app.base import WorkbenchApp
from workbench.app.commands import ChooseFile, NewCard, ShowBatches, ShowDrawer, bindings
from workbench.app.messages import BatchChosen
from workbench.app.views import View
from workbench.app.widgets.footer import Keys
from workbench.drawing.canvas import shortened, width_of

if TYPE_CHECKING:
    from workbench.store.batch_rows import BatchLine
    from workbench.store.database import Recent
    from workbench.store.drafts import Draft

CAUTION = (
    "Blades are sharp: close the guard, hold the paper away from the blade's way, keep small hands"
    " off. Follow your trimmer's manual and the labels of glues and sprays."
)
TITLE_WIDTH = 29
BELOW = "\n    "
MARGINS = 8
"""What the list leaves free at its sides, for a scroll bar, and between a title and its words."""


class StartScreen(View[None]):
    """One list of everything that can be opened; Enter or a click opens it."""

    BINDINGS = bindings((NewCard, ChooseFile, ShowBatches, ShowDrawer))
    ABOUT = (
        "Choose what to open: a batch that waits to be finished, a project you had open, a new"
        " card or a sample. A sample is yours to change; saving it asks for a file of its own."
    )
    app = getters.app(WorkbenchApp)

    def __init__(self) -> None:
        super().__init__()
        self._openings: dict[str, Callable[[], object]] = {}
        self._unread = False

    def compose(self) -> ComposeResult:
        yield Static(Content("Trimtally"), id="name")
        yield Static(Content("Plan, cut, mix and assemble a batch of cards."), id="job")
        yield OptionList(id="list", markup=False, compact=True)
        yield Static(Content(CAUTION), id="caution")
        yield Keys(show_command_palette=False)

    def on_screen_resume(self) -> None:
        # After the first paint: the lists come from disk.
        self.call_after_refresh(self._fill)

    def on_resize(self) -> None:
        """Ends of paths fill the width that there is."""
        if self._openings:
            at_hand = self.query_one(OptionList).highlighted
            self._fill()
            self.query_one(OptionList).highlighted = at_hand

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._openings[event.option_id or ""]()

    @work
    async def action_choose_file(self) -> None:
        from workbench.app.widgets.questions import PathQuestion

        path = await self.app.push_screen_wait(PathQuestion("Open a project file", None, "Open"))
        if path:
            self._open_file(path)

    def _resume(self, batch_id: int) -> None:
        self.post_message(BatchChosen(batch_id))

    def _open_file(self, path: Path) -> None:
        from workbench.app.opening import open_file

        open_file(self.app, path)

    def _open_sample(self, path: Path) -> None:
        from workbench.app.opening import open_sample

        open_sample(self.app, path)

    def _walk(self) -> None:
        from workbench.app.opening import walk_through

        walk_through(self.app)

    @work
    async def _go_on_with(self, draft: "Draft") -> None:
        from workbench.app.opening import go_on_with

        if await go_on_with(self.app, draft):
            self._fill()

    def _fill(self) -> None:
        self._openings.clear()
        options = self.query_one(OptionList)
        options.clear_options()
        options.add_options(self._options())
        options.action_first()

    def _options(self) -> Iterator[Option]:
        batches, projects, unsaved = self._from_workshop()
        new = not (batches or projects or unsaved or self._unread)
        if new:
            yield from self._samples()
        waiting = [batch for batch in batches if not batch.over and not batch.away]
        if waiting:
            yield _heading("Resume")
        for batch in waiting:
            resuming = partial(self._resume, batch.id)
            yield self._option(batch.title, _progress(batch), resuming)
        if unsaved:
            yield _heading("Not saved")
        for draft in unsaved:
            kept = f"changes of {draft.kept.astimezone():%d %b %Y, %H:%M}"
            yield self._option(draft.title, kept, partial(self._go_on_with, draft))
        if self._unread:
            mended = "for your batches and projects, when that is mended"
            yield self._option("Look again", mended, self._fill)
        yield _heading("Projects")
        for project in projects:
            opening = partial(self._open_file, project.path)
            yield self._option(project.title, self._end_of(str(project.path)), opening)
        yield self._option("New card", "from a layout, in the size of your envelope", self._begin)
        yield self._option("Open a file", "by its path", self._choose)
        yield self._option("Paper drawer", "all your papers and offcuts", self.action_show_drawer)
        if batches:
            records = "their records; put away or remove one"
            yield self._option(f"All batches ({len(batches)})", records, self.action_show_batches)
        if not new:
            yield from self._samples()

    def _samples(self) -> Iterator[Option]:
        from workbench.app.samples import samples

        yield _heading("Samples")
        walk = "a small batch, from papers to the first cut"
        yield self._option("A short walk", walk, self._walk)
        for sample in samples():
            opening = partial(self._open_sample, sample.path)
            yield self._option(sample.title, sample.about, opening)

    def _from_workshop(self) -> "tuple[Sequence[BatchLine], Sequence[Recent], Sequence[Draft]]":
        """The batches, the projects opened last, and what was not saved of any."""
        from workbench.store.drafts import drafts
        from workbench.store.errors import StoreError

        workshop, self._unread = self.app.workshop, False
        if not workshop.exists:
            return (), (), ()
        try:
            return workshop.batches(), workshop.recent(), drafts(workshop)
        except StoreError as error:
            self._unread = True
            self.app.say_wrong(str(error))
            return (), (), ()

    @work
    async def action_new_card(self) -> None:
        from workbench.app.screens.start_form import NewCardForm

        project = await self.app.push_screen_wait(NewCardForm())
        if project:
            from workbench.app.opening import begin_project

            begin_project(self.app, project)

    def action_show_batches(self) -> None:
        self.app.show_page("batches")

    def action_show_drawer(self) -> None:
        self.app.show_page("drawer")

    def _begin(self) -> None:
        self.action_new_card()

    def _choose(self) -> None:
        self.action_choose_file()

    @property
    def _room(self) -> int:
        """How many columns stand beside the titles."""
        return self.size.width - TITLE_WIDTH - MARGINS

    def _end_of(self, path: str) -> str:
        """The end of a long path says more than its beginning."""
        room = self._room
        return path if len(path) <= room else f"…{path[1 - room :]}"

    def _option(self, title: str, about: str, opening: Callable[[], object]) -> Option:
        key = str(len(self._openings))
        self._openings[key] = opening
        name = shortened(title, TITLE_WIDTH)
        # Where there is no room beside it, what it is stands below its name.
        gap = " " * (TITLE_WIDTH + 2 - width_of(name)) if width_of(about) <= self._room else BELOW
        return Option(Content.assemble(f"  {name}{gap}", (about, "dim")), id=key)


def _heading(text: str) -> Option:
    return Option(Content.assemble((text, "bold $accent")), disabled=True)


def _progress(batch: "BatchLine") -> str:
    return f"{batch.done} of {batch.steps} steps, last {batch.worked.astimezone():%d %b %Y}"
