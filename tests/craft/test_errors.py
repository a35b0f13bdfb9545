"""A name that could not be printed on a label is refused."""

from hypothesis import given
from hypothesis import strategies as st

from workbench.craft.errors import LONGEST_NAME, CraftError, checked_name


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
