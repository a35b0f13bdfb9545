"""Which print goes where: no card shows one twice, and the cards differ as much as they can.

Koenig's line-colouring theorem: a bipartite multigraph (layers, prints, one line a piece) can be
coloured with as many colours (cards) as its largest degree. So the pieces can be dealt to N
cards if and only if no layer has more than N pieces and no print more than N in all. The two
faces of a double-faced paper are two prints.
"""

import math
import random
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import product

from workbench.craft.card import Piece
from workbench.craft.mixing import Likeness
from workbench.craft.project import Layer, Project
from workbench.planning.milp import INFINITY, Milp, MilpResult
from workbench.planning.mixing.assignment_rows import UseCount, add_counts, set_spares_aside
from workbench.planning.mixing.card_order import spread
from workbench.planning.mixing.card_rules import Faces
from workbench.planning.mixing.card_types import Use, card_types, card_types_of
from workbench.planning.mixing.edge_colouring import colour_edges
from workbench.planning.mixing.sections import Once, Section, sections
from workbench.planning.mixing.use_counts import use_counts
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Combination


@dataclass(frozen=True, slots=True)
class DealtCards:
    """A face (or None, where a wanted piece is missing) for each layer, a row a card.

    `different` cards are among them; there could not be more than `most`.
    """

    layers: tuple[Layer, ...]
    cards: tuple[Faces, ...]
    most: int

    @property
    def different(self) -> int:
        """How many cards there are of which no two are alike."""
        return len(set(self.cards))

    @property
    def combinations(self) -> tuple[Combination, ...]:
        """The cards numbered from 1, each with what its layers show."""
        names = [layer.name for layer in self.layers]
        shown = {choice: _shown(names, choice) for choice in set(self.cards)}
        return tuple(Combination(n, shown[choice]) for n, choice in enumerate(self.cards, 1))


@dataclass(frozen=True, slots=True)
class _Dealt:
    """Cards of some slots: the fixed ones by number, and how many of each kind besides."""

    fixed: Mapping[int, Faces]
    others: Mapping[Faces, int]
    most: int


CutPieces = Mapping[str, Mapping[str, int]]


def deal(
    project: Project,
    cards: int,
    cut: CutPieces,
    watch: Watch,
    counts: Sequence[UseCount] | None = None,
) -> DealtCards:
    """Deal the pieces `cut` (piece name, then paper, gives how many) to `cards` cards.

    The number of the deal, unless it is 0, draws one of the deals that are as varied. The papers
    are used as the maker asks where what is cut allows it: `counts` says how much of each, and is
    worked out if it is not given.

    Raises:
        PlanningError: the pieces cannot be dealt so that every rule holds.
    """
    number = project.mixing.deal
    if project.mixing.use != "as it comes":
        with suppress(PlanningError):
            if counts is None:
                ruled = card_types(project, cards, watch.limits.card_types)
                counts = use_counts(project, cards, ruled)
            return _Dealer(project, cards, cut, watch, _lot(number), counts).deal()
    return _Dealer(project, cards, cut, watch, _lot(number)).deal()


def _lot(number: int) -> random.Random | None:
    return random.Random(number) if number else None


@dataclass(frozen=True)
class _Dealer:
    project: Project
    cards: int
    cut: CutPieces
    watch: Watch
    lot: random.Random | None
    counts: Sequence[UseCount] = ()

    def deal(self) -> DealtCards:
        found = sections(self.project, {p.name: self._faces_cut(p) for p in self.project.pieces})
        whole = _as_one(found)
        choices = self._products(found)
        if choices is not None:
            dealt = self._varied(whole, choices)
        elif whole.ruled:
            found = sections(self.project)
            whole = _as_one(found)
            dealt = self._in_sections(found)
        else:
            dealt = self._coloured(whole)
        held = {number - 1: choice for number, choice in dealt.fixed.items()}
        others = self._shuffled(dealt.others)
        order = spread(others, held, self.cards, self.watch.limits)
        layers = self.project.layers()
        shown = {choice: self._card(layers, whole, choice) for choice in set(order)}
        rows = tuple(shown[choice] for choice in order)
        return DealtCards(layers, rows, min(dealt.most, self.cards))

    def _shuffled(self, kinds: Mapping[Faces, int]) -> Mapping[Faces, int]:
        """The kinds in the order of the lot, so that others of them come first."""
        if self.lot is None:
            return kinds
        return dict(self.lot.sample(list(kinds.items()), len(kinds)))

    def _faces_cut(self, piece: Piece) -> Faces:
        """What the pieces cut may show, papers in the order they were cut."""
        given = self.cut.get(piece.name, {})
        faces: list[str | None] = [
            face.name
            for paper, count in given.items()
            if count
            for face in self.project.paper(paper).faces
        ]
        missing = self.cards * piece.per_card > sum(given.values())
        return (*faces, None) if missing else tuple(faces)

    def _card(self, layers: Sequence[Layer], section: Section, choice: Faces) -> Faces:
        """What each layer of the card shows, those included that were never open."""
        slots = zip(section.slots, choice, strict=True)
        shown = {layer: face for slot, face in slots for layer in slot.layers}
        return tuple(shown.get(layer.name, layer.piece.papers[0]) for layer in layers)

    def _products(self, found: Sequence[Section]) -> list[Faces] | None:
        """Every card there could be, or None when there are too many kinds to list."""
        listed = []
        for section in found:
            choices, all_of_them = section.some_cards(self.watch.limits.dealt_card_types)
            listed.append(choices)
            if not all_of_them or math.prod(map(len, listed)) > self.watch.limits.dealt_card_types:
                return None
        return [sum(choice, ()) for choice in product(*listed)]

    def _varied(self, section: Section, choices: Sequence[Faces]) -> _Dealt:
        """The most different cards; the first of a kind earns, the others do not.

        With a wish for cards all alike or all different, there is nothing to earn.
        """
        program = Milp()
        mixture = card_types_of(self.project, section, choices, self.cards)
        columns = (
            [[program.add_column(cost=-1, high=1), program.add_column()] for _ in choices]
            if mixture.wish == "varied"
            else mixture.counting(program)
        )
        placed = mixture.bind(program, self._left_to_deal(program, section), columns)
        answer = program.solve(self.watch, self.watch.limits.dealing_effort)
        most = self._most(mixture.wish, answer)
        if not answer.found:
            program.costs = [0] * len(program.costs)
            answer = program.solve(self.watch)
        if not answer.found:
            raise PlanningError("these pieces cannot be dealt so that every rule of mixing holds")
        answer = self._drawn(program, [counting[0] for counting in columns], answer)
        others = {
            choice: sum(map(answer.whole, counting)) * mixture.worth
            for choice, counting in zip(choices, columns, strict=True)
        }
        fixed = {}
        numbers = [held.fixed.number for held in section.held if held.fixed.number <= self.cards]
        for number, suiting in zip(numbers, placed, strict=True):
            kind = next(kind for kind, column in suiting.items() if answer.whole(column))
            fixed[number] = choices[kind]
            others[choices[kind]] -= 1
        return _Dealt(fixed, {choice: n for choice, n in others.items() if n}, most)

    def _most(self, wish: Likeness, answer: MilpResult) -> int:
        """So many different cards there could be, as the wish or the bound of `answer` says."""
        if wish == "as a set":
            return 1
        bounded = wish == "varied" and math.isfinite(answer.bound)
        return math.floor(-answer.bound + 1e-6) if bounded else self.cards

    def _drawn(self, program: Milp, firsts: Sequence[int], answer: MilpResult) -> MilpResult:
        """Another answer with as many different cards, the one that the lot falls on."""
        if self.lot is None:
            return answer
        program.add_row(sum(map(answer.whole, firsts)), dict.fromkeys(firsts, 1.0))
        program.costs = [self.lot.random() for _ in program.costs]
        other = program.solve(self.watch, self.watch.limits.dealing_effort)
        return other if other.found else answer

    def _left_to_deal(self, program: Milp, section: Section) -> Mapping[Use, Mapping[int, float]]:
        """The pieces of the section's slots as columns, less the spares taken from them."""
        names = {slot.piece for slot in section.slots}
        counted: dict[Use, dict[int, float]] = {}
        for name in sorted(names):
            for paper, count in self.cut.get(name, {}).items():
                counted[name, paper] = {program.add_column(low=count, high=count): 1.0}
        spares = {piece.name: piece.spare for piece in self.project.pieces}
        dealt = set_spares_aside(program, counted, spares)
        mine = [each for each in self.counts if {piece for piece, _ in each.uses} <= names]
        add_counts(program, dealt, mine)
        return dealt

    def _coloured(self, section: Section) -> _Dealt:
        """Cards by Koenig's construction, where there are too many kinds to choose among."""
        rows = colour_edges(section, self._by_face(section), self.cards, self.project.mixing.deal)
        return _Dealt({}, Counter(rows), self.cards)

    def _by_face(self, section: Section) -> dict[str, dict[str | None, int]]:
        """How many cards have each piece of each face, within what Koenig's condition allows."""
        program = Milp()
        slots = {slot.piece: slot for slot in section.slots}
        columns: dict[str, dict[str | None, int]] = {piece: {} for piece in slots}
        shown: dict[Once, dict[int, float]] = defaultdict(dict)
        wanted = []
        for (piece, paper), terms in self._left_to_deal(program, section).items():
            slot, showing = slots[piece], {}
            for face in self.project.paper(paper).faces:
                barred = slot.mixed and section.twice.bars(piece, face.name)
                column = program.add_column(high=0 if barred else INFINITY)
                columns[piece][face.name] = column
                showing[column] = -float(len(slot.layers))
                if once := section.once(slot, face.name):
                    shown[once][column] = 1.0
                elif face.shows_print and not slot.mixed and not section.twice.repeat:
                    wanted.append((face.name, column))
            program.add_row(0, {**terms, **showing}, 0)
        for limited in shown.values():
            program.add_row(0, limited, self.cards)
        for face_name, column in wanted:
            program.add_row(0, {**shown.get(("", face_name), {}), column: 1.0}, self.cards)
        answer = program.solve(self.watch)
        if not answer.found:
            raise PlanningError("these pieces cannot be dealt without a print twice on a card")
        counts: dict[str, dict[str | None, int]] = {}
        times = Counter(slot.piece for slot in section.slots)
        for piece, faces in columns.items():
            counts[piece] = {face: answer.whole(column) for face, column in faces.items()}
            counts[piece][None] = times[piece] * self.cards - sum(counts[piece].values())
        return counts

    def _in_sections(self, found: Sequence[Section]) -> _Dealt:
        """Each section dealt by itself, the kinds as the cutting knew them, then joined."""
        whole = _Dealt({}, {(): self.cards}, 1)
        for section in found:
            if not section.slots:
                continue
            choices, all_of_them = section.some_cards(self.watch.limits.card_types)
            if section.ruled or all_of_them:
                whole = _joined(whole, self._varied(section, choices))
            else:
                whole = _joined(whole, self._coloured(section))
        return whole


def _shown(names: Sequence[str], choice: Faces) -> dict[str, str]:
    return {name: face for name, face in zip(names, choice, strict=True) if face is not None}


def _as_one(found: Sequence[Section]) -> Section:
    return Section(
        tuple(slot for section in found for slot in section.slots),
        tuple(dict.fromkeys(rule for section in found for rule in section.rules)),
        tuple({h.fixed.number: h for section in found for h in section.held}.values()),
        found[0].always,
        found[0].wish,
    )


def _joined(one: _Dealt, other: _Dealt) -> _Dealt:
    """Two sections of the same cards put together, in as many different pairs as come easily."""
    mine, theirs = Counter(one.others), Counter(other.others)
    fixed = {
        number: _taken(one.fixed, mine, number) + _taken(other.fixed, theirs, number)
        for number in sorted({*one.fixed, *other.fixed})
    }
    pairs = Counter[Faces]()
    for choice, count in mine.most_common():
        left = count
        while left:
            partners = [partner for partner, n in theirs.most_common(left) if n]
            pairs.update(choice + partner for partner in partners)
            theirs.subtract(partners)
            left -= len(partners)
    return _Dealt(fixed, pairs, one.most * other.most)


def _taken(fixed: Mapping[int, Faces], others: Counter[Faces], number: int) -> Faces:
    """What the card shows of a section: what is fixed there, else one of the plentiful kind."""
    if number in fixed:
        return fixed[number]
    choice = others.most_common(1)[0][0]
    others[choice] -= 1
    return choice
