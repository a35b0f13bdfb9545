"""All that is free in the drawer, written to a file for a spreadsheet or another workshop."""

from pathlib import Path
from typing import NamedTuple

from workbench.craft.paper import Offcut
from workbench.store.drawer import Drawer
from workbench.store.errors import WorkshopError
from workbench.store.places import put
from workbench.store.stock_files import csv_text, toml_text

_WRITERS = {".csv": csv_text, ".toml": toml_text}


class Exported(NamedTuple):
    """How many papers, and lots of offcuts, were written."""

    papers: int
    lots: int


def export(drawer: Drawer, file: Path) -> Exported:
    """Write what is free to `file`, as TOML or CSV, by how its name ends.

    Raises:
        WorkshopError: where it ends in another way, or the drawer cannot be read.
        PlaceError: where it cannot be written.
    """
    write = _WRITERS.get(file.suffix.lower())
    if write is None:
        raise WorkshopError(str(file), "no stock is written so", "let it end in .csv or .toml")
    papers, offcuts = drawer.listing()
    free = [
        Offcut(line.name, line.measures, line.counts.on_hand)
        for line in offcuts
        if line.counts.on_hand
    ]
    text = write([line.paper for line in papers], free)
    put(file, text.encode("utf-8"))
    return Exported(len(papers), len(free))
