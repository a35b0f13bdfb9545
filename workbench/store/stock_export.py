"""All that is free in the drawer, written to a file for a spreadsheet or another workshop."""

from pathlib import Path
from typing import NamedTuple

from workbench.craft.paper import Offcut
from workbench.store.drawer import Drawer
from workbench.store.errors import WorkshopError
from workbench.store.replacement import replace
from workbench.store.stock_files import csv_text, toml_text


class Exported(NamedTuple):
    """How many papers, and lots of offcuts, were written."""

    papers: int
    lots: int


def export(drawer: Drawer, file: Path) -> Exported:
    """Write what is free to `file`, as TOML where it ends so and else as CSV.

    Raises:
        WorkshopError: where it cannot be written, or the drawer cannot be read.
    """
    papers, offcuts = drawer.listing()
    free = [
        Offcut(line.name, line.measures, line.counts.on_hand)
        for line in offcuts
        if line.counts.on_hand
    ]
    write = toml_text if file.suffix.lower() == ".toml" else csv_text
    text = write([line.paper for line in papers], free)
    try:
        replace(file, text.encode("utf-8"))
    except OSError as error:
        raise WorkshopError(
            str(file), f"it cannot be written ({error.strerror})", "name another file"
        ) from error
    return Exported(len(papers), len(free))
