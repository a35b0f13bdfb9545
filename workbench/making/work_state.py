"""What truly lies on the table in the middle of a batch."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from workbench.craft.card import BASE
from workbench.craft.direction import Direction
from workbench.craft.paper import Size, offcuts_of
from workbench.craft.project import Project
from workbench.making.batch import BatchState
from workbench.making.plan_index import PlanIndex
from workbench.making.strips import strip_on
from workbench.measure.length import Length
from workbench.planning import (
    Assemble,
    Combination,
    Cut,
    Deal,
    Part,
    PartId,
    Plan,
    Rectangle,
    Sheet,
    Step,
    rectangles,
)

Need = tuple[str, str]


class ImpossibleMistake(ValueError):  # noqa: N818 - a refusal, not a fault
    """Raised for a slip that the later cuts contradict; says why."""


@dataclass(frozen=True)
class WorkState:
    """The batch as it stands: `past` steps as they truly went, `cuts` that are still to be made.

    `pieces` names every final part that is, or will be, a piece, and whether it lies turned.
    `plan` is what was worked by until now; only its proofs and its leftovers still count.
    `lying` parts are on the pile of that card.
    """

    project: Project
    plan: Plan
    sheets: tuple[Sheet, ...]
    past: tuple[Step, ...]
    cuts: tuple[Cut, ...]
    pieces: Mapping[PartId, tuple[str, bool]]
    combinations: tuple[Combination, ...]
    lying: Mapping[PartId, int] = field(default_factory=dict)
    ruined: frozenset[PartId] = frozenset()

    @cached_property
    def rectangles(self) -> Mapping[PartId, Rectangle]:
        """Every rectangle that the cutting has passed and will pass through, as it truly lies."""
        return rectangles(replace(self.plan, sheets=self.sheets, steps=(*self.past, *self.cuts)))

    @cached_property
    def papers(self) -> Mapping[PartId, str]:
        """The paper of every rectangle."""
        return {label: self._opened[label.sheet].paper for label in self.rectangles}

    @cached_property
    def finals(self) -> tuple[PartId, ...]:
        """The rectangles that are not cut on."""
        cut_on = set(_cut_on((*self.past, *self.cuts)))
        return tuple(label for label in self.rectangles if label not in cut_on)

    @cached_property
    def in_hand(self) -> frozenset[PartId]:
        """The rectangles there are now, whole sheets among them."""
        made = {label for cut in _cuts(self.past) for pair in cut.gives for label in pair}
        return frozenset({*made, *(sheet.whole for sheet in self.sheets)} - set(_cut_on(self.past)))

    @cached_property
    def used(self) -> frozenset[PartId]:
        """The parts that are on finished cards."""
        cards = (step.takes for step in self.past if isinstance(step, Assemble))
        return frozenset(label for takes in cards for label in takes)

    @cached_property
    def made(self) -> frozenset[int]:
        """The numbers of the finished cards."""
        return frozenset(step.card for step in self.past if isinstance(step, Assemble))

    def wanted(self, label: PartId) -> Size:
        """How the piece `label` should measure, as it lies on its sheet."""
        name, turned = self.pieces[label]
        size = self.project.card.base_size if name == BASE else self.project.piece(name).size
        return size.turned if turned else size

    def off(self) -> tuple[PartId, ...]:
        """The pieces that came, or will come, out in another size."""
        return tuple(
            label for label in self.pieces if self.rectangles[label].size != self.wanted(label)
        )

    def have(self) -> Counter[Need]:
        """The pieces that are cut or will be, by name and paper."""
        return Counter((name, self.papers[label]) for label, (name, _) in self.pieces.items())

    def need(self) -> Counter[Need]:
        """The pieces that the cards take."""
        needs: Counter[Need] = Counter()
        layers = {layer.name: layer.piece.name for layer in self.project.layers()}
        for card in self.combinations:
            needs[BASE, self.project.card.paper] += 1
            for layer, face in card.pieces.items():
                needs[layers[layer], self.project.paper_of(face).name] += 1
        return needs

    def missing(self) -> Counter[Need]:
        """The pieces that the cards take and that are neither cut nor will be."""
        return self.need() - self.have()

    def left_over(self) -> tuple[PartId, ...]:
        """What could still be cut from: neither piece nor scrap, and not ruined."""
        return tuple(
            label
            for label in self.finals
            if label not in self.pieces
            and label not in self.ruined
            and not self.was_scrap(label, self.rectangles[label].size)
            and not self.strip_on(label)
        )

    def strip_on(self, label: PartId) -> tuple[Direction, Length] | None:
        """The cut that parts the printed strip from it, where it still bears one."""
        found = self.rectangles[label]
        return strip_on(found, self._opened[label.sheet], self.project.paper(self.papers[label]))

    @cached_property
    def _opened(self) -> Mapping[str, Sheet]:
        return {sheet.id: sheet for sheet in self.sheets}

    def was_scrap(self, label: PartId, size: Size) -> bool:
        """Whether the part was scrap of that very size in what was worked by until now."""
        part = self._parts_before.get(label)
        if part is None or part.role != "scrap":
            return False
        return (part.width, part.height) == (size.width, size.height)

    @cached_property
    def _parts_before(self) -> Mapping[PartId, Part]:
        return {sheet.part_id(part): part for sheet in self.plan.sheets for part in sheet.parts}

    def without(self, labels: Collection[PartId]) -> "WorkState":
        """The same when these parts can no longer serve, nor anything still to be cut of them."""
        gone = set(labels)
        for cut in self.cuts:
            for taken in cut.takes:
                gone.update(taken.halves if taken in gone else ())
        past = tuple(_without(self.past, gone))
        whole = {sheet.whole for sheet in self.sheets} & gone - set(_cut_on(self.past))
        unopened = {sheet.sheet for sheet in whole}
        return replace(
            self,
            project=_fewer_sheets(self, unopened),
            sheets=tuple(sheet for sheet in self.sheets if sheet.id not in unopened),
            past=past,
            cuts=tuple(not_cut(self.cuts, gone)),
            pieces={label: piece for label, piece in self.pieces.items() if label not in gone},
            ruined=self.ruined | gone,
        ).settled()

    def uncut(self, labels: Collection[PartId]) -> "WorkState":
        """The same when these are no pieces after all; they are there to be cut from."""
        kept = {label: piece for label, piece in self.pieces.items() if label not in labels}
        return replace(self, pieces=kept).settled()

    def settled(self) -> "WorkState":
        """Only cuts that can be made and give a piece are left, like sizes alone in a stack.

        Raises ImpossibleMistake when a cut that was made could not have been.
        """
        sizes = {sheet.whole: sheet.size for sheet in self.sheets}
        past = tuple(_as_made(self.past, sizes))
        cuts = tuple(_possible(self.cuts, sizes))
        cut_on = set(_cut_on((*past, *cuts)))
        pieces = {
            label: piece
            for label, piece in self.pieces.items()
            if label in sizes and label not in cut_on
        }
        serving = set(pieces)
        for cut in reversed(cuts):
            for taken in cut.takes:
                if serving.intersection(taken.halves):
                    serving.add(taken)
        undone = {
            label
            for step in past
            if not isinstance(step, Cut)
            for label in step.takes
            if label not in pieces
        }
        idle = {label for label in sizes if label not in serving}
        opened = {*serving, *_cut_on(past)}
        return replace(
            self,
            past=tuple(_without(past, undone)),
            cuts=tuple(not_cut(cuts, idle)),
            sheets=tuple(sheet for sheet in self.sheets if sheet.whole in opened),
            pieces=pieces,
        )

    def fitted(self) -> "WorkState":
        """No more pieces than the cards take, but for the spares that were asked for."""
        surplus = self.have() - self.need()
        spare: Counter[str] = Counter({piece.name: piece.spare for piece in self.project.pieces})
        extra = []
        made = {label: number for number, label in enumerate(self.rectangles)}

        def dearness(label: PartId) -> tuple[bool, bool, int]:
            """Those to be cut last go first, so that they need not be; those on a pile go last."""
            return label in self.in_hand, label in self.lying, -made[label]

        for label in sorted(self.pieces, key=dearness):
            need = self.pieces[label][0], self.papers[label]
            if label not in self.used and surplus[need]:
                surplus[need] -= 1
                extra.append(label)
        dropped = []
        for label in reversed(extra):
            name = self.pieces[label][0]
            if spare[name]:
                spare[name] -= 1
            else:
                dropped.append(label)
        pieces = tuple(
            replace(piece, spare=piece.spare - spare[piece.name]) for piece in self.project.pieces
        )
        return replace(self, project=replace(self.project, pieces=pieces)).uncut(dropped)


def work_state_of(index: PlanIndex, state: BatchState) -> WorkState:
    """How the batch stands when all has gone as planned. What was to be bought counts as bought."""
    plan, bought = index.plan, {short.paper: short.sheets for short in index.plan.shortages}
    papers = tuple(
        replace(paper, sheets=paper.sheets + bought.get(paper.name, 0))
        for paper in index.project.papers
    )
    left = plan.steps[state.done :]
    return WorkState(
        replace(index.project, papers=papers),
        plan,
        plan.sheets,
        plan.steps[: state.done],
        tuple(_cuts(left)),
        {label: (part.piece, part.turned) for label, part in index.parts.items() if part.piece},
        plan.combinations,
        dict(_lying(index, state)),
    )


def _lying(index: PlanIndex, state: BatchState) -> Iterator[tuple[PartId, int]]:
    """The parts that are dealt, and to which card; not those to be dealt anew."""
    anew = {
        part
        for step in index.plan.steps[state.done :]
        if isinstance(step, Deal)
        for part in step.takes
    }
    for step in index.plan.steps[: state.done]:
        if isinstance(step, Deal):
            for part in step.takes:
                if part in index.layer_of and part not in anew:
                    yield part, index.layer_of[part][0]


def _cut_on(steps: Sequence[Step]) -> Iterator[PartId]:
    return (label for cut in _cuts(steps) for label in cut.takes)


def _cuts(steps: Iterable[Step]) -> Iterator[Cut]:
    return (step for step in steps if isinstance(step, Cut))


def _without(steps: Sequence[Step], gone: Collection[PartId]) -> Iterator[Step]:
    """What was done to the parts that are gone need not be told any more; cuts stay true."""
    for step in steps:
        takes = tuple(label for label in step.takes if label not in gone)
        if isinstance(step, Cut) or len(takes) == len(step.takes):
            yield step
        elif takes and not isinstance(step, Assemble):
            yield replace(step, takes=takes)


def not_cut(cuts: Iterable[Cut], gone: Collection[PartId]) -> Iterator[Cut]:
    """The cuts without the parts that are gone."""
    for cut in cuts:
        if kept := tuple(label for label in cut.takes if label not in gone):
            yield replace(cut, takes=kept)


def _as_made(steps: Sequence[Step], sizes: dict[PartId, Size]) -> Iterator[Step]:
    """The steps that were done, each cut split by true size; `sizes` learns what they give.

    Raises ImpossibleMistake for a cut that the true sizes do not allow.
    """
    for step in steps:
        if not isinstance(step, Cut):
            yield step
            continue
        possible = tuple(_possible([step], sizes))
        if sum(len(cut.takes) for cut in possible) < len(step.takes):
            raise ImpossibleMistake(f"Step {step.n} could then not have been done as it was.")
        yield from possible


def _possible(cuts: Sequence[Cut], sizes: dict[PartId, Size]) -> Iterator[Cut]:
    """The cuts that the true sizes allow, one for each size; `sizes` learns what they give."""
    for cut in cuts:
        stacks: dict[Size, list[PartId]] = {}
        for taken in cut.takes:
            size = sizes.get(taken)
            if size is not None and cut.mark < size.along(cut.measure):
                sizes.update(zip(taken.halves, size.halves(cut.measure, cut.mark), strict=True))
                stacks.setdefault(size, []).append(taken)
        for stack in stacks.values():
            yield replace(cut, takes=tuple(stack))


def _fewer_sheets(work: WorkState, sheets: Collection[str]) -> Project:
    """The stock without these sheets, or offcuts, that were never cut."""
    gone = [sheet for sheet in work.sheets if sheet.id in sheets]
    lost = Counter(sheet.paper for sheet in gone if not sheet.offcut)
    offcuts = Counter((sheet.paper, sheet.size) for sheet in gone if sheet.offcut)
    papers = tuple(
        replace(paper, sheets=max(0, paper.sheets - lost[paper.name]))
        for paper in work.project.papers
    )
    left = offcuts_of(work.project.offcuts_on_hand() - offcuts)
    return replace(work.project, papers=papers, offcuts=left)
