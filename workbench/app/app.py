"""The Textual app: what is open, the way between the screens, planning in the background."""

import math
import signal
from collections.abc import Iterable
from functools import cached_property, partial
from pathlib import Path, PurePath
from time import monotonic
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import App, SystemCommand
from textual.binding import ActiveBinding, Binding
from textual.message import Message
from textual.reactive import reactive
from textual.screen import Screen

from workbench.app.autosave import DraftKeeper
from workbench.app.commands import (
    KEY_NAMES,
    ChangeSettings,
    Command,
    Help,
    Leave,
    Palette,
    SwitchLight,
    SwitchUnits,
    all_commands,
    bindings,
    usable_keys,
)
from workbench.app.planning_worker import (
    DealRefused,
    Dealt,
    PlanFound,
    Planner,
    PlanningEnded,
    StageBegun,
)
from workbench.app.session import Planned, Session
from workbench.app.themes import DARK, LIGHT
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Unit

if TYPE_CHECKING:
    from workbench.planning import Plan
    from workbench.store.database import Workshop
    from workbench.store.settings import Settings


WRONG_SECONDS = 10


class ProjectChanged(Message):
    """The maker edited the project on a screen."""

    def __init__(self, project: Project) -> None:
        super().__init__()
        self.project = project


class TrimtallyApp(App[None]):
    """Holds the open session; screens read it and post what the maker changed."""

    TITLE = "Trimtally"
    # The start page comes first, before any screen is pushed that would bring its own styles.
    CSS_PATH: ClassVar[list[str | PurePath]] = ["app.tcss", "screens/start.tcss"]
    BINDINGS = bindings((Help, Palette, SwitchUnits, SwitchLight, ChangeSettings, Leave))

    session: reactive[Session | None] = reactive(None, init=False)
    # What the planner is doing; None while it is idle.
    stage: reactive[str | None] = reactive(None, init=False)
    unit: reactive[Unit] = reactive("in", init=False)
    settings: "reactive[Settings | None]" = reactive(None, init=False)

    def __init__(self, path: Path | None = None) -> None:
        super().__init__()
        self._path = path
        self._own_keys: dict[str, str] = {}
        self._planner = Planner(self)
        self.drafts = DraftKeeper(self)
        self._said_wrong: dict[str, float] = {}
        self.register_theme(DARK)
        self.register_theme(LIGHT)
        self.theme = DARK.name

    @cached_property
    def workshop(self) -> "Workshop":
        """The maker's own data, opened when first asked for."""
        from workbench.store.database import Workshop

        return Workshop.open()

    def get_default_screen(self) -> Screen[None]:
        from workbench.app.screens.start import StartScreen

        return StartScreen()

    def on_mount(self) -> None:
        self.call_after_refresh(self._take_keys)
        if self._path:
            from workbench.app.opening import open_file

            open_file(self, self._path)

    def _take_keys(self) -> None:
        """Only the keys: all other settings, and what reads them, can wait."""
        from workbench.store.errors import StoreError

        try:
            self._use_keys(self.workshop.setting("keys") if self.workshop.exists else None)
        except StoreError as error:
            self.say_wrong(str(error))

    def _use_keys(self, kept: object) -> None:
        self._own_keys = usable_keys(kept)
        self.set_keymap(self._own_keys)

    def kept_settings(self) -> "Settings":
        """The maker's settings, read when first asked for; careful ones where they cannot be."""
        if self.settings is None:
            from workbench.store.errors import StoreError
            from workbench.store.settings import Settings, settings_of

            settings = Settings()
            try:
                settings = settings_of(self.workshop)
            except StoreError as error:
                self.say_wrong(str(error))
            self.set_reactive(TrimtallyApp.settings, settings)
            return settings
        return self.settings

    def action_change_settings(self) -> None:
        from workbench.app.screens.settings_form import SettingsForm

        if not isinstance(self.screen, SettingsForm):
            self.push_screen(SettingsForm(self.kept_settings(), self.unit), self._settings_given)

    def _settings_given(self, settings: "Settings | None") -> None:
        if settings and self.keep_settings(settings):
            self.show_in(self.unit)

    def keep_settings(self, settings: "Settings") -> bool:
        """Keep the settings and go by them; False when that cannot be."""
        from workbench.store.errors import StoreError
        from workbench.store.settings import keep_settings

        before = self.kept_settings()
        try:
            keep_settings(self.workshop, settings)
        except StoreError as error:
            self.say_wrong(str(error))
            return False
        self._use_keys(settings.keys)
        if self.session and settings.trimmer != before.trimmer:
            self.stop_planning()
            self.session = self.session.with_planned(None)
        self.settings = settings
        return True

    def show_in(self, unit: Unit) -> None:
        """Show lengths in the maker's own unit, or where she has none, in this one."""
        self.unit = self.kept_settings().unit or unit

    # What is open

    def resume(self, batch_id: int) -> None:
        """Go to the bench, where the batch was left."""
        from workbench.app.screens.run import RunScreen

        self.push_screen(RunScreen(batch_id))

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

    def show_room(self, room: str) -> None:
        """Show a room of the open project in place of the room shown now."""
        from workbench.app.rooms import room_screen

        screen = room_screen(room)
        if len(self.screen_stack) > 1:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def action_show_stock(self) -> None:
        self.show_room("stock")

    def action_show_pieces(self) -> None:
        self.show_room("pieces")

    def on_unmount(self) -> None:
        self.drafts.finish()

    def watch_session(self, session: Session | None) -> None:
        self.drafts.follow(session)

    def action_show_trimming(self) -> None:
        self.show_room("trimming")

    def action_show_combinations(self) -> None:
        self.show_room("combinations")

    def take_up(self, session: Session, draft: str | None = None) -> None:
        """Open it; where its changes are those of a `draft`, that is kept up to date."""
        self.stop_planning()
        self.drafts.begin(draft)
        self.session = session
        self.show_in(session.project.units)
        self.show_room("pieces")

    def on_project_changed(self, message: ProjectChanged) -> None:
        self.change_project(message.project)

    def change_project(self, project: Project) -> None:
        """Take up a change at once, so that the next key already finds it."""
        if self.session:
            self.stop_planning()
            self.session = self.session.with_project(project)

    def action_undo(self) -> None:
        if self.session:
            self.stop_planning()
            self.session = self.session.undone()

    def action_redo(self) -> None:
        if self.session:
            self.stop_planning()
            self.session = self.session.redone()

    # Saving and leaving

    @work
    async def action_save_project(self) -> None:
        from workbench.app.saving import save

        await save(self)

    @work
    async def action_save_project_as(self) -> None:
        from workbench.app.saving import save_as

        await save_as(self)

    @work
    async def action_show_start(self) -> None:
        from workbench.app.saving import may_close

        if await may_close(self):
            self.stop_planning()
            self.session = None
            self.pop_screen()

    @work
    async def action_quit(self) -> None:  # type: ignore[override]
        from workbench.app.saving import may_close

        if await may_close(self):
            self.exit()

    def action_leave(self) -> None:
        self.action_quit()

    def action_help_quit(self) -> None:
        """Ctrl-C ends nothing here: it is pressed in haste, or to copy."""
        self.notify(f"{self.keys_of(Leave)} leaves Trimtally.", markup=False)

    # Planning

    def ensure_planned(self) -> None:
        """Plan the open project unless that is done or under way."""
        if self.session and not self.session.is_planned and self.stage is None:
            self.action_plan_again()

    def action_plan_again(self) -> None:
        if self.session:
            self.stage = "beginning"
            self.session = self.session.with_planned(None)
            self._planner.plan(self.session.project, self.trimmer())

    def trimmer(self) -> Trimmer:
        """The maker's trimmer, as the workshop keeps it."""
        return self.kept_settings().trimmer

    def action_stop_planning(self) -> None:
        """The planner hands over what it has found so far."""
        self._planner.stop()

    def stop_planning(self) -> None:
        """Stop it, as what it plans is not what is open any more."""
        self._planner.stop()
        self.stage = None

    def take_plan(self, project: Project, plan: "Plan") -> None:
        """Take up a change of the project that came with its plan."""
        self.change_project(project)
        if self.session:
            self.session = self.session.with_planned(Planned(project, plan))

    def deal_by(self, project: Project) -> None:
        """Deal the pieces of the plan by the rules that `project` has."""
        if self.session and self.session.plan:
            plan = self.session.plan
            self.stage = "dealing the cards"
            self._planner.deal(project, plan)

    def deal_anew(self) -> None:
        """Deal the pieces of the plan in another way."""
        if self.session and self.session.plan:
            project, plan = self.session.project, self.session.plan
            self.stage = "dealing the cards"
            self._planner.deal_anew(project, plan)

    def plan_as(self, project: Project) -> None:
        """Take up a change that only another plan can follow, and plan at once."""
        self.change_project(project)
        self.action_plan_again()

    def on_dealt(self, message: Dealt) -> None:
        if self.session and self.stage and self._planner.is_current(message):
            self.take_plan(message.project, message.plan)

    def on_deal_refused(self, message: DealRefused) -> None:
        """Where rules are new, other pieces may follow them: plan by them."""
        if self.session and self.stage and self._planner.is_current(message):
            self.stage = None
            if message.asked in (None, self.session.project):
                self.say_wrong(message.why)
            elif message.asked:
                self.notify("The pieces cut so far cannot follow that: planned anew.")
                self.plan_as(message.asked)

    def on_stage_begun(self, message: StageBegun) -> None:
        if self.session and self._planner.is_current(message):
            self.stage = message.stage

    def on_plan_found(self, message: PlanFound) -> None:
        if self.session and self._planner.is_current(message):
            self.session = self.session.with_planned(message.planned)

    def on_planning_ended(self, message: PlanningEnded) -> None:
        if self.session and self._planner.is_current(message):
            self.stage = None
            self.session = self.session.with_planned(message.planned)

    # Everywhere

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While the keys of the screen are locked, the app's own are too."""
        if self._screen_stack and getattr(self.screen, "locked", False):
            return False
        return super().check_action(action, parameters)

    def action_switch_units(self) -> None:
        self.unit = "mm" if self.unit == "in" else "in"

    def action_switch_light(self) -> None:
        self.theme = LIGHT.name if self.current_theme.dark else DARK.name

    def action_palette(self) -> None:
        self.action_command_palette()

    def action_help(self) -> None:
        from workbench.app.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen))

    def commands_in_force(self, screen: Screen[object]) -> dict[type[Command], ActiveBinding]:
        """Every command of ours that can be given on `screen`, in the order of all_commands."""
        active = {
            binding.binding.id: binding
            for binding in screen.active_bindings.values()
            if binding.enabled
        }
        return {
            command: active[command.name] for command in all_commands() if command.name in active
        }

    def keys_of(self, command: type[Command]) -> str:
        """The keys of a command as they stand on the keyboard."""
        keys = self._own_keys.get(command.name, ",".join(command.keys))
        return " ".join(KEY_NAMES.get(key, key) for key in keys.split(","))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """What the palette finds."""
        for command, active in self.commands_in_force(screen).items():
            give = partial(self.run_action, active.binding.action, active.node)
            yield SystemCommand(command.help().rstrip("."), f"key: {self.keys_of(command)}", give)

    def get_key_display(self, binding: Binding) -> str:
        return KEY_NAMES.get(binding.key) or super().get_key_display(binding)


def run(path: Path | None = None) -> None:
    """Run the app, with the project at `path` open when one is given."""
    # Told to end, it gives the terminal back as if interrupted; in a script's background too.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.signal(signal.SIGTERM, lambda *_: signal.raise_signal(signal.SIGINT))
    TrimtallyApp(path).run()
