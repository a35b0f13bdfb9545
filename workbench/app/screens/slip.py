"""Something came out wrong: what it was is asked, and every way on is worked out."""

from collections.abc import Callable, Iterator

from textual import events, on, work
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option
from textual.worker import get_current_worker

from workbench.app.commands import CloseForm, bindings
from workbench.app.views import ModalView
from workbench.app.widgets.footer import Keys
from workbench.making.batch import BatchState
from workbench.making.mistakes import AT_THE_CUT, WRONGS, Mistake, Wrong, cuts_made, spoilable
from workbench.making.plan_index import PlanIndex
from workbench.making.recovery import Way, ways_on
from workbench.making.said_wrong import EXAMPLES, read_miscut, wrong_said
from workbench.making.words import headline, written_length, written_size
from workbench.making.work_state import ImpossibleMistake
from workbench.measure.length import MeasureError
from workbench.measure.writing import Graduation
from workbench.planning import Assemble, Cancelled, Cut, PartId, Watch
from workbench.store.preferences import Preferences

Answers = list[tuple[str, Callable[[], None]]]


class SlipScreen(ModalView[Way | None]):
    """Asks what happened, to what, and which way on to take; gives that way, None for none."""

    BINDINGS = bindings((CloseForm,))
    ABOUT = (
        "Say what happened in your own words, as in 1/8 short, 3 mm too wide or torn, or choose it;"
        " then choose among the ways on. Nothing is changed before you choose."
    )

    class WorkedOut(Message):
        """The ways on are known, or why there are none."""

        def __init__(self, ways: tuple[Way, ...], why: str) -> None:
            super().__init__()
            self.ways = ways
            self.why = why

    def __init__(
        self, index: PlanIndex, state: BatchState, preferences: Preferences, rule: Graduation
    ) -> None:
        super().__init__()
        self._index, self._state, self._preferences, self._rule = index, state, preferences, rule
        self._answers: Answers = []
        self._step: Cut | None = None
        self._said = ""
        self._ask_again = self._ask_what

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Static(id="asked", markup=False)
            yield OptionList(id="answers", markup=False, compact=True)
            yield Input(id="length", compact=True, select_on_focus=False)
            yield Static(id="fault", markup=False)
        yield Keys(show_command_palette=False)

    def on_mount(self) -> None:
        self.query_one("#length").display = False
        self._ask_what()

    def action_close_form(self) -> None:
        self.workers.cancel_node(self)
        self.dismiss(None)

    def _ask(self, question: str, answers: Answers) -> None:
        self._answers = answers
        self._say("")
        self.query_one("#asked", Static).update(Content(question))
        options = self.query_one(OptionList)
        options.display = bool(answers)
        options.clear_options()
        options.add_options([Option(Content(words)) for words, _ in answers])
        if answers:
            options.highlighted = 0
            options.focus()

    @on(OptionList.OptionSelected)
    def _answered(self, event: OptionList.OptionSelected) -> None:
        self._answers[event.option_index][1]()

    # What happened

    def on_key(self, event: events.Key) -> None:
        """What is typed before the answers goes into the field below them."""
        field = self.query_one(Input)
        typed = event.character if event.is_printable else None
        begun = typed != " " or field.value  # the next keys may come before the field has focus
        if typed and begun and field.display and not field.has_focus:
            event.stop()
            field.focus()
            field.insert_text_at_cursor(typed)

    def _ask_what(self) -> None:
        self._step = None
        self._ask("What came out wrong?", [(each, self._chooser(each)) for each in WRONGS])
        field = self.query_one(Input)
        field.value, field.placeholder = "", "or in your words: 1/8 short, 3 mm too wide, torn"
        field.display = True

    def _chooser(self, wrong: Wrong) -> Callable[[], None]:
        def choose() -> None:
            self._ask_again = choose
            self._ask_which(wrong)

        return choose

    def _ask_which(self, wrong: Wrong) -> None:
        self.query_one("#length").display = False
        if wrong in AT_THE_CUT:
            answers = [
                (self._cut_words(step), self._cut_chosen(wrong, step))
                for step in cuts_made(self._index, self._state)
            ]
            self._ask(f"Which cut was {wrong}?", answers)
        else:
            self._ask(f"What was {wrong}?", list(self._parts(wrong)))

    def _cut_words(self, step: Cut) -> str:
        lots = ", ".join(f"{lot.count} × {lot.name}" for lot in self._index.lots(step.takes))
        when = "at hand" if step.n == self._state.current else "done"
        return f"step {step.n}, {when}: {lots} at {written_length(step.mark, self._rule)}"

    def _parts(self, wrong: Wrong) -> Iterator[tuple[str, Callable[[], None]]]:
        """One part of each lot and print, that at hand if it is one of them, and those first."""
        alike: dict[str, list[PartId]] = {}
        for lot in self._index.lots(spoilable(self._index, self._state)):
            size = written_size(lot.size, self._rule)
            for label in lot.labels:
                card = self._card_of(label)
                name = f"{lot.name} {size}, {self._index.paper_of(label)}"
                alike.setdefault(f"finished card {card}" if card else name, []).append(label)
        at_hand = self._at_hand()
        for name, labels in sorted(alike.items(), key=lambda one: at_hand.isdisjoint(one[1])):
            label = next((label for label in labels if label in at_hand), labels[-1])
            there = "" if self._card_of(label) else f" ({len(labels)} there)"
            slip = Mistake(wrong, labels=(label,))
            yield name + there, self._working_out(slip, f"{headline(name)}: {wrong}")

    def _at_hand(self) -> frozenset[PartId]:
        """The parts that the step at hand takes."""
        state = self._state
        return frozenset(() if state.finished else self._index.plan.steps[state.done].takes)

    def _card_of(self, label: PartId) -> int | None:
        done = self._index.plan.steps[: self._state.done]
        cards = (step for step in done if isinstance(step, Assemble))
        return next((step.card for step in cards if label in step.takes), None)

    def _cut_chosen(self, wrong: Wrong, step: Cut) -> Callable[[], None]:
        if wrong == "cut the wrong way":
            slip = Mistake(wrong, step.n, step.mark)
            return self._working_out(slip, f"Step {step.n}: {wrong}")

        def ask_length() -> None:
            self._step = step
            self._ask_again = ask_length
            size = self._index.rectangles[step.takes[0]].size
            whole = written_length(size.along(step.measure), self._rule)
            asked = f"What does the part measure that was cut off ({self._rule.unit})?"
            other = "Of the other part say it as in: the rest is 1/8 short."
            self._ask(f"{asked} The whole was {whole}. {other}", [])
            field = self.query_one(Input)
            field.placeholder = EXAMPLES
            field.display = True
            field.focus()

        return ask_length

    @on(Input.Submitted)
    def _length_given(self, event: Input.Submitted) -> None:
        said, wrong = event.value, wrong_said(event.value)
        if self._step is None and wrong:
            self._chooser(wrong)()
            return
        step = self._step or next(iter(cuts_made(self._index, self._state)), None)
        if step is None:
            self._say("Nothing is cut yet.")
            return
        whole = self._index.rectangles[step.takes[0]].size.along(step.measure)
        try:
            mark = read_miscut(said, self._rule.unit, step.mark, whole)
        except MeasureError as error:
            self._say(str(error))
            return
        said = f"Step {step.n} cut at {written_length(mark, self._rule)}"
        self._working_out(Mistake("cut at another length", step.n, mark), said)()

    # The ways on

    def _working_out(self, slip: Mistake, said: str) -> Callable[[], None]:
        def begin() -> None:
            self._said = said
            self.query_one("#length").display = False
            self._ask("Working out every way on …", [])
            self._work_out(slip)

        return begin

    @work(thread=True, exclusive=True)
    def _work_out(self, slip: Mistake) -> None:
        """Runs in a thread: it only posts messages and never touches a widget."""
        worker = get_current_worker()
        watch = Watch(lambda _: None, lambda: worker.is_cancelled)
        try:
            ways = ways_on(
                self._index,
                self._state,
                slip,
                trimmer=self._preferences.trimmer,
                tolerance=self._preferences.tolerance,
                unit=self._rule.unit,
                watch=watch,
            )
            self.post_message(self.WorkedOut(ways, "There is no way on with this paper."))
        except ImpossibleMistake as error:
            self.post_message(self.WorkedOut((), str(error)))
        except Cancelled:
            return

    @on(WorkedOut)
    def _offer(self, message: WorkedOut) -> None:
        if not message.ways:
            self._ask_again()
            self._say(message.why)
            return
        answers = [
            (f"{way.name}\n  {', '.join(way.cost)}", self._taker(way)) for way in message.ways
        ]
        self._ask(f"{self._said}. Ways on from here; each can be taken back", answers)

    def _taker(self, way: Way) -> Callable[[], None]:
        return lambda: self._take(way)

    def _take(self, way: Way) -> None:
        self.dismiss(way)

    def _say(self, words: str) -> None:
        self.query_one("#fault", Static).update(Content(words))
