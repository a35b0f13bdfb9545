"""Missing pieces cut from what there is, and nothing else."""

from collections import Counter

from tests.planning.parts import WATCH
from tests.planning.projects import ONE_BY_ONE, patterned, project, size
from workbench.craft.card import Piece
from workbench.planning import MissingPiece, cut_missing

SHEET = size(300, 300, "mm")
ASKED = project(
    "mm",
    9,
    [patterned("moth", SHEET, 1), patterned("kite", SHEET, 1)],
    [Piece("panel", size(100, 140, "mm"), ("moth", "kite"))],
)


def test_just_what_is_missing_is_cut_each_from_its_paper() -> None:
    missing = [MissingPiece("panel", ("moth",), 2), MissingPiece("panel", ("kite",), 1)]
    found = cut_missing(ASKED, missing, ONE_BY_ONE, WATCH)
    assert found is not None
    cut = Counter(
        (part.piece, sheet.paper) for sheet in found.sheets for part in sheet.parts if part.piece
    )
    assert cut == {("panel", "moth"): 2, ("panel", "kite"): 1}
    assert [step.n for step in found.cuts] == list(range(1, len(found.cuts) + 1))


def test_none_where_the_paper_cannot_do() -> None:
    assert cut_missing(ASKED, [MissingPiece("panel", ("moth",), 9)], ONE_BY_ONE, WATCH) is None
