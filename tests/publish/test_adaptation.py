"""Every sample on another reader's paper: planned, checked independently, and told."""

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.effort import FOR_SHEETS, some
from tests.planning.checker import plan_faults
from tests.publish.guides import NAMES, index_of, project_of
from workbench.craft.card import BASE, MOST_CARDS
from workbench.craft.paper import Offcut, Paper, Size
from workbench.craft.sheet_sizes import CARDS, SHEETS, read_sheet
from workbench.making.plan_index import PlanIndex
from workbench.measure.length import Length, Unit
from workbench.planning import Watch
from workbench.publish.adaptation import Adaptation, AdaptationError, Wishes, adapt, adapted
from workbench.publish.stand_ins import stood_in, suggest

OTHER: dict[Unit, Unit] = {"in": "mm", "mm": "in"}
ON_A4 = Wishes(unit="mm", sheet=SHEETS["A4"])
SMALL = Wishes(patterned=SHEETS["6 × 6 in"])
# Half a sixteenth of an inch, the graduation of a US office rule (A-A-355B).
HALF = Length.of(Fraction(1, 32), "in")
# A card of which everything can be cut from sheets of 6 x 6 in, where the sample's cannot.
SMALLER_CARDS = {"rainy_day_slimline": CARDS["A6"], "regatta_thanks": CARDS["US A2"]}


def made_over(before: PlanIndex, wishes: Wishes) -> Adaptation:
    watch = Watch(limits=FOR_SHEETS)
    return adapt(before.project, wishes, watch=watch, plan=before.plan)


@pytest.mark.parametrize(
    ("wishes", "name"),
    [
        *((ON_A4, name) for name in some(NAMES, 3)),
        *((Wishes(count=1), name) for name in some(NAMES[::-1], 3)),
        *((Wishes(count=60), name) for name in some(NAMES, 1)),
    ],
    ids=lambda one: one if isinstance(one, str) else str(one.count or "A4"),
)
def test_a_sample_on_other_paper_is_sound(name: str, wishes: Wishes) -> None:
    before = index_of(name)
    done = made_over(before, wishes)
    after = done.after
    assert plan_faults(after.project, after.plan) == []
    assert not after.plan.shortages
    assert after.plan.totals.proven or not before.plan.totals.proven
    assert after.plan.cards == (wishes.count or before.plan.cards)
    told = done.changes()
    assert any(line.startswith("sheets: ") for line in told)
    if wishes.sheet:
        plain = [paper for paper in after.project.papers if paper.kind != "patterned"]
        assert all(paper.size == SHEETS["A4"] for paper in plain)


@pytest.mark.parametrize("name", some([*SMALLER_CARDS, *sorted({*NAMES} - {*SMALLER_CARDS})], 3))
def test_a_sample_on_small_sheets_is_sound_or_says_what_would_do(name: str) -> None:
    before = index_of(name)
    wishes = SMALL
    if name in SMALLER_CARDS:
        with pytest.raises(AdaptationError, match=r"does not fit on 6 × 6 in; use .* or a card of"):
            made_over(before, wishes)
        wishes = replace(wishes, card=SMALLER_CARDS[name])
    after = made_over(before, wishes).after
    assert plan_faults(after.project, after.plan) == []
    assert after.plan.totals.proven or not before.plan.totals.proven


@pytest.mark.parametrize("name", some([*NAMES[::2], *NAMES[1::2]], 3))
def test_another_unit_takes_no_more_sheets(name: str) -> None:
    before = index_of(name)
    after = made_over(before, Wishes(unit=OTHER[before.project.units])).after
    assert plan_faults(after.project, after.plan) == []
    assert after.plan.totals.sheets <= before.plan.totals.sheets
    assert not after.plan.shortages
    back = adapted(after.project, Wishes(unit=before.project.units))
    sizes = [
        (project.card.size, *(piece.size for piece in project.pieces))
        for project in (before.project, back)
    ]
    for was, now in zip(*sizes, strict=True):
        assert abs(was.width - now.width) <= HALF
        assert abs(was.height - now.height) <= HALF


def test_a_card_in_another_size_comes_with_its_sheets() -> None:
    before = index_of("orchard_a6")
    wishes = Wishes(unit="in", sheet=SHEETS["Letter"], card=CARDS["US A2"])
    after = made_over(before, wishes).after
    assert after.project.card.size == CARDS["US A2"]
    assert plan_faults(after.project, after.plan) == []


def own_papers() -> tuple[Paper, ...]:
    square, letter = SHEETS["12 × 12 in"], SHEETS["Letter"]
    return (
        Paper("my blue", "cardstock", letter, 20, colours=("#203a52",)),
        Paper("my white", "cardstock", letter, 20, colours=("#ffffff",)),
        Paper("sun", "patterned", square, 2, print="dot", colours=("#e9a13b", "#25405a")),
        Paper("sea", "patterned", square, 2, print="check", colours=("#5f8f9b", "#eef3ee")),
        Paper("rose", "patterned", square, 2, print="stripe", colours=("#b5483a", "#f3e7d6")),
        Paper("scrap", "patterned", read_sheet("2 x 2 in", "in"), 2, colours=("#b5483a",)),
    )


def test_never_more_sheets_are_on_hand_than_can_be() -> None:
    most = adapted(project_of("regatta_thanks"), Wishes(count=MOST_CARDS))
    assert (most.card.count, max(paper.sheets for paper in most.papers)) == (MOST_CARDS, 100_000)


def test_own_papers_take_the_places_nearest_in_kind_and_colour() -> None:
    project = project_of("regatta_thanks")
    found = {one.paper.name: one.own and one.own.name for one in suggest(project, own_papers())}
    assert found == {
        "night harbour": "my blue",
        "sailcloth white": "my white",
        "lantern dot": "sun",
        "net check": "sea",
        "spindrift speckle": "rose",
    }


def test_a_project_on_own_papers_names_them_and_is_planned() -> None:
    index = index_of("regatta_thanks")
    own = {one.paper.name: one.own for one in suggest(index.project, own_papers()) if one.own}
    done = made_over(index, Wishes(stand_ins=own))
    project = done.after.project
    assert {paper.name for paper in project.papers} == {"my blue", "my white", "sun", "sea", "rose"}
    assert project.card.paper == "my blue"
    assert plan_faults(project, done.after.plan) == []
    assert any("sun in its place" in line for line in done.changes())


def test_rules_of_faces_that_are_gone_are_left_out() -> None:
    project = project_of("winter_fair_lanterns")
    plain = replace(own_papers()[2], name="plain back")
    changed = stood_in(project, {"lantern scallop": plain})
    faces = {face.name for paper in changed.papers for face in paper.faces}
    pairs = (*changed.mixing.apart, *changed.mixing.together)
    assert all(face in faces for pair in pairs for face in pair)
    assert BASE not in faces


def test_a_paper_of_the_reader_is_never_taken_for_one_that_is_kept() -> None:
    project = project_of("regatta_thanks")
    kept, other = project.papers[:2]
    own = replace(other, name=kept.name)
    with pytest.raises(AdaptationError, match="both called so; give yours another name"):
        adapted(project, Wishes(stand_ins={other.name: own}))


def test_nothing_of_the_reader_that_is_large_enough_is_said() -> None:
    project = project_of("regatta_thanks")
    (scrap,) = (paper for paper in own_papers() if paper.name == "scrap")
    words = {one.paper.name: one.words for one in suggest(project, [scrap])}
    assert words["night harbour"] == "none of yours is large enough"


def test_paper_of_another_size_is_not_that_of_the_makers_drawer() -> None:
    """Else its sheets are counted, and its batches draw, where the large ones lie."""
    index = index_of("regatta_thanks")
    project = index.project
    papers = tuple(
        replace(paper, stock=f"{number:012x}") for number, paper in enumerate(project.papers)
    )
    cover, dot = project.card.paper, "lantern dot"
    offcuts = tuple(Offcut(name, Size(*[Length.of(2, "in")] * 2)) for name in (cover, dot))
    project = replace(project, papers=papers, offcuts=offcuts)
    after = adapted(project, Wishes(patterned=SHEETS["8 × 8 in"]))
    assert [paper.name for paper in after.papers if paper.stock is None] == [
        paper.name for paper in papers if paper.kind == "patterned"
    ]
    done = Adaptation(PlanIndex(project, index.plan), PlanIndex(after, index.plan), Wishes())
    assert f"the maker's offcuts of {dot} are left out, as they are of other sheets" in (
        done.changes()
    )
