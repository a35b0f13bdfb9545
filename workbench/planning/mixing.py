"""Which print goes where: no card shows one twice, and the cards differ as much as they can.

Koenig's line-colouring theorem: a bipartite multigraph (layers, prints, one line a piece) can be
coloured with as many colours (cards) as its largest degree. So the pieces can be dealt to N
cards if and only if no layer has more than N pieces and no print more than N in all.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from workbench.craft.card import Piece
from workbench.craft.project import Layer, Project, fits
from workbench.planning.program import Effort, Program
from workbench.planning.watch import PlanningError, Watch

MOST_KINDS_OF_CARD = 6_000
EFFORT = Effort(nodes=100)

Choice = tuple[str | None, ...]


def check_mixing(project: Project) -> None:
    """Raise PlanningError when some pieces have too few prints to choose from on any paper."""
    dealt = [piece for piece in project.pieces if piece.mixed and piece.needed]
    if not dealt or _enough_prints(project, dealt):
        return
    for piece in list(dealt):
        fewer = [other for other in dealt if other is not piece]
        if not _enough_prints(project, fewer):
            dealt = fewer
    names = ", ".join(f'"{piece.name}"' for piece in dealt)
    papers = dict.fromkeys(paper for piece in dealt for paper in usable_papers(project, piece))
    prints = ", ".join(f'"{paper}"' for paper in papers)
    layers = sum(piece.per_card for piece in dealt)
    fixed = [paper for paper in papers if paper in _fixed_prints(project)]
    taken = "".join(f'; "{paper}" is on every card already' for paper in fixed)
    raise PlanningError(
        f"no card may show a print twice, but {names} take {layers} pieces a card from {prints}"
        f"{taken}; let them be cut from {layers - len(papers) + len(fixed)} more prints"
    )


def _enough_prints(project: Project, dealt: Sequence[Piece]) -> bool:
    """Whether each of `dealt` can have its pieces on one card, fractions allowed."""
    program = Program()
    by_paper: dict[str, dict[int, float]] = {}
    for piece in dealt:
        terms = {}
        for paper in usable_papers(project, piece):
            column = program.column(high=piece.per_card)
            terms[column] = 1.0
            by_paper.setdefault(paper, {})[column] = 1.0
        program.row(piece.per_card, terms)
    fixed = _fixed_prints(project)
    for paper, terms in by_paper.items():
        if project.paper(paper).shows_print:
            program.row(0, terms, 0 if paper in fixed else 1)
    return program.relaxed(Watch()).found


def usable_papers(project: Project, piece: Piece) -> list[str]:
    """The papers whose sheets are large enough for the piece."""
    return [paper for paper in piece.papers if fits(project.paper(paper), piece.size)]


def _fixed_prints(project: Project) -> set[str]:
    """The prints that are on every card whatever is dealt."""
    fixed = {project.card.paper}
    fixed |= {piece.papers[0] for piece in project.pieces if piece.needed and not piece.mixed}
    return {name for name in fixed if project.paper(name).shows_print}


@dataclass(frozen=True, slots=True)
class Deal:
    """A paper (or None, where a wanted piece is missing) for each layer, a row a card.

    `different` cards are among them; `most` is proven the most there could be.
    """

    layers: tuple[Layer, ...]
    cards: tuple[Choice, ...]
    most: int

    @property
    def different(self) -> int:
        return len(set(self.cards))


def deal(project: Project, cards: int, cut: Mapping[str, Mapping[str, int]], watch: Watch) -> Deal:
    """Deal the pieces `cut` (piece name, then paper, gives how many) to `cards` cards.

    Raises PlanningError when Koenig's condition does not hold.
    """
    layers = project.layers()
    counts = {
        piece.name: _with_missing(cut.get(piece.name, {}), cards * piece.per_card)
        for piece in project.pieces
    }
    _check_counts(project, counts, cards)
    choices = _choices(project, layers, counts)
    if choices is None:
        rows = coloured(project, layers, counts, cards)
        return Deal(layers, tuple(rows), cards)
    answer = _variety(layers, choices, counts, cards).solved(watch, EFFORT)
    if not answer.found:
        raise PlanningError("these pieces cannot be dealt without a print twice on a card")
    numbered = [
        (choice, answer.whole(2 * number) + answer.whole(2 * number + 1))
        for number, choice in enumerate(choices)
    ]
    return Deal(layers, tuple(_spread(numbered)), round(-answer.bound))


Counts = Mapping[str, Mapping[str | None, int]]


def _with_missing(given: Mapping[str, int], wanted: int) -> dict[str | None, int]:
    counts: dict[str | None, int] = {paper: count for paper, count in given.items() if count}
    missing = wanted - sum(given.values())
    return counts | ({None: missing} if missing else {})


def _check_counts(project: Project, counts: Counts, cards: int) -> None:
    dealt: Counter[str] = Counter()
    for piece in project.pieces:
        if piece.mixed:
            dealt.update({paper: n for paper, n in counts[piece.name].items() if paper})
    for paper, count in dealt.items():
        most = 0 if paper in _fixed_prints(project) else cards
        if project.paper(paper).shows_print and count > most:
            raise PlanningError(
                f'{count} pieces are cut from "{paper}", but with {cards} cards and no print '
                f"twice on any at most {most} can be dealt"
            )


def _choices(project: Project, layers: Sequence[Layer], counts: Counts) -> list[Choice] | None:
    """Every card there could be, or None when there are too many kinds to list."""
    prints = {paper.name for paper in project.papers if paper.shows_print}
    dealt = {layer.name for layer in layers if layer.piece.mixed}
    found: list[Choice] = [()]
    for number, layer in enumerate(layers):
        longer = []
        for choice in found:
            shown = {
                paper
                for other, paper in zip(layers[:number], choice, strict=True)
                if paper in prints and (layer.name in dealt or other.name in dealt)
            }
            longer += [(*choice, paper) for paper in counts[layer.piece.name] if paper not in shown]
        if len(longer) > MOST_KINDS_OF_CARD:
            return None
        found = longer
    return found


def _variety(
    layers: Sequence[Layer], choices: Sequence[Choice], counts: Counts, cards: int
) -> Program:
    """How many of each card: the first of a kind (even columns) earns, the others do not."""
    program = Program()
    uses: dict[tuple[str, str | None], dict[int, float]] = {
        (name, paper): {} for name, given in counts.items() for paper in given
    }
    for choice in choices:
        pieces = Counter(
            (layer.piece.name, paper) for layer, paper in zip(layers, choice, strict=True)
        )
        for column in (program.column(cost=-1, high=1), program.column()):
            for use, times in pieces.items():
                uses[use][column] = times
    for (name, paper), terms in uses.items():
        program.row(counts[name][paper], terms, counts[name][paper])
    program.row(cards, dict.fromkeys(range(len(program.costs)), 1.0), cards)
    return program


def _spread(numbered: Sequence[tuple[Choice, int]]) -> Iterator[Choice]:
    """The cards in an order that keeps those of one kind apart."""
    for turn in range(max((count for _, count in numbered), default=0)):
        for choice, count in numbered:
            if count > turn:
                yield choice


def coloured(project: Project, layers: Sequence[Layer], counts: Counts, cards: int) -> list[Choice]:
    """Koenig's own construction: one card a colour, clashes mended along alternating paths."""
    prints = {paper.name for paper in project.papers if paper.shows_print}
    pools = {
        name: [paper for paper, count in given.items() for _ in range(count)]
        for name, given in counts.items()
    }
    colouring = _Colouring(cards, len(layers))
    for number, layer in enumerate(layers):
        for piece in range(cards):
            paper = pools[layer.piece.name].pop()
            bound = layer.piece.mixed and paper in prints
            colouring.add(number, (paper, 0) if bound else (paper, 1 + number * cards + piece))
    return [tuple(end[0] for end in colouring.of_card(card)) for card in range(cards)]


_End = tuple[str | None, int]


class _Colouring:
    """Lines from layers to prints, each of a card, no two of one card at one end."""

    def __init__(self, cards: int, layers: int) -> None:
        self.cards = cards
        self.layers: list[dict[int, _End]] = [{} for _ in range(layers)]
        self.ends: dict[_End, dict[int, int]] = {}

    def of_card(self, card: int) -> list[_End]:
        return [lines[card] for lines in self.layers]

    def add(self, layer: int, end: _End) -> None:
        """Draw one more line, recolouring a path where the two ends have no free card in common."""
        at_end = self.ends.setdefault(end, {})
        here = self._free(self.layers[layer])
        there = self._free(at_end)
        if here in at_end:
            self._swap(end, here, there)
        self.layers[layer][here] = end
        at_end[here] = layer

    def _free(self, lines: Mapping[int, object]) -> int:
        return next(card for card in range(self.cards) if card not in lines)

    def _swap(self, end: _End, here: int, there: int) -> None:
        """Swap two cards along the path that leaves `end` by `here`; it never comes back."""
        path = []
        at_end, card, other = end, here, there
        while card in self.ends[at_end]:
            layer = self.ends[at_end][card]
            path.append((layer, at_end, card))
            if other not in self.layers[layer]:
                break
            at_end = self.layers[layer][other]
            path.append((layer, at_end, other))
        for layer, far, old in path:
            del self.layers[layer][old], self.ends[far][old]
        for layer, far, old in path:
            new = there if old == here else here
            self.layers[layer][new] = far
            self.ends[far][new] = layer
