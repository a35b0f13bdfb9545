"""Questions that stand in front of a screen until they are answered."""

from collections.abc import Mapping
from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Button, Input, Label, Static

from workbench.app.commands import ChoiceBefore, CloseForm, NextChoice, bindings
from workbench.app.views import ModalView
from workbench.app.widgets.footer import Keys


class Question(ModalView[str | None]):
    """Asks with a button for each answer; gives the key of the one chosen, None for none."""

    BINDINGS = bindings((CloseForm, NextChoice, ChoiceBefore))
    ABOUT = "Choose an answer with the arrows or Tab and Enter, or click it."

    def __init__(self, question: str, answers: Mapping[str, str]) -> None:
        super().__init__()
        self.question = question
        self.answers = answers

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Static(Content(self.question))
            with Horizontal(classes="buttons"):
                for key, answer in self.answers.items():
                    yield Button(Content(answer), id=key, compact=True)
        yield Keys(show_command_palette=False)

    def on_button_pressed(self, event: Button.Pressed) -> None:
        self.dismiss(event.button.id)

    def action_close_form(self) -> None:
        self.dismiss(None)

    def action_next_choice(self) -> None:
        self.focus_next()

    def action_choice_before(self) -> None:
        self.focus_previous()


class TextQuestion(ModalView[str | None]):
    """Asks for a line of text; gives None for none."""

    BINDINGS = bindings((CloseForm,))
    ABOUT = "Type a line; Enter keeps it."

    def __init__(self, question: str) -> None:
        super().__init__()
        self.question = question

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Label(Content(self.question))
            yield Input(compact=True, max_length=200)
        yield Keys(show_command_palette=False)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.dismiss(event.value.strip() or None)

    def action_close_form(self) -> None:
        self.dismiss(None)


class PathQuestion(ModalView[Path | None]):
    """Asks for the path of a file, of the `kind` of `path` where none is said."""

    BINDINGS = bindings((CloseForm,))
    ABOUT = "Type the path of a file; ~ stands for your home folder."

    def __init__(self, question: str, path: Path | None, answer: str, kind: str = "") -> None:
        super().__init__()
        self.question = question
        self.path = path
        self.answer = answer
        self.kind = kind or (path.suffix if path else ".toml")

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Label(Content(self.question))
            hint = f"path of a {self.kind} file" if self.kind else "path of a folder"
            yield Input(str(self.path or ""), placeholder=hint, compact=True)
            with Horizontal(classes="buttons"):
                yield Button(Content(self.answer), id="go", compact=True, variant="primary")
                yield Button(Content("Close"), id="close", compact=True)
        yield Keys(show_command_palette=False)

    def on_input_submitted(self) -> None:
        self._answer()

    def on_button_pressed(self, event: Button.Pressed) -> None:
        if event.button.id == "go":
            self._answer()
        else:
            self.dismiss(None)

    def action_close_form(self) -> None:
        self.dismiss(None)

    def _answer(self) -> None:
        typed = self.query_one(Input).value.strip()
        if typed:
            self.dismiss(Path(typed).expanduser().absolute())
