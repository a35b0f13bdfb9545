"""How the sheets of a batch are cut, for its recipe: a drawing each, and the settings in turn."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from workbench.craft.paper import Size
from workbench.drawing.sheet_svg import page_size, sheet_svg
from workbench.drawing.two_units import TwoUnits
from workbench.making.plan_index import PlanIndex
from workbench.making.words import in_minutes, listed
from workbench.measure.counting import counted, often
from workbench.measure.length import Length
from workbench.measure.writing import graduation_for, where_on_rule
from workbench.planning import Sheet
from workbench.publish.cuts import CutRow, CutTable, Setting
from workbench.publish.minutes import cutting_seconds
from workbench.publish.recipe import CutLineRow, Figure, SettingRow, SheetRow
from workbench.publish.scale import scale_for, scale_words

# The widest and the highest that a sheet is drawn, in millimetres of the page.
_ROOM = (88.0, 112.0)


@dataclass(frozen=True)
class SheetWriter:
    """What the recipe says of sheets and cuts; `keys` are the letters of the pieces."""

    index: PlanIndex
    units: TwoUnits
    keys: Mapping[str, str]

    def sheets(self) -> Iterator[SheetRow]:
        """Each sheet that is cut in another way, with its drawing."""
        return map(self._sheet, self.index.layouts)

    def settings(self) -> Iterator[SettingRow]:
        """Each setting of the guide in turn, with its cuts and the minute it begins in."""
        before = 0.0
        for setting in self._cuts.settings:
            yield SettingRow(
                lead=self.units.lead(setting.mark),
                other=self.units.other(setting.mark),
                where=self._where(setting.mark),
                minute=round(before / 60),
                rows=tuple(map(self._row, setting.rows)),
            )
            before += self._seconds(setting)

    def facts(self) -> str:
        """How many cuts and settings there are, and how long they take."""
        totals = self.index.plan.totals
        settings = len(self._cuts.settings)
        return (
            f"{counted(totals.cuts, 'cut')}, the guide set {often(settings)}, "
            f"about {in_minutes(cutting_seconds(self.index))}"
        )

    @cached_property
    def _names(self) -> Mapping[str, str]:
        """What each sheet is called: those cut alike share a name."""
        return {
            sheet.id: f"sheet {number}"
            for number, sheets in enumerate(self.index.layouts, 1)
            for sheet in sheets
        }

    @cached_property
    def _cuts(self) -> CutTable:
        return CutTable(self.index, self._names, self.units)

    @cached_property
    def _scale(self) -> Fraction:
        return scale_for([sheets[0].size for sheets in self.index.layouts], _ROOM)

    def _sheet(self, sheets: Sequence[Sheet]) -> SheetRow:
        first = sheets[0]
        paper = self.index.project.paper(first.paper)
        runs = {self.index.project.paper(sheet.paper).run for sheet in sheets}
        name = self._names[first.id]
        by_paper = Counter(sheet.paper for sheet in sheets)
        gives = tuple(self._gives(first))
        what = "offcut" if first.offcut else "sheet"
        svg = sheet_svg(
            first,
            self._cuts.lines(sheets),
            self.keys,
            self.units,
            scale=self._scale,
            run=paper.run if len(runs) == 1 else "none",
            title=name,
        )
        size = self.units.both_sizes(first.size)
        alt = f"{name}, {what} of {size}, with its numbered cuts; it gives {listed(gives)}."
        return SheetRow(
            name=name.capitalize(),
            heading=f"{counted(len(sheets), what)} of {size}",
            papers=tuple(f"{count} × {paper}" for paper, count in by_paper.items()),
            gives=gives,
            figure=Figure(
                svg,
                alt,
                page_size(first.size, self._scale)[0],
                scale_words(self._scale),
            ),
        )

    def _gives(self, sheet: Sheet) -> Iterator[str]:
        found: Counter[tuple[str, Size]] = Counter()
        for part in sheet.parts:
            if part.role == "scrap":
                continue
            size = Size(part.width, part.height)
            found[part.piece or "to keep", size.turned if part.turned else size] += 1
        for (name, size), count in found.items():
            key = self.keys.get(name, "")
            yield f"{count} × {f'{key} ' if key else ''}{name}, {self.units.both_sizes(size)}"

    def _where(self, mark: Length) -> str:
        return where_on_rule(mark, graduation_for(self.units.first))

    def _row(self, row: CutRow) -> CutLineRow:
        return CutLineRow(
            str(row.number),
            self._cuts.along(row),
            tuple(self._cuts.takes(row)),
            tuple(self._cuts.gives(row)),
            row.at_once,
        )

    def _seconds(self, setting: Setting) -> float:
        return cutting_seconds(self.index, setting.strokes)
