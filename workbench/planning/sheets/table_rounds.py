"""One model of the time at the table, asked again until its answer is what the table takes.

What the model leaves out, some turns and such circles of marks as it has not met, is counted on the
finished order of the cuts (`TableTask.measure`): the model is asked again with the circles that
were met, and the best of all that was found is taken.
"""

import logging
import math
import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from workbench.craft.pace import Pace
from workbench.craft.wish import Wish
from workbench.planning.layouts.tree import Layout, marks_of
from workbench.planning.limits import Effort
from workbench.planning.milp import NEARLY, MilpResult
from workbench.planning.progress import Watch
from workbench.planning.shape import Shape
from workbench.planning.sheets.mark_circles import circles, mark_waits
from workbench.planning.sheets.mark_search import mark_search
from workbench.planning.sheets.offcut_search import larger_offcut
from workbench.planning.sheets.paper_network import GraphedGroup, Terms
from workbench.planning.sheets.setting_waits import SettingWait, decisive, setting_waits
from workbench.planning.sheets.table_model import Stacks, TableModel

Layouts = tuple[Layout, ...]
_LOG = logging.getLogger(__name__)


class TableFigures(NamedTuple):
    """What a finished order of cuts takes: seconds, settings, strokes; and the offcut it leaves.

    `offcut` is the area of the largest, in square units of the instance.
    """

    seconds: int
    settings: int
    strokes: int
    offcut: int

    def rank(self, wish: Wish) -> tuple[int, ...]:
        """The less, the better the wish is served; then the less time and the larger offcut."""
        first = {
            "time": self.seconds,
            "settings": self.settings,
            "strokes": self.strokes,
            "offcut": -self.offcut,
        }
        return first[wish], self.seconds, -self.offcut


Measure = Callable[[Sequence[Layout]], TableFigures]


@dataclass(frozen=True, slots=True)
class TableTask:
    """What every search at the table goes by.

    Attributes:
        stacks: by paper.
        keeps: whether a leftover of that shape is worth keeping as an offcut.
        measure: what layouts take once they are put in order.
    """

    stacks: Mapping[str, Stacks]
    pace: Pace
    keeps: Callable[[Shape], bool]
    measure: Measure
    watch: Watch


@dataclass(frozen=True, slots=True)
class Solved:
    """The layouts of each part, and what the model does not go below, where that is known."""

    layouts: list[Layouts]
    figures: TableFigures
    least: int | None = None
    fewest_marks: int | None = None


@dataclass
class Rounds:
    """Asks one model again and again, each time with the circles of marks met so far.

    `given` layouts are cut anyhow, so that their marks are set and their cuts wait.
    """

    task: TableTask
    parts: Sequence[GraphedGroup]
    wish: Wish
    given: Sequence[Layout]
    best: Solved | None = None
    least: int | None = None
    fewest_marks: int | None = None

    def __post_init__(self) -> None:
        self._setting_waits = setting_waits(layout.root for layout in self.given)
        self._waits = mark_waits(self._setting_waits)
        self._orders: list[tuple[SettingWait, ...]] = []
        self._set = {mark for layout in self.given for mark in marks_of(layout.root)}
        self._circles: list[tuple[int, ...]] = []
        self._answer: MilpResult | None = None
        self._arcs = sum(part.size for part in self.parts)
        limits = self.task.watch.limits
        self._pieces = sum(part.group.pieces for part in self.parts)
        self._few = self._pieces <= limits.few_pieces
        self._turning = self._few or self._arcs <= limits.turning_arcs
        self._small = self._few and self._arcs <= limits.few_arcs
        self._model = self._modelled()
        if self.wish == "offcut":
            self._model.add_offcuts(self.task.keeps)
        self._teach(self._model)

    def _modelled(self, *, loose: bool = False) -> TableModel:
        return TableModel(self.parts, self.task.stacks, turning=self._turning, loose=loose)

    def _teach(self, model: TableModel) -> None:
        """Tell a model which marks are set anyhow, and all that was met with."""
        for mark in self._set & model.marks.keys():
            model.program.lows[model.marks[mark]] = 1
        for circle in self._circles:
            model.break_circle(circle, self._waits)
        for order in self._orders:
            model.charge_order(order, self._setting_waits, self.task.pace)

    def solved(self) -> Solved | None:
        """The best answer of all rounds; None where there is none. Raises Cancelled."""
        for _ in range(self.task.watch.limits.circle_rounds):
            rows = len(self._model.program.rows)
            answer = self._lexicographic()
            if answer is None:
                break
            layouts = self._take(self._model, answer)
            del self._model.program.rows[rows:]
            if self._proven or not self._learnt(layouts):
                break
        if self._few and self.wish == "time" and not self._set:
            self._look_at_others()
        return self.best and replace(self.best, least=self.least, fewest_marks=self.fewest_marks)

    @property
    def _proven(self) -> bool:
        """Whether no answer takes less time than the best, where nothing else is cut."""
        if self.best is None or self.least is None or self._set or self.wish != "time":
            return False
        return self.best.figures.seconds <= self.least

    def _look_at_others(self) -> None:
        """Draw other answers that the model thinks quicker than the best is, once it is ordered.

        Cuts that were drawn before cost more, so that each answer is another as far as can be.

        Where there is none, the best is the least that is possible.
        """
        draw, tried = random.Random(len(self._model.laid)), Counter[int]()
        watch, program = self.task.watch, self._model.program
        limits, idle = watch.limits, 0
        seconds, rows = self._model.seconds(self.task.pace), len(program.rows)
        for _ in range(limits.other_answers):
            best = self.best
            if best is None or self._proven or idle == limits.idle_answers:
                break
            program.add_row(-math.inf, seconds, best.figures.seconds - 1 + NEARLY)
            costs = {one: 1_000 * tried[one] + draw.randrange(1_000) for one in self._model.laid}
            program.set_objective(costs)
            found = program.solve(watch, limits.other_effort)
            del program.rows[rows:]
            if found.verdict == "infeasible":
                self.least = best.figures.seconds
            if not found.found:
                break
            tried.update(column for column in self._model.laid if found.whole(column))
            learnt = self._learnt(self._take(self._model, found))
            idle = 0 if learnt or self.best is not best else idle + 1
            rows = len(program.rows)

    def least_of_all_orders(self) -> int | None:
        """What no order of the cuts goes below, however well it stacks; None where not looked."""
        watch = self.task.watch
        if self._arcs > watch.limits.least_arcs:
            return None
        model = self._modelled(loose=True)
        self._teach(model)
        seconds = model.seconds(self.task.pace)
        start = self._begun(model, seconds)
        model.program.set_objective(seconds)
        bound = model.program.solve_relaxation(watch).bound
        if start is None or not start.near(bound, watch.limits.least_gap):
            bound = model.program.solve(watch, watch.limits.least_effort, start).bound
        return math.ceil(bound - NEARLY) if bound > 0 else None

    def _take(self, model: TableModel, answer: MilpResult) -> list[Layouts]:
        """Keep the answer, if it is the best so far."""
        layouts = model.layouts(answer)
        mine = [layout for part in layouts for layout in part]
        figures = self.task.measure([*self.given, *mine])
        if self.best is None or figures.rank(self.wish) < self.best.figures.rank(self.wish):
            self.best, self._answer = Solved(layouts, figures), answer
        return layouts

    def _learnt(self, layouts: list[Layouts]) -> bool:
        """Whether the answer's order costs more than the model knew; it knows from now on."""
        waits = setting_waits(layout.root for part in layouts for layout in part)
        return self._circles_met(waits) | (self._turning and self._orders_met(waits))

    def _orders_met(self, found: set[SettingWait]) -> bool:
        """Whether settings wait for one another as the model knew nothing of; it does then."""
        waits = {wait for wait in found if self._model.knows(wait)} | self._setting_waits
        settings = {setting for wait in waits for setting in wait}
        if not waits or len(settings) > self.task.watch.limits.ordered_settings:
            return False
        order = decisive(waits, self.task.pace)
        if order in self._orders or self._setting_waits.issuperset(order):
            return False
        self._orders.append(order)
        self._model.charge_order(order, self._setting_waits, self.task.pace)
        return True

    def _circles_met(self, found: set[SettingWait]) -> bool:
        """Whether there are circles that the model knew nothing of; it does then."""
        all_circles = circles(mark_waits(found) | self._waits)
        met = [circle for circle in all_circles if circle not in self._circles]
        self._circles += met
        broken = [self._model.break_circle(circle, self._waits) for circle in met]
        return any(broken)

    def _lexicographic(self) -> MilpResult | None:
        """An answer that is best in one figure after the other; each is held to from then on."""
        figures = self._figures()
        answer = self._begun(self._model, figures[0])
        for number, figure in enumerate(figures):
            self._model.program.set_objective(figure)
            found = self._solved(answer)
            _LOG.debug("table model: %s, %s of at least %s", self.wish, found.value, found.bound)
            if not found.found:
                return None
            answer = found
            if number == bool(self._model.wanted):
                self._bounded(math.ceil(found.bound - NEARLY))
            self._model.program.add_row(-math.inf, figure, found.value + NEARLY)
        return answer

    def _solved(self, start: MilpResult | None) -> MilpResult:
        """The best answer in the model's objective: to proof, or nearly, where pieces are few."""
        watch, limits = self.task.watch, self.task.watch.limits
        if self._small:
            found = self._model.program.solve(watch, limits.few_effort, start)
            if found.found or found.verdict == "infeasible":
                return found
        buckets = limits.kernel_buckets if self.best is None else limits.later_buckets
        found = mark_search(self._model, watch, limits.kernel_effort, start, buckets)
        effort = self._further_effort
        if effort is None or found.verdict == "infeasible" or found.near(found.bound, effort.gap):
            return found
        start = found if found.found else None
        left_out = self._left_out(found)
        further = self._model.program.solve(watch, effort, start, left_out)
        if not further.found:
            return found
        return replace(further, bound=found.bound) if left_out else further

    def _left_out(self, found: MilpResult) -> set[int]:
        """The columns that a further look does without.

        Circles, once known, ask for other cuts at the marks that are set: other marks are left out.
        """
        if self.wish == "settings" or not found.found:
            return set()
        return self._model.beyond_marks(found)

    @property
    def _further_effort(self) -> Effort | None:
        """For the whole model; None where a kernel search is enough.

        It is not where the fewest marks are to be proven, and where circles, once known, may ask
        for other cuts.
        """
        limits = self.task.watch.limits
        if self.wish == "settings":
            return limits.marks_effort
        again = self.best is not None and self._pieces <= limits.some_pieces
        return limits.again_effort if again else None

    def _begun(self, model: TableModel, figure: Terms) -> MilpResult | None:
        """The best answer so far, or the cuttings known, as a model sees them; None: neither."""
        flow = self._model.flow(self._answer) if self._answer else model.known_flow()
        if flow is None:
            return None
        begun = model.completed(flow, figure, self.task.watch)
        return begun if begun.found else None

    def _bounded(self, bound: int) -> None:
        """Keep what the first figure wished for does not go below."""
        if self.wish == "time":
            self.least = max(self.least or 0, bound)
        elif self.wish == "settings":
            self.fewest_marks = max(self.fewest_marks or 0, bound)

    def _figures(self) -> list[Terms]:
        first: dict[Wish, list[Terms]] = {
            "time": [],
            "settings": [self._model.every_setting()],
            "strokes": [self._model.every_stroke()],
            "offcut": [self._model.offcut_area()] if self._model.offcuts else [],
        }
        wanted = [self._model.fitted()] if self._model.wanted else []
        return [*wanted, *first[self.wish], self._model.seconds(self.task.pace)]

    def roomier(self) -> Solved | None:
        """The best answer once more, with the largest offcut found that takes no more time."""
        before, answer, watch = self.best, self._answer, self.task.watch
        if self.wish == "offcut" or before is None or answer is None:
            return None
        model = self._model
        model.add_offcuts(self.task.keeps)
        if not model.offcuts:
            return None
        seconds = model.seconds(self.task.pace)
        # The flow settles both: its least seconds and its largest offcut.
        start = model.completed(model.flow(answer), seconds | model.offcut_area(), watch)
        taken = sum(times * start.values[column] for column, times in seconds.items())
        model.program.add_row(-math.inf, seconds, taken + NEARLY)
        if larger := larger_offcut(model, seconds, start, watch):
            self._take(model, larger)
        if self._small:
            model.program.set_objective(model.offcut_area())
            found = model.program.solve(watch, watch.limits.few_offcut_effort, start)
            if found.found:
                self._take(model, found)
        return self.best if self.best is not before else None
