"""How far apart two colours are in lightness, as WCAG 2.2 measures it.

Source: WCAG 2.2, definitions of contrast ratio and of relative luminance.
"""

from workbench.craft.colour import linear

# Below this two papers side by side are told apart by their prints alone. Common practice, no
# source: WCAG asks for 3 where a shape must be made out, which is more than a card needs.
SOFT = 1.5


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours "#rrggbb", in any order: from 1 (alike) to 21."""
    return ratio(luminance(one), luminance(other))


def ratio(one: float, other: float) -> float:
    """The contrast ratio of two relative luminances, in any order."""
    darker, lighter = sorted((one, other))
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    """The relative luminance of a colour "#rrggbb", from 0 (black) to 1 (white)."""
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
