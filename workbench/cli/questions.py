"""Commands with words of their own, as `stock list`: each is asked of the drawer and answered."""

import json
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from workbench.cli.terminal import watched
from workbench.store.errors import StoreError, WorkshopError, visible

if TYPE_CHECKING:
    from workbench.planning import Watch
    from workbench.store.drawer import Drawer

MOST = 1_000_000_000
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


def whole_number(words: str) -> int:
    """A number that argparse reads: one that people count to."""
    try:
        number = int(words)
    except ValueError as error:
        raise ArgumentTypeError(f"{words!r} is no whole number; write it as in 12") from error
    if abs(number) > MOST:
        raise ArgumentTypeError(f"{words} is more than anything here counts")
    return number


def square_inches(words: str) -> Fraction:
    """An area, written as "6" or "13/2". Raises StoreError."""
    whole, _slash, part = words.partition("/")
    for number in (whole, part or "1"):
        if not (number.isascii() and number.isdigit() and len(number) < 7):
            raise WorkshopError("area", f"“{words}” is no area", "write it as in 6 or 13/2")
    return Fraction(int(whole), max(1, int(part or 1)))


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
    from workbench.measure.length import MeasureError
    from workbench.planning import PlanningError

    try:
        yield
    except CraftError as error:
        raise StoreError(error.place, error.wrong, error.right) from error
    except MeasureError as error:
        raise StoreError("the length", error.what, error.mend) from error
    except PlanningError as error:
        raise StoreError("the plan", str(error), "change the paper or the pieces") from error
