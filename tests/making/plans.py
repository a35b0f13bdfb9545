"""A small batch planned by hand: two cards, two prints cut in one stack, two bases."""

from dataclasses import replace
from fractions import Fraction

from workbench.craft.card import BASE, Card, Piece, Place, Rounding
from workbench.craft.direction import Direction
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project
from workbench.measure.length import Length
from workbench.planning.finishing import finishing_steps
from workbench.planning.result import (
    Assemble,
    Combination,
    Cut,
    Fold,
    Group,
    Part,
    PartId,
    Plan,
    Role,
    Round,
    Score,
    Sheet,
    Totals,
)

NET, GULL, FOG = "net weave", "gull dot", "fog card"


def inches(text: str | int) -> Length:
    """Exact inches from a whole number or words like "3 3/4"."""
    return Length.of(sum(Fraction(word) for word in str(text).split()), "in")


def size(width: str | int, height: str | int) -> Size:
    return Size(inches(width), inches(height))


HARBOUR = Project(
    title="Harbour thank-you notes",
    units="in",
    card=Card(size(4, 5), "top", FOG, 2),
    papers=(
        Paper(FOG, "cardstock", size("8 1/2", 11), 1, colours=("#dfe3e6",)),
        Paper(NET, "patterned", size(6, 6), 1, "check", ("#2f6f8f", "#f4efe4"), "along"),
        Paper(GULL, "patterned", size(6, 6), 1, "dot", ("#a4502f", "#f6f1e7"), "up"),
    ),
    pieces=(
        Piece(
            "panel",
            size("3 3/4", "4 3/4"),
            (NET, GULL),
            rounding=Rounding(("top right", "bottom right"), inches("1/4")),
        ),
        Piece("tide", size("3 3/4", 1), (NET, GULL), Place("left", inches("7/8")), on="panel"),
    ),
)


_LEFT_OVER: dict[str, Role] = {"offcut": "offcut", "scrap": "scrap"}


def _part(label: str, name: str, at: tuple[str, str], across: str, up: str) -> Part:
    role = _LEFT_OVER.get(name, "piece")
    piece = name if role == "piece" else None
    path = PartId.read(label).path
    return Part(path, role, piece, inches(at[0]), inches(at[1]), inches(across), inches(up))


def _print(label: str, paper: str) -> Sheet:
    return Sheet(
        label,
        paper,
        inches(6),
        inches(6),
        parts=(
            _part(f"{label}.1.1", "panel", ("0", "0"), "3 3/4", "4 3/4"),
            _part(f"{label}.1.2", "offcut", ("3 3/4", "0"), "2 1/4", "4 3/4"),
            _part(f"{label}.2.1.1", "tide", ("0", "4 3/4"), "3 3/4", "1"),
            _part(f"{label}.2.1.2", "scrap", ("0", "5 3/4"), "3 3/4", "1/4"),
            _part(f"{label}.2.2", "scrap", ("3 3/4", "4 3/4"), "2 1/4", "1 1/4"),
        ),
    )


_BASES = Sheet(
    "S3",
    FOG,
    inches("8 1/2"),
    inches(11),
    parts=(
        _part("S3.1.1", BASE, ("0", "0"), "4", "10"),
        _part("S3.1.2.1", BASE, ("4", "0"), "4", "10"),
        _part("S3.1.2.2", "scrap", ("8", "0"), "1/2", "10"),
        _part("S3.2", "scrap", ("0", "10"), "8 1/2", "1"),
    ),
)


def ids(*labels: str) -> tuple[PartId, ...]:
    """Parts by the names that they have on screens."""
    return tuple(map(PartId.read, labels))


def _cut(n: int, measure: Direction, mark: str, *takes: str) -> Cut:
    return Cut(n, ids(*takes), measure, inches(mark))


BASES = ids("S3.1.1", "S3.1.2.1")
STEPS = (
    _cut(1, Direction.HEIGHT, "4 3/4", "S1", "S2"),
    _cut(2, Direction.WIDTH, "3 3/4", "S1.1", "S2.1"),
    _cut(3, Direction.WIDTH, "3 3/4", "S1.2", "S2.2"),
    _cut(4, Direction.HEIGHT, "1", "S1.2.1", "S2.2.1"),
    _cut(5, Direction.HEIGHT, "10", "S3"),
    _cut(6, Direction.WIDTH, "4", "S3.1"),
    _cut(7, Direction.WIDTH, "4", "S3.1.2"),
    Score(8, BASES, Direction.HEIGHT, inches(5)),
    Fold(9, BASES),
    Round(10, ids("S1.1.1", "S2.1.1")),
    Assemble(11, ids("S3.1.1", "S1.1.1", "S2.2.1.1"), 1),
    Assemble(12, ids("S3.1.2.1", "S2.1.1", "S1.2.1.1"), 2),
)

PLAN = Plan(
    title=HARBOUR.title,
    cards=2,
    totals=Totals(sheets=3, fewest_possible=3, cuts=7, marks=5, seconds=0.0),
    groups=(Group((NET, GULL), 2, 2), Group((FOG,), 1, 1)),
    shortages=(),
    sheets=(_print("S1", NET), _print("S2", GULL), _BASES),
    steps=STEPS,
    combinations=(
        Combination(1, {"panel": NET, "tide": GULL}),
        Combination(2, {"panel": GULL, "tide": NET}),
    ),
    makeable=2,
)

_CUTS = PLAN.cuts
DEALT = replace(
    PLAN,
    steps=(*_CUTS, *finishing_steps(HARBOUR, PLAN.sheets, PLAN.combinations, len(_CUTS))),
)
"""The same batch as it is planned today: its pieces are dealt before the cards are put together."""
