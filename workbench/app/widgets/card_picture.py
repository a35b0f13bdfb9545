"""The picture of a card, on which pieces are pointed at and dragged with the mouse."""

from fractions import Fraction

from textual import events
from textual.message import Message

from workbench.app.widgets.pictures import Picture


class CardPicture(Picture):
    """Tells in shares of the card's width and height, from its bottom left, what the mouse does."""

    class Pressed(Message):
        """A button went down over the card."""

        def __init__(self, across: Fraction, up: Fraction) -> None:
            super().__init__()
            self.across = across
            self.up = up

    class Dragged(Message):
        """The mouse moved so far from where it was pressed; `dropped`: and was let go."""

        def __init__(self, right: Fraction, up: Fraction, *, dropped: bool) -> None:
            super().__init__()
            self.right = right
            self.up = up
            self.dropped = dropped

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - as every widget calls it
        super().__init__(id=id)
        self._pressed: tuple[int, int] | None = None

    def on_mouse_down(self, event: events.MouseDown) -> None:
        width, height = self.drawn.width, self.drawn.height
        offset = event.get_content_offset(self)
        if offset is None or not width:
            return
        x, y = offset.x - (self.size.width - width) // 2, offset.y - self._top
        if 0 <= x < width and 0 <= y < height:
            self._pressed = (event.screen_x, event.screen_y)
            self.capture_mouse()
            half = Fraction(1, 2)
            self.post_message(self.Pressed((x + half) / width, (height - y - half) / height))

    def on_mouse_move(self, event: events.MouseMove) -> None:
        self._tell(event, dropped=False)

    def on_mouse_up(self, event: events.MouseUp) -> None:
        self.capture_mouse(False)
        self._tell(event, dropped=True)
        self._pressed = None

    def _tell(self, event: events.MouseEvent, *, dropped: bool) -> None:
        if self._pressed:
            x, y = self._pressed
            right = Fraction(event.screen_x - x, self.drawn.width)
            up = Fraction(y - event.screen_y, self.drawn.height)
            self.post_message(self.Dragged(right, up, dropped=dropped))
