"""All the steps of a batch as a list, under one heading for each setting of the guide."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from workbench.making.batch import setting_of
from workbench.making.plan_index import LikeParts, PlanIndex
from workbench.making.words import (
    headline,
    listed,
    shortlist,
    which_cards,
    written_length,
    written_sides,
)
from workbench.measure.writing import Graduation
from workbench.planning import Assemble, Cut, Deal, Fold, Mount, Own, PartId, Round, Score, Step


@dataclass(frozen=True, slots=True)
class Line:
    """Steps `first` to `last`, one like the other, in few words."""

    first: int
    last: int
    words: str

    @property
    def numbers(self) -> str:
        """The steps by number: '4' or '4-7'."""
        return f"{self.first}" if self.first == self.last else f"{self.first}-{self.last}"


@dataclass(frozen=True, slots=True)
class Stretch:
    """Steps that follow one another without moving the guide."""

    heading: str
    lines: tuple[Line, ...]


def outline(index: PlanIndex, graduation: Graduation) -> tuple[Stretch, ...]:
    """Every step in order, in stretches of one mark or of one kind of work."""
    return tuple(
        _stretch(index, list(steps), graduation)
        for _, steps in groupby(index.plan.steps, key=setting_of)
    )


def _stretch(index: PlanIndex, steps: Sequence[Step], graduation: Graduation) -> Stretch:
    lines = []
    known: dict[object, str] = {}

    def words_of(step: Step) -> str:
        card = step.card if isinstance(step, Assemble) else None
        alike = (card, *map(index.likeness, step.takes))
        if alike not in known:
            known[alike] = _words(index, step, graduation)
        return known[alike]

    for words, alike in groupby(steps, key=words_of):
        numbers = [step.n for step in alike]
        lines.append(Line(numbers[0], numbers[-1], words))
    return Stretch(_heading(steps[0], graduation), tuple(lines))


def _heading(step: Step, graduation: Graduation) -> str:
    match step:
        case Cut(mark=mark):
            return f"Cut at {written_length(mark, graduation)}"
        case Score(mark=mark):
            return f"Score at {written_length(mark, graduation)}"
        case Fold():
            return "Fold"
        case Round():
            return "Round corners"
        case Deal():
            return "Deal into piles"
        case Mount():
            return "Mount inside"
        case Assemble():
            return "Assemble"
        case Own():
            return headline(step.name)


def _words(index: PlanIndex, step: Step, graduation: Graduation) -> str:
    if isinstance(step, Assemble):
        return f"card {step.card}: {listed(list(index.combination_of(step.card).pieces.values()))}"
    taken = _counted(index, step.takes, graduation)
    match step:
        case Deal():
            face = index.face_of(step.takes[0])
            cards = sorted(set(index.cards_of(step)))
            return f"{taken}, {face}: {which_cards(cards, index.plan.cards)}"
        case Cut():
            papers = shortlist(list(dict.fromkeys(index.paper_of(label) for label in step.takes)))
            return f"{taken} of {papers} → {_counted(index, _kept(index, step), graduation)}"
        case _:
            return taken


def _kept(index: PlanIndex, cut: Cut) -> list[PartId]:
    """What comes off a cut and is no scrap: what is measured of each part, then the rests."""
    firsts, rests = zip(*cut.gives, strict=True)
    return [label for label in (*firsts, *rests) if not index.is_scrap(label)]


def _counted(index: PlanIndex, labels: Sequence[PartId], graduation: Graduation) -> str:
    lots = index.lots(labels)
    named = [(lot.count, _named(lot, graduation)) for lot in lots]
    return ", ".join(f"{count} × {name}" if count > 1 else name for count, name in named)


def _named(lot: LikeParts, graduation: Graduation) -> str:
    """A piece and a sheet are known by name, all else by its size as well, which is one word."""
    if lot.role == "piece" or lot.name == "sheet":
        return lot.name
    return f"{lot.name} {written_sides(lot.size, graduation)}".replace(" ", "\N{NO-BREAK SPACE}")
