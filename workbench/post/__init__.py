"""A card by post: its weight and thickness, its envelope, the class it travels in.

`card_by_post` is the one call for whoever shows a card; `suggestions` are what would make it
cheaper. Limits change: whatever is shown of them says to check with the post office.
"""

from workbench.post.card import CardByPost, Desk, card_by_post, post_of
from workbench.post.figures import CardFigures, card_figures
from workbench.post.rules import CHECK
from workbench.post.suggestions import Suggestion, suggestions
from workbench.post.words import bought_envelope, letter_lines

__all__ = [
    "CHECK",
    "CardByPost",
    "CardFigures",
    "Desk",
    "Suggestion",
    "bought_envelope",
    "card_by_post",
    "card_figures",
    "letter_lines",
    "post_of",
    "suggestions",
]
