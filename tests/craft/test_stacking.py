"""A card is as thick as its paper and what lies on it."""

from dataclasses import replace

from tests.making.plans import HARBOUR
from workbench.craft.stacking import build_up, card_thickness
from workbench.measure.length import Length


def test_thickness_is_read_from_the_note_of_a_paper() -> None:
    """14 pt is 0.3556 mm (1 point = 0.001 in, TAPPI T 411)."""
    fog = replace(HARBOUR.papers[0], thickness="14 pt")
    project = replace(HARBOUR, papers=(fog, *HARBOUR.papers[1:]))
    assert card_thickness(project) == Length.of("0.7112", "mm") + build_up(project)
    assert build_up(project) == Length.of("0.32", "mm")
