"""What the maker is told at each step, from the hand-made batch."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.making.plans import HARBOUR, PLAN, inches
from workbench.craft.trimmer import Trimmer
from workbench.making.batch import BatchState
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import Prompt, prompt
from workbench.making.speech import aloud, spoken
from workbench.measure.length import UNITS
from workbench.measure.writing import graduation_for
from workbench.planning import Assemble, PartId

BENCH = PlanIndex(HARBOUR, PLAN)
INCHES, MILLIMETRES = graduation_for("in"), graduation_for("mm")


def at(step: int) -> Prompt:
    said = prompt(BENCH, BatchState(len(PLAN.steps), step - 1), INCHES)
    assert said
    return said


def test_the_first_cut_says_what_to_pick_up_how_to_measure_and_where_it_goes() -> None:
    said = at(1)
    assert said.title == "Set the guide to"
    assert said.guide and said.guide.number == "4 3/4" and said.guide.anew
    assert said.guide.off is None
    assert said.pick_up == ("2 × sheet 6 × 6 in, net weave and gull dot, S1 and S2",)
    assert said.how == (
        "Along the height (6 in): bottom edge to the guide, print upright.",
        "2 at once: edges flush, prints the same way up.",
    )
    assert said.comes_off == (
        "2 × part 6 × 4 3/4 in → cut next",
        "2 × part 6 × 1 1/4 in → keep for step 3",
    )
    assert said.following == "cut 2 × part at 3 3/4 in"


def test_a_count_is_never_said_as_the_side_of_a_size() -> None:
    assert spoken(at(1), "in").endswith(
        "Pick up 2 of sheet 6 by 6 inches, net weave and gull dot, S1 and S2."
    )
    assert spoken(at(1), "in").startswith("Set the guide to 4 and 3 quarters inches.")


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("halfway between 3 1/2 and 4", "halfway between 3 and a half and 4"),
        ("radius 1/4 in, 5/16 in", "radius a quarter of an inch, 5 sixteenths of an inch"),
        ("2 × tag 1/8 × 4 3/8 in", "2 of tag an eighth by 4 and 3 eighths inches"),
        ("≈ 2 4/9 in", "about 2 and 4 over 9 inches"),
        ("9 × panel 133.5 × 80 mm", "9 of panel 133.5 by 80 millimetres"),
        ("on the 60 mm line", "on the 60 millimetre line"),
        ("≈ 1 in, 21 in, 1 1/2 in", "about 1 inch, 21 inches, 1 and a half inches"),
    ],
)
def test_fractions_are_said_as_a_maker_says_them(written: str, said: str) -> None:
    assert aloud(written) == said


def test_a_finished_piece_goes_to_its_pile_its_prints_apart() -> None:
    assert at(2).comes_off == (
        "2 × panel 3 3/4 × 4 3/4 in → pile “panel”, prints apart",
        "2 × offcut 2 1/4 × 4 3/4 in → offcut box",
    )


def test_the_guide_stays_while_the_mark_is_the_same() -> None:
    first, second = at(2), at(3)
    assert (first.left, second.left) == (2, 1)
    assert first.guide and first.guide.anew
    assert second.guide and not second.guide.anew
    assert second.title == "The guide stays at"
    assert second.pick_up[0].endswith("kept since step 1")
    assert first.following == "cut 2 × part at the same 3 3/4 in"


def test_plain_card_has_no_upright_print() -> None:
    assert at(5).how == ("Along the height (11 in): bottom edge to the guide.",)


def test_scoring_folding_and_rounding() -> None:
    score, fold, rounded = at(8), at(9), at(10)
    assert score.guide and score.guide.number == "5"
    assert "halfway up the base" in score.how[1]
    assert "outside" in score.how[2] and "With the grain" in score.how[3]
    assert "ridge inside" in fold.how[0]
    assert "makers differ" in fold.how[0]
    assert rounded.how == ("panel: top right and bottom right, radius 1/4 in, print upright.",)


def test_a_card_is_laid_back_to_front() -> None:
    said = at(12)
    assert [(laid.name, laid.paper) for laid in said.layers] == [
        ("card base", "fog card"),
        ("panel", "gull dot"),
        ("tide", "net weave"),
    ]
    assert said.layers[1].how == "on the front, an even border of 1/8 in all round"
    assert said.layers[2].how == "on the panel, edge to edge across, 7/8 in from the bottom"
    assert "line up three edges" in said.how[1] and "straight edge" in said.how[2]
    assert said.following == "this was the last step"


def test_a_mark_beside_the_graduation_says_how_far_off_it_is() -> None:
    # 4 3/4 in is 120.65 mm: 1 in = 25.4 mm exactly (NBS Circular 572 addendum, 1960).
    said = prompt(BENCH, BatchState(12, 0), MILLIMETRES)
    assert said and said.guide
    assert said.guide.number == "121"
    assert said.guide.off == "nearest mark, 0.4 mm too long: exactly 4 3/4 in"


def test_nothing_is_asked_when_all_is_done() -> None:
    assert prompt(BENCH, BatchState(12, 12), INCHES) is None


def test_each_caution_is_given_once() -> None:
    given_at = [(caution, n) for n in range(1, 13) for caution in at(n).cautions]
    assert max(Counter(caution for caution, _ in given_at).values()) == 1
    assert [n for caution, n in given_at if caution.startswith("Blade")] == [1]
    assert [n for caution, n in given_at if caution.startswith("Narrow")] == [4]
    assert [n for caution, n in given_at if "latch" in caution] == [8]


def test_what_is_narrow_is_the_makers_own_setting() -> None:
    careful = Trimmer(hold=inches(2))
    said = prompt(BENCH, BatchState(12, 0), INCHES, careful)
    assert said and any(caution.startswith("Narrow") for caution in said.cautions)


def test_where_neither_part_is_wide_a_ruler_holds_it() -> None:
    """Step 4 parts 1 in from 1/4 in; before it something of 2 in is always left."""
    careful = Trimmer(hold=inches(2))
    told = [(n, prompt(BENCH, BatchState(12, n - 1), INCHES, careful)) for n in range(1, 8)]
    assert [
        n for n, said in told if said and any("Nothing wide" in words for words in said.cautions)
    ] == [4]


@given(st.integers(0, len(PLAN.steps) - 1), st.sampled_from(UNITS))
def test_every_part_taken_is_named_or_counted(done: int, unit: str) -> None:
    said = prompt(BENCH, BatchState(len(PLAN.steps), done), graduation_for(unit))  # type: ignore[arg-type]
    assert said
    counted = sum(int(line.split(" × ", 1)[0]) for line in said.pick_up)
    assert counted == (0 if isinstance(said.step, Assemble) else len(said.step.takes))


@pytest.mark.parametrize("label", ["S1", "S1.1.1", "S3.1.2.2"])
def test_the_paper_of_a_part_is_its_sheets(label: str) -> None:
    sheet = next(sheet for sheet in PLAN.sheets if label.startswith(sheet.id))
    assert BENCH.paper_of(PartId.read(label)) == sheet.paper
