"""`trimtally post`: what a card weighs and how it travels."""

from argparse import ArgumentParser, Namespace

from workbench.cli.command import DONE, Command, CommandError, file_of
from workbench.cli.own_workshop import own_desk, own_preferences
from workbench.cli.terminal import drawn


def post(given: Namespace) -> int:
    from workbench.craft.errors import CraftError
    from workbench.post import card_by_post, suggestions
    from workbench.store.project_file import read_project

    project = read_project(given.file)
    desk = own_desk(own_preferences("The usual settings are used."))
    try:
        card = card_by_post(project, desk, given.to)
    except CraftError as error:
        raise CommandError(f"{given.file}: {error}") from error
    if given.amend:
        print(_amended(card.post.key))
        return DONE
    found = tuple(suggestions(project, desk, card))
    if given.json:
        import json

        from workbench.store.post_data import card_to_data, suggestion_to_data

        data = card_to_data(card, project.units)
        data["cheaper"] = [suggestion_to_data(each) for each in found]
        print(json.dumps(data, indent=2))
        return DONE
    from rich.console import Group
    from rich.text import Text

    from workbench.drawing.post import post_report

    title = Text(f"{project.title}, one card by post\n", style="bold")
    print(drawn(lambda _: Group(title, post_report(card, project.units, found))))
    return DONE


def _amended(key: str) -> str:
    from workbench.post.rule_files import BUILT_IN, ENVELOPES
    from workbench.store.database import Workshop
    from workbench.store.errors import visible
    from workbench.store.post_desk import copy_rules

    keys = (key, ENVELOPES) if key in BUILT_IN else (ENVELOPES,)
    paths = [visible(str(copy_rules(Workshop.open(), each))) for each in keys]
    return "\n".join(("Change these files; they take the place of what is built in:", *paths))


def _post_options(parser: ArgumentParser) -> None:
    file_of(parser)
    parser.add_argument(
        "--to",
        metavar="POST",
        help="us, uk, ca, de, world, or one of your own; if not given, what the project or your "
        "settings say, else us for a project in inches and world for one in millimetres",
    )
    parser.add_argument("--json", action="store_true", help="write it as JSON")
    parser.add_argument(
        "--amend",
        action="store_true",
        help="put a copy of this post's rules and of the envelopes in your workshop, to change "
        "them there, and say where",
    )


POST = Command(
    "post",
    "say what a card weighs, which envelope takes it and how it travels by post",
    "trimtally post lantern_walk.toml --to uk",
    post,
    _post_options,
)
