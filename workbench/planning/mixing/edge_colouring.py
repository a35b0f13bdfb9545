"""Koenig's edge colouring: one card is one colour, and clashes go along alternating paths.

The bipartite multigraph has layers on one side, prints on the other, and an edge for each piece;
edges of one colour are the pieces of one card. Source: D. Koenig, Math. Ann. 77 (1916) 453-465
(from memory).
"""

import random
from collections import Counter, defaultdict
from collections.abc import Collection, Mapping
from typing import NamedTuple

from workbench.planning.mixing.card_rules import Faces, Slot
from workbench.planning.mixing.sections import Once, Section


def colour_edges(
    section: Section,
    counts: Mapping[str, Mapping[str | None, int]],
    cards: int,
    seed: int = 0,
) -> list[Faces]:
    """Deal the faces counted (by piece, then face) so that no card shows twice what it may not.

    What may be shown once (`Section.once`) may be counted no more than once a card among the mixed
    pieces, or among them and a wanted one, and each piece as often as it has slots.
    """
    left = {piece: Counter(given) for piece, given in counts.items()}
    mixed = _mixed(section, left, cards, seed)
    prints = frozenset[str]() if section.twice.repeat else section.twice.prints
    rows = []
    for card in mixed:
        row: Faces = ()
        for slot in section.slots:
            face = card[slot] if slot in card else _not_shown(left[slot.piece], prints, card)
            row = (*row, face)
        rows.append(row)
    return rows


def _not_shown(
    left: Counter[str | None], prints: Collection[str], card: Mapping[Slot, str | None]
) -> str | None:
    """A face of a wanted piece that the card's mixed layers do not show."""
    for face, count in left.items():
        if face and count and not (face in prints and face in card.values()):
            left[face] -= 1
            return face
    return None


def _mixed(
    section: Section, left: Mapping[str, Counter[str | None]], cards: int, seed: int
) -> list[dict[Slot, str | None]]:
    slots = [slot for slot in section.slots if slot.mixed]
    ends: dict[Once, _Vertex] = defaultdict(_Vertex)
    layers = {slot: _Vertex() for slot in slots}
    shuffled = random.Random(seed)
    pools = {slot.piece: list(left[slot.piece].elements()) for slot in slots}
    for pool in pools.values():
        shuffled.shuffle(pool)  # or the same few cards would come again and again
    for slot, layer in layers.items():
        for _ in range(cards):
            face = pools[slot.piece].pop()
            once = section.once(slot, face)
            _draw(_Line(layer, ends[once] if once else _Vertex(), face))
    return [
        {slot: layer.lines[card].face for slot, layer in layers.items()} for card in range(cards)
    ]


class _Vertex:
    """A layer or a face: its lines by card, and the cards that are taken as bits of a number."""

    def __init__(self) -> None:
        self.lines: dict[int, _Line] = {}
        self.taken = 0

    def put(self, card: int, line: "_Line") -> None:
        self.lines[card] = line
        self.taken |= 1 << card

    def drop(self, card: int) -> None:
        del self.lines[card]
        self.taken &= ~(1 << card)

    def free(self) -> int:
        return (~self.taken & (self.taken + 1)).bit_length() - 1


class _Line(NamedTuple):
    layer: _Vertex
    end: _Vertex
    face: str | None

    def far(self, near: _Vertex) -> _Vertex:
        return self.end if near is self.layer else self.layer


def _draw(line: _Line) -> None:
    """Give one more line a card, recolouring a path where its two ends have no free one in common.

    The path leaves the end by the card that is free at the layer, and never comes back to it.
    """
    here, there = line.layer.free(), line.end.free()
    at, card, other = line.end, here, there
    path = []
    while card in at.lines:
        path.append((at.lines[card], card, other))
        at = at.lines[card].far(at)
        card, other = other, card
    for crossed, old, _ in path:
        crossed.layer.drop(old)
        crossed.end.drop(old)
    for crossed, _, new in path:
        crossed.layer.put(new, crossed)
        crossed.end.put(new, crossed)
    line.layer.put(here, line)
    line.end.put(here, line)
