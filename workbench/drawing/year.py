"""A year as a small chart: what was made in each month, in bars of eighths."""

from collections.abc import Sequence

MONTHS = "JFMAMJJASOND"
_EIGHTHS = " ▁▂▃▄▅▆▇█"


def chart(counts: Sequence[int], rows: int = 3, width: int = 4) -> list[str]:
    """Twelve bars over the months' letters and figures, the tallest `rows` high.

    Args:
        counts: of each month.
        rows: how many lines the tallest bar takes.
        width: how many columns a month takes.

    Returns:
        The lines, none longer than twelve times `width`.
    """
    most = max(*counts, 1)
    eighths = [-(-count * rows * 8 // most) for count in counts]
    bars = [
        "".join(
            (_EIGHTHS[min(8, max(0, height - 8 * row))] * (width - 1)).ljust(width)
            for height in eighths
        ).rstrip()
        for row in reversed(range(rows))
    ]
    letters = "".join(month.center(width - 1).ljust(width) for month in MONTHS).rstrip()
    figures = "".join(str(count or "·").center(width - 1).ljust(width) for count in counts).rstrip()
    return [*bars, letters, figures]
