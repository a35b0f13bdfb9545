"""The two directions."""

from workbench.craft.direction import Direction


def test_the_other_of_the_other_is_the_same() -> None:
    for one in Direction:
        assert one.other is not one
        assert one.other.other is one


def test_they_are_kept_by_the_words_of_the_plan_data() -> None:
    assert {Direction("width"), Direction("height")} == set(Direction)
