"""Commands with words of their own, as `stock list`: each is asked of the drawer and answered."""

import json
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from workbench.cli.terminal import watched
from workbench.measure.length import MeasureError
from workbench.measure.numerals import quoted, read_amount
from workbench.store.errors import StoreError, WorkshopError, visible

if TYPE_CHECKING:
    from workbench.planning import Watch
    from workbench.store.drawer import Drawer

_AREAS = "6 or 13/2"
Answer = Callable[[Namespace, "Drawer", "Watch"], int]


def answered(given: Namespace) -> int:
    """Do what was asked; returns the exit code. Raises StoreError."""
    from workbench.store.database import Workshop
    from workbench.store.drawer import Drawer

    with watched() as watch, refusing():
        code: int = given.answer(given, Drawer(Workshop.open()), watch)
    return code


def asked_in(parser: ArgumentParser) -> Any:
    return parser.add_subparsers(dest="what", metavar="WHAT", required=True)


def ask(asked: Any, name: str, summary: str, answer: Answer) -> ArgumentParser:
    parser: ArgumentParser = asked.add_parser(name, help=summary, description=f"{summary}.")
    parser.add_argument("--json", action="store_true", help="write it as JSON")
    parser.set_defaults(answer=answer)
    return parser


def square_inches(words: str) -> Fraction:
    """An area, written as "6" or "13/2". Raises WorkshopError."""
    try:
        number, rest = read_amount(words, _AREAS)
    except MeasureError as error:
        raise WorkshopError("area", error.what, error.mend) from error
    if rest:
        raise WorkshopError("area", f"{quoted(words)} is no area", f"write it as in {_AREAS}")
    return number


def say(given: Namespace, data: object, lines: Sequence[str]) -> None:
    if given.json:
        print(json.dumps(data, indent=2, ensure_ascii=False))
        return
    for line in lines:
        print(visible(line))


@contextmanager
def refusing() -> Iterator[None]:
    """Say in one line what the nouns of the craft and the planner refuse."""
    from workbench.craft.errors import CraftError
    from workbench.planning import PlanningError

    try:
        yield
    except CraftError as error:
        raise StoreError(error.place, error.wrong, error.right) from error
    except MeasureError as error:
        raise StoreError("the length", error.what, error.mend) from error
    except PlanningError as error:
        raise StoreError("the plan", str(error), "change the paper or the pieces") from error
