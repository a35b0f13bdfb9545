"""Cards to begin from, and the same card in another size."""

from dataclasses import replace

import pytest
from hypothesis import assume, given

from tests.craft.cards import cards, sizes
from tests.making.plans import HARBOUR, inches, size
from workbench.craft.checks import findings
from workbench.craft.errors import CraftError
from workbench.craft.geometry import bearer_extent, placements
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.craft.resizing import in_size
from workbench.craft.sheet_sizes import CARDS
from workbench.craft.starts import LAYOUTS, about, start, unit_of
from workbench.craft.surface import seen
from workbench.measure.length import UNITS, Unit


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_start_in_every_size_is_a_card_without_a_doubt(layout: str, unit: Unit) -> None:
    fronts = [*CARDS.values(), size("5 1/4", "5 1/4"), size("5 1/2", "4 1/4")]
    for front in fronts:
        if unit_of(front) != unit or front == CARDS["A8"]:  # on which a label is a narrow strip
            continue
        project = start(layout, front, unit)
        kinds = {doubt.kind for doubt in findings(project)}
        assert kinds == (set() if project.pieces else {"bare card"})
        assert all(float(layer.area) > 0 for layer in seen(project))
        assert project.units == unit
    assert about(layout).endswith(".")


@pytest.mark.parametrize(("name", "unit"), [("A6", "mm"), ("DL", "mm"), ("US A2", "in")])
def test_the_unit_goes_with_the_size(name: str, unit: Unit) -> None:
    """ISO 216:2007 and ISO 269 are in millimetres, US announcement envelopes in inches."""
    assert unit_of(CARDS[name]) == unit


def test_borders_stay_and_the_rest_follows() -> None:
    larger = replace(HARBOUR, papers=tuple(replace(p, size=size(12, 14)) for p in HARBOUR.papers))
    project = in_size(larger, size(5, 7))
    panel, tide = project.pieces
    assert panel.size == size("4 3/4", "6 3/4")  # an even 1/8 border, as before
    assert panel.place == HARBOUR.pieces[0].place
    assert tide.size.width == inches("4 3/4")  # flush on both sides, as before
    assert tide.size.height == inches("1 7/16")  # 1 in of 4 3/4 is 1.42 in of 6 3/4
    assert tide.place.x == "left"
    assert tide.place.y == inches("1 1/4")


@given(cards(), sizes(40, 160))
def test_every_border_stays_exact(project: Project, new: Size) -> None:
    try:
        after = in_size(project, new)
    except CraftError:
        assume(False)
        raise
    assert in_size(project, project.card.size) is project
    for was, now in zip(placements(project), placements(after), strict=True):
        bearer = bearer_extent(project, was.piece.name)
        old = bearer.borders(was.extent)
        kept = bearer_extent(after, now.piece.name).borders(now.extent)
        if max(old.left, old.right) * 8 <= bearer.width and now.piece.size.width > inches("1/16"):
            assert (kept.left, kept.right) == (old.left, old.right)
        if max(old.bottom, old.top) * 8 <= bearer.height and now.piece.size.height > inches("1/16"):
            assert (kept.bottom, kept.top) == (old.bottom, old.top)


def test_a_size_that_the_paper_does_not_give_is_refused() -> None:
    with pytest.raises(CraftError, match="larger than a sheet"):
        in_size(HARBOUR, size(5, 7))
