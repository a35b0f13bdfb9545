"""Contrast, against what the W3C's pages on WCAG 2 state."""

import pytest

from workbench.craft.contrast import contrast, luminance


@pytest.mark.parametrize(
    ("one", "other", "stated"),
    [
        ("#000000", "#ffffff", 21.0),  # WCAG 2.2, definition of contrast ratio: 1 to 21
        ("#ffffff", "#ffffff", 1.0),
        ("#777777", "#ffffff", 4.48),  # Understanding SC 1.4.3 (memory): fails 4.5
        ("#767676", "#ffffff", 4.54),  # the lightest grey that passes on white (memory)
        ("#949494", "#ffffff", 3.03),  # the lightest grey that passes 3:1 (memory)
        ("#ff0000", "#ffffff", 4.0),  # pure red on white (memory)
        ("#0000ff", "#ffffff", 8.59),  # pure blue on white (memory)
    ],
)
def test_published_ratios(one: str, other: str, stated: float) -> None:
    assert contrast(one, other) == pytest.approx(stated, abs=0.005)
    assert contrast(one, other) == contrast(other, one)


def test_luminance_of_the_primaries_are_the_weights_of_the_definition() -> None:
    """WCAG 2.2, definition of relative luminance."""
    weights = [luminance(colour) for colour in ("#ff0000", "#00ff00", "#0000ff")]
    assert weights == pytest.approx([0.2126, 0.7152, 0.0722])
