"""How different two colours look to people.

Sources: IEC 61966-2-1 (sRGB), CIE 15 (CIELAB, illuminant D65), CIE 142 and Sharma, Wu and Dalal,
Color Research and Application 30 (2005), for the difference CIEDE2000.
"""

from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from typing import NamedTuple

_WHITE = (0.95047, 1.0, 1.08883)
_TO_XYZ = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
_FAR = 25**7


class Lab(NamedTuple):
    """A colour in CIELAB: lightness, green to red, blue to yellow."""

    lightness: float
    a: float
    b: float


def linear(colour: str) -> tuple[float, float, float]:
    """The light of "#rrggbb" in red, green and blue, 0 to 1, to be mixed by area."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return red, green, blue


def lab(light: tuple[float, float, float]) -> Lab:
    """The colour that this light has in CIELAB."""
    x, y, z = (
        _root(sum(part * share for part, share in zip(row, light, strict=True)) / white)
        for row, white in zip(_TO_XYZ, _WHITE, strict=True)
    )
    return Lab(116 * y - 16, 500 * (x - y), 200 * (y - z))


def difference(one: Lab, other: Lab) -> float:
    """CIEDE2000: about 1 is just seen, 10 is plain, black and white are 100 apart."""
    chroma = (hypot(one.a, one.b) + hypot(other.a, other.b)) / 2
    stretch = 1 + (1 - sqrt(chroma**7 / (chroma**7 + _FAR))) / 2
    first, second = (_polar(each.a * stretch, each.b) for each in (one, other))
    c1, h1 = first
    c2, h2 = second
    turn = 0.0
    if c1 * c2:
        turn = (h2 - h1 + 180) % 360 - 180
    mean_c = (c1 + c2) / 2
    mean_l = (one.lightness + other.lightness) / 2
    mean_h = _mean_hue(h1, h2) if c1 * c2 else h1 + h2
    weight = (
        1
        - 0.17 * cos(radians(mean_h - 30))
        + 0.24 * cos(radians(2 * mean_h))
        + 0.32 * cos(radians(3 * mean_h + 6))
        - 0.20 * cos(radians(4 * mean_h - 63))
    )
    s_l = 1 + 0.015 * (mean_l - 50) ** 2 / sqrt(20 + (mean_l - 50) ** 2)
    s_c, s_h = 1 + 0.045 * mean_c, 1 + 0.015 * mean_c * weight
    twist = (
        -2
        * sqrt(mean_c**7 / (mean_c**7 + _FAR))
        * sin(radians(60 * exp(-(((mean_h - 275) / 25) ** 2))))
    )
    lightness = (other.lightness - one.lightness) / s_l
    chroma_off = (c2 - c1) / s_c
    hue_off = 2 * sqrt(c1 * c2) * sin(radians(turn / 2)) / s_h
    return sqrt(lightness**2 + chroma_off**2 + hue_off**2 + twist * chroma_off * hue_off)


def _polar(a: float, b: float) -> tuple[float, float]:
    return hypot(a, b), degrees(atan2(b, a)) % 360 if a or b else 0.0


def _mean_hue(one: float, other: float) -> float:
    if abs(one - other) <= 180:
        return (one + other) / 2
    both = one + other
    return (both + 360) / 2 if both < 360 else (both - 360) / 2


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4


def _root(share: float) -> float:
    return share ** (1 / 3) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116
