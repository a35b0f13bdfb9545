"""The project file as TOML gives it, before its lengths are read and its parts are checked."""

from typing import Annotated

import msgspec

from workbench.craft.card import FRONT, Corner, Fold
from workbench.craft.mixing import Likeness
from workbench.craft.paper import SOLID, Edge, Kind, Run
from workbench.measure.length import Unit

# Longer numbers stand for nothing here, and one of thousands of digits could not even be told.
_LARGEST = 10**12
Whole = Annotated[int, msgspec.Meta(ge=-_LARGEST, le=_LARGEST)]
FileLength = int | float | str
FileSize = tuple[FileLength, FileLength]


class CardTable(msgspec.Struct, forbid_unknown_fields=True):
    size: FileSize
    fold: Fold
    paper: str
    count: Whole


class StripTable(msgspec.Struct, forbid_unknown_fields=True):
    edge: Edge
    width: FileLength


class BackTable(msgspec.Struct, forbid_unknown_fields=True):
    name: str
    print: str = SOLID
    colours: tuple[str, ...] = ()
    run: Run = "none"


class PaperTable(msgspec.Struct, forbid_unknown_fields=True):
    name: str
    kind: Kind
    size: FileSize
    sheets: Whole = 0
    print: str = SOLID
    colours: tuple[str, ...] = ()
    run: Run = "none"
    weight: str | None = None
    thickness: str | None = None
    strip: StripTable | None = None
    back: BackTable | None = None


class OffcutTable(msgspec.Struct, forbid_unknown_fields=True):
    paper: str
    size: FileSize
    count: Whole = 1


class PlaceTable(msgspec.Struct, forbid_unknown_fields=True):
    x: FileLength = "centre"
    y: FileLength = "centre"


class RoundTable(msgspec.Struct, forbid_unknown_fields=True):
    corners: tuple[Corner, ...]
    radius: FileLength


class PieceTable(msgspec.Struct, forbid_unknown_fields=True):
    name: str
    size: FileSize
    papers: tuple[str, ...] = msgspec.field(name="from")
    place: PlaceTable = msgspec.field(default_factory=PlaceTable)
    round: RoundTable | None = None
    per_card: Whole = 1
    needed: bool = True
    on: str = FRONT
    spare: Whole = 0


class FixedCardTable(msgspec.Struct, forbid_unknown_fields=True):
    number: Whole
    shows: dict[str, str]


class MixingTable(msgspec.Struct, forbid_unknown_fields=True):
    apart: tuple[tuple[str, str], ...] = ()
    together: tuple[tuple[str, str], ...] = ()
    cards: tuple[FixedCardTable, ...] = ()
    wish: Likeness = "varied"
    deal: Whole = 0


class ProjectTable(msgspec.Struct, forbid_unknown_fields=True):
    title: str
    units: Unit
    card: CardTable
    papers: tuple[PaperTable, ...] = ()
    offcuts: tuple[OffcutTable, ...] = ()
    pieces: tuple[PieceTable, ...] = ()
    mixing: MixingTable = msgspec.field(default_factory=MixingTable)


# A line to copy for every key, shown where the key is missing or holds the wrong kind of thing.
EXAMPLES = {
    "title": 'title = "Lantern walk invitations"',
    "units": 'units = "in"',
    "card": "a table headed [card]",
    "papers": "a table headed [[papers]]",
    "offcuts": "a table headed [[offcuts]]",
    "pieces": "a table headed [[pieces]]",
    "size": 'size = [4, "5 1/4"]',
    "fold": 'fold = "top"',
    "paper": 'paper = "cream card"',
    "count": "count = 9",
    "name": 'name = "kite stripe"',
    "kind": 'kind = "patterned"',
    "sheets": "sheets = 6",
    "print": 'print = "stripe"',
    "colours": 'colours = ["#2f6f8f", "#f4efe4"]',
    "run": 'run = "along"',
    "weight": 'weight = "110 lb cover"',
    "thickness": 'thickness = "0.36 mm"',
    "strip": 'strip = { edge = "bottom", width = "1/2" }',
    "edge": 'edge = "bottom"',
    "width": 'width = "1/2"',
    "from": 'from = ["kite stripe", "moth dot"]',
    "place": 'place = { x = "centre", y = "1/2" }',
    "x": 'x = "centre" or x = "1/2"',
    "y": 'y = "centre" or y = "1/2"',
    "round": 'round = { corners = ["top left"], radius = "1/4" }',
    "corners": 'corners = ["top left", "top right"]',
    "radius": 'radius = "1/4"',
    "per_card": "per_card = 1",
    "needed": "needed = true",
    "on": 'on = "card"',
    "spare": "spare = 1",
    "back": 'back = { name = "kite back", print = "dot", colours = ["#2f6f8f", "#f4efe4"] }',
    "mixing": "a table headed [mixing]",
    "apart": 'apart = [["kite stripe", "moth dot"]]',
    "together": 'together = [["kite stripe", "moth dot"]]',
    "cards": "a table headed [[mixing.cards]]",
    "wish": 'wish = "as a set"',
    "deal": "deal = 1",
    "number": "number = 3",
    "shows": 'shows = { panel = "kite stripe" }',
}
