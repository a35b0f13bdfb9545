"""All the steps of a batch as a list, under one heading for each setting of the guide."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from workbench.making.plan_index import Bench
from workbench.making.words import listed, shortlist, which_cards, written_length
from workbench.measure.writing import Graduation
from workbench.planning import Step

_HEADINGS = {
    "fold": "Fold",
    "round": "Round corners",
    "deal": "Deal into piles",
    "mount": "Mount inside",
    "assemble": "Assemble",
}


@dataclass(frozen=True, slots=True)
class Line:
    """Steps `first` to `last`, one like the other, in few words."""

    first: int
    last: int
    words: str

    @property
    def numbers(self) -> str:
        return f"{self.first}" if self.first == self.last else f"{self.first}-{self.last}"


@dataclass(frozen=True, slots=True)
class Stretch:
    """Steps that follow one another without moving the guide."""

    heading: str
    lines: tuple[Line, ...]


def outline(bench: Bench, graduation: Graduation) -> tuple[Stretch, ...]:
    """Every step in order, in stretches of one mark or of one kind of work."""
    return tuple(
        _stretch(bench, list(steps), graduation)
        for _, steps in groupby(bench.plan.steps, key=lambda step: (step.do, step.mark))
    )


def _stretch(bench: Bench, steps: Sequence[Step], graduation: Graduation) -> Stretch:
    lines = []
    known: dict[object, str] = {}

    def words_of(step: Step) -> str:
        alike = (step.card, *map(bench.likeness, step.takes))
        if alike not in known:
            known[alike] = _words(bench, step)
        return known[alike]

    for words, alike in groupby(steps, key=words_of):
        numbers = [step.n for step in alike]
        lines.append(Line(numbers[0], numbers[-1], words))
    return Stretch(_heading(steps[0], graduation), tuple(lines))


def _heading(step: Step, graduation: Graduation) -> str:
    if step.mark is None:
        return _HEADINGS[step.do]
    return f"{step.do.capitalize()} at {written_length(step.mark, graduation)}"


def _words(bench: Bench, step: Step) -> str:
    if step.do == "assemble":
        return f"card {step.card}: {listed(list(bench.combination(step).pieces.values()))}"
    taken = _counted(bench, step.takes)
    if step.do == "deal":
        cards = sorted(set(bench.cards_of(step)))
        return f"{taken}, {bench.face_of(step.takes[0])}: {which_cards(cards, bench.plan.cards)}"
    if step.do != "cut":
        return taken
    kept = [
        label
        for end in (0, 1)
        for label in (pair[end] for pair in step.gives)
        if not bench.is_scrap(label)
    ]
    papers = shortlist(list(dict.fromkeys(bench.paper_of(label) for label in step.takes)))
    return f"{taken} of {papers} → {_counted(bench, kept)}"


def _counted(bench: Bench, labels: Sequence[str]) -> str:
    lots = bench.lots(labels)
    return ", ".join(f"{lot.count} × {lot.name}" if lot.count > 1 else lot.name for lot in lots)
