"""Cutting what lies on the table down: pieces to a smaller size, parts to where no strip is."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from workbench.craft.card import BASE
from workbench.craft.faults import CraftError
from workbench.craft.paper import Kind, Size
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.making.table import Table
from workbench.measure.length import ZERO, Length
from workbench.planning.plan import Direction, Step


def trimmed_alike(table: Table, trimmer: Trimmer) -> Table | None:
    """All pieces of the layer that came out short cut down to the short one's size."""
    return _Trimming(table, trimmer).done()


def strips_off(table: Table, trimmer: Trimmer) -> Table:
    """The table with cuts that take printed strips off what is left, so that the rest serves."""
    alike: dict[tuple[Kind, Size, Direction, Length], list[str]] = {}
    for label in table.finals:
        size, strip = table.rectangles[label].size, table.strip_on(label)
        if strip is None or label in table.ruined or label in table.pieces:
            continue
        measure, mark = strip
        extent = size.width if measure == "width" else size.height
        if ZERO < mark < extent and min(size.width, size.height) >= trimmer.hold * 2:
            kind = table.project.paper(table.papers[label]).kind
            alike.setdefault((kind, size, measure, mark), []).append(label)
    cuts = tuple(
        step
        for (kind, _, measure, mark), labels in alike.items()
        for step in _stacked(labels, measure, mark, trimmer.at_once[kind])
    )
    return replace(table, cuts=(*table.cuts, *cuts))


def _stacked(labels: Sequence[str], measure: Direction, mark: Length, most: int) -> Iterator[Step]:
    """The same cut of all of them, at `most` so many at once."""
    for first in range(0, len(labels), most):
        yield Step(0, "cut", tuple(labels[first : first + most]), measure, mark)


@dataclass(frozen=True, slots=True)
class _Trimming:
    table: Table
    trimmer: Trimmer

    def done(self) -> Table | None:
        table, off = self.table, self.table.off()
        names = {table.pieces[label][0] for label in off}
        sizes = {table.rectangles[label].size for label in off}
        if len(names) != 1 or len(sizes) != 1 or BASE in names or table.missing():
            return None
        (name,) = names
        mine = [label for label, (piece, _) in table.pieces.items() if piece == name]
        rounded = {label for step in table.past if step.do == "round" for label in step.takes}
        if rounded.intersection(mine) or table.used.intersection(mine):
            return None
        turned = {table.pieces[label][1] for label in off}
        size, wanted = table.rectangles[off[0]].size, table.wanted(off[0])
        across = size.width != wanted.width
        short = (wanted.width - size.width, wanted.height - size.height)
        if min(short) < ZERO or max(short) <= ZERO or min(short) > ZERO or len(turned) != 1:
            return None
        piece = table.project.piece(name)
        upright = size.turned if turned == {True} else size
        try:
            project = replace(
                table.project,
                pieces=tuple(
                    replace(each, size=upright) if each is piece else each
                    for each in table.project.pieces
                ),
            )
        except CraftError:
            return None
        return self._cut(project, [label for label in mine if label not in off], off[0], across)

    def _cut(self, project: Project, labels: Sequence[str], short: str, across: bool) -> Table:
        table = self.table
        size = table.rectangles[short].size
        short_turned = table.pieces[short][1]
        pieces, steps = dict(table.pieces), list[Step]()
        piles: dict[tuple[Kind, bool], list[str]] = {}
        for label in labels:
            kind = table.project.paper(table.papers[label]).kind
            piles.setdefault((kind, pieces[label][1]), []).append(label)
        for (kind, turned), pile in piles.items():
            along = across if turned == short_turned else not across
            measure: Direction = "width" if along else "height"
            mark = size.width if across else size.height
            steps += _stacked(pile, measure, mark, self.trimmer.at_once[kind])
            for label in pile:
                pieces[f"{label}.1"] = pieces.pop(label)
        return replace(table, project=project, cuts=(*table.cuts, *steps), pieces=pieces).settled()
