"""What to do now, in words: pure data that a screen, a printer or a voice can present."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from workbench.craft.card import BASE
from workbench.craft.direction import Direction
from workbench.craft.paper import Run
from workbench.craft.trimmer import Trimmer
from workbench.making.assembly import Laid, layers_of, lining_up
from workbench.making.batch import State, setting
from workbench.making.cautions import cautions
from workbench.making.plan_index import Bench, Lot
from workbench.making.words import listed, shortlist, which_cards, written_length, written_size
from workbench.measure.length import Length
from workbench.measure.writing import (
    Graduation,
    Reading,
    how_far,
    nearest_mark,
    where_on_rule,
    write_clean,
    write_length,
    write_number,
)
from workbench.planning import Step

_EDGES = {Direction.WIDTH: "left", Direction.HEIGHT: "bottom"}
_ARROWS: dict[Run, str] = {"none": "", "up": " ↑", "along": " ↕"}
_HALFWAY = {Direction.WIDTH: "across", Direction.HEIGHT: "up"}


@dataclass(frozen=True, slots=True)
class Guide:
    """The mark the guide is set to, as the rule shows it.

    `number` is the nearest mark ("3 1/8"), `where` says where it lies on the rule, `off` (None when
    the mark is exact) how far from the wanted length, `anew` whether the guide has to be moved.
    """

    length: Length
    reading: Reading
    number: str
    where: str
    off: str | None
    anew: bool


@dataclass(frozen=True, slots=True)
class Prompt:
    """One step. `left` counts it and the like steps after it before the guide moves on, `counted`
    the parts of it that are done.

    `at_once` parts lie under the blade together. `comes_off` names each thing made, and where it
    goes; `layers` are one card's, back to front; `cards` are those that each part is dealt to.
    """

    step: Step
    title: str
    guide: Guide | None
    pick_up: tuple[str, ...]
    how: tuple[str, ...]
    comes_off: tuple[str, ...]
    layers: tuple[Laid, ...]
    cards: tuple[int, ...]
    at_once: int
    left: int
    counted: int
    cautions: tuple[str, ...]
    following: str


def prompt(
    bench: Bench, state: State, graduation: Graduation, trimmer: Trimmer | None = None
) -> Prompt | None:
    """What to do at the step at hand, read on a rule of that graduation; None when all is done."""
    if state.finished:
        return None
    step = bench.plan.steps[state.done]
    speaker = _Speaker(bench, graduation)
    return Prompt(
        step=step,
        title=speaker.title(step),
        guide=speaker.guide(step),
        pick_up=tuple(speaker.pick_up(step)),
        how=tuple(speaker.how(step)),
        comes_off=tuple(speaker.comes_off(step)),
        layers=speaker.layers(step),
        cards=bench.cards_of(step) if step.do in ("deal", "mount") else (),
        at_once=len(step.takes) if step.do == "cut" else 1,
        left=sum(not state.ticked(like.n) for like in setting(bench.plan, step)),
        counted=state.counted,
        cautions=cautions(bench, step, trimmer or Trimmer()),
        following=speaker.following(step),
    )


@dataclass(frozen=True, slots=True)
class _Speaker:
    bench: Bench
    graduation: Graduation

    def title(self, step: Step) -> str:
        if step.do == "cut":
            return "Set the guide to" if self._anew(step) else "The guide stays at"
        if step.do == "score":
            return "Score at"
        if step.do == "assemble":
            return f"Assemble card {step.card} of {self.bench.plan.cards}"
        if step.do == "deal":
            return "Lay out the bases" if self._is_of_bases(step) else "Deal onto the piles"
        return {"fold": "Fold", "round": "Round corners", "mount": "Mount inside"}[step.do]

    def _is_of_bases(self, step: Step) -> bool:
        return self.bench.parts[step.takes[0]].piece == BASE

    def guide(self, step: Step) -> Guide | None:
        if step.mark is None:
            return None
        reading = nearest_mark(step.mark, self.graduation)
        return Guide(
            length=step.mark,
            reading=reading,
            number=write_number(reading.mark, self.graduation.unit),
            where=where_on_rule(reading.mark, self.graduation),
            off=self._off(step.mark, reading) if reading.off else None,
            anew=self._anew(step),
        )

    def _off(self, length: Length, reading: Reading) -> str:
        exact = write_clean(length, self.bench.project.units)
        return f"nearest mark, {how_far(reading.off)}{f': exactly {exact}' if exact else ''}"

    def _anew(self, step: Step) -> bool:
        before = self.bench.plan.steps[step.n - 2] if step.n > 1 else None
        return before is None or (before.do, before.mark) != (step.do, step.mark)

    def pick_up(self, step: Step) -> Iterator[str]:
        if step.do == "assemble":
            return
        for lot in self.bench.lots(step.takes):
            where = self._from_pile(lot, step) if lot.pile else self._from_cut(lot, step)
            yield ", ".join(filter(None, [self._lot(lot), *where]))

    def _lot(self, lot: Lot) -> str:
        papers = listed(lot.papers)
        return f"{lot.count} × {lot.name} {written_size(lot.size, self.graduation)}, {papers}"

    def _from_pile(self, lot: Lot, step: Step) -> Iterator[str]:
        """Finished pieces have lost their labels; a spoilt one may be cut down."""
        if step.do == "cut":
            yield shortlist(lot.labels)
        if step.do == "mount":
            yield "from the piles of the cards"
            return
        moved = self._dealt_before(step).intersection(lot.labels) if step.do == "deal" else ()
        piles = [str(lot.pile)] if len(moved) < lot.count else []
        yield f"from {listed([*piles, 'the card that has it to spare'] if moved else piles)}"

    def _dealt_before(self, step: Step) -> frozenset[str]:
        """What lies with a card already: after a slip it may be wanted with another."""
        before = (each for each in self.bench.plan.steps[: step.n - 1] if each.do == "deal")
        return frozenset(label for each in before for label in each.takes)

    def _from_cut(self, lot: Lot, step: Step) -> Iterator[str]:
        yield shortlist(lot.labels)
        made = max((self.bench.made_by.get(label, 0) for label in lot.labels), default=0)
        if made:
            yield "just cut" if made == step.n - 1 else f"kept since step {made}"

    def how(self, step: Step) -> Iterator[str]:
        if step.do == "cut":
            yield from self._measuring(step)
        elif step.do == "score":
            yield self._measured_along(step)
            yield f"The line falls halfway {_HALFWAY[step.measure or Direction.HEIGHT]} the base."
            # Common practice, no source. A project does not say how the grain of a paper runs.
            yield "Score the outside, ridge inside (makers differ)."
            yield "With the grain if you can: it bends more easily."
        elif step.do == "fold":
            yield "Fold at the score, ridge inside (makers differ)."
            yield "Burnish the fold under a scrap of clean paper."
        elif step.do == "deal":
            yield from self._dealing(step)
        elif step.do == "mount":
            yield from self._mounting(step)
        elif step.do == "round":
            yield from self._corners(step)
        else:
            yield "Lay out all layers, then glue from back to front."
            yield from lining_up(self.layers(step))

    def _dealing(self, step: Step) -> Iterator[str]:
        if self._is_of_bases(step):
            yield "A place for each card, numbered as in the picture; a base at each."
            return
        times: dict[int, list[int]] = {}
        for card, count in sorted(Counter(self.bench.cards_of(step)).items()):
            times.setdefault(count, []).append(card)
        for count, cards in times.items():
            yield f"{count} on the pile of {which_cards(cards, self.bench.plan.cards)}."
        if self._is_dealt_again(step):
            yield "Or on whichever pile lacks it."
        face = self.bench.face_of(step.takes[0])
        if self.bench.project.paper_of(face).back:
            yield f"Its face “{face}” up."

    def _is_dealt_again(self, step: Step) -> bool:
        """Whether a piece of its kind was dealt before: it makes good for one that is gone."""
        name = self.bench.parts[step.takes[0]].piece
        return any(
            self.bench.parts[label].piece == name
            and self.bench.paper_of(label) == self.bench.paper_of(step.takes[0])
            for before in self.bench.plan.steps[: step.n - 1]
            if before.do == "deal"
            for label in before.takes[:1]
        )

    def _mounting(self, step: Step) -> Iterator[str]:
        card, name = self.bench.layer_of[step.takes[0]]
        combination = self.bench.combination_of(card)
        every = layers_of(self.bench.project, combination, self.graduation)
        laid = [layer for layer in every if layer.name == name]
        yield from (f"{layer.name}: {layer.how}." for layer in laid)
        yield from lining_up(laid)
        yield "Let it dry open before the card is closed."

    def _measuring(self, step: Step) -> Iterator[str]:
        yield self._measured_along(step)
        if len(step.takes) > 1:
            yield f"{len(step.takes)} at once: edges flush, prints the same way up."

    def _measured_along(self, step: Step) -> str:
        assert step.measure
        size = self.bench.rectangles[step.takes[0]].size
        side = size.along(step.measure)
        upright = f", print upright{self._run(step)}" if self._printed(step) else ""
        return (
            f"Along the {step.measure} ({written_length(side, self.graduation)}): "
            f"{_EDGES[step.measure]} edge to the guide{upright}."
        )

    def _printed(self, step: Step) -> bool:
        papers = {self.bench.paper_of(label) for label in step.takes}
        return any(self.bench.project.paper(name).shows_print for name in papers)

    def _run(self, step: Step) -> str:
        """Which way the prints point, where they all do."""
        papers = {self.bench.paper_of(label) for label in step.takes}
        runs = {self.bench.project.paper(name).run for name in papers}
        return _ARROWS[runs.pop()] if len(runs) == 1 else ""

    def _corners(self, step: Step) -> Iterator[str]:
        for name in dict.fromkeys(self.bench.parts[label].piece for label in step.takes):
            rounding = self.bench.project.piece(name).rounding if name else None
            if rounding:
                corners = "all four" if len(rounding.corners) == 4 else listed(rounding.corners)
                radius = written_length(rounding.radius, self.graduation)
                yield f"{name}: {corners}, radius {radius}, print upright."

    def comes_off(self, step: Step) -> Iterator[str]:
        firsts, rests = ([pair[end] for pair in step.gives] for end in (0, 1))
        for lot in self.bench.lots([*firsts, *rests]):
            yield f"{self._made(lot)} → {self._goes(lot, step)}"

    def _made(self, lot: Lot) -> str:
        size = written_size(lot.size, self.graduation)
        sideways = ", cut sideways" if lot.sideways else ""
        return f"{lot.count} × {lot.name} {size}{sideways}"

    def _goes(self, lot: Lot, step: Step) -> str:
        if lot.cut_on:
            return "cut next" if lot.cut_on == step.n + 1 else f"keep for step {lot.cut_on}"
        apart = ", prints apart" if lot.role == "piece" and len(lot.papers) > 1 else ""
        return f"{lot.pile}{apart}"

    def layers(self, step: Step) -> tuple[Laid, ...]:
        if step.do != "assemble":
            return ()
        inside = {self.bench.layer_of[part] for part in step.takes if part in self.bench.mounted}
        every = layers_of(self.bench.project, self.bench.combination(step), self.graduation)
        return tuple(laid for laid in every if (step.card, laid.name) not in inside)

    def following(self, step: Step) -> str:
        if step.n == len(self.bench.plan.steps):
            return "this was the last step"
        after = self.bench.plan.steps[step.n]
        if after.do == "assemble":
            return f"assemble card {after.card}"
        lots = listed([f"{lot.count} × {lot.name}" for lot in self.bench.lots(after.takes)])
        if after.mark is None:
            return f"{after.do} {lots}"
        reading = nearest_mark(after.mark, self.graduation)
        at = write_length(reading.mark, self.graduation)
        same = "the same " if not self._anew(after) else ""
        return f"{after.do} {lots} at {same}{at}"
