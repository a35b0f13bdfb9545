"""The Textual app, whole: its pages, what it does everywhere, what reaches it from below."""

import signal
from collections.abc import Iterable, Sequence
from contextlib import suppress
from functools import partial
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual import events, on, work
from textual.app import SystemCommand
from textual.binding import Binding
from textual.filter import LineFilter
from textual.geometry import Size
from textual.screen import Screen
from textual.worker import WorkerFailed

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    KEY_NAMES,
    ChangeSettings,
    Help,
    Leave,
    Palette,
    SwitchLight,
    SwitchUnits,
    bindings,
    commands_in_force,
)
from workbench.app.messages import BatchChosen, LossFound, PlanningReported
from workbench.app.pages import PAGES
from workbench.app.planning_worker import PlanningWorker
from workbench.app.screens.start import StartScreen
from workbench.app.session import Session
from workbench.app.themes import DARK, LIGHT
from workbench.app.widgets.questions import Question
from workbench.app.widgets.respelt_rows import RespeltRows
from workbench.drawing.graphemes import steady
from workbench.drawing.plain_text import ascii_locale, in_ascii

if TYPE_CHECKING:
    from workbench.craft.pace import Pace
    from workbench.store.preferences import Preferences


LEAST_CELLS = (60, 20)
"""The smallest terminal that forms and the bench are made for."""


class TrimtallyApp(WorkbenchApp):
    """Opens the pages; screens read what is open from it and change it by what its base offers."""

    TITLE = "Trimtally"
    # The start page comes first, before any screen is pushed that would bring its own styles.
    CSS_PATH: ClassVar[list[str | PurePath]] = ["app.tcss", "screens/start.tcss"]
    BINDINGS = bindings((Help, Palette, SwitchUnits, SwitchLight, ChangeSettings, Leave))
    SCREENS = PAGES

    def __init__(self, path: Path | None = None, batch: int | None = None) -> None:
        """Open the project file at `path`, or the bench of `batch`, at once where one is given."""
        super().__init__()
        self._path, self._batch = path, batch
        self._sized: Size | None = None
        self.planning = self._planning = PlanningWorker(self)
        self._respelt = [RespeltRows(steady), *([RespeltRows(in_ascii)] if ascii_locale() else ())]
        self.register_theme(DARK)
        self.register_theme(LIGHT)
        self.theme = DARK.name

    def get_default_screen(self) -> Screen[None]:
        return StartScreen()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Textual's own, and after them what makes rows such as the terminal can show."""
        return [*super().get_line_filters(), *self._respelt]

    def on_mount(self) -> None:
        self.call_after_refresh(self._take_keys)
        self.call_after_refresh(self.hold_workshop)
        self.call_after_refresh(self._look_after_workshop)
        if self._path:
            from workbench.app.opening import open_file

            open_file(self, self._path)
        if self._batch is not None:
            self.post_message(BatchChosen(self._batch))

    def on_resize(self, event: events.Resize) -> None:
        """Say so where the window is too small to work in, once for each size it gets."""
        width, height = LEAST_CELLS
        before, self._sized = self._sized, event.size
        if event.size != before and (event.size.width < width or event.size.height < height):
            now = f"{event.size.width} × {event.size.height}"
            self.say_wrong(f"Too small to work in: {now}; make it {width} × {height} or larger.")

    def on_unmount(self) -> None:
        self.autosave.finish()
        self.let_go_of_workshop()

    def watch_session(self, session: Session | None) -> None:
        self.hold_workshop()
        self.autosave.follow(session)

    def _take_keys(self) -> None:
        """Only the keys: all other preferences, and what reads them, can wait."""
        from workbench.store.errors import StoreError

        try:
            self._use_keys(self.workshop.preference("keys") if self.workshop.exists else None)
        except StoreError as error:
            self.say_wrong(str(error))

    @work(thread=True, group="workshop")
    def _look_after_workshop(self) -> None:
        """See whether the workshop's file is sound, and keep a copy of it once a day."""
        from workbench.store.backup import back_up_daily, trouble
        from workbench.store.errors import WorkshopError

        file = self.workshop.file
        if not self.workshop.exists:
            return
        try:
            self.workshop.recent()
        except WorkshopError:  # the start page says it
            return
        if damage := trouble(file):
            self.call_from_thread(
                self.say_wrong,
                f"{file}: it is damaged ({damage}); `trimtally restore` lists the backups",
            )
            return
        with suppress(WorkshopError):  # said by whoever needs the file or the room on the disk
            back_up_daily(file)

    def _fatal_error(self) -> None:
        """Leave a crash report and one line that says where; no traceback reaches the maker."""
        from workbench.store.diagnostics import fault_in_words

        failed = self._exception
        error = failed.error if isinstance(failed, WorkerFailed) else failed
        if error and not self._exit_renderables:
            self._exit_renderables.append(Text(fault_in_words(error)))
            # One line, so that the path in it can be copied and read by programs.
            self.error_console.soft_wrap = True
        self._close_messages_no_wait()

    # What reaches it from below

    @on(BatchChosen)
    def _go_to_bench(self, message: BatchChosen) -> None:
        from workbench.app.screens.run import RunScreen

        self.push_screen(RunScreen(message.batch_id))

    @on(LossFound)
    def _ask_about_loss(self, message: LossFound) -> None:
        """Rules by which cards lose are kept only if the maker says so."""

        def answered(answer: str | None) -> None:
            if answer == "keep":
                self.planning.take(message.plan, message.project)

        answers = {"keep": "Keep the rule", "leave": "Leave it as it was"}
        self.push_screen(Question(f"By this rule {message.lost}.", answers), answered)

    @on(PlanningReported)
    def _hear_of_planning(self, message: PlanningReported) -> None:
        self._planning.hear(message)

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

    def action_change_settings(self) -> None:
        from workbench.app.screens.preferences_form import PreferencesForm

        if not isinstance(self.screen, PreferencesForm):
            self.follow_preferences()
            posts = self.post_desk().posts
            form = PreferencesForm(self.kept_preferences(), self.unit, posts, self._measured_pace())
            self.push_screen(form, self._take_preferences)

    def _measured_pace(self) -> "Pace":
        from workbench.craft.pace import ESTIMATED
        from workbench.store.errors import StoreError
        from workbench.store.own_pace import measured_pace

        try:
            return measured_pace(self.workshop)
        except StoreError as error:
            self.say_wrong(str(error))
            return ESTIMATED

    def _take_preferences(self, preferences: "Preferences | None") -> None:
        if preferences and self.keep_preferences(preferences):
            self.show_in(self.unit)

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

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """What the palette finds."""
        for command, active in commands_in_force(screen).items():
            give = partial(self.run_action, active.binding.action, active.node)
            yield SystemCommand(command.help().rstrip("."), f"key: {self.keys_of(command)}", give)

    def get_key_display(self, binding: Binding) -> str:
        return KEY_NAMES.get(binding.key) or super().get_key_display(binding)


def run(path: Path | None = None, batch: int | None = None) -> bool:
    """Run the app, with the project at `path` or the bench of `batch` open if one is given.

    True where a fault ended it.
    """
    from workbench.store.diagnostics import log_if_asked

    log_if_asked(to_file=True)
    # Told to end, it gives the terminal back as if interrupted; in a script's background too.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.signal(signal.SIGTERM, lambda *_: signal.raise_signal(signal.SIGINT))
    app = TrimtallyApp(path, batch)
    app.run()
    return bool(app.return_code)
