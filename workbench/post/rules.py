"""What a post asks of a letter: nouns, as its file holds them."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, get_args

Measured = Literal[
    "length",
    "height",
    "thickness",
    "weight",
    "shape",
    "unevenness",
    "lumps",
    "length + height + thickness",
]
Posted = Literal["in an envelope", "without an envelope"]

MEASURED: tuple[Measured, ...] = get_args(Measured)
POSTED: tuple[Posted, ...] = get_args(Posted)
CHECK = "Limits change: check with your post office."


@dataclass(frozen=True, slots=True)
class Limit:
    """One end of a range.

    Attributes:
        value: in millimetres, in grams, or a bare number.
        unit: what the post gives it in: "in", "mm", "g", "oz", or "" for a bare number.
        text: how the post writes it, "11 1/2 in".
    """

    value: Fraction
    unit: str
    text: str


@dataclass(frozen=True, slots=True)
class Rule:
    """One thing that a class asks: the measure `of` what, from `least` to `most`, both allowed.

    `length` is the longer side, `height` the shorter; `shape` the side along the address divided
    by the other; `lumps` how many extras do not lie flat. A measure may be off by `tolerance`. The
    rule holds only where a measure is `over` a limit named there, or always where none is named.
    """

    of: Measured
    least: Limit | None
    most: Limit | None
    tolerance: Limit | None
    over: Mapping[Measured, Limit]
    source: str
    seen: str


@dataclass(frozen=True, slots=True)
class PostalClass:
    """One class of letter; `posted` None takes a card either way."""

    name: str
    rules: tuple[Rule, ...]
    posted: Posted | None = None


@dataclass(frozen=True, slots=True)
class Post:
    """A post by its `key` ("us"), its classes from the cheapest on, where and when seen."""

    key: str
    name: str
    classes: tuple[PostalClass, ...]
    source: str
    seen: str
