"""A small palette of colours to pick from."""

from collections.abc import Mapping

AS_WRITTEN = "as written"
PALETTE: Mapping[str, tuple[str, ...]] = {
    f"{ink} on {ground}": (ink, ground)
    for ink, ground in (
        ("teal", "ivory"),
        ("coral", "seashell"),
        ("navy", "white"),
        ("goldenrod", "cornsilk"),
        ("sea green", "honeydew"),
        ("indian red", "linen"),
        ("orchid", "lavender"),
        ("steel blue", "alice blue"),
        ("sienna", "beige"),
        ("ivory", "dark slate grey"),
    )
}
