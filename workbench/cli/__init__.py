"""The command line: one thin function a command, the commands of a kind in a module."""

import os
import sys
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

from workbench.cli.backups import BACKUP, RESTORE
from workbench.cli.batches import BATCH
from workbench.cli.command import (
    BAD_INPUT,
    DONE,
    INTERNAL_FAULT,
    INTERRUPTED,
    Command,
    CommandError,
)
from workbench.cli.opening import OPEN, SERVE
from workbench.cli.plans import CHECK, PLAN
from workbench.cli.post import POST
from workbench.cli.recipes import ADAPT, GUIDE
from workbench.cli.settings import SETTINGS
from workbench.cli.stock import STOCK

COMMANDS = {
    command.name: command
    for command in (PLAN, CHECK, GUIDE, ADAPT, POST, STOCK, BATCH, SETTINGS, BACKUP, RESTORE, SERVE)
}

_WIDTH = 79


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks; returns the exit code. No traceback reaches the maker."""
    from workbench.store.errors import StoreError, visible

    words = list(sys.argv[1:] if arguments is None else arguments)
    try:
        code = _obey(words)
        print(end="", flush=True)
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _let_the_pipe_be()
        return DONE
    except (CommandError, StoreError) as error:
        print(visible(str(error)), file=sys.stderr)
        return BAD_INPUT
    except OSError as error:  # kept files have errors of their own: this is the output's
        print(f"trimtally: the output cannot be written ({error.strerror})", file=sys.stderr)
        return INTERNAL_FAULT
    except Exception as error:
        from workbench.store.diagnostics import fault_in_words

        print(fault_in_words(error), file=sys.stderr)
        return INTERNAL_FAULT
    return code


class _Parser(ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise CommandError(f"{self.prog}: {message}; see {self.prog} --help")


def _obey(words: list[str]) -> int:
    command = COMMANDS.get(words[0], OPEN) if words else OPEN
    if command is OPEN and words:
        _check_first(words[0])
    for word in words:
        if word.startswith("--") and word.endswith("=--"):  # which argparse takes for nothing
            raise CommandError(f"{word}: no value is given; write one after the =")
    try:
        given = _parser(command).parse_args(words[1:] if command.name else words)
    except SystemExit:  # help was asked for and given
        return DONE
    if command is not OPEN:
        from workbench.store.diagnostics import log_if_asked

        log_if_asked(to_file=False)
    return command.run(given)


def _check_first(word: str) -> None:
    """What is neither a file nor an option may be a command written wrong."""
    with suppress(OSError):  # a name that no file can have is left to who opens it
        if Path(word).exists():
            return
    from difflib import get_close_matches

    close = get_close_matches(word, COMMANDS, n=1)
    if close:
        raise CommandError(f"trimtally: {word} is no command and no file; did you mean {close[0]}?")


def _parser(command: Command) -> ArgumentParser:
    from textwrap import fill

    epilog = f"example:\n  {command.example}"
    if command is OPEN:
        epilog += "\n\nother commands, each with its own --help:\n" + "\n".join(_command_rows())
    parser = _Parser(
        prog=f"trimtally {command.name}".strip(),
        description=fill(f"Trimtally: {command.summary}.", _WIDTH),
        epilog=epilog,
        formatter_class=RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    if command is OPEN:
        from importlib.metadata import version

        said = f"trimtally {version('trimtally')}"
        parser.add_argument("--version", action="version", version=said, help="say which it is")
    command.options(parser)
    return parser


def _command_rows() -> Iterator[str]:
    """Every command and what it does, in lines that a terminal of 80 columns shows whole."""
    from textwrap import fill

    called = {f"trimtally {name} {one.takes}": one.summary for name, one in COMMANDS.items()}
    across = max(map(len, called)) + 4
    for words, summary in called.items():
        yield fill(
            summary,
            _WIDTH,
            initial_indent=f"  {words}".ljust(across),
            subsequent_indent=" " * across,
        )


def _let_the_pipe_be() -> None:
    # Python writes what is left of standard output when it ends; nobody reads that any more.
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
