"""What the pages of a project have in common: its title and the doors above, the keys below."""

from typing import ClassVar

from textual import getters, on, work
from textual.app import ComposeResult

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    PlanAgain,
    Redo,
    SaveProject,
    SaveProjectAs,
    ShowCombinations,
    ShowGuide,
    ShowPieces,
    ShowStart,
    ShowStock,
    ShowTrimming,
    StopPlanning,
    Undo,
    bindings,
)
from workbench.app.saving import may_close, save, save_as
from workbench.app.session import Session
from workbench.app.views import View
from workbench.app.walk import WALK_SECONDS, walk_words
from workbench.app.widgets.footer import Keys
from workbench.app.widgets.masthead import Door, Masthead
from workbench.app.widgets.plan_line import PlanLine
from workbench.craft.project import Project
from workbench.measure.length import Unit


class PageScreen(View[None]):
    """A screen of the open project. Subclasses compose `body` and fill it in `show`."""

    BINDINGS = bindings(
        (
            ShowStock,
            ShowPieces,
            ShowTrimming,
            ShowCombinations,
            ShowGuide,
            SaveProject,
            SaveProjectAs,
            Undo,
            Redo,
            PlanAgain,
            StopPlanning,
            ShowStart,
        )
    )
    PAGE: ClassVar[str]
    ABOUT: ClassVar[str]
    NEEDS_PLAN: ClassVar[bool] = False
    app = getters.app(WorkbenchApp)

    @property
    def project(self) -> Project:
        assert self.app.session is not None
        return self.app.session.project

    def compose(self) -> ComposeResult:
        yield Masthead(self.PAGE)
        yield from self.body()
        yield Keys(show_command_palette=False, compact=True)

    def body(self) -> ComposeResult:
        raise NotImplementedError

    def show(self, session: Session, unit: Unit) -> None:
        """Show `session` as it stands now, lengths in `unit`."""
        raise NotImplementedError

    def on_mount(self) -> None:
        self.watch(self.app, "session", self._refresh, init=False)
        self.watch(self.app, "stage", self._show_stage, init=False)
        self.watch(self.app, "unit", self._refresh, init=False)
        self.watch(self.app, "preferences", self._refresh_and_plan, init=False)
        self._refresh_and_plan()

    def on_screen_resume(self) -> None:
        if self.app.walking:
            self.app.put_notices_away()
            self.app.notify(walk_words(self.app, self.PAGE), timeout=WALK_SECONDS, markup=False)

    def _refresh_and_plan(self) -> None:
        self._refresh()
        if self.NEEDS_PLAN:
            self.app.planning.ensure()

    def _refresh(self) -> None:
        if session := self.app.session:
            self.query_one(Masthead).show(session, self.app.unit)
            self._show_stage()
            self.show(session, self.app.unit)

    def _show_stage(self) -> None:
        if session := self.app.session:
            for line in self.query(PlanLine):
                line.show(session, self.app.stage)

    @on(Door.Opened)
    def _open_door(self, event: Door.Opened) -> None:
        self.app.show_page(event.page)

    def action_show_stock(self) -> None:
        self.app.show_page("stock")

    def action_show_pieces(self) -> None:
        self.app.show_page("pieces")

    def action_show_trimming(self) -> None:
        self.app.show_page("trimming")

    def action_show_combinations(self) -> None:
        self.app.show_page("combinations")

    def action_show_guide(self) -> None:
        self.app.show_page("guide")

    @work
    async def action_show_start(self) -> None:
        if await may_close(self.app) and self.is_active:
            self.app.planning.discard()
            self.app.walking = False
            self.app.session = None
            self.dismiss()

    @work
    async def action_save_project(self) -> None:
        await save(self.app)

    @work
    async def action_save_project_as(self) -> None:
        await save_as(self.app)

    def action_undo(self) -> None:
        self.app.change(Session.undone)

    def action_redo(self) -> None:
        self.app.change(Session.redone)

    def action_plan_again(self) -> None:
        self.app.planning.again()

    def action_stop_planning(self) -> None:
        self.app.planning.stop()
