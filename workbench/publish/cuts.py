"""Every cut of a plan with a number of its own: strokes that do the same thing share one."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from workbench.craft.direction import Direction
from workbench.craft.paper import Size
from workbench.drawing.sheet_svg import CutLine
from workbench.drawing.two_units import TwoUnits
from workbench.making.plan_index import LikeParts, PlanIndex
from workbench.making.words import listed, shortlist
from workbench.measure.length import Length
from workbench.planning import Cut, PartId, Sheet

_ALONG = {Direction.WIDTH: "width", Direction.HEIGHT: "height"}


@dataclass(frozen=True, slots=True)
class CutRow:
    """Strokes at one mark that do the same thing, under one `number`."""

    number: int
    strokes: tuple[Cut, ...]

    @property
    def at_once(self) -> int:
        """How many parts lie under the blade together at most."""
        return max(len(stroke.takes) for stroke in self.strokes)


@dataclass(frozen=True, slots=True)
class Setting:
    """The rows that follow one another without moving the guide."""

    mark: Length
    rows: tuple[CutRow, ...]

    @property
    def strokes(self) -> tuple[Cut, ...]:
        """Every stroke at this mark, in order."""
        return tuple(stroke for row in self.rows for stroke in row.strokes)


@dataclass(frozen=True)
class CutTable:
    """The cuts of a plan, numbered in order; `names` says what each sheet is called."""

    index: PlanIndex
    names: Mapping[str, str]
    units: TwoUnits

    @cached_property
    def settings(self) -> tuple[Setting, ...]:
        """Every setting of the guide, in order."""
        found: list[Setting] = []
        number = 0
        for mark, setting in groupby(self.index.plan.cuts, key=lambda cut: cut.mark):
            rows = []
            for _, alike in groupby(setting, key=self._doing):
                number += 1
                rows.append(CutRow(number, tuple(alike)))
            found.append(Setting(mark, tuple(rows)))
        return tuple(found)

    @cached_property
    def _numbers(self) -> Mapping[PartId, int]:
        """The number of the row that cuts each part."""
        return {
            label: row.number
            for setting in self.settings
            for row in setting.rows
            for stroke in row.strokes
            for label in stroke.takes
        }

    def lines(self, sheets: Sequence[Sheet]) -> tuple[CutLine, ...]:
        """The cuts of sheets that are cut alike, on the first of them."""
        first = sheets[0]
        found = []
        for cut in self.index.plan.cuts:
            for label in cut.takes:
                if label.sheet != first.id:
                    continue
                through = self.index.rectangles[label]
                alike = (each.whole.below(label.path) for each in sheets)
                numbers = sorted({self._numbers[each] for each in alike})
                found.append(CutLine(", ".join(map(str, numbers)), through, cut.measure, cut.mark))
        return tuple(found)

    def along(self, row: CutRow) -> str:
        """The side that is measured: "width" or "height"."""
        return _ALONG[row.strokes[0].measure]

    def takes(self, row: CutRow) -> Iterator[str]:
        """What must lie ready: not what these strokes make themselves."""
        made = {label for stroke in row.strokes for pair in stroke.gives for label in pair}
        ready = [label for stroke in row.strokes for label in stroke.takes if label not in made]
        for name, size, lots in self._kinds(ready):
            count = sum(lot.count for lot in lots)
            if name == "sheet":
                yield from self._sheets(label for lot in lots for label in lot.labels)
            else:
                yield f"{count} × {name} {self.units.lead_size(size)}{self._from(lots)}"

    def gives(self, row: CutRow) -> Iterator[tuple[str, bool]]:
        """What these strokes leave, and whether it is finished; scrap goes without saying."""
        taken = {label for stroke in row.strokes for label in stroke.takes}
        left = [
            label
            for stroke in row.strokes
            for pair in stroke.gives
            for label in pair
            if label not in taken and not self.index.is_scrap(label)
        ]
        kinds = sorted(self._kinds(left), key=lambda kind: kind[2][0].role != "piece")
        for name, size, lots in kinds:
            count, role = sum(lot.count for lot in lots), lots[0].role
            if role == "piece":
                sideways = ", sideways" if any(lot.sideways for lot in lots) else ""
                yield f"{count} × {name}{sideways}", True
            else:
                yield f"{count} × {name} {self.units.lead_size(size)}{self._next(lots)}", False

    def _doing(self, stroke: Cut) -> tuple[object, ...]:
        """What strokes share that stand on one row: the side measured, what is measured off."""
        firsts = self._kinds([first for first, _ in stroke.gives])
        return (stroke.measure, *((name, size) for name, size, _ in firsts))

    def _kinds(self, labels: Iterable[PartId]) -> list[tuple[str, Size, list[LikeParts]]]:
        found: dict[tuple[str, Size], list[LikeParts]] = {}
        for lot in self.index.lots(labels):
            found.setdefault((lot.name, lot.size), []).append(lot)
        return [(name, size, lots) for (name, size), lots in found.items()]

    def _sheets(self, labels: Iterable[PartId]) -> Iterator[str]:
        counts: dict[str, int] = {}
        for label in labels:
            name = self.names[label.sheet]
            counts[name] = counts.get(name, 0) + 1
        for name, count in counts.items():
            yield f"{count} × {name}"

    def _from(self, lots: Sequence[LikeParts]) -> str:
        """Which cuts made these parts."""
        parents = {label.parent for lot in lots for label in lot.labels}
        made = {self._numbers[parent] for parent in parents if parent and parent in self._numbers}
        return f", from cut {listed([str(number) for number in sorted(made)])}" if made else ""

    def _next(self, lots: Sequence[LikeParts]) -> str:
        """Which cuts these parts go to."""
        later = {self._numbers[label] for lot in lots for label in lot.labels if lot.cut_on}
        if not later:
            return ", keep"
        return f" → cut {shortlist([str(number) for number in sorted(later)])}"
