"""The rooms of a project, each brought in when it is first entered."""

from textual.screen import Screen


def room_screen(room: str) -> Screen[None]:
    """A new screen of that room. Raises KeyError for a room there is not."""
    match room:
        case "stock":
            from workbench.app.screens.stock import StockScreen

            return StockScreen()
        case "pieces":
            from workbench.app.screens.pieces import PiecesScreen

            return PiecesScreen()
        case "trimming":
            from workbench.app.screens.trimming import TrimmingScreen

            return TrimmingScreen()
        case "combinations":
            from workbench.app.screens.combinations import CombinationsScreen

            return CombinationsScreen()
    raise KeyError(room)
