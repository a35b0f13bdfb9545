"""A short walk through one small batch: what each page is for, and the key that leads on."""

from workbench.app.base import WorkbenchApp
from workbench.app.commands import (
    Begin,
    SayWrong,
    ShowCombinations,
    ShowPieces,
    ShowStart,
    ShowStock,
    ShowTrimming,
    Tick,
)

WALK_SECONDS = 60


def walk_words(app: WorkbenchApp, page: str) -> str:
    """What the page of that name shows, and where the walk goes from there."""
    key = app.key_of
    words = {
        "pieces": f"The card and what is layered on it. {key(ShowStock)} shows its papers.",
        "stock": f"The papers it is made from. {key(ShowTrimming)} shows how they are cut.",
        "trimming": f"How every sheet is cut. {key(Begin)} begins, one step at a time.",
        "combinations": f"Which print goes on which card. {key(ShowTrimming)} shows the cutting.",
        "run": f"Cut, then {key(Tick)}; {key(SayWrong)} if it went wrong",
    }
    return words.get(
        page,
        f"{key(ShowPieces)} shows the card, {key(ShowCombinations)} the cards, "
        f"{key(ShowStart)} the start page.",
    )
