"""What the maker wishes a plan to be best at, among plans of as few sheets."""

from typing import Literal

Wish = Literal["time", "settings", "strokes", "offcut"]
"""Least time at the table, fewest settings of the guide, fewest strokes, the largest offcut."""
