"""How different colours look, against published figures."""

import pytest

from workbench.craft.colour import Lab, difference, lab, linear

# Sharma, Wu and Dalal, Color Research and Application 30 (2005), table 1 (from memory).
PUBLISHED = [
    ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
    ((50, 3.1571, -77.2803), (50, 0, -82.7485), 2.8615),
    ((50, 2.8361, -74.0200), (50, 0, -82.7485), 3.4412),
    ((50, -1.3802, -84.2814), (50, 0, -82.7485), 1.0000),
    ((50, 0, 0), (50, -1, 2), 2.3669),
    ((50, 2.5, 0), (73, 25, -18), 27.1492),
    ((50, 2.5, 0), (61, -5, 29), 22.8977),
    ((50, 2.5, 0), (56, -27, -3), 31.9030),
    ((50, 2.5, 0), (58, 24, 15), 19.4535),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
]


@pytest.mark.parametrize(("one", "other", "apart"), PUBLISHED)
def test_differences_are_the_published_ones(
    one: tuple[float, float, float], other: tuple[float, float, float], apart: float
) -> None:
    assert difference(Lab(*one), Lab(*other)) == pytest.approx(apart, abs=1e-4)
    assert difference(Lab(*other), Lab(*one)) == pytest.approx(apart, abs=1e-4)


def test_the_primaries_of_srgb_lie_where_they_should() -> None:
    """Red, green and white in CIELAB with D65: widely published figures, from memory."""
    assert lab(linear("#ff0000")) == pytest.approx((53.24, 80.09, 67.20), abs=0.05)
    assert lab(linear("#00ff00")) == pytest.approx((87.73, -86.18, 83.18), abs=0.05)
    assert lab(linear("#ffffff")) == pytest.approx((100, 0, 0), abs=0.05)


def test_black_and_white_are_a_hundred_apart() -> None:
    assert difference(lab(linear("#000000")), lab(linear("#ffffff"))) == pytest.approx(100, abs=0.1)
