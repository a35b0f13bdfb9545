"""How much of what is dealt each paper may give, so that the cards can be made of it.

Koenig's line-colouring theorem allows no print more often than there are cards among pieces that
may not repeat it, and none where it is on every card already.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from workbench.craft.card import Piece
from workbench.craft.paper import Paper
from workbench.craft.project import Project, fits
from workbench.planning.mixing.card_rules import NoPrintTwice, no_print_twice, on_every_card


@dataclass(frozen=True, slots=True)
class PaperLimit:
    """No more than `most` of these pieces, by name, are dealt from one paper, all together.

    Copies that are alike on a card count as one.
    """

    pieces: frozenset[str]
    most: int


def paper_limits(project: Project, paper: Paper, cards: int) -> tuple[PaperLimit, ...]:
    """The limits of one paper for `cards` cards; what follows from another limit is left out."""
    rule = no_print_twice(project)
    dealt = [
        piece for piece in project.pieces if project.mixed(piece) and paper.name in piece.papers
    ]
    found = dict.fromkeys(_of_one(project, paper, dealt, rule))
    if all(face.shows_print for face in paper.faces):
        found |= dict.fromkeys(_of_several(project, paper, dealt, rule))
    return tuple(PaperLimit(pieces, cards * faces) for pieces, faces in found)


_Count = tuple[frozenset[str], int]
"""Pieces by name, and how many of them, all together, a card can have from the paper."""


def _of_one(
    project: Project, paper: Paper, dealt: Sequence[Piece], rule: NoPrintTwice
) -> Iterator[_Count]:
    """Copies that are each another; and pieces that may show none of the paper's faces."""
    for piece in dealt:
        faces = _open(paper, piece, rule)
        if faces < piece.per_card // project.alike(piece):
            yield frozenset({piece.name}), faces


def _of_several(
    project: Project, paper: Paper, dealt: Sequence[Piece], rule: NoPrintTwice
) -> Iterator[_Count]:
    """Pieces that may not show the same print; and with them each wanted one that could."""
    faces = len({face.name for face in paper.faces} - on_every_card(project))
    wanted = [
        piece
        for piece in project.pieces
        if not piece.needed and not project.mixed(piece) and paper.name in piece.papers
    ]
    for piece in dealt:
        against = _clashing(piece, dealt, rule)
        if len(against) > 1:
            yield frozenset(against), _most_open(paper, dealt, against, rule)
    for piece in wanted:
        against = _clashing(piece, dealt, rule)
        if len(against) > 1 and faces:
            yield frozenset(against), faces


def _clashing(piece: Piece, dealt: Sequence[Piece], rule: NoPrintTwice) -> list[str]:
    """The piece and others of which no two may show the same print, as many as are found soon."""
    found = [piece.name]
    for other in dealt:
        if all(rule.clash(other.name, name) for name in found):
            found.append(other.name)
    return found


def _most_open(
    paper: Paper, dealt: Sequence[Piece], names: Sequence[str], rule: NoPrintTwice
) -> int:
    mine = [piece for piece in dealt if piece.name in names]
    return sum(any(not rule.bars(piece.name, face.name) for piece in mine) for face in paper.faces)


def _open(paper: Paper, piece: Piece, rule: NoPrintTwice) -> int:
    """How many faces of the paper the piece may show."""
    if not fits(paper, piece.size):
        return 0
    return sum(not rule.bars(piece.name, face.name) for face in paper.faces)
