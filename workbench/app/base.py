"""The app as its screens, widgets and forms know it: what is open, and how it is changed.

Everything in `app/` types against this class, and only `app.app` knows the whole one.
"""

import math
from asyncio import get_running_loop
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import replace
from functools import cached_property
from time import monotonic
from typing import TYPE_CHECKING, Any, Protocol

from textual.app import App
from textual.reactive import reactive

from workbench.app.autosave import Autosave
from workbench.app.commands.command import KEY_NAMES, Command, usable_keys
from workbench.app.session import Session

if TYPE_CHECKING:
    from workbench.craft.pace import Pace
    from workbench.craft.project import Project
    from workbench.craft.trimmer import Trimmer
    from workbench.measure.length import Unit
    from workbench.planning import Plan
    from workbench.post import Desk
    from workbench.store.database import Workshop
    from workbench.store.preferences import Preferences

WRONG_SECONDS = 10


class Planning(Protocol):
    """What may be asked of the planning in the background, see `planning_worker`."""

    def ensure(self) -> None:
        """Plan the open project unless that is done or under way."""

    def again(self) -> None:
        """Plan the open project now, or anew."""

    def stop(self) -> None:
        """Stop it; what was found so far is handed over."""

    def discard(self) -> None:
        """Stop it and take nothing of it up, as what it plans is not what is open any more."""

    def forget(self) -> None:
        """Discard it, and the plan there is with it."""

    def take(self, plan: "Plan", project: "Project | None" = None) -> None:
        """Take up a plan that was picked, or one that came with a change of the project."""

    def plan_as(self, project: "Project") -> None:
        """Take up a change that only another plan can follow, and plan at once."""

    def plan_by(self, project: "Project") -> None:
        """Plan by other rules, which are kept when their plan stands; asks where cards lose."""

    def deal_by(self, project: "Project") -> None:
        """Deal the pieces of the plan by the rules that `project` has."""

    def deal_anew(self) -> None:
        """Deal the pieces of the plan in another way."""


class WorkbenchApp(App[None]):
    """Holds what is open as reactives, which screens watch, and all that may be done with it.

    Attributes:
        session: the open project, None on the start page.
        stage: what the planner is doing, None while it is idle; its worker alone sets it.
        unit: the unit in which lengths are shown.
        preferences: the maker's preferences once somebody asked for them, see `kept_preferences`.
        planning: planning and dealing in the background.
        autosave: keeps the changes that are not saved yet.
        walking: whether each page says what comes next, on a walk through one small batch.
    """

    session: reactive[Session | None] = reactive(None, init=False)
    stage: reactive[str | None] = reactive(None, init=False)
    unit: "reactive[Unit]" = reactive("in", init=False)
    preferences: "reactive[Preferences | None]" = reactive(None, init=False)
    planning: Planning

    def __init__(self) -> None:
        super().__init__()
        self.walking = False
        self.autosave = Autosave(self, lambda: self.workshop, self.say_wrong)
        self._hold = ExitStack()
        self._held = False
        self._own_keys: dict[str, str] = {}
        self._said_wrong: dict[str, float] = {}

    @cached_property
    def workshop(self) -> "Workshop":
        """The maker's own data, opened when first asked for."""
        from workbench.store.database import Workshop

        return Workshop.open()

    def hold_workshop(self) -> None:
        """Keep the workshop's file open, so that no other window puts a backup in its place."""
        from workbench.store.errors import StoreError

        if not self._held and self.workshop.exists:
            self._held = True
            with suppress(StoreError):  # said by whoever needs the file next
                self._hold.enter_context(self.workshop.held())

    def let_go_of_workshop(self) -> None:
        """Hold it no longer."""
        self._hold.close()
        self._held = False

    @contextmanager
    def workshop_let_go(self) -> Iterator[None]:
        """Meanwhile this window may put a backup in the workshop's place."""
        self.let_go_of_workshop()
        try:
            yield
        finally:
            self.hold_workshop()

    # The one road by which a project changes

    def change(self, edit: Callable[[Session], Session]) -> None:
        """Let `edit` change the open project at once, so that the next key already finds it.

        Whatever was being planned for the project as it was is discarded.
        """
        if self.session:
            self.planning.discard()
            self.session = edit(self.session)

    def change_project(self, project: "Project") -> None:
        """Put `project` in place of the open one, as a change that can be taken back."""
        self.change(lambda session: session.with_project(project))

    def count_stock_anew(self) -> None:
        """Let the open project have what is free now of the papers it took from the drawer.

        That is no change of the maker's: the file says how many there were when it was saved.
        """
        session = self.session
        if session is None or not any(paper.stock for paper in session.project.papers):
            return
        from workbench.store.drawer import Drawer
        from workbench.store.drawer_projects import fresh_stock
        from workbench.store.errors import StoreError

        try:
            drawer = Drawer(self.workshop)
            project, saved = (
                fresh_stock(drawer, session.project),
                fresh_stock(drawer, session.saved),
            )
        except StoreError as error:
            self.say_wrong(str(error))
            return
        if project != session.project:
            self.session = replace(session, project=project, saved=saved)

    # Pages and notices

    def show_page(self, name: str) -> None:
        """Show the page called `name` in SCREENS in place of the one shown now.

        It is built anew each time, so that nothing on it is left of another project. The start
        page stays below all others.
        """
        self.put_notices_away()
        page = self.SCREENS[name]()
        if len(self.screen_stack) > 1:
            self.switch_screen(page)
        else:
            self.push_screen(page)

    def push_screen(
        self,
        screen: Any,
        callback: Any = None,
        wait_for_dismiss: bool = False,
        *,
        mode: str | None = None,
    ) -> Any:
        """Show a screen in front, unless one of its kind is there: a key was pressed twice.

        Whoever waits for what a second one says hears None, as if it had been closed.
        """
        if type(screen) is not type(self.screen):
            push: Any = super().push_screen
            return push(screen, callback, wait_for_dismiss, mode=mode)
        closed = get_running_loop().create_future()
        closed.set_result(None)
        return closed

    def say_wrong(self, message: str) -> None:
        """Say it for a while; what still stands there is not said twice."""
        now = monotonic()
        if now - self._said_wrong.get(message, -math.inf) > WRONG_SECONDS:
            self._said_wrong[message] = now
            self.notify(message, severity="error", timeout=WRONG_SECONDS, markup=False)

    def put_notices_away(self) -> None:
        """They have been said, and would lie over the words and buttons of a form."""
        self._said_wrong.clear()
        self.clear_notifications()

    # The maker's preferences

    def kept_preferences(self) -> "Preferences":
        """The maker's preferences, read when first asked for; careful ones where they cannot be."""
        if self.preferences is None:
            from workbench.store.errors import StoreError
            from workbench.store.preferences import Preferences, preferences_of

            preferences = Preferences()
            try:
                preferences = preferences_of(self.workshop)
            except StoreError as error:
                self.say_wrong(str(error))
            self.set_reactive(WorkbenchApp.preferences, preferences)
            return preferences
        return self.preferences

    def follow_preferences(self) -> None:
        """Go by what another window or the command line has set since."""
        before = self.kept_preferences()
        self.set_reactive(WorkbenchApp.preferences, None)
        if self.kept_preferences() != before:
            self.read_preferences_anew()

    def read_preferences_anew(self) -> None:
        """Go by the preferences of a workshop that was put in the place of this one."""
        self.set_reactive(WorkbenchApp.preferences, None)
        self._use_keys(self.kept_preferences().keys)
        self.planning.forget()

    def keep_preferences(self, preferences: "Preferences") -> bool:
        """Keep the preferences and go by them; False when that cannot be."""
        from workbench.store.errors import StoreError
        from workbench.store.preferences import keep_preferences

        before = self.kept_preferences()
        try:
            keep_preferences(self.workshop, preferences)
        except StoreError as error:
            self.say_wrong(str(error))
            return False
        self._use_keys(preferences.keys)
        if (preferences.trimmer, preferences.own_pace) != (before.trimmer, before.own_pace):
            self.planning.forget()
        self.preferences = preferences
        return True

    def post_desk(self) -> "Desk":
        """The posts and envelopes of the workshop, built-in ones where its own cannot be read."""
        from workbench.post import Desk
        from workbench.store.errors import StoreError
        from workbench.store.post_desk import desk_of

        preferences = self.kept_preferences()
        try:
            return desk_of(self.workshop, preferences)
        except StoreError as error:
            self.say_wrong(str(error))
            return Desk(to=preferences.post, clearance=preferences.clearance)

    def trimmer(self) -> "Trimmer":
        """The maker's trimmer, as the workshop keeps it."""
        return self.kept_preferences().trimmer

    def pace(self) -> Callable[[], "Pace"]:
        """What tells the pace that plans are made for, to be asked in a thread.

        Many batches may have to be read for it. Estimates where they cannot be read, as is said
        elsewhere.
        """
        from workbench.craft.pace import ESTIMATED
        from workbench.store.errors import StoreError
        from workbench.store.own_pace import pace_of

        workshop, preferences = self.workshop, self.kept_preferences()

        def asked() -> "Pace":
            try:
                return pace_of(workshop, preferences)
            except StoreError:
                return ESTIMATED

        return asked

    def show_in(self, unit: "Unit") -> None:
        """Show lengths in the maker's own unit, or where there is none, in this one."""
        self.unit = self.kept_preferences().unit or unit

    # Keys

    def keys_of(self, command: type[Command]) -> str:
        """The keys of a command as they stand on the keyboard, the maker's own where given."""
        keys = self._own_keys.get(command.name, ",".join(command.keys))
        return " ".join(KEY_NAMES.get(key, key) for key in keys.split(","))

    def key_of(self, command: type[Command]) -> str:
        """The first of them as it stands in a sentence: "space", "F9"."""
        key = self.keys_of(command).split(" ")[0]
        return key.upper() if key.startswith("f") and key[1:].isdigit() else key

    def _use_keys(self, kept: object) -> None:
        self._own_keys = usable_keys(kept)
        self.set_keymap(self._own_keys)
