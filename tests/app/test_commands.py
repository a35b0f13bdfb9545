"""Every command is documented, can be given on any keyboard, and clashes with no other."""

from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

import pytest
from textual.binding import Binding
from textual.command import CommandList
from textual.screen import ModalScreen, Screen

from tests.app.running import press, running, until
from workbench.app import screens
from workbench.app.app import TrimtallyApp
from workbench.app.commands import (
    KEYS,
    AddPaper,
    ChangePaper,
    Command,
    all_commands,
    commands_in_force,
    key_list,
    usable_keys,
)
from workbench.app.screens.adapt_form import AdaptedScreen, AdaptForm
from workbench.app.screens.batches import BatchesScreen, BatchList
from workbench.app.screens.choices import ChoicesScreen
from workbench.app.screens.combinations import CardScreen, CombinationsScreen
from workbench.app.screens.drawer import DrawerScreen, TakeScreen
from workbench.app.screens.drawer_files import ImportScreen, RestoreScreen
from workbench.app.screens.drawer_forms import SplitForm, StockForm, StockOffcutForm
from workbench.app.screens.drawer_settings import ClearOutForm, ReckoningForm
from workbench.app.screens.fit_forms import FitForm, ResizeForm
from workbench.app.screens.guide import GuideScreen
from workbench.app.screens.help import HelpScreen, groups_first
from workbench.app.screens.imprint_form import ImprintForm
from workbench.app.screens.made import MadeScreen
from workbench.app.screens.mix_forms import MeetForm, SwapForm
from workbench.app.screens.offcuts_form import OffcutsForm
from workbench.app.screens.offers import OffersScreen
from workbench.app.screens.own_steps import OwnStepsScreen
from workbench.app.screens.paper_forms import PaperForm
from workbench.app.screens.piece_forms import PieceForm
from workbench.app.screens.pieces import PiecesScreen
from workbench.app.screens.possible import PossibleScreen, ShoppingScreen, UsesScreen
from workbench.app.screens.preferences_form import PreferencesForm
from workbench.app.screens.run import RunScreen
from workbench.app.screens.slip import SlipScreen
from workbench.app.screens.start import StartScreen
from workbench.app.screens.start_form import NewCardForm
from workbench.app.screens.stock import StockScreen
from workbench.app.screens.trimming import TrimmingScreen
from workbench.app.widgets.card_grid import CardGrid
from workbench.app.widgets.fields import Choice, YesNo
from workbench.app.widgets.questions import PathQuestion, Question, TextQuestion
from workbench.store.database import Workshop

PAGES: list[type] = [
    StockScreen,
    PiecesScreen,
    TrimmingScreen,
    CombinationsScreen,
    GuideScreen,
    StartScreen,
    BatchesScreen,
    DrawerScreen,
    TakeScreen,
    PossibleScreen,
    ShoppingScreen,
    UsesScreen,
    MadeScreen,
    RunScreen,
]
FORMS: list[type] = [
    AdaptForm,
    AdaptedScreen,
    OwnStepsScreen,
    PaperForm,
    PieceForm,
    FitForm,
    MeetForm,
    SwapForm,
    ResizeForm,
    NewCardForm,
    CardScreen,
    ChoicesScreen,
    HelpScreen,
    OffcutsForm,
    OffersScreen,
    Question,
    PathQuestion,
    PreferencesForm,
    SlipScreen,
    ClearOutForm,
    ImportScreen,
    ImprintForm,
    ReckoningForm,
    RestoreScreen,
    SplitForm,
    StockForm,
    StockOffcutForm,
    TextQuestion,
]
FIELDS = [BatchList, Choice, YesNo, CardGrid]


def ours(*owners: type) -> Iterator[Binding]:
    """The bindings that commands give to `owners` and the classes they are made of."""
    names = {command.name for command in all_commands()}
    for owner in owners:
        for part in owner.__mro__:
            for binding in vars(part).get("BINDINGS", ()):
                if isinstance(binding, Binding) and binding.id in names:
                    yield binding


@pytest.mark.parametrize("command", all_commands(), ids=lambda command: command.name)
def test_a_command_is_documented_and_given_by_keys_that_all_keyboards_have(
    command: type[Command],
) -> None:
    assert command.help().endswith(".")
    assert len(command.help()) > 15
    assert 2 <= len(command.label) <= 15
    assert command.group
    assert command.keys
    assert all(KEYS.fullmatch(key) for key in command.keys)


def test_command_names_and_help_are_their_own() -> None:
    commands = all_commands()
    assert len({command.name for command in commands}) == len(commands)
    assert len({command.help() for command in commands}) == len(commands)


def all_screens() -> list[type[Screen[Any]]]:
    """Every screen, form and view of the app, whichever module it stands in."""
    for module in iter_modules(screens.__path__, f"{screens.__name__}."):
        import_module(module.name)
    found: list[type[Screen[Any]]] = []
    waiting: list[type[Screen[Any]]] = [Screen]
    while waiting:
        each = waiting.pop()
        waiting += each.__subclasses__()
        if each.__module__.startswith("workbench."):
            found.append(each)
    return sorted(found, key=lambda screen: screen.__qualname__)


@pytest.mark.parametrize("screen", all_screens(), ids=lambda screen: screen.__name__)
def test_no_two_commands_of_a_screen_share_a_key(screen: type[Screen[Any]]) -> None:
    """The app's own keys do not reach through a form."""
    under = () if issubclass(screen, ModalScreen) else (TrimtallyApp,)
    keys = [key for binding in ours(screen, *under) for key in binding.key.split(",")]
    assert sorted(keys) == sorted(set(keys))


def test_every_command_is_offered_and_can_be_carried_out() -> None:
    offering = {
        binding.id: owner
        for owner in (*PAGES, *FORMS, *FIELDS, TrimtallyApp)
        for binding in ours(owner)
    }
    assert {command.name for command in all_commands()} == set(offering)
    for command in all_commands():
        doer = TrimtallyApp if command.of_app else offering[command.name]
        assert hasattr(doer, f"action_{command.name}")


def test_every_screen_says_what_it_is_for() -> None:
    for screen in (*PAGES, *FORMS):
        if screen is not HelpScreen:
            assert len(vars(screen)["ABOUT"]) > 20
    for screen in all_screens():
        if not screen.__subclasses__() and screen is not HelpScreen:
            assert hasattr(screen, "ABOUT")


def test_the_developers_page_lists_every_command() -> None:
    page = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = [line for line in page.splitlines() if line.count("|") == 5][2:]
    assert table == list(key_list())


def test_keys_that_no_keyboard_has_or_no_command_knows_are_left_out() -> None:
    kept = {"tick": "f12", "help": "ctrl+x", "fly": "a", "leave": 3, "enlarge": "e,enter"}
    assert usable_keys(kept) == {"tick": "f12", "enlarge": "e,enter"}
    assert usable_keys(None) == usable_keys(["a"]) == {}


async def test_the_maker_may_change_the_keys(harbour: Path) -> None:
    Workshop.open().set_preference("keys", {"show_stock": "r"})
    async with running(harbour) as (app, pilot):
        await press(pilot, "1")
        assert isinstance(app.screen, PiecesScreen)
        await press(pilot, "r")
        assert isinstance(app.screen, StockScreen)
        await press(pilot, "f1")
        assert isinstance(app.screen, HelpScreen)


async def test_help_lists_exactly_what_is_in_force(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1", "f1")
        assert isinstance(app.screen, HelpScreen)
        told = [command.help() for command in groups_first(commands_in_force(app.screen.asked))]
        wanted = {binding.tooltip for binding in ours(StockScreen, TrimtallyApp)}
        assert set(told) == wanted
        assert told[0] == AddPaper.help()
        assert app.keys_of(ChangePaper) == "c enter"
        await press(pilot, "escape")
        assert isinstance(app.screen, StockScreen)


def found_first(app: TrimtallyApp) -> str:
    """What Enter in the palette would give, by what it has found so far."""
    option = app.screen.query_one(CommandList).highlighted_option
    return str(option.prompt) if option else ""


async def test_the_palette_finds_every_command_in_force(harbour: Path) -> None:
    async with running(harbour) as (app, pilot):
        await press(pilot, "1")
        found = {command.title for command in app.get_system_commands(app.screen)}
        wanted = {binding.tooltip.rstrip(".") for binding in ours(StockScreen, TrimtallyApp)}
        assert found == wanted
        await press(pilot, "f2")
        await press(pilot, *"light and the dark")
        await until(pilot, lambda: found_first(app).startswith("Change between the light"))
        await press(pilot, "enter")
        assert not app.current_theme.dark
