"""What a plan makes of the trimmer's limits and of printed strips, each worked out by hand."""

from dataclasses import replace

import pytest

from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, half, patterned, plain, project, quarters, size
from workbench.craft.card import Piece
from workbench.craft.direction import Direction
from workbench.craft.paper import Edge, Offcut, Paper, Strip
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning.cuts.cut_steps import CutSteps, PileCuts
from workbench.planning.driver import make_plan
from workbench.planning.instance.instance import Instance, Item, Source, Subproblem
from workbench.planning.instance.trimmer_limits import UNLIMITED
from workbench.planning.layouts.tree import Chain, Layout, Leaf, Node
from workbench.planning.progress import PlanningError
from workbench.planning.result import Plan
from workbench.planning.shape import HEIGHT, WIDTH


def inches(number: int) -> Length:
    return Length.of(number, "in")


def cuts(plan: Plan, paper: str) -> list[tuple[str | None, Length | None]]:
    """What the cuts of a paper measure, and their marks."""
    labels = {sheet.id for sheet in plan.sheets if sheet.paper == paper}
    return [(step.measure, step.mark) for step in plan.cuts if step.takes[0].sheet in labels]


# The printed strip


def striped(edge: Edge) -> Paper:
    """A 12 x 12 in print with half an inch of lettering along one edge."""
    paper = patterned("kite", size(12, 12, "in"), 9)
    return replace(paper, strip=Strip(edge, Length.of(half(0), "in")))


@pytest.mark.parametrize(
    ("edge", "measure", "mark"),
    [
        ("bottom", Direction.HEIGHT, half(0)),
        ("left", Direction.WIDTH, half(0)),
        ("top", Direction.HEIGHT, half(11)),
        ("right", Direction.WIDTH, half(11)),
    ],
)
def test_a_strip_is_measured_where_it_lies_first_and_what_is_kept_where_not(
    edge: Edge, measure: str, mark: int
) -> None:
    asked = project("in", 1, [striped(edge)], [Piece("square", size(4, 4, "in"), ("kite",))])
    plan = make_plan(asked)
    assert plan_faults(asked, plan) == []
    assert cuts(plan, "kite")[0] == (measure, Length.of(mark, "in"))


def test_a_strip_takes_pieces_with_it() -> None:
    """Nine 4 in squares fill 12 x 12 in; from 12 x 11 1/2 in come six, by three across and two
    up, so eighteen squares want three sheets instead of two."""
    squares = [Piece("square", size(4, 4, "in"), ("kite",), per_card=18)]
    whole = project("in", 1, [replace(striped("top"), strip=None)], squares)
    cut = project("in", 1, [striped("top")], squares)
    sheets = [
        sum(sheet.paper == "kite" for sheet in make_plan(asked).sheets) for asked in (whole, cut)
    ]
    assert sheets == [2, 3]
    assert make_plan(cut).totals.proven


def test_a_strip_is_scrap_however_wide() -> None:
    wide = replace(striped("left"), strip=Strip("left", inches(2)))
    asked = project("in", 1, [wide], [Piece("all", size(10, 12, "in"), ("kite",))])
    (sheet,) = (sheet for sheet in make_plan(asked).sheets if sheet.paper == "kite")
    assert [(part.role, part.width) for part in sheet.parts] == [
        ("scrap", inches(2)),
        ("piece", inches(10)),
    ]


def test_strips_of_two_prints_go_together() -> None:
    """One stroke takes the strip off both sheets of the pile, like every other cut."""
    papers = [striped("bottom"), replace(striped("bottom"), name="gull")]
    pieces = [Piece("panel", size(4, 5, "in"), ("kite", "gull"), per_card=1)]
    pieces.append(Piece("band", size(4, 5, "in"), ("kite", "gull"), per_card=1))
    plan = make_plan(project("in", 6, papers, pieces))
    printed = tuple(sheet.whole for sheet in plan.sheets if sheet.paper in ("kite", "gull"))
    assert plan.steps[0].takes == printed


def test_an_offcut_has_no_strip_any_more() -> None:
    offcuts = [Offcut("kite", size(4, 4, "in"))]
    squares = [Piece("square", size(4, 4, "in"), ("kite",))]
    plan = make_plan(project("in", 1, [striped("top")], squares, offcuts=offcuts))
    assert cuts(plan, "kite") == []


# The longest cut and the rule

LONG = Trimmer(cut_length=inches(12), rule_length=inches(15), at_once=ONE_BY_ONE.at_once)


def test_a_long_sheet_is_cut_across_first() -> None:
    """No cut up the 18 in of a 12 x 18 in sheet can be made by a 12 in blade."""
    long = patterned("roll", size(12, 18, "in"), 3)
    pieces = [Piece("tile", size(4, 6, "in"), ("roll",), per_card=9)]
    asked = project("in", 1, [long], pieces)
    plan = make_plan(asked, LONG)
    assert plan_faults(asked, plan, LONG) == []
    assert plan.totals.proven
    assert cuts(plan, "roll")[0][0] == Direction.HEIGHT


def test_a_mark_beyond_the_rule_is_measured_on_the_other_part() -> None:
    """16 of 18 in is past a 15 in rule, so the guide is set to the 2 in left over."""
    long = patterned("roll", size(12, 18, "in"), 1)
    asked = project("in", 1, [long], [Piece("banner", size(12, 16, "in"), ("roll",))])
    plan = make_plan(asked, LONG)
    assert plan_faults(asked, plan, LONG) == []
    assert cuts(plan, "roll") == [(Direction.HEIGHT, inches(2))]


def test_a_sheet_too_large_for_the_blade_is_refused_in_words() -> None:
    """Both ways across a 20 x 28 in sheet are longer than 12 1/2 in."""
    poster = patterned("poster", size(20, 28, "in"), 3)
    asked = project("in", 2, [poster], [Piece("tile", size(4, 6, "in"), ("poster",))])
    with pytest.raises(PlanningError) as refused:
        make_plan(asked)
    assert '"tile" cannot be cut from "poster" on this trimmer' in str(refused.value)
    assert "12 1/2 in" in str(refused.value)
    parts = [Offcut("poster", size(10, 14, "in"), 1)]
    plan = make_plan(replace(asked, offcuts=tuple(parts)))
    assert [sheet.offcut for sheet in plan.sheets if sheet.paper == "poster"] == [True]


def test_more_sheets_are_not_asked_for_where_they_would_not_help() -> None:
    """One offcut gives four tiles; the fifth could only come from a sheet too large to cut."""
    poster = patterned("poster", size(20, 28, "in"), 3)
    tiles = [Piece("tile", size(5, 7, "in"), ("poster",), per_card=5)]
    asked = project("in", 1, [poster], tiles, offcuts=[Offcut("poster", size(10, 14, "in"))])
    with pytest.raises(PlanningError, match='of "poster", and there are too few offcuts'):
        make_plan(asked)


def test_a_strip_up_a_sheet_too_long_to_cut_is_refused() -> None:
    long = replace(striped("left"), size=size(12, 18, "in"))
    asked = project("in", 1, [long], [Piece("tile", size(4, 6, "in"), ("kite",))])
    with pytest.raises(PlanningError, match='"tile" cannot be cut from "kite"'):
        make_plan(asked, LONG)


def test_another_paper_serves_where_one_is_too_large() -> None:
    papers = [patterned("poster", size(20, 28, "in"), 3), patterned("pad", size(6, 6, "in"), 3)]
    asked = project("in", 2, papers, [Piece("tile", size(4, 6, "in"), ("poster", "pad"))])
    plan = make_plan(asked)
    assert plan_faults(asked, plan) == []
    assert {sheet.paper for sheet in plan.sheets} == {"pad", "ready base"}


# Something to hold


def test_narrow_strips_are_cut_before_the_part_they_are_held_by() -> None:
    """Four quarter inches and a panel of 4 in from 5 in: the panel is there to hold till last."""
    papers = [plain("card", size(5, 6, "in"), 1)]
    pieces = [
        Piece("panel", size(4, 6, "in"), ("card",)),
        Piece("ribbon", size(quarters(0, 1), 6, "in"), ("card",), per_card=3),
    ]
    asked = project("in", 1, papers, pieces)
    plan = make_plan(asked)
    assert plan_faults(asked, plan) == []
    (panel,) = (
        sheet.part_id(part)
        for sheet in plan.sheets
        for part in sheet.parts
        if part.piece == "panel"
    )
    assert panel in plan.cuts[-1].gives[0]


# Many sheets


TILE, SLIP = 0, 1
PIECES = (
    Item(TILE, "tile", 6, 6, 0, 1, ("kite",), needed=True, dealt=False),
    Item(SLIP, "slip", 6, 12, 0, 1, ("kite",), needed=True, dealt=False),
)


def shop(roots: list[Node], copies: int) -> CutSteps:
    source = Source(12, 12, 1000, offcut=False, cost=1)
    layouts = [Layout("kite", source, root) for root in roots for _ in range(copies)]
    demand = Instance(1, UNLIMITED, (Subproblem(PIECES, (), 1, UNLIMITED),))
    return CutSteps(demand, PileCuts(layouts, {"kite": "patterned"}, {"patterned": 2}, 0))


def test_like_sheets_are_stacked_whatever_their_number() -> None:
    """A sheet in four quarters is three cuts; the halves of two sheets make two more piles."""
    quarter = Leaf(6, 6, TILE)
    row = Chain(12, 6, WIDTH, ((6, quarter),), quarter)
    sheet = Chain(12, 12, HEIGHT, ((6, row),), row)
    for copies in (1, 2, 7, 300):
        work = shop([sheet], copies)
        # In pairs: half as many strokes for the sheets, and as many again for their halves.
        assert len(work.steps) == -(-copies // 2) + copies
        assert work.cuts.fewest_settings == 1
        assert sum(len(found.parts) for found in work.sheets) == 4 * copies


def test_a_pile_waits_until_all_that_belongs_on_it_is_there() -> None:
    """Halves of two layouts meet: one has them at once, the other behind a cut at that mark."""
    tile, slip = Leaf(6, 6, TILE), Leaf(6, 12, SLIP)
    half_ = Chain(6, 12, HEIGHT, ((6, tile),), tile)
    one = Chain(12, 12, WIDTH, ((6, half_),), slip)
    other = Chain(12, 12, WIDTH, ((6, half_),), half_)
    work = shop([one, other], 1)
    taken = [len(step.takes) for step in work.steps]
    assert taken == [2, 2, 1]
