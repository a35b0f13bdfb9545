"""The step at hand, to be read from across the room. A click anywhere on it ticks."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from types import MappingProxyType

from rich.table import Table
from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.message import Message
from textual.widgets import Static

from workbench.app.widgets.pictures import Picture
from workbench.drawing.canvas import shortened
from workbench.drawing.setting import Setting, draw_setting
from workbench.drawing.steps import draw_step
from workbench.making.batch import Progress, Tally
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import Prompt
from workbench.making.words import listed
from workbench.measure.writing import Graduation
from workbench.planning import Assemble

LOWEST_TABLE = 8
"""Rows that the title and the lowest figures take."""
Asides = Mapping[str, Sequence[str]]
_LABELS = 8
_LONGEST_ASIDE = 140


class PromptView(Vertical):
    """Keeps its place; `show` fills it with a step."""

    class Clicked(Message):
        """The maker clicked or tapped the prompt."""

    def compose(self) -> ComposeResult:
        with Horizontal(id="table"):
            yield Picture(id="setting")
            with VerticalScroll(id="layers", can_focus=False):
                yield Static(id="laid")
            with Vertical(id="paper"):
                yield Static(id="caption")
                yield Picture(id="picture")
        with VerticalScroll(id="words", can_focus=False):
            yield Static(id="told")
        yield Static(id="next")

    def on_resize(self, event: events.Resize) -> None:
        """The words have the rows they need, as long as the figures can still be read."""
        self.query_one("#words").styles.max_height = max(1, event.size.height - LOWEST_TABLE - 1)

    def show(
        self,
        index: PlanIndex,
        prompt: Prompt,
        graduation: Graduation,
        now: Progress,
        asides: Asides = MappingProxyType({}),
    ) -> None:
        """Show `prompt`, at which the batch stands as in `now`; the `asides` come before all else.

        Each of them is a few lines under a word, such as what the maker noted.
        """
        self.set_class(bool(prompt.layers), "assembling")
        self.set_class(prompt.guide is None, "unmarked")
        setting = partial(draw_setting, _setting(prompt, graduation, now), graduation)
        self.query_one("#setting", Picture).show(setting)
        self.query_one("#laid", Static).update(_laid(prompt))
        self.query_one("#caption", Static).update(Text(_caption(index, prompt, now.sheet)))
        picture = partial(draw_step, index, prompt.step, graduation.unit)
        self.query_one("#picture", Picture).show(picture)
        self.query_one("#told", Static).update(_words(prompt, asides))
        self.query_one("#next", Static).update(
            Text.assemble(("Next".ljust(_LABELS), "bold"), prompt.following)
        )

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Clicked())


def _setting(prompt: Prompt, graduation: Graduation, now: Progress) -> Setting:
    if prompt.guide is None:
        note = ", ".join(filter(None, [_one_by_one(prompt), _where_to(prompt)]))
        return Setting(prompt.title, str(len(prompt.step.takes)), "", note=note)
    return Setting(
        title=prompt.title,
        number=prompt.guide.number,
        unit=graduation.unit,
        aside=_aside(prompt, now),
        note=prompt.guide.where,
        off=prompt.guide.off or "",
        mark=prompt.guide.length,
    )


def _aside(prompt: Prompt, now: Progress) -> str:
    """How many at once, and which of the cuts before the guide moves."""
    if now.setting is None:
        return f"{len(prompt.step.takes)}, {_one_by_one(prompt)}"
    at_once = f"{prompt.at_once} at once, " if prompt.at_once > 1 else ""
    return f"{at_once}cut {now.setting.done + 1} of {now.setting.of} here"


def _where_to(prompt: Prompt) -> str:
    """The card that the next part goes on."""
    if not prompt.cards:
        return ""
    nth = min(prompt.counted, len(prompt.cards) - 1)
    return f"{'now ' if len(prompt.cards) > 1 else ''}to card {prompt.cards[nth]}"


def _one_by_one(prompt: Prompt) -> str:
    return f"{prompt.counted} done" if prompt.counted else "one at a time"


def _caption(index: PlanIndex, prompt: Prompt, sheet: Tally | None) -> str:
    step = prompt.step
    if isinstance(step, Assemble):
        return f"card {step.card} of {index.plan.cards}"
    if sheet is None:
        return ""
    sheets = dict.fromkeys(label.sheet for label in step.takes)
    return f"{listed(tuple(sheets))}: cut {sheet.done + 1} of {sheet.of}"


def _laid(prompt: Prompt) -> Table:
    """The layers of one card, numbered from the back."""
    table = Table.grid(padding=(0, 1, 0, 0))
    table.add_column(justify="right")
    table.add_column()
    table.add_row("", Text(prompt.title, "bold"))
    for number, laid in enumerate(prompt.layers, 1):
        name = Text.assemble((laid.name, "bold"), f"  {laid.paper}\n{laid.how}")
        table.add_row(Text(str(number)), name)
    return table


def _words(prompt: Prompt, asides: Asides) -> Table:
    table = Table.grid(padding=(0, 1, 0, 0))
    table.add_column(no_wrap=True, style="bold", width=_LABELS - 1)
    table.add_column()
    for label, lines in _said(prompt, asides):
        for number, line in enumerate(lines):
            table.add_row(Text("" if number else label), Text(line))
    return table


def _said(prompt: Prompt, asides: Asides) -> Iterator[tuple[str, Sequence[str]]]:
    for label, lines in asides.items():
        yield label, [shortened(line, _LONGEST_ASIDE) for line in lines]
    yield "Care", prompt.cautions
    yield "Pick up", prompt.pick_up
    yield "How", prompt.how
    yield "Gives", prompt.comes_off
