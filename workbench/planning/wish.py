"""What a plan can be best at, among plans of the same sheets and pieces."""

from typing import Literal

Wish = Literal["marks", "cuts", "offcut"]

WISHES: dict[Wish, str] = {
    "marks": "fewest marks to set",
    "cuts": "fewest cuts",
    "offcut": "largest offcut kept",
}
