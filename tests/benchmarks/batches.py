"""Batches of cards as makers might order them, invented from a seed."""

from dataclasses import replace
from fractions import Fraction
from random import Random

from workbench.craft.card import Card, Fold, Piece
from workbench.craft.paper import Paper, Run, Size
from workbench.craft.project import Project
from workbench.measure.length import Length, Unit

CARDS = (10, 12, 15, 20, 25, 30, 40, 50, 60, 75, 100, 120, 150, 200, 250, 300, 400, 500)
MANY_CARDS = (750, 1_000, 1_500, 2_000, 3_000, 5_000, 7_500, 10_000)
ENOUGH = 100_000
# Sheets in eighths of an inch (12 x 12 in, Letter, 6 x 6 in) and in millimetres (A4).
SHEETS: tuple[tuple[Unit, int, int], ...] = (
    ("in", 96, 96),
    ("in", 68, 88),
    ("in", 48, 48),
    ("mm", 210, 297),
)
# Least and most of a piece's two sides, in eighths of an inch; a millimetre grid is as fine as
# three to the eighth.
SHAPES = {
    "tag": ((8, 20), (12, 28)),
    "strip": ((4, 10), (20, 44)),
    "panel": ((24, 40), (28, 52)),
    "label": ((6, 24), (6, 16)),
    "mat": ((20, 36), (20, 44)),
}
# Fronts: a tag, a square, and the announcement cards known as A1, A2, A6 and A7, in eighths.
FRONTS = ((16, 28), (32, 32), (28, 39), (34, 44), (36, 50), (40, 56))


def batch(seed: int) -> Project:
    """The batch of that seed: the same on every machine.

    One to three papers of one size; prints are either mixed on the cards or each piece has its
    own. Paper is never short.
    """
    return _Draft(Random(seed)).project(seed)


def scaled(project: Project, most_pieces: int) -> Project:
    """The same design for so few cards that no more pieces than that are cut."""
    a_card = 1 + len(project.layers())
    cards = max(1, min(project.card.count, most_pieces // a_card))
    return replace(project, card=replace(project.card, count=cards))


class _Draft:
    def __init__(self, random: Random) -> None:
        self.random = random
        self.unit, self.width, self.height = random.choice(SHEETS)
        self.fine = 1 if self.unit == "in" else 3

    def project(self, seed: int) -> Project:
        random = self.random
        front, fold = self._front()
        prints = random.choice((0, 1, 1, 2, 2))
        run: Run = random.choice(("none", "up"))
        papers = [Paper("card", "cardstock", self._sheet(), ENOUGH, run=self._run())]
        papers += [
            Paper(f"print {n}", "patterned", self._sheet(), ENOUGH, "dot", (), run)
            for n in range(1, prints + 1)
        ]
        kinds = random.randint(1, 8) if random.random() < 0.85 else random.randint(9, 20)
        mixed = prints > 1 and random.random() < 0.5
        pieces = [self._piece(n, prints, mixed) for n in range(1, kinds)]
        count = random.choice(CARDS + MANY_CARDS)
        return Project(
            f"Batch {seed}",
            self.unit,
            Card(front, fold, "card", count),
            tuple(papers),
            tuple(pieces),
        )

    def _run(self) -> Run:
        return self.random.choice(("none", "none", "up"))

    def _sheet(self) -> Size:
        return self._size(self.width, self.height)

    def _size(self, width: int, height: int) -> Size:
        grid = Fraction(1, 8) if self.unit == "in" else Fraction(1)
        return Size(Length.of(width * grid, self.unit), Length.of(height * grid, self.unit))

    def _front(self) -> tuple[Size, Fold]:
        width, height = (side * self.fine for side in self.random.choice(FRONTS))
        fold: Fold = self.random.choice(("top", "side", "none"))
        across, up = width * (2 if fold == "side" else 1), height * (2 if fold == "top" else 1)
        if across <= self.width and up <= self.height:
            return self._size(width, height), fold
        return self._size(min(width, self.width), min(height, self.height)), "none"

    def _piece(self, number: int, prints: int, mixed: bool) -> Piece:
        random = self.random
        kind = random.choice(tuple(SHAPES))
        sides = [self._side(*limits) for limits in SHAPES[kind]]
        random.shuffle(sides)
        width, height = min(sides[0], self.width), min(sides[1], self.height)
        return Piece(
            f"{kind} {number}",
            self._size(width, height),
            self._papers(number, prints, mixed),
            per_card=self._a_card(kind) if not mixed else 1,
        )

    def _side(self, least: int, most: int) -> int:
        return self.random.randint(least * self.fine, most * self.fine)

    def _a_card(self, kind: str) -> int:
        return self.random.choice((1, 1, 1, 2, 3) if kind in ("tag", "label", "strip") else (1,))

    def _papers(self, number: int, prints: int, mixed: bool) -> tuple[str, ...]:
        """As many pieces are mixed as there are prints, so that none need show one twice."""
        if mixed:
            names = tuple(f"print {n}" for n in range(1, prints + 1))
            return names if number <= prints else ("card",)
        return (self.random.choice(("card", *(f"print {n}" for n in range(1, prints + 1)))),)
