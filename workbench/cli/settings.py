"""`trimtally settings`: what the maker sets once for all batches, listed and changed."""

import json
from argparse import ArgumentParser, Namespace
from textwrap import wrap
from typing import TYPE_CHECKING

from workbench.cli.command import DONE, Command
from workbench.cli.questions import refusing
from workbench.store.errors import visible

if TYPE_CHECKING:
    from workbench.cli.preference_table import Kept, Preference
    from workbench.store.database import Workshop

_WIDTH = 78


def settings(given: Namespace) -> int:
    """List what is set, or show one thing, changed before where a value is given."""
    from workbench.cli.preference_table import ALL, changed, keep, kept_in, named
    from workbench.store.database import Workshop

    with refusing():
        workshop = Workshop.open()
        kept = kept_in(workshop)
        if given.name is None:
            return _told(given, workshop, kept, ALL)
        one = named(given.name)
        if given.value:
            before, kept = kept, changed(workshop, kept, one, " ".join(given.value))
            keep(workshop, before, kept)
        return _told(given, workshop, kept, (one,))


def _told(
    given: Namespace, workshop: "Workshop", kept: "Kept", asked: "tuple[Preference, ...]"
) -> int:
    told = [(one.name, one.shown(kept), _about(one, workshop)) for one in asked]
    if given.json:
        data = {name: {"value": value, "about": about} for name, value, about in told}
        print(json.dumps(data, indent=2, ensure_ascii=False))
        return DONE
    for name, value, about in told:
        print(visible(f"{name} = {value}"))
        if given.name or given.about:
            for line in wrap(about, _WIDTH - 4):
                print(f"    {line}")
    return DONE


def _about(one: "Preference", workshop: "Workshop") -> str:
    if one.name != "pace":
        return one.about
    from workbench.making.pace import pace_words
    from workbench.store.own_pace import measured_pace

    return f"{one.about}; so far {pace_words(measured_pace(workshop))}"


def _options(parser: ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", nargs="?", help="one of those listed")
    words = "what to set it to; usual for what it is where nothing was set"
    parser.add_argument("value", metavar="VALUE", nargs="*", help=words)
    parser.add_argument("--json", action="store_true", help="write it as JSON")
    parser.add_argument("--about", action="store_true", help="say of each what it is")


SETTINGS = Command(
    "settings",
    "list and change what holds for all batches: trimmer, units, post, money",
    "trimtally settings hour 18.50",
    settings,
    _options,
    "[NAME]",
)
