"""What a guide says to have ready, and what is left over: by hand."""

from functools import cache

from tests.effort import SOON
from tests.making.plans import inches, size
from workbench.craft.card import Card, Piece, Place
from workbench.craft.own_step import Hole, OwnStep
from workbench.craft.paper import Paper
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.making.plan_index import PlanIndex
from workbench.planning.driver import make_plan
from workbench.planning.progress import Watch
from workbench.publish.recipe import Recipe
from workbench.publish.writer import make_recipe

TAGS = Project(
    "tags",
    "in",
    Card(size(2, 4), "none", "kraft", 3),
    (
        Paper("kraft", "cardstock", size(8, 11), 1),
        Paper("star dot", "patterned", size(6, 6), 1, print="dot"),
        Paper("moon stripe", "patterned", size(6, 6), 1, print="stripe"),
    ),
    (
        Piece(
            "corner",
            size("1/2", "1/2"),
            ("star dot", "moon stripe"),
            Place(inches("1/4"), inches("1/4")),
            per_card=2,
            spread="mirrored",
        ),
        Piece("label", size(1, 1), ("kraft",), raised=inches("1/16")),
    ),
    steps=(
        OwnStep("punch", holes=(Hole(inches(1), inches("3 1/2"), size("1/8", "1/8")),)),
        OwnStep("slot", holes=(Hole(inches(1), inches(2), size("1/8", "1/2")),)),
    ),
)


@cache
def recipe() -> Recipe:
    return make_recipe(PlanIndex(TAGS, make_plan(TAGS, Trimmer(), Watch(limits=SOON))))


def test_punches_and_pads_are_among_the_tools() -> None:
    assert {
        "punch for round holes, 1/8 in (3.2 mm)",
        "punch for slots, 1/8 × 1/2 in (3.2 × 12.7 mm)",
        "foam pads, 1/16 in (1.6 mm) high",
    } <= set(recipe().tools)


def test_a_leftover_is_good_for_pieces_of_its_kind_of_paper() -> None:
    kinds = {"kraft": "label", "star dot": "corner", "moon stripe": "corner"}
    for row in recipe().leftovers:
        assert row.good_for.split(" × ")[-1] == kinds[row.paper]


def test_pieces_that_are_alike_on_a_card_are_told_once() -> None:
    for look in recipe().looks:
        assert [key for key, _ in look.papers] == ["B"]
