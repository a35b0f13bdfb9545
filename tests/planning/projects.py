"""Small projects for the planner, written briefly."""

from collections.abc import Sequence
from fractions import Fraction

from workbench.craft.card import Card, Fold, Piece
from workbench.craft.paper import Offcut, Paper, PaperKind, Run, Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import ZERO, Length, Unit

Number = int | Fraction

# One sheet at a time, so that every stroke of the blade counts by itself, and no rule too short.
ONE_BY_ONE = Trimmer(
    cut_length=Length.of(10_000, "mm"),
    rule_length=Length.of(10_000, "mm"),
    hold=ZERO,
    at_once={"patterned": 1, "cardstock": 1, "vellum": 1, "other": 1},
)


def half(number: int) -> Fraction:
    return number + Fraction(1, 2)


def quarters(number: int, count: int) -> Fraction:
    return number + Fraction(count, 4)


def eighths(number: int, count: int) -> Fraction:
    return number + Fraction(count, 8)


def size(width: Number, height: Number, unit: Unit) -> Size:
    return Size(Length.of(width, unit), Length.of(height, unit))


def patterned(name: str, sheet: Size, sheets: int, run: Run = "none") -> Paper:
    return Paper(name, "patterned", sheet, sheets, "dot", (), run)


def plain(name: str, sheet: Size, sheets: int, kind: PaperKind = "cardstock") -> Paper:
    return Paper(name, kind, sheet, sheets)


def project(
    unit: Unit,
    cards: int,
    papers: Sequence[Paper],
    pieces: Sequence[Piece],
    *,
    base: tuple[Number, Number] | None = None,
    fold: Fold = "none",
    offcuts: Sequence[Offcut] = (),
) -> Project:
    """A project; without `base`, its bases come ready cut, one a sheet, and cost no cut."""
    papers = list(papers)
    if base is None:
        widest = max(max(paper.size.width, paper.size.height) for paper in papers)
        front = Size(widest, widest)
        papers.append(Paper("ready base", "cardstock", front, cards))
    else:
        front = size(*base, unit)
    return Project(
        title="A test of the planner",
        units=unit,
        card=Card(front, fold, papers[-1].name, cards),
        papers=tuple(papers),
        pieces=tuple(pieces),
        offcuts=tuple(offcuts),
    )
