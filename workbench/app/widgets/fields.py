"""Fields of one line for forms: a choice of several, and a yes or no."""

from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from workbench.app.commands import ChoiceBefore, NextChoice, bindings


class Field(Widget, can_focus=True):
    """What the two have in common: one line high, and it tells when it was changed."""

    DEFAULT_CSS = """
    Field { height: 1; width: 1fr; text-wrap: nowrap; text-overflow: ellipsis; }
    Field:focus { background: $block-cursor-background; color: $block-cursor-foreground; }
    """

    class Changed(Message):
        """The maker chose something else in `control`."""

        def __init__(self, control: "Field") -> None:
            super().__init__()
            self._control = control

        @property
        def control(self) -> "Field":
            return self._control


class Choice(Field):
    """One of several, walked through with the arrows or a click."""

    BINDINGS = bindings((NextChoice, ChoiceBefore))
    chosen: reactive[int] = reactive(0)

    def __init__(self, options: Sequence[str], value: str | None = None, *, key: str) -> None:
        super().__init__(id=key)
        self.options = tuple(options)
        if value in self.options:
            self.set_reactive(Choice.chosen, self.options.index(value))

    @property
    def value(self) -> str:
        return self.options[self.chosen] if self.options else ""

    def render(self) -> Content:
        return Content(f"‹ {self.value} ›" if len(self.options) > 1 else self.value)

    def action_next_choice(self) -> None:
        self._choose(self.chosen + 1)

    def action_choice_before(self) -> None:
        self._choose(self.chosen - 1)

    def on_click(self) -> None:
        self.action_next_choice()

    def on_key(self, event: events.Key) -> None:
        letter = (event.character or "").lower()
        if not letter.isalnum():
            return
        after = [*range(self.chosen + 1, len(self.options)), *range(self.chosen)]
        for place in after:
            if self.options[place].lower().startswith(letter):
                event.stop()
                self._choose(place)
                return

    def choose(self, value: str) -> None:
        """Choose `value`, which is one of them."""
        if value != self.value:
            self._choose(self.options.index(value))

    def _choose(self, place: int) -> None:
        self.chosen = place % max(1, len(self.options))
        self.post_message(self.Changed(self))


class YesNo(Field):
    """A mark that is there or not."""

    BINDINGS = bindings((NextChoice,))
    value: reactive[bool] = reactive(False)

    def __init__(self, label: str, value: bool = False, *, group: str) -> None:
        super().__init__(name=group)
        self.label = label
        self.set_reactive(YesNo.value, value)

    def render(self) -> Content:
        return Content(f"[{'x' if self.value else ' '}] {self.label}")

    def action_next_choice(self) -> None:
        self.value = not self.value
        self.post_message(self.Changed(self))

    def on_click(self) -> None:
        self.action_next_choice()
