"""What to do now, in words: pure data that a screen, a printer or a voice can present."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from workbench.craft.card import BASE
from workbench.craft.direction import Direction
from workbench.craft.paper import Run
from workbench.craft.trimmer import Trimmer
from workbench.making.assembly import Laid, layers_of, lining_up
from workbench.making.batch import BatchState, setting, setting_of
from workbench.making.cautions import cautions
from workbench.making.plan_index import LikeParts, PlanIndex
from workbench.making.words import (
    headline,
    listed,
    minutes_in_words,
    shortlist,
    verb,
    which_cards,
    written_length,
    written_size,
)
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
from workbench.planning import Assemble, Cut, Deal, Fold, Mount, Own, PartId, Round, Score, Step

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
    """One step, in words.

    `left` counts it and the like steps after it before the guide moves on, `counted` the parts of
    it that are done. `at_once` parts lie under the blade together. `comes_off` names each thing
    made, and where it goes; `layers` are one card's, back to front; `cards` are those that each
    part is dealt to.
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
    index: PlanIndex,
    state: BatchState,
    graduation: Graduation,
    trimmer: Trimmer | None = None,
    *,
    resumed: bool = False,
) -> Prompt | None:
    """What to do at the step at hand, read on a rule of that graduation; None when all is done.

    Where the maker has just come back (`resumed`), the guide may have been moved meanwhile.
    """
    if state.finished:
        return None
    step = index.plan.steps[state.done]
    speaker = _Speaker(index, graduation, resumed)
    return Prompt(
        step=step,
        title=speaker.title(step),
        guide=speaker.guide(step),
        pick_up=tuple(speaker.pick_up(step)),
        how=tuple(speaker.how(step)),
        comes_off=tuple(speaker.comes_off(step)),
        layers=speaker.layers(step),
        cards=index.cards_of(step) if isinstance(step, Deal | Mount) else (),
        at_once=len(step.takes) if isinstance(step, Cut) else 1,
        left=setting(index.plan, step)[-1].n - state.done,
        counted=state.counted,
        cautions=cautions(index, step, trimmer or Trimmer()),
        following=speaker.following(step),
    )


@dataclass(frozen=True, slots=True)
class _Speaker:
    index: PlanIndex
    graduation: Graduation
    resumed: bool

    def title(self, step: Step) -> str:
        match step:
            case Cut():
                return "Set the guide to" if self._to_set(step) else "The guide stays at"
            case Score():
                return "Score at"
            case Fold():
                return "Fold"
            case Round():
                return "Round corners"
            case Deal():
                return "Lay out the bases" if self._is_of_bases(step) else "Deal onto the piles"
            case Mount():
                return "Mount inside"
            case Assemble():
                return f"Assemble card {step.card} of {self.index.plan.cards}"
            case Own():
                return headline(step.name)

    def _is_of_bases(self, step: Deal) -> bool:
        return self.index.parts[step.takes[0]].piece == BASE

    def guide(self, step: Step) -> Guide | None:
        if not isinstance(step, Cut | Score):
            return None
        reading = nearest_mark(step.mark, self.graduation)
        return Guide(
            length=step.mark,
            reading=reading,
            number=write_number(reading.mark, self.graduation.unit),
            where=where_on_rule(reading.mark, self.graduation),
            off=self._off(step.mark, reading) if reading.off else None,
            anew=self._to_set(step),
        )

    def _off(self, length: Length, reading: Reading) -> str:
        exact = write_clean(length, self.index.project.units)
        return f"nearest mark, {how_far(reading.off)}{f': exactly {exact}' if exact else ''}"

    def _to_set(self, step: Step) -> bool:
        return self.resumed or self._anew(step)

    def _anew(self, step: Step) -> bool:
        before = self.index.plan.steps[step.n - 2] if step.n > 1 else None
        return before is None or setting_of(before) != setting_of(step)

    def pick_up(self, step: Step) -> Iterator[str]:
        if isinstance(step, Assemble):
            return
        for lot in self.index.lots(step.takes):
            where = self._from_pile(lot, step) if lot.pile else self._from_cut(lot, step)
            yield ", ".join(filter(None, [self._lot(lot), *where]))

    def _lot(self, lot: LikeParts) -> str:
        papers = listed(lot.papers)
        return f"{lot.count} × {lot.name} {written_size(lot.size, self.graduation)}, {papers}"

    def _from_pile(self, lot: LikeParts, step: Step) -> Iterator[str]:
        """Finished pieces have lost their labels; a spoilt one may be cut down."""
        if isinstance(step, Cut):
            yield shortlist([str(label) for label in lot.labels])
        if isinstance(step, Mount):
            yield "from the piles of the cards"
            return
        moved = self._dealt_before(step).intersection(lot.labels) if isinstance(step, Deal) else ()
        piles = [str(lot.pile)] if len(moved) < lot.count else []
        yield f"from {listed([*piles, 'the card that has it to spare'] if moved else piles)}"

    def _dealt_before(self, step: Deal) -> frozenset[PartId]:
        """What lies with a card already: after a slip it may be wanted with another."""
        steps = self.index.plan.steps[: step.n - 1]
        before = (each for each in steps if isinstance(each, Deal))
        return frozenset(label for each in before for label in each.takes)

    def _from_cut(self, lot: LikeParts, step: Step) -> Iterator[str]:
        yield shortlist([str(label) for label in lot.labels])
        made = max((self.index.made_by.get(label, 0) for label in lot.labels), default=0)
        if made:
            yield "just cut" if made == step.n - 1 else f"kept since step {made}"

    def how(self, step: Step) -> Iterator[str]:
        match step:
            case Cut():
                yield from self._cutting(step)
            case Score():
                yield from self._scoring(step)
            case Fold():
                yield "Fold at the score, ridge inside (makers differ)."
                yield "Burnish the fold under a scrap of clean paper."
            case Round():
                yield from self._corners(step)
            case Deal():
                yield from self._dealing(step)
            case Mount():
                yield from self._mounting(step)
            case Assemble():
                yield "Lay out all layers, then glue from back to front."
                yield from lining_up(self.layers(step))
            case Own():
                yield from self._own(step)

    def _own(self, step: Own) -> Iterator[str]:
        own = self.index.project.own_step(step.name)
        if own.caution:
            yield f"Take care: {own.caution}"
        for hole in own.holes:
            size = hole.size
            told = f"Slot {written_size(size, self.graduation)}"
            if size.width == size.height:
                told = f"Hole {written_length(size.width, self.graduation)} across"
            across, up = (written_length(side, self.graduation) for side in (hole.x, hole.y))
            yield (f"{told}: its middle {across} from the left, {up} from the bottom.")
        if own.minutes and len(step.takes) > 1:
            yield f"About {minutes_in_words(own.minutes * len(step.takes))} for all."

    def _scoring(self, step: Score) -> Iterator[str]:
        yield self._measured_along(step)
        yield f"The line falls halfway {_HALFWAY[step.measure]} the base."
        # Common practice, no source. A project does not say how the grain of a paper runs.
        yield "Score the outside, ridge inside (makers differ)."
        yield "With the grain if you can: it bends more easily."

    def _dealing(self, step: Deal) -> Iterator[str]:
        if self._is_of_bases(step):
            yield "A place for each card, numbered as in the picture; a base at each."
            return
        times: dict[int, list[int]] = {}
        for card, count in sorted(Counter(self.index.cards_of(step)).items()):
            times.setdefault(count, []).append(card)
        for count, cards in times.items():
            yield f"{count} on the pile of {which_cards(cards, self.index.plan.cards)}."
        if self._is_dealt_again(step):
            yield "Or on whichever pile lacks it."
        face = self.index.face_of(step.takes[0])
        if self.index.project.paper_of(face).back:
            yield f"Its face “{face}” up."

    def _is_dealt_again(self, step: Deal) -> bool:
        """Whether a piece of its kind was dealt before: it makes good for one that is gone."""
        name = self.index.parts[step.takes[0]].piece
        return any(
            self.index.parts[label].piece == name
            and self.index.paper_of(label) == self.index.paper_of(step.takes[0])
            for before in self.index.plan.steps[: step.n - 1]
            if isinstance(before, Deal)
            for label in before.takes[:1]
        )

    def _mounting(self, step: Mount) -> Iterator[str]:
        card, name = self.index.layer_of[step.takes[0]]
        combination = self.index.combination_of(card)
        every = layers_of(self.index.project, combination, self.graduation)
        laid = [layer for layer in every if layer.name == name]
        yield from (f"{layer.name}: {layer.how}." for layer in laid)
        yield from lining_up(laid)
        yield "Let it dry open before the card is closed."

    def _cutting(self, step: Cut) -> Iterator[str]:
        yield self._measured_along(step)
        if len(step.takes) > 1:
            yield f"{len(step.takes)} at once: edges flush, prints the same way up."

    def _measured_along(self, step: Cut | Score) -> str:
        side = self.index.lots(step.takes[:1])[0].size.along(step.measure)
        upright = f", print upright{self._run(step)}" if self._printed(step) else ""
        return (
            f"Along the {step.measure} ({written_length(side, self.graduation)}): "
            f"{_EDGES[step.measure]} edge to the guide{upright}."
        )

    def _printed(self, step: Step) -> bool:
        papers = {self.index.paper_of(label) for label in step.takes}
        return any(self.index.project.paper(name).shows_print for name in papers)

    def _run(self, step: Step) -> str:
        """Which way the prints point, where they all do."""
        papers = {self.index.paper_of(label) for label in step.takes}
        runs = {self.index.project.paper(name).run for name in papers}
        return _ARROWS[runs.pop()] if len(runs) == 1 else ""

    def _corners(self, step: Round) -> Iterator[str]:
        for name in dict.fromkeys(self.index.parts[label].piece for label in step.takes):
            rounding = self.index.project.piece(name).rounding if name else None
            if rounding:
                corners = "all four" if len(rounding.corners) == 4 else listed(rounding.corners)
                radius = written_length(rounding.radius, self.graduation)
                yield f"{name}: {corners}, radius {radius}, print upright."

    def comes_off(self, step: Step) -> Iterator[str]:
        if not isinstance(step, Cut):
            return
        firsts, rests = zip(*step.gives, strict=True)
        for lot in self.index.lots([*firsts, *rests]):
            yield f"{self._made(lot)} → {self._goes(lot, step)}"

    def _made(self, lot: LikeParts) -> str:
        size = written_size(lot.size, self.graduation)
        sideways = ", cut sideways" if lot.sideways else ""
        return f"{lot.count} × {lot.name} {size}{sideways}"

    def _goes(self, lot: LikeParts, step: Step) -> str:
        if lot.cut_on:
            return "cut next" if lot.cut_on == step.n + 1 else f"keep for step {lot.cut_on}"
        apart = ", prints apart" if lot.role == "piece" and len(lot.papers) > 1 else ""
        return f"{lot.pile}{apart}"

    def layers(self, step: Step) -> tuple[Laid, ...]:
        if not isinstance(step, Assemble):
            return ()
        inside = {self.index.layer_of[part] for part in step.takes if part in self.index.mounted}
        every = layers_of(self.index.project, self.index.combination_of(step.card), self.graduation)
        return tuple(laid for laid in every if (step.card, laid.name) not in inside)

    def following(self, step: Step) -> str:
        if step.n == len(self.index.plan.steps):
            return "this was the last step"
        after = self.index.plan.steps[step.n]
        if isinstance(after, Assemble):
            return f"assemble card {after.card}"
        lots = listed([f"{lot.count} × {lot.name}" for lot in self.index.lots(after.takes)])
        doing = f"{verb(after)} {lots}"
        if not isinstance(after, Cut | Score):
            return doing
        reading = nearest_mark(after.mark, self.graduation)
        at = write_length(reading.mark, self.graduation)
        same = "the same " if not self._anew(after) else ""
        return f"{doing} at {same}{at}"
