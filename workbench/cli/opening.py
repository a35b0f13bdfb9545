"""`trimtally [FILE]` and `trimtally serve`: the workbench in a terminal, or in a browser."""

import os
import sys
from argparse import ArgumentParser, Namespace
from functools import partial

from workbench.cli.command import (
    DONE,
    INTERNAL_FAULT,
    INTERRUPTED,
    Command,
    CommandError,
    file_if_any,
    whole_number,
)

_STREAMS = (0, 1, 2)  # input, output, errors
_LAST_PORT = 65535
_SERVE_CAUTION = """\
Caution: everyone in the same network can reach this address. Whoever has the access word can do
all that you can do here: see and change projects and batches, read and write their files. What
passes is not encrypted, the word included: use a network of people you trust, and end it after."""


def open_app(given: Namespace) -> int:
    from workbench.app.app import run
    from workbench.store.project_file import read_project

    if given.file:
        read_project(given.file)  # a bad file is refused here, where the refusal stays in sight
    if not all(map(os.isatty, _STREAMS)):
        raise CommandError(
            "trimtally: the workbench opens only in a terminal; see trimtally --help"
        )
    return INTERNAL_FAULT if run(given.file) else DONE


def serve(given: Namespace) -> int:
    from workbench.app.tablet import server
    from workbench.app.tablet.guard import new_word
    from workbench.store.project_file import read_project

    if given.file:
        read_project(given.file)
    try:
        listener = server.listen(given.address, given.port)
    except server.AddressError as error:
        raise CommandError(f"trimtally serve: {error}") from error
    private = server.is_private(listener)
    if given.no_word and not private:
        raise CommandError(
            "trimtally serve: --no-word is for this machine alone; others come in by a word"
        )
    word = None if given.no_word else new_word()
    if not private:
        print(_SERVE_CAUTION, file=sys.stderr)
    print(f"Open {server.where(listener)} in a browser; Ctrl-C here ends it.", flush=True)
    if word:
        print(f"The access word, shown only once: {word}", flush=True)
    server.serve(listener, word, given.file)
    return INTERRUPTED


def _serve_options(parser: ArgumentParser) -> None:
    file_if_any(parser)
    parser.add_argument(
        "--address",
        default="127.0.0.1",
        help="where to be reached: only from this machine if not given; the address of this "
        "machine in a network for a tablet there",
    )
    parser.add_argument(
        "--no-word",
        action="store_true",
        help="ask for no access word, where nobody else uses this machine",
    )
    parser.add_argument(
        "--port",
        type=partial(whole_number, most=_LAST_PORT),
        default=8000,
        help="8000 if not given",
    )


OPEN = Command("", "open the workbench", "trimtally lantern_walk.toml", open_app, file_if_any)
SERVE = Command(
    "serve",
    "open the workbench in a browser, as on a tablet beside the trimmer",
    "trimtally serve lantern_walk.toml",
    serve,
    _serve_options,
    "[FILE]",
)
