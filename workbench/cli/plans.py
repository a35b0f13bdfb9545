"""`trimtally plan` and `trimtally check`."""

import sys
import time
from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.cli.command import DONE, NOT_ENOUGH_PAPER, Command, file_of
from workbench.cli.own_workshop import own_desk, own_pace, own_preferences, with_free_stock
from workbench.cli.terminal import drawn, refusing, watched
from workbench.measure.counting import counted

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.craft.trimmer import Trimmer
    from workbench.planning import Plan
    from workbench.post import CardByPost, Desk


def plan(given: Namespace) -> int:
    from workbench.planning import plan_as_wished
    from workbench.store.project_file import read_project

    started = time.monotonic()
    project = with_free_stock(read_project(given.file))
    preferences = own_preferences()
    trimmer, desk = preferences.trimmer, own_desk(preferences)
    with refusing(given.file), watched() as watch:
        made = plan_as_wished(project, trimmer, watch, own_pace(preferences), given.wish)
        watch.stage("writing it down")
        text = _json(made, project, desk) if given.json else _report(made, project, trimmer, desk)
    print(text)
    if made.shortages:
        print(shortage(made), file=sys.stderr)
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
    preferences = own_preferences()
    with refusing(given.file), watched() as watch:
        watch.stage("trying the rules of mixing")
        check_project(project, preferences.trimmer)
    counts = (
        counted(project.card.count, "card"),
        counted(len(project.papers), "paper"),
        counted(len(project.pieces), "piece"),
    )
    print(f"{visible(str(given.file))} is a sound project: {', '.join(counts)}")
    doubts = findings(project, preferences.trimmer, preferences.tolerance)
    for doubt in (*doubts, *postal_findings(project, own_desk(preferences))):
        print(visible(f"  in doubt: {doubt} To mend: {doubt.mend}."))
    return DONE


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


def _report(made: "Plan", project: "Project", trimmer: "Trimmer", desk: "Desk") -> str:
    from workbench.drawing.report import report
    from workbench.making.plan_index import PlanIndex

    card = _card(project, desk)
    return drawn(lambda columns: report(PlanIndex(project, made), trimmer, columns, card))


def shortage(made: "Plan") -> str:
    sheets = [f"{counted(short.sheets, 'sheet')} of {short.paper}" for short in made.shortages]
    return (
        f"not enough paper: buy {', '.join(sheets)}; "
        f"with what is there {made.makeable} of {counted(made.cards, 'card')} can be made"
    )


def _print_changes(file: Path, project: "Project", trimmer: "Trimmer") -> None:
    """Say, as they are found, which single changes would do as well as buying."""
    from workbench.planning import find_suggestions
    from workbench.store.errors import visible

    with refusing(file), watched() as watch:
        for number, change in enumerate(find_suggestions(project, trimmer, watch)):
            if number == 0:
                print("any one of these would make it enough:", file=sys.stderr)
            print(f"  {visible(change.words)}", file=sys.stderr)


def _plan_options(parser: ArgumentParser) -> None:
    from workbench.planning import WISHES

    file_of(parser)
    parser.add_argument("--json", action="store_true", help="write the plan as JSON")
    words = "; ".join(f"{wish}: {words}" for wish, words in WISHES.items())
    parser.add_argument(
        "--wish",
        choices=tuple(WISHES),
        default=None,
        help=f"what the plan should be best at, all in the fewest sheets ({words}; what the "
        "project says if not given, else time)",
    )


PLAN = Command(
    "plan",
    "plan a whole batch: what to take, where to cut, how to mix the prints",
    "trimtally plan lantern_walk.toml",
    plan,
    _plan_options,
)


CHECK = Command(
    "check",
    "say whether a project file is sound",
    "trimtally check lantern_walk.toml",
    check,
    file_of,
)
