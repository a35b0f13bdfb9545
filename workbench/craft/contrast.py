"""How far apart two colours are in lightness, as WCAG 2.2 measures it."""

# Below this two papers side by side are told apart by their prints alone. Common practice, no
# source: WCAG asks for 3 where a shape must be made out, which is more than a card needs.
SOFT = 1.5


def contrast(one: str, other: str) -> float:
    """From 1 (alike) to 21 (black and white), for colours written "#rrggbb"."""
    return ratio(luminance(one), luminance(other))


def ratio(one: float, other: float) -> float:
    """The same for two relative luminances."""
    darker, lighter = sorted((one, other))
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance, from 0 (black) to 1 (white)."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
