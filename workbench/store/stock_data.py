"""A paper of the drawer as data for JSON, every length an exact string, and back again."""

import json
from typing import Any, NamedTuple

import msgspec

from workbench.craft.errors import CraftError
from workbench.craft.money import Price
from workbench.craft.paper import SOLID, Back, Edge, Paper, PaperKind, Run, Size, Strip
from workbench.craft.stock import StockPaper
from workbench.measure.length import Length, MeasureError
from workbench.measure.reading import read_exact
from workbench.measure.writing import write_exact
from workbench.store.errors import WAY_BACK, WorkshopError


class StripData(NamedTuple):
    """A printed strip."""

    edge: Edge
    width: str


class BackData(msgspec.Struct, frozen=True):
    """The other face of a paper."""

    name: str
    print: str = SOLID
    colours: tuple[str, ...] = ()
    run: Run = "none"


class StockData(msgspec.Struct, frozen=True, omit_defaults=True):
    """A paper of the drawer without its counts. The nouns of craft/ check what is in it."""

    name: str
    kind: PaperKind
    width: str
    height: str
    print: str = SOLID
    colours: tuple[str, ...] = ()
    run: Run = "none"
    weight: str | None = None
    thickness: str | None = None
    strip: StripData | None = None
    back: BackData | None = None
    pad: str = ""
    price: str = ""
    lies: str = ""
    tags: tuple[str, ...] = ()
    note: str = ""

    @property
    def search_text(self) -> str:
        """All words that it can be found by, in small letters."""
        said = (self.name, self.kind, self.print, self.pad, self.lies, self.note, *self.tags)
        return "\n".join(said).casefold()


_DECODER = msgspec.json.Decoder(StockData)


def stock_text(stock: StockPaper) -> str:
    """`stock` as JSON."""
    return msgspec.json.encode(_data(stock)).decode()


def stock_data(text: str) -> StockData:
    """What JSON says of a paper, unchecked. Raises ValidationError when it is damaged."""
    return _DECODER.decode(text)


def stock_paper(data: StockData, sheets: int) -> StockPaper:
    """The paper of which `sheets` are free. Raises CraftError and MeasureError when damaged."""
    strip, back = data.strip, data.back
    paper = Paper(
        name=data.name,
        kind=data.kind,
        size=Size(read_exact(data.width), read_exact(data.height)),
        sheets=sheets,
        print=data.print,
        colours=data.colours,
        run=data.run,
        weight=data.weight,
        thickness=data.thickness,
        strip=Strip(strip.edge, read_exact(strip.width)) if strip else None,
        back=Back(back.name, back.print, back.colours, back.run) if back else None,
    )
    price = Price.read(data.price) if data.price else None
    return StockPaper(paper, data.pad, price, data.lies, data.tags, data.note)


def size_text(size: Size | None) -> str:
    """Write the size of a lot's offcuts exactly; nothing for whole sheets."""
    return json.dumps([_exact(size.width), _exact(size.height)]) if size else ""


def size_kept(text: str) -> Size | None:
    """The size again. Raises WorkshopError when it is damaged."""
    if not text:
        return None
    try:
        width, height = json.loads(text)
        return Size(read_exact(width), read_exact(height))
    except (ValueError, TypeError, MeasureError, CraftError) as error:
        raise WorkshopError(
            "the drawer", f"the size of some offcuts is damaged ({error})", WAY_BACK
        ) from error


def _data(stock: StockPaper) -> StockData:
    paper = stock.paper
    strip, back = paper.strip, paper.back
    return StockData(
        name=paper.name,
        kind=paper.kind,
        width=_exact(paper.size.width),
        height=_exact(paper.size.height),
        print=paper.print,
        colours=paper.colours,
        run=paper.run,
        weight=paper.weight,
        thickness=paper.thickness,
        strip=StripData(strip.edge, _exact(strip.width)) if strip else None,
        back=BackData(back.name, back.print, back.colours, back.run) if back else None,
        pad=stock.pad,
        price=str(stock.price) if stock.price else "",
        lies=stock.lies,
        tags=stock.tags,
        note=stock.note,
    )


def _exact(length: Length) -> str:
    return write_exact(length, "mm")


def as_builtins(stock: StockPaper) -> dict[str, Any]:
    """The same as a dict, every key in it."""
    data = _data(stock)
    return {name: msgspec.to_builtins(getattr(data, name)) for name in data.__struct_fields__}
