"""Every key of the project file, said once: this drives reading, writing, examples and errors.

A key stands in the order in which it is written, with a line to copy. What it holds follows from
the type of the dataclass's field, and what it holds unsaid from the field's default.
"""

from workbench.craft.card import Card, Piece, Place, Rounding
from workbench.craft.envelope import Envelope, Posting
from workbench.craft.extra import Extra
from workbench.craft.imprint import Imprint
from workbench.craft.mixing import USES, FixedCard, Mixing
from workbench.craft.own_step import Hole, OwnStep
from workbench.craft.paper import Back, Offcut, Paper, Strip
from workbench.craft.project import Project
from workbench.measure.masses import read_grams
from workbench.measure.weights import read_thickness, read_weight
from workbench.store.codecs import (
    MINUTES,
    NAME,
    TEXT,
    TRUTH,
    WHOLE,
    Either,
    Fixed,
    Listed,
    Named,
    Plain,
    Word,
)
from workbench.store.tables import Key, Table, headed

WEIGHT = Plain(str, lambda text, _: read_weight(text))
THICKNESS = Plain(str, lambda text, _: read_thickness(text))
GRAMS = Plain(str, lambda text, _: read_grams(text))
REPEAT = Either(bool, TRUTH, Listed(Fixed((TEXT, TEXT), lambda *pair: pair, tuple)))
USE = Either(str, Word(USES), Named(WHOLE))

# Keys that several tables have
_SIZE = Key("size", 'size = [4, "5 1/4"]')
_PAPER = Key("paper", 'paper = "cream card"')
_COUNT = Key("count", "count = 9")
_ON = Key("on", 'on = "card"')
_LOOK = (
    Key("print", 'print = "stripe"'),
    Key("colours", 'colours = ["#2f6f8f", "#f4efe4"]'),
    Key("run", 'run = "along"'),
)

CARD = Table(
    Card,
    _SIZE,
    Key("fold", 'fold = "top"'),
    _PAPER,
    _COUNT,
)
STRIP = Table(
    Strip,
    Key("edge", 'edge = "bottom"'),
    Key("width", 'width = "1/2"'),
)
BACK = Table(
    Back,
    Key("name", 'name = "kite back"', codec=NAME),
    *_LOOK,
)
PAPER = Table(
    Paper,
    Key("name", 'name = "kite stripe"', codec=NAME),
    Key("kind", 'kind = "patterned"'),
    Key("size", "size = [12, 12]"),
    Key("sheets", "sheets = 6", always=True),
    *_LOOK,
    Key("weight", 'weight = "110 lb cover"', codec=WEIGHT),
    Key("thickness", 'thickness = "0.36 mm"', codec=THICKNESS),
    Key("strip", 'strip = { edge = "bottom", width = "1/2" }'),
    Key("back", 'back = { name = "kite back", print = "dot", colours = ["#2f6f8f", "#f4efe4"] }'),
    Key("stock", 'stock = "3f9a2c71d04b"'),
)
OFFCUT = Table(
    Offcut,
    _PAPER,
    _SIZE,
    _COUNT,
    numbered=True,
)
PLACE = Table(
    Place,
    Key("x", 'x = "centre" or x = "1/2"', always=True),
    Key("y", 'y = "centre" or y = "1/2"', always=True),
)
ROUNDING = Table(
    Rounding,
    Key("corners", 'corners = ["top left", "top right"]'),
    Key("radius", 'radius = "1/4"'),
)
PIECE = Table(
    Piece,
    Key("name", 'name = "kite stripe"', codec=NAME),
    _SIZE,
    Key("from", 'from = ["kite stripe", "moth dot"]', field="papers"),
    Key("place", 'place = { x = "centre", y = "1/2" }'),
    Key("round", 'round = { corners = ["top left"], radius = "1/4" }', field="rounding"),
    Key("per_card", "per_card = 1"),
    Key("copies", 'copies = "each another"'),
    Key("needed", "needed = true"),
    _ON,
    Key("spare", "spare = 1"),
    Key("raised", 'raised = "1 mm"'),
    Key("spread", 'spread = "mirrored"'),
    Key("places", 'places = [{ x = "1/2", y = "1 1/2" }]'),
)
EXTRA = Table(
    Extra,
    Key("name", 'name = "glass bead"', codec=NAME),
    Key("weight", 'weight = "0.4 g"', codec=GRAMS),
    Key("thickness", 'thickness = "2 mm"', codec=THICKNESS),
    _ON,
    Key("per_card", "per_card = 3"),
    Key("flat", "flat = true"),
)
ENVELOPE = Table(
    Envelope,
    Key("name", 'name = "linen square"', codec=NAME),
    Key("size", 'size = ["150 mm", "150 mm"]'),
    Key("weight", 'weight = "7 g"', codec=GRAMS),
    Key("source", 'source = "measured"'),
)
POSTING = Table(
    Posting,
    Key("to", 'to = "us"'),
    Key("envelope", 'envelope = "US A2"'),
    Key("clearance", 'clearance = "1/8"'),
    Key("upright", "upright = true"),
)
FIXED_CARD = Table(
    FixedCard,
    Key("number", "number = 3"),
    Key("shows", 'shows = { panel = "kite stripe" }'),
)
MIXING = Table(
    Mixing,
    Key("wish", 'wish = "as a set"'),
    Key("deal", "deal = 1"),
    Key("apart", 'apart = [["kite stripe", "moth dot"]]'),
    Key("together", 'together = [["kite stripe", "moth dot"]]'),
    Key("repeat", 'repeat = true or repeat = [["panel", "strip"]]', codec=REPEAT),
    Key("use", 'use = "evenly" or use = { "kite stripe" = 9 }', codec=USE),
    headed("[[mixing.cards]]"),
)
IMPRINT = Table(
    Imprint,
    Key("line", 'line = "Made by Wren, wren.example, CC BY 4.0"'),
    Key("picture", 'picture = "finished.jpg"'),
)
HOLE = Table(
    Hole,
    Key("x", 'x = "1/2"'),
    Key("y", 'y = "1/2"'),
    Key("size", 'size = ["1/8", "1/8"]'),
)
OWN_STEP = Table(
    OwnStep,
    Key("name", 'name = "stamp the words"', codec=NAME),
    Key("on", 'on = "panel"'),
    Key("when", 'when = "after cutting"'),
    Key("minutes", 'minutes = "1 1/2"', codec=MINUTES),
    Key("caution", 'caution = "The heat tool is hot."'),
    Key("holes", 'holes = [{ x = "1/2", y = "1/2", size = ["1/8", "1/8"] }]'),
)
PROJECT = Table(
    Project,
    Key("title", 'title = "Lantern walk invitations"'),
    Key("units", 'units = "in"'),
    Key("wish", 'wish = "offcut"'),
    headed("[card]"),
    headed("[[papers]]"),
    headed("[[offcuts]]"),
    headed("[[pieces]]"),
    headed("[[extras]]"),
    headed("[[envelopes]]"),
    Key("post", "a table headed [post]", field="posting", heading="[post]"),
    headed("[imprint]"),
    headed("[mixing]"),
    headed("[[steps]]"),
)
