"""The steps after the cutting.

Bases are scored and folded, corners rounded, the pieces dealt into one pile a card, inside panels
mounted, cards put together; steps of the maker's own come in between, some before the cutting.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import count, groupby
from typing import NamedTuple

from workbench.craft.card import BASE, FRONT
from workbench.craft.direction import Direction
from workbench.craft.geometry import placements
from workbench.craft.own_step import Moment
from workbench.craft.project import Project
from workbench.planning.result import (
    Assemble,
    Combination,
    Cut,
    Deal,
    Fold,
    Mount,
    Own,
    PartId,
    Path,
    Round,
    Score,
    Sheet,
    Step,
)

_Kind = tuple[str, str]
_NOWHERE: Mapping[PartId, int] = {}


class _Pile(NamedTuple):
    """The parts of one card as they are laid: the base, then a part for each of `layers`."""

    card: Combination
    layers: tuple[str, ...]
    parts: tuple[PartId, ...]


def finishing_steps(
    project: Project,
    sheets: Sequence[Sheet],
    combinations: Sequence[Combination],
    done: int,
    lying: Mapping[PartId, int] = _NOWHERE,
) -> list[Step]:
    """Every step that follows step number `done`, the last cut.

    The parts in `lying` are on the pile of that card already; they stay there where it needs them.
    """
    pieces: dict[str, list[PartId]] = defaultdict(list)
    by_paper: dict[_Kind, list[PartId]] = defaultdict(list)
    for (paper, piece), parts in _pieces(sheets):
        pieces[piece] += parts
        by_paper[piece, paper] += parts
    piles = _piles(project, by_paper, combinations, lying)
    on_cards = _by_card(project, piles) if project.steps else {}
    numbers = count(done + 1)
    return [
        *_own(project, "after cutting", pieces, numbers),
        *_folding(project, pieces[BASE], numbers),
        *_rounding(project, pieces, numbers),
        *_own(project, "after scoring", pieces, numbers),
        *_dealing(project, piles, lying, numbers),
        *_own(project, "before mounting", on_cards, numbers),
        *_mounting(project, piles, numbers),
        *_own(project, "after mounting", on_cards, numbers),
        *(Assemble(n, pile.parts, pile.card.card) for pile, n in zip(piles, numbers, strict=False)),
        *_own(project, "last", on_cards, numbers),
    ]


def _pieces(sheets: Sequence[Sheet]) -> Iterator[tuple[_Kind, list[PartId]]]:
    """Paper and piece, and the parts of that kind, of each run of sheets that share their parts."""
    for (paper, _), run in groupby(sheets, key=lambda sheet: (sheet.paper, id(sheet.parts))):
        alike = list(run)
        paths: dict[str, list[Path]] = defaultdict(list)
        for part in alike[0].parts:
            if part.piece:
                paths[part.piece].append(part.path)
        names = [sheet.id for sheet in alike]
        for piece, ends in paths.items():
            yield (paper, piece), PartId.each(names, ends)


def opening_steps(project: Project, sheets: Sequence[Sheet]) -> list[Own]:
    """The steps of the maker's own that come before the cutting, on the sheets that it is about."""
    uncut: dict[str, list[PartId]] = defaultdict(list)
    for sheet in sheets if project.steps else ():
        for name in {part.piece for part in sheet.parts if part.piece}:
            uncut[name].append(sheet.whole)
    return list(_own(project, "before cutting", uncut, count(1)))


def with_own_steps(
    project: Project,
    sheets: Sequence[Sheet],
    cuts: Sequence[Cut],
    combinations: Sequence[Combination],
) -> tuple[Step, ...]:
    """All steps of a plan, numbered: before the cutting, the cuts as they are, and after it."""
    opening = opening_steps(project, sheets)
    if opening:
        cuts = [replace(cut, n=n) for n, cut in enumerate(cuts, len(opening) + 1)]
    done = len(opening) + len(cuts)
    return (*opening, *cuts, *finishing_steps(project, sheets, combinations, done))


def _own(
    project: Project,
    when: Moment,
    parts: Mapping[str, Sequence[PartId]],
    numbers: Iterator[int],
) -> Iterator[Own]:
    """The maker's own steps of that moment; `parts` are those of each piece, or of the base."""
    for step in project.steps:
        takes = parts.get(BASE if step.on == FRONT else step.on)
        if step.when == when and takes:
            yield Own(next(numbers), tuple(takes), step.name)


def _by_card(project: Project, piles: Sequence[_Pile]) -> Mapping[str, Sequence[PartId]]:
    """The parts of each piece that go on cards, in the order of the cards."""
    pieces = {layer.name: layer.piece.name for layer in project.layers()}
    found: dict[str, list[PartId]] = defaultdict(list)
    for _, layers, (base, *parts) in piles:
        found[BASE].append(base)
        for layer, part in zip(layers, parts, strict=True):
            found[pieces[layer]].append(part)
    return found


def _folding(project: Project, bases: Sequence[PartId], numbers: Iterator[int]) -> Iterator[Step]:
    card = project.card
    if card.fold == "none":
        return
    if card.fold == "top":
        yield Score(next(numbers), tuple(bases), Direction.HEIGHT, card.size.height)
    else:
        yield Score(next(numbers), tuple(bases), Direction.WIDTH, card.size.width)
    yield Fold(next(numbers), tuple(bases))


def _rounding(
    project: Project, pieces: Mapping[str, Sequence[PartId]], numbers: Iterator[int]
) -> Iterator[Step]:
    for piece in project.pieces:
        if piece.rounding and pieces[piece.name]:
            yield Round(next(numbers), tuple(pieces[piece.name]))


def _piles(
    project: Project,
    by_paper: Mapping[_Kind, Sequence[PartId]],
    combinations: Sequence[Combination],
    lying: Mapping[PartId, int],
) -> list[_Pile]:
    """Which part goes on which card."""
    there: dict[tuple[int, _Kind], list[PartId]] = defaultdict(list)
    for kind, parts in by_paper.items():
        for part in parts if lying else ():
            if part in lying:
                there[lying[part], kind].append(part)
    needs = _needs(project, combinations)
    stay = {
        (card.card, at): there[card.card, kind].pop(0)
        for card, need in zip(combinations if there else (), needs, strict=False)
        for at, kind in enumerate(need.kinds)
        if there[card.card, kind]
    }
    gone = set(stay.values())
    waiting = {
        kind: iter([part for part in parts if part not in gone] if gone else parts)
        for kind, parts in by_paper.items()
    }
    return [
        _Pile(
            card,
            need.layers,
            tuple(
                [
                    stay.get((card.card, at)) or next(waiting[kind])
                    for at, kind in enumerate(need.kinds)
                ]
            ),
        )
        for card, need in zip(combinations, needs, strict=True)
    ]


class _Need(NamedTuple):
    """What a card takes: its layers, and of which piece and paper the base and each of them is."""

    layers: tuple[str, ...]
    kinds: tuple[_Kind, ...]


def _needs(project: Project, combinations: Sequence[Combination]) -> list[_Need]:
    """For each card; cards alike share one, as there may be thousands."""
    pieces = {layer.name: layer.piece.name for layer in project.layers()}
    paper_of = {face.name: paper.name for paper in project.papers for face in paper.faces}
    known: dict[tuple[tuple[str, str], ...], _Need] = {}
    found = []
    for card in combinations:
        look = tuple(card.pieces.items())
        if look not in known:
            layers = tuple(name for name in pieces if name in card.pieces)
            kinds = [(pieces[name], paper_of[card.pieces[name]]) for name in layers]
            known[look] = _Need(layers, ((BASE, project.card.paper), *kinds))
        found.append(known[look])
    return found


def _dealing(
    project: Project,
    piles: Sequence[_Pile],
    lying: Mapping[PartId, int],
    numbers: Iterator[int],
) -> Iterator[Step]:
    """For each piece and each face of it, the parts in the order of their cards."""
    if len(piles) == 1 or not project.pieces:
        return
    pieces = {layer.name: layer.piece.name for layer in project.layers()}
    dealt: dict[_Kind, list[PartId]] = defaultdict(list)
    for card, layers, (base, *parts) in piles:
        if lying.get(base) != card.card:
            dealt[BASE, ""].append(base)
        for layer, part in zip(layers, parts, strict=True):
            if lying.get(part) != card.card:
                dealt[pieces[layer], card.pieces[layer]].append(part)
    order = {name: at for at, name in enumerate((BASE, *pieces.values()))}
    for kind in sorted(dealt, key=lambda kind: order[kind[0]]):
        yield Deal(next(numbers), tuple(dealt[kind]))


def _mounting(project: Project, piles: Sequence[_Pile], numbers: Iterator[int]) -> Iterator[Step]:
    """What is glued inside the open cards, one piece after the other, back to front."""
    inside = {placed.piece.name for placed in placements(project) if placed.inside}
    for layer in project.layers():
        if layer.piece.name in inside:
            parts = (
                part
                for _, layers, (_, *parts) in piles
                for name, part in zip(layers, parts, strict=True)
                if name == layer.name
            )
            if mounted := tuple(parts):
                yield Mount(next(numbers), mounted)
