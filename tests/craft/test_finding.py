"""How a finding reads."""

from workbench.craft.finding import Finding


def test_it_names_what_it_is_about_before_the_piece() -> None:
    found = Finding("narrow", "panel", "it is narrow", "It is hard to hold", "widen it", None)
    assert str(found) == "panel: it is narrow. It is hard to hold."
    about = Finding("envelope", "card base", "it is dear", "Why", "mend", None, "the envelope")
    assert str(about).startswith("the envelope: ")
