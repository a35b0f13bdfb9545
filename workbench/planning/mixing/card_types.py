"""The types of card that the maker's rules allow, and what ties the cut pieces to them.

Sets: T, the card types; U, the uses (a piece of a paper). Parameters: a_ut, the pieces of use u on
a card of type t; N, the cards. Variables: n_t, the cards of type t; f_tk, whether fixed card k is
of type t.

    sum over t of a_ut n_t = pieces dealt of use u      for each u
    sum over t of n_t = N
    n_t >= sum over k of f_tk, sum over t of f_tk = 1   for each t, each fixed card k
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.craft.mixing import Likeness
from workbench.craft.project import Project
from workbench.planning.milp import INFINITY, Milp
from workbench.planning.mixing.card_rules import Faces
from workbench.planning.mixing.sections import Section, sections

Use = tuple[str, str]
CutColumns = Mapping[Use, Mapping[int, float]]
"""By piece and paper: the columns that cut such pieces, each with how many."""


@dataclass(frozen=True, slots=True)
class CardType:
    """Cards that take the same pieces: how many of each piece from each paper.

    `suits` numbers the fixed cards that may be of this kind.
    """

    uses: frozenset[tuple[Use, int]]
    suits: frozenset[int]


@dataclass(frozen=True, slots=True)
class CardTypes:
    """The kinds of card that the rules allow, and the batch that must be made of them.

    `fixed` is how many cards are fixed by hand; `wish`, how alike the cards shall be. Unless
    `complete`, there are more kinds than these: whatever they cannot do may yet be possible.
    """

    pieces: frozenset[str]
    cards: int
    fixed: int
    types: tuple[CardType, ...]
    complete: bool = True
    wish: Likeness = "varied"

    @property
    def worth(self) -> int:
        """The cards that one of a kind stands for."""
        return self.cards if self.wish == "as a set" else 1

    def counting(self, program: Milp) -> list[list[int]]:
        """A column for each kind: how many there are of it."""
        high = INFINITY if self.wish == "varied" else 1
        return [[program.add_column(high=high)] for _ in self.types]

    def distinct(self) -> "CardTypes":
        """The mixture with kinds of the same pieces as one, unless each is wanted only once."""
        if self.wish == "all different":
            return self
        return replace(self, types=tuple(dict.fromkeys(self.types)))

    def renamed(self, papers: Mapping[str, str]) -> "CardTypes":
        """The same with papers renamed by `papers`; those of one new name become one paper."""
        kinds = []
        for kind in self.types:
            uses = Counter[Use]()
            for (piece, paper), times in kind.uses:
                uses[piece, papers[paper]] += times
            kinds.append(CardType(frozenset(uses.items()), kind.suits))
        return replace(self, types=tuple(kinds)).distinct()

    def bind(
        self, program: Milp, dealt: CutColumns, columns: Sequence[Sequence[int]]
    ) -> list[dict[int, int]]:
        """Hold what is `dealt` to what the cards take; `columns` count the cards of each kind.

        Gives, for each fixed card, a column for each kind (by number) that it may be.
        """
        worth = self.worth
        uses: dict[Use, dict[int, float]] = defaultdict(dict)
        for kind, counting in zip(self.types, columns, strict=True):
            for use, times in kind.uses:
                uses[use].update(dict.fromkeys(counting, -times * worth))
        for use in sorted(uses.keys() | {use for use in dealt if use[0] in self.pieces}):
            program.add_row(0, {**uses[use], **dealt.get(use, {})}, 0)
        counted = {column: float(worth) for counting in columns for column in counting}
        program.add_row(self.cards, counted, self.cards)
        return self._place_fixed(program, columns)

    def _place_fixed(self, program: Milp, columns: Sequence[Sequence[int]]) -> list[dict[int, int]]:
        placed: list[dict[int, int]] = [{} for _ in range(self.fixed)]
        for number, (kind, counting) in enumerate(zip(self.types, columns, strict=True)):
            for fixed in sorted(kind.suits):
                placed[fixed][number] = program.add_column(high=1)
            if kind.suits:
                taken = {placed[fixed][number]: 1.0 for fixed in kind.suits}
                counted = dict.fromkeys(counting, float(self.worth))
                program.add_row(0, {**counted, **dict.fromkeys(taken, -1.0)})
        for suiting in placed:
            program.add_row(1, dict.fromkeys(suiting.values(), 1.0), 1)
        return placed


def card_types(project: Project, cards: int, most: int) -> list[CardTypes]:
    """For each section of the card that the maker set rules for, what binds its cutting.

    The others need none: for them Koenig's condition is enough. Of a section with more than
    `most` types, as many are drawn.
    """
    found = []
    for section in sections(project):
        if section.ruled and section.slots:
            choices, complete = section.some_cards(most)
            mixture = card_types_of(project, section, choices, cards)
            found.append(replace(mixture.distinct(), complete=complete))
    return found


def card_types_of(
    project: Project, section: Section, choices: Sequence[Faces], cards: int
) -> CardTypes:
    """The choices as card types, one each, for `cards` cards."""
    fixed = [held.fixed for held in section.held if held.fixed.number <= cards]

    def kind(choice: Faces) -> CardType:
        uses = Counter[Use]()
        for slot, face in zip(section.slots, choice, strict=True):
            if face is not None:
                uses[slot.piece, project.paper_of(face).name] += len(slot.layers)
        suits = frozenset(n for n, card in enumerate(fixed) if section.fits(choice, card))
        return CardType(frozenset(uses.items()), suits)

    pieces = frozenset(slot.piece for slot in section.slots)
    return CardTypes(pieces, cards, len(fixed), tuple(map(kind, choices)), wish=section.wish)
