"""What the maker wishes a plan to be best at, among plans of as few sheets."""

from typing import Literal, get_args

Wish = Literal["time", "settings", "strokes", "offcut"]
"""Least time at the table, fewest settings of the guide, fewest strokes, the largest offcut."""

WISHED_FOR: tuple[Wish, ...] = get_args(Wish)
