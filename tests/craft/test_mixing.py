"""The rules of mixing by themselves: what they name, and what becomes of them under new names."""

from dataclasses import replace

import pytest

from tests.craft.projects import Refusal, check_refused
from workbench.craft.errors import CraftError
from workbench.craft.mixing import MOST_DEALS, FixedCard, Mixing, check_rules

FACES = ("fern", "moss", "reed")
LAYERS = {"panel": FACES, "band": ("moss", "reed")}
RULES = Mixing(
    apart=(("fern", "moss"),),
    together=(("moss", "reed"),),
    cards=(FixedCard(2, {"panel": "fern", "band": "reed"}),),
    repeat=(("panel", "band"),),
    use={"fern": 3, "moss": 1},
)


def check(rules: Mixing, cards: int = 4) -> None:
    check_rules(rules, cards, FACES, LAYERS, LAYERS)


def test_rules_that_name_what_is_there_are_kept() -> None:
    check(RULES)


@pytest.mark.parametrize(
    ("wrong", "place", "words"),
    [
        (replace(RULES, deal=MOST_DEALS + 1), "mixing, deal", "not the number of a deal"),
        (replace(RULES, apart=(("fern", "oak"),)), "mixing, apart", '"oak" is no paper'),
        (replace(RULES, together=(("fern", "fern"),)), "mixing, together", "paired with itself"),
        (
            replace(RULES, apart=(("fern", "moss"), ("moss", "fern"))),
            "mixing, apart",
            "stand there twice",
        ),
        (replace(RULES, use={"fern": -1}), 'mixing, use, "fern"', "cannot be"),
        (replace(RULES, cards=(FixedCard(5, {"panel": "fern"}),)), "mixing, card 5", "no such"),
        (replace(RULES, cards=RULES.cards * 2), "mixing, card 2", "fixed twice"),
        (replace(RULES, cards=(FixedCard(1, {}),)), "mixing, card 1", "shows nothing"),
        (
            replace(RULES, cards=(FixedCard(1, {"band": "fern"}),)),
            'mixing, card 1, "band"',
            "no paper it can be cut from",
        ),
    ],
)
def test_what_is_not_there_is_refused_in_its_place(wrong: Mixing, place: str, words: str) -> None:
    refusal: Refusal = (lambda: check(wrong), place, words)
    check_refused(refusal)


def test_new_names_go_everywhere_and_back_again() -> None:
    faces, layers = {"fern": "oak", "moss": "ash"}, {"panel": "mat"}
    renamed = RULES.renamed(faces, layers)
    assert "fern" not in repr(renamed)
    assert "moss" not in repr(renamed)
    assert "panel" not in repr(renamed)
    back = {new: old for names in (faces, layers) for old, new in names.items()}
    assert repr(renamed.renamed(back, back)) == repr(RULES)
    with pytest.raises(CraftError):
        check(renamed)


def test_two_pieces_may_repeat_only_as_a_pair() -> None:
    assert RULES.may_repeat("band", "panel")
    assert not RULES.may_repeat("panel", "panel")
    assert not RULES.without_piece("band").may_repeat("band", "panel")
    assert Mixing(repeat=True).may_repeat("panel", "panel")


def test_counts_of_papers_that_are_gone_are_dropped() -> None:
    assert RULES.counting_only({"moss"}).counts == {"moss": 1}
    assert RULES.counting_only(()).use == "as it comes"
    assert Mixing(use="all").counting_only(()).use == "all"
