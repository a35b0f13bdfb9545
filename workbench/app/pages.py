"""The pages of the app, each brought in when it is first opened.

`TrimtallyApp.SCREENS` is made of them: a new page is a function here and a line in PAGES.
"""

from collections.abc import Callable
from typing import Any

from textual.screen import Screen


def _stock() -> Screen[None]:
    from workbench.app.screens.stock import StockScreen

    return StockScreen()


def _pieces() -> Screen[None]:
    from workbench.app.screens.pieces import PiecesScreen

    return PiecesScreen()


def _trimming() -> Screen[None]:
    from workbench.app.screens.trimming import TrimmingScreen

    return TrimmingScreen()


def _combinations() -> Screen[None]:
    from workbench.app.screens.combinations import CombinationsScreen

    return CombinationsScreen()


def _guide() -> Screen[None]:
    from workbench.app.screens.guide import GuideScreen

    return GuideScreen()


def _batches() -> Screen[None]:
    from workbench.app.screens.batches import BatchesScreen

    return BatchesScreen()


def _drawer() -> Screen[Any]:
    from workbench.app.screens.drawer import DrawerScreen

    return DrawerScreen()


PAGES: dict[str, Callable[[], Screen[Any]]] = {
    "stock": _stock,
    "pieces": _pieces,
    "trimming": _trimming,
    "combinations": _combinations,
    "guide": _guide,
    "batches": _batches,
    "drawer": _drawer,
}
