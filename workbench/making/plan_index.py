"""The plan looked up by part: what every rectangle is, where it comes from and where it goes."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from workbench.craft.card import BASE
from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.making.batch import BatchState
from workbench.planning import (
    Assemble,
    Combination,
    Deal,
    Mount,
    Own,
    Part,
    PartId,
    Plan,
    Rectangle,
    Role,
    Sheet,
    Step,
    cut_alike,
    rectangles,
)

OFFCUT_BOX = "offcut box"
SCRAP_BOX = "scrap box"


def kind_of(step: Step) -> type[Step] | str:
    """What is told, timed and done as one: steps of a class, each of the maker's own by name."""
    return step.name if isinstance(step, Own) else type(step)


@dataclass(frozen=True)
class LikeParts:
    """Like parts that are handled together, by their labels.

    `pile` is where finished parts go, None for those that `cut_on`, a step by number, cuts on.
    `role` is None for these too; `sideways` pieces lie across their sheet.
    """

    name: str
    role: Role | None
    size: Size
    papers: tuple[str, ...]
    labels: tuple[PartId, ...]
    pile: str | None
    cut_on: int | None
    sideways: bool

    @property
    def count(self) -> int:
        """How many parts they are."""
        return len(self.labels)


@dataclass(frozen=True)
class PlanIndex:
    """A batch's project and plan, with every rectangle of the cutting to be found by its label."""

    project: Project
    plan: Plan

    def after(self, state: BatchState) -> "PlanIndex":
        """The plan as it is worked by in `state`: after a slip, by the plan that mends it."""
        if state.recovery is None or state.recovery.plan is self.plan:
            return self
        return PlanIndex(state.recovery.project, state.recovery.plan)

    @cached_property
    def rectangles(self) -> Mapping[PartId, Rectangle]:
        """Every rectangle that the cutting passes through, where it lies on its sheet."""
        return rectangles(self.plan)

    @cached_property
    def sheets(self) -> Mapping[str, Sheet]:
        """The sheets by their ids."""
        return {sheet.id: sheet for sheet in self.plan.sheets}

    @cached_property
    def parts(self) -> Mapping[PartId, Part]:
        """The final parts of all sheets."""
        return {sheet.part_id(part): part for sheet in self.plan.sheets for part in sheet.parts}

    @cached_property
    def cut_by(self) -> Mapping[PartId, int]:
        """The number of the step that cuts each rectangle on."""
        return {label: cut.n for cut in self.plan.cuts for label in cut.takes}

    @cached_property
    def made_by(self) -> Mapping[PartId, int]:
        """The number of the step that makes each rectangle; whole sheets have none."""
        return {label: cut.n for cut in self.plan.cuts for pair in cut.gives for label in pair}

    def likeness(self, label: PartId) -> object:
        """What it has in common with the same part of every sheet of its paper that is cut alike.

        It is quickly told: parts that differ in it may still be alike.
        """
        sheet = self.sheets[label.sheet]
        return sheet.paper, sheet.offcut, id(sheet.parts), label.path

    def paper_of(self, label: PartId) -> str:
        """The paper that a part is cut from. Raises KeyError for a sheet that is not there."""
        return self.sheets[label.sheet].paper

    def combination_of(self, card: int) -> Combination:
        """The papers of card number `card`. Raises KeyError where there is none."""
        return self._combinations[card]

    @cached_property
    def _combinations(self) -> Mapping[int, Combination]:
        return {combination.card: combination for combination in self.plan.combinations}

    @cached_property
    def layer_of(self) -> Mapping[PartId, tuple[int, str]]:
        """The card that each part goes on, and as which of its layers."""
        layers = [layer.name for layer in self.project.layers()]
        found = {}
        for step in self.plan.steps:
            if isinstance(step, Assemble):
                shown = self.combination_of(step.card).pieces
                names = (BASE, *(name for name in layers if name in shown))
                for part, name in zip(step.takes, names, strict=False):
                    found[part] = step.card, name
        return found

    def cards_of(self, step: Deal | Mount) -> tuple[int, ...]:
        """The card that each part of a dealing or mounting step goes on; spares go on none."""
        return tuple(self.layer_of[part][0] for part in step.takes if part in self.layer_of)

    def face_of(self, label: PartId) -> str:
        """The face that a part shows on its card; of a base or a spare, its paper."""
        if label not in self.layer_of:
            return self.paper_of(label)
        card, layer = self.layer_of[label]
        return self.combination_of(card).pieces.get(layer, self.project.card.paper)

    @cached_property
    def mounted(self) -> frozenset[PartId]:
        """The parts that are glued in before their card is put together."""
        return frozenset(
            part for step in self.plan.steps if isinstance(step, Mount) for part in step.takes
        )

    def is_scrap(self, label: PartId) -> bool:
        """Whether it is a final part that is thrown away."""
        return label in self.parts and self.parts[label].role == "scrap"

    @cached_property
    def layouts(self) -> tuple[tuple[Sheet, ...], ...]:
        """The sheets that are cut alike, of whatever paper, in the order of the first of each."""
        return cut_alike(self.plan.sheets)

    @cached_property
    def offcuts(self) -> tuple[LikeParts, ...]:
        """What is worth keeping when all is cut, paper by paper."""
        papers = dict.fromkeys(sheet.paper for sheet in self.plan.sheets)
        kept = [label for label, part in self.parts.items() if part.role == "offcut"]
        return tuple(
            lot
            for paper in papers
            for lot in self.lots(label for label in kept if self.paper_of(label) == paper)
        )

    def lots(self, labels: Iterable[PartId]) -> tuple[LikeParts, ...]:
        """The parts sorted into lots of one kind, in the order given."""
        # Exact sizes take long to compare, and of most sheets it is the very same ones.
        kinds: dict[object, int] = {}

        def kind(label: PartId) -> int:
            likeness = self.likeness(label)
            if likeness not in kinds:
                kinds[likeness] = kinds.setdefault(
                    (self._name(label), self._size(label)), len(kinds)
                )
            return kinds[likeness]

        sorted_out: dict[tuple[int, int | None], list[PartId]] = {}
        for label in labels:
            sorted_out.setdefault((kind(label), self.cut_by.get(label)), []).append(label)
        return tuple(self._lot(tuple(alike)) for alike in sorted_out.values())

    def _lot(self, labels: tuple[PartId, ...]) -> LikeParts:
        first = labels[0]
        return LikeParts(
            name=self._name(first),
            role=self.parts[first].role if first in self.parts else None,
            size=self._size(first),
            papers=tuple(dict.fromkeys(self.paper_of(label) for label in labels)),
            labels=labels,
            pile=self._pile(first),
            cut_on=self.cut_by.get(first),
            sideways=first in self.parts and self.parts[first].turned,
        )

    def _name(self, label: PartId) -> str:
        part = self.parts.get(label)
        if part:
            return part.piece or part.role
        if label.path:
            return "part"
        return "offcut" if self.sheets[label.sheet].offcut else "sheet"

    def _size(self, label: PartId) -> Size:
        """As it lies with its print upright; a piece as it will stand on the card."""
        size = self.rectangles[label].size
        return size.turned if label in self.parts and self.parts[label].turned else size

    def _pile(self, label: PartId) -> str | None:
        part = self.parts.get(label)
        if part is None:
            return None
        return {"offcut": OFFCUT_BOX, "scrap": SCRAP_BOX}.get(part.role) or f"pile “{part.piece}”"
