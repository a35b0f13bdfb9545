"""What a command is, how it is refused, and the codes that commands end with."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from workbench.measure.length import MeasureError
from workbench.measure.numerals import MOST_WHOLE, read_whole

DONE = 0
INTERNAL_FAULT = 1
BAD_INPUT = 2
NOT_ENOUGH_PAPER = 3
INTERRUPTED = 130  # what a shell gives for a program ended by Ctrl-C


class CommandError(Exception):
    """Raised for a command that cannot be obeyed as it was given; its text is one line."""


@dataclass(frozen=True, slots=True)
class Command:
    """What a command is called, what its help says, and the function that does it."""

    name: str
    summary: str
    example: str
    run: Callable[[Namespace], int]
    options: Callable[[ArgumentParser], object]
    takes: str = "FILE"


def file_of(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="a project file")


def over_option(parser: ArgumentParser) -> None:
    parser.add_argument("--over", action="store_true", help="write over a file that is there")


def check_over(given: Namespace, file: Path) -> None:
    """Refuse a file that is there, unless it may be written over. Raises CommandError."""
    if not given.over:
        raise CommandError(f"{file}: it is there already; name another, or give --over")


def file_if_any(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, nargs="?", help="a project file to open")


def whole_number(words: str, most: int = MOST_WHOLE, least: int = 0) -> int:
    """A whole number as argparse reads it, from `least` to `most`. Raises ArgumentTypeError."""
    try:
        return read_whole(words, most, least)
    except MeasureError as error:
        raise ArgumentTypeError(str(error)) from error
