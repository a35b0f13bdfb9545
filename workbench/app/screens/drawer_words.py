"""A row of the drawer in words."""

from collections.abc import Iterator

from workbench.drawing.labels import write_size
from workbench.measure.length import Unit
from workbench.store.drawer_rows import DrawerRow


def row_words(row: DrawerRow, unit: Unit) -> Iterator[str]:
    """The row at hand in sentences."""
    stock, counts = row.paper.paper, row.counts
    paper, size = stock.paper, write_size(row.size, unit)
    thing = f"offcut of {paper.name}" if row.offcut else paper.name
    yield f"{thing}: {size}"
    used = f"{counts.used} used, {counts.thrown} thrown away"
    yield f"{counts.bought} came in: {counts.on_hand} free, {counts.reserved} held, {used}"
    back = f"back {paper.back.name}" if paper.back else None
    notes = (paper.kind, paper.print, paper.weight, paper.thickness, back)
    yield ", ".join(note for note in notes if note)
    lies = f"lies in {stock.lies}" if stock.lies else None
    pad = f"of the pad {stock.pad}" if stock.pad else None
    tags = " ".join(f"#{tag}" for tag in stock.tags)
    price = str(stock.price) if stock.price else None
    yield ", ".join(note for note in (lies, pad, price, tags, stock.note) if note)
