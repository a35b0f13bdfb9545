"""Small random projects, planned and checked: no plan has a fault, whatever was asked."""

from dataclasses import replace

from hypothesis import HealthCheck, assume, given, reject, settings
from hypothesis import strategies as st

from tests.effort import FOR_SHEETS, SOON, examples
from tests.planning.checker import plan_faults
from workbench.craft.card import COPIES, Card, Fold, Piece
from workbench.craft.errors import CraftError
from workbench.craft.mixing import Mixing
from workbench.craft.paper import EDGES, Back, Offcut, Paper, PaperKind, Run, Size, Strip
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning.driver import make_plan
from workbench.planning.limits import Limits
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Plan, Shortage

NAMES = ("fern", "gull", "heath")
KINDS: tuple[PaperKind, ...] = ("patterned", "cardstock", "vellum")
RUNS: tuple[Run, ...] = ("none", "up", "along")
FILTERED = [HealthCheck.filter_too_much, HealthCheck.too_slow]
FOLDS: tuple[Fold, ...] = ("top", "side", "none")


def sizes(least: int, most: int) -> st.SearchStrategy[Size]:
    side = st.integers(least, most).map(lambda number: Length.of(20 * number, "mm"))
    return st.builds(Size, side, side)


STRIP_WIDTHS = st.integers(1, 30).map(lambda number: Length.of(number, "mm"))

PAPERS = st.tuples(
    *(
        st.builds(
            Paper,
            st.just(name),
            st.sampled_from(KINDS),
            sizes(5, 9),
            st.integers(0, 4),
            st.just("dot") if name != "heath" else st.just("solid"),
            st.just(()),
            st.sampled_from(RUNS),
            strip=st.none() | st.builds(Strip, st.sampled_from(EDGES), STRIP_WIDTHS),
            back=st.none() | st.just(Back(f"back of {name}", "stripe")),
        )
        for name in NAMES
    )
)


@st.composite
def pieces(draw: st.DrawFn) -> tuple[Piece, ...]:
    return tuple(
        draw(
            st.builds(
                Piece,
                st.just(f"layer {number}"),
                sizes(1, 6),
                st.lists(st.sampled_from(NAMES), min_size=1, max_size=3, unique=True).map(tuple),
                per_card=st.sampled_from((1, 1, 2)),
                copies=st.sampled_from(COPIES),
                needed=st.sampled_from((True, True, False)),
                spare=st.sampled_from((0, 0, 0, 1)),
            )
        )
        for number in range(1, draw(st.integers(1, 3)) + 1)
    )


OFFCUTS = st.lists(
    st.builds(Offcut, st.sampled_from(NAMES), sizes(1, 5), st.integers(1, 2)), max_size=2
)


@st.composite
def projects(draw: st.DrawFn) -> Project:
    """Any project that can be one."""
    base = draw(st.sampled_from(NAMES))
    fold = draw(st.sampled_from(FOLDS))
    try:
        return Project(
            title="Random",
            units="mm",
            card=Card(draw(sizes(2, 4)), fold, base, draw(st.integers(1, 4))),
            papers=draw(PAPERS),
            pieces=draw(pieces()),
            offcuts=tuple(draw(OFFCUTS)),
            mixing=Mixing(
                repeat=draw(st.sampled_from((False, False, True))),
                use=draw(st.sampled_from(("as it comes", "as it comes", "all", "evenly"))),
            ),
        )
    except CraftError:
        reject()


def planned(asked: Project, trimmer: Trimmer, limits: Limits = SOON) -> Plan:
    """Its plan, or nothing where no amount of paper would do."""
    try:
        return make_plan(asked, trimmer, Watch(limits=limits))
    except PlanningError:
        reject()


@settings(max_examples=examples(12), suppress_health_check=FILTERED)
@given(projects())
def test_a_plan_has_no_faults(asked: Project) -> None:
    plan = planned(asked, Trimmer())
    assert plan_faults(asked, plan, Trimmer()) == []
    assert (plan.makeable >= asked.card.count) == (not plan.shortages)


TRIMMERS = st.builds(
    Trimmer,
    cut_length=st.integers(110, 320).map(lambda number: Length.of(number, "mm")),
    rule_length=st.integers(110, 320).map(lambda number: Length.of(number, "mm")),
    hold=st.integers(0, 50).map(lambda number: Length.of(number, "mm")),
)


@settings(max_examples=examples(20), suppress_health_check=FILTERED)
@given(projects(), TRIMMERS)
def test_a_plan_asks_no_more_of_a_trimmer_than_it_can(asked: Project, trimmer: Trimmer) -> None:
    plan = planned(asked, trimmer)
    assert plan_faults(asked, plan, trimmer) == []


@settings(max_examples=examples(4), suppress_health_check=FILTERED)
@given(projects())
def test_a_shortage_is_all_that_is_short(asked: Project) -> None:
    plan = planned(asked, Trimmer(), FOR_SHEETS)
    short = {shortage.paper: shortage.sheets for shortage in plan.shortages}
    assume(short)
    bought = tuple(
        replace(paper, sheets=paper.sheets + short.get(paper.name, 0)) for paper in asked.papers
    )
    assert not shortages(replace(asked, papers=bought))
    if plan.makeable:
        assert not shortages(with_count(asked, plan.makeable))
    assert shortages(with_count(asked, plan.makeable + 1))


def shortages(asked: Project) -> tuple[Shortage, ...]:
    return make_plan(asked, Trimmer(), Watch(limits=FOR_SHEETS)).shortages


def with_count(asked: Project, cards: int) -> Project:
    return replace(asked, card=replace(asked.card, count=cards))
