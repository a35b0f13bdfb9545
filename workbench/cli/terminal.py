"""What a command shows: the stages of what takes long, drawings as text, refusals by file."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.cli.command import CommandError

if TYPE_CHECKING:
    from rich.console import RenderableType

    from workbench.planning import Watch

PATIENCE = 0.5  # seconds that pass before it is shown what goes on


@contextmanager
def refusing(file: Path) -> Iterator[None]:
    """Say of which file it is that no amount of paper would do."""
    from workbench.planning import PlanningError

    try:
        yield
    except PlanningError as error:
        raise CommandError(f"{file}: {error}") from error


@contextmanager
def watched() -> Iterator["Watch"]:
    """Show each stage while it lasts, where somebody can see it and has waited for a while."""
    from workbench.planning import Watch

    if not sys.stderr.isatty():
        yield Watch()
        return
    from threading import Timer

    from rich.console import Console
    from rich.text import Text

    status = Console(stderr=True).status("")

    def say(stage: str) -> None:
        words = f"{stage} … (Ctrl-C ends it)"
        status.update(Text(words, no_wrap=True, overflow="ellipsis"))

    showing = Timer(PATIENCE, status.start)
    showing.start()
    try:
        yield Watch(say)
    finally:
        showing.cancel()
        showing.join()
        status.stop()


def drawn(draw: "Callable[[int], RenderableType]") -> str:
    """What `draw` makes for so many columns, as text for the terminal or the file behind it."""
    from rich.console import Console

    from workbench.drawing.graphemes import steady

    # A terminal that lacks a character shows one that is like it, and the plan goes on.
    from workbench.drawing.plain_text import HANDLER, ascii_locale

    if reconfigure := getattr(sys.stdout, "reconfigure", None):
        reconfigure(encoding="ascii" if ascii_locale() else None, errors=HANDLER)
    console = Console(highlight=False)
    # Not printed by rich itself, which ends the program when a pipe breaks.
    with console.capture() as drawn:
        console.print(draw(console.width))
    return "\n".join(line.rstrip() for line in steady(drawn.get()).splitlines())
