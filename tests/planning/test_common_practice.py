"""What makers do at the table, as common practice has it (no source), and the planner."""

from tests.effort import FOR_SHEETS
from tests.planning.checker import plan_faults
from tests.planning.projects import (
    ONE_BY_ONE,
    eighths,
    half,
    patterned,
    plain,
    project,
    quarters,
    size,
)
from workbench.craft.card import Piece
from workbench.craft.trimmer import Trimmer
from workbench.planning.driver import make_plan
from workbench.planning.progress import Watch

LETTER = size(half(8), 11, "in")
PRINTS = ("first print", "second print", "third print")
LAYERS = (
    Piece("panel", size(4, quarters(5, 1), "in"), PRINTS),
    Piece("middle", size(eighths(3, 1), quarters(4, 1), "in"), PRINTS),
    Piece("band", size(eighths(3, 1), quarters(1, 3), "in"), PRINTS),
)


def test_three_sheets_make_nine_cards_from_five_marks() -> None:
    """Common practice, no source: three rows of 5 1/4, 4 1/4 and 1 3/4, the first in widths of 4,
    the others of 3 1/8; so nine pieces a sheet from five marks, and nine cards from three."""
    asked = project("in", 9, [patterned(name, size(12, 12, "in"), 1) for name in PRINTS], LAYERS)
    plan = make_plan(asked)
    assert sorted(s.paper for s in plan.sheets if s.paper in PRINTS) == sorted(PRINTS)
    assert (plan.totals.marks, plan.totals.proven, plan.makeable) == (5, True, 9)
    assert plan_faults(asked, plan, Trimmer()) == []
    # No two of the nine cards need look alike: there are six ways to place three prints.
    looks = {tuple(card.pieces.items()) for card in plan.combinations}
    assert len(looks) == 6


def test_two_letter_sheets_give_nine_mats() -> None:
    """Common practice, no source: a 4 1/2 row of three and a 3 1/4 row of two make five 3 1/4 x
    4 1/2 mats of a Letter sheet, so two sheets give nine."""
    for cards, sheets in ((5, 1), (9, 2), (10, 2), (11, 3)):
        mat = Piece("mat", size(quarters(3, 1), half(4), "in"), ("letter card",))
        asked = project("in", cards, [plain("letter card", LETTER, 4)], [mat])
        plan = make_plan(asked, ONE_BY_ONE, Watch(limits=FOR_SHEETS))
        assert sum(sheet.paper == "letter card" for sheet in plan.sheets) == sheets
        assert plan.totals.proven
        assert plan_faults(asked, plan, ONE_BY_ONE) == []


def test_five_letter_sheets_give_nine_bases_and_one_over() -> None:
    """Common practice, no source: Letter halved to 4 1/4 x 11 and scored at 5 1/2 gives two A2
    top-fold bases a sheet; five sheets for nine."""
    front = (quarters(4, 1), half(5))
    for cards, sheets in ((9, 5), (10, 5), (11, 6)):
        asked = project(
            "in",
            cards,
            [plain("letter card", LETTER, 9)],
            [],
            base=front,
            fold="top",
        )
        plan = make_plan(asked)
        assert plan.totals.sheets == plan.totals.fewest_possible == sheets
        assert (plan.totals.marks, plan.totals.cuts) == (1, sheets)
        assert plan_faults(asked, plan, Trimmer()) == []
