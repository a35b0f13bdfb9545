"""The work besides cutting, as a recipe tells it: scoring, rounding, mounting, the maker's own."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from workbench.craft.card import FRONT, Piece
from workbench.craft.own_step import OwnStep
from workbench.craft.project import Project
from workbench.drawing.two_units import TwoUnits
from workbench.making.assembly import layers_of, lining_up
from workbench.making.plan_index import PlanIndex, kind_of
from workbench.making.words import in_minutes, listed
from workbench.measure.counting import often
from workbench.measure.writing import graduation_for
from workbench.planning import (
    Assemble,
    Combination,
    Deal,
    Fold,
    Mount,
    Own,
    Round,
    Score,
    Step,
)
from workbench.publish.minutes import finishing_seconds
from workbench.publish.recipe import LayerRow, Task

_CORNERS = 4


def corner_words(piece: Piece, units: TwoUnits) -> str:
    """Which corners of a piece are rounded, and how far, in both units; "" for none."""
    if not piece.rounding:
        return ""
    corners = piece.rounding.corners
    which = "all corners" if len(corners) == _CORNERS else listed(corners)
    return f"{which} rounded, radius {units.both(piece.rounding.radius)}"


def whole_look(project: Project) -> Combination:
    """A card with a face for every layer, cut or not, so that the place of each can be told."""
    faces = {layer.name: layer.piece.papers[0] for layer in project.layers()}
    return Combination(1, faces)


@dataclass(frozen=True)
class TaskWriter:
    """Tells the tasks of a planned batch.

    Attributes:
        index: the batch's project and plan.
        units: how lengths are written.
        keys: the letter that stands for each piece.
        rows: the layers as the recipe lists them, the base first.
        inside: the names of the pieces inside the card.
    """

    index: PlanIndex
    units: TwoUnits
    keys: Mapping[str, str]
    rows: tuple[LayerRow, ...]
    inside: frozenset[str]

    def tasks(self) -> Iterator[Task]:
        """The work besides cutting, in the order of the plan; each kind of it once."""
        told: set[object] = set()
        for step in self.index.plan.steps:
            kind = kind_of(step)
            if kind not in told:
                told.add(kind)
                yield from self._task(step)

    def _task(self, step: Step) -> Iterator[Task]:
        match step:
            case Score():
                yield self._scoring(step)
            case Round():
                yield self._timed("Round corners", (Round,), self._roundings())
            case Mount():
                rows = [row for row in self.rows if row.name in self.inside]
                lines = (f"{row.key} {row.name}: {row.how}." for row in rows)
                last = "Let it dry open before the card is closed."
                yield self._timed("Mount inside", (Mount,), (*lines, last))
            case Assemble():
                yield self._assembling()
            case Own():
                yield self._own(self.index.project.own_step(step.name), len(step.takes))

    def _roundings(self) -> Iterator[str]:
        for piece in self.index.project.pieces:
            if corners := corner_words(piece, self.units):
                yield f"{self.keys[piece.name]} {piece.name}: {corners}, print upright."

    def _timed(self, heading: str, kinds: Iterable[type[Step]], lines: Iterable[str]) -> Task:
        return Task(heading, in_minutes(finishing_seconds(self.index, kinds)), tuple(lines))

    def _scoring(self, score: Score) -> Task:
        count = len(score.takes)
        bases = f"all {count} bases" if count > 1 else "the base"
        lines = (
            f"Score {bases} at {self.units.both(score.mark)} along the {score.measure}, halfway.",
            # Common practice; sources differ.
            "With the grain if you can. Fold with the ridge inside (makers differ) and burnish "
            "under a scrap of clean paper.",
        )
        return self._timed("Score and fold", (Score, Fold), lines)

    def _assembling(self) -> Task:
        outside = [row for row in self.rows if row.name not in self.inside][1:]
        look = whole_look(self.index.project)
        laid = layers_of(self.index.project, look, graduation_for(self.units.first))
        lines = (
            "Lay out all layers of a card, then glue from back to front.",
            *(f"{row.key} {row.name}: {row.how}." for row in outside),
            *lining_up(laid),
        )
        return self._timed("Put the cards together", (Deal, Assemble), lines)

    def _own(self, own: OwnStep, times: int) -> Task:
        """A step of the maker's own, with what is punched measured in both units."""
        on = "the card" if own.on == FRONT else f"{self.keys[own.on]} {own.on}"
        when = "last of all" if own.when == "last" else own.when
        lines = [f"On {on}, {when}: {often(times)}."]
        for hole in own.holes:
            told = f"Slot {self.units.both_sizes(hole.size)}"
            if hole.size.width == hole.size.height:
                told = f"Hole {self.units.both(hole.size.width)} across"
            lines.append(
                f"{told}: its middle "
                f"{self.units.both(hole.x)} from the left, {self.units.both(hole.y)} from the "
                "bottom."
            )
        if own.caution:
            lines.append(f"Take care: {own.caution}")
        seconds = float(own.minutes) * 60 * times or finishing_seconds(self.index, (Own,))
        return Task(f"{own.name[0].upper()}{own.name[1:]}", in_minutes(seconds), tuple(lines))
