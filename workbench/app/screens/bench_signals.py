"""What the bench lets the maker hear at each step: the bell, and the words said aloud."""

from collections.abc import Callable
from dataclasses import replace

from workbench.app.base import WorkbenchApp
from workbench.app.voice import voice_of_this_machine
from workbench.making.prompts import Prompt
from workbench.making.speech import spoken


def switch_bell(app: WorkbenchApp) -> str:
    """Let the bell ring at every step, or no longer; what is so from now on, "" if not kept."""
    preferences = app.kept_preferences()
    if not app.keep_preferences(replace(preferences, bell=not preferences.bell)):
        return ""
    return "The bell is silent" if preferences.bell else "The bell rings at every step"


def switch_voice(app: WorkbenchApp) -> str:
    """Let every step be said aloud, or no longer; what is so from now on, "" if not kept."""
    if voice_of_this_machine() is None:
        return "This computer has no command that speaks"
    preferences = app.kept_preferences()
    if not app.keep_preferences(replace(preferences, voice=not preferences.voice)):
        return ""
    return "Nothing is said aloud" if preferences.voice else "Every step is said aloud"


def signal(app: WorkbenchApp, at_hand: Callable[[], Prompt | None]) -> None:
    """Ring and say what is at hand, as the maker wishes; it is asked for only to be said."""
    preferences = app.kept_preferences()
    if preferences.bell:
        app.bell()
    voice = voice_of_this_machine() if preferences.voice else None
    if voice and (said := at_hand()):
        voice.say(spoken(said, app.unit))
