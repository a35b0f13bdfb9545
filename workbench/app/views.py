"""What every screen of the workbench is made from."""

from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen, Screen, ScreenResultType


class View(Screen[ScreenResultType]):
    """A screen that closes itself and no other.

    A key pressed twice asks for it twice, and by the second time another screen is on top.
    """

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Close it with `result` while it is the screen on top; nothing happens otherwise."""
        return super().dismiss(result) if self.is_active else AwaitComplete()


class ModalView(ModalScreen[ScreenResultType], View[ScreenResultType]):
    """One that stands in front of another. The styles of ModalScreen come by the first base."""
