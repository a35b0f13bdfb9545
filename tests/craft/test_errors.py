"""A name that could not be printed on a label is refused."""

from hypothesis import given
from hypothesis import strategies as st

from workbench.craft.errors import LONGEST_NAME, CraftError, checked_name, nearest


@given(st.text(max_size=LONGEST_NAME + 5))
def test_a_name_is_kept_as_it_is_or_refused(name: str) -> None:
    try:
        assert checked_name(name, "here") == name
    except CraftError as error:
        assert error.place == "here"
    else:
        assert name == name.strip() != ""
        assert len(name) <= LONGEST_NAME
        assert "\n" not in name


def test_the_most_alike_is_offered_beside_a_few_and_alone_beside_many() -> None:
    kinds = ("patterned", "Cardstock")
    every = '"patterned", "Cardstock"'
    assert nearest("cardstok", kinds) == f'did you mean "Cardstock"? It can be {every}'
    assert nearest("zzz", kinds) == f"use one of {every}"
    papers = [*(f"reed {number:03}" for number in range(199)), "moth dot"]
    assert nearest("moth dots", papers) == 'did you mean "moth dot"?'
    assert nearest("zzz", papers) == (
        'use one of "reed 000", "reed 001", "reed 002", "reed 003", "reed 004", "reed 005", '
        '"reed 006", "reed 007" and 192 more'
    )
