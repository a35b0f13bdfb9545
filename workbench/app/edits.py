"""What the maker can change in a project: each edit gives a new one, or a CraftError in words.

A new name is carried to everything that uses the old one.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from workbench.craft.card import Piece
from workbench.craft.errors import CraftError
from workbench.craft.extra import Extra
from workbench.craft.fitting import extras_put_on, steps_put_on, unfixed
from workbench.craft.own_step import OwnStep
from workbench.craft.paper import Offcut, Paper
from workbench.craft.project import Project, layer_names

_Thing = TypeVar("_Thing")


def with_paper(project: Project, paper: Paper, replacing: str | None = None) -> Project:
    """Add `paper` at the end, or put it in the place of the one called `replacing`."""
    if paper.name != replacing and any(paper.name == other.name for other in project.papers):
        raise CraftError(
            "papers", f'"{paper.name}" stands there twice', "give each a name of its own"
        )
    if replacing is None:
        return replace(project, papers=(*project.papers, paper))
    at = project.papers.index(project.paper(replacing))
    old = project.papers[at]
    new = {replacing: paper.name}
    if old.back and paper.back:
        new[old.back.name] = paper.back.name
    return replace(
        project,
        papers=_put(project.papers, at, paper),
        card=replace(project.card, paper=new.get(project.card.paper, project.card.paper)),
        pieces=tuple(
            replace(piece, papers=tuple(new.get(name, name) for name in piece.papers))
            for piece in project.pieces
        ),
        offcuts=tuple(
            replace(offcut, paper=new.get(offcut.paper, offcut.paper)) for offcut in project.offcuts
        ),
        mixing=project.mixing.renamed(faces=new),
    )


def with_paper_mixed(project: Project, names: Sequence[str]) -> Project:
    """Let every piece that mixes papers be cut from those called `names` too."""

    def mixed(piece: Piece) -> Piece:
        new = (name for name in names if name not in piece.papers)
        return replace(piece, papers=(*piece.papers, *new)) if len(piece.papers) > 1 else piece

    return replace(project, pieces=tuple(mixed(piece) for piece in project.pieces))


def without_paper(project: Project, name: str) -> Project:
    """Remove a paper that nothing is cut from."""
    users = ["the card base"] if project.card.paper == name else []
    users += [f'"{piece.name}"' for piece in project.pieces if name in piece.papers]
    users += ["an offcut" for offcut in project.offcuts if offcut.paper == name][:1]
    if users:
        raise CraftError(
            f'paper "{name}"',
            f"it is still used for {', '.join(users)}",
            "let those use another paper first",
        )
    return replace(project, papers=tuple(p for p in project.papers if p.name != name))


def with_offcut(project: Project, offcut: Offcut, at: int | None = None) -> Project:
    """Add `offcut` at the end, or put it in place `at`."""
    if at is None:
        return replace(project, offcuts=(*project.offcuts, offcut))
    return replace(project, offcuts=_put(project.offcuts, at, offcut))


def without_offcut(project: Project, at: int) -> Project:
    return replace(project, offcuts=project.offcuts[:at] + project.offcuts[at + 1 :])


def with_piece(
    project: Project, piece: Piece, *, replacing: str | None = None, at: int | None = None
) -> Project:
    """Add `piece` at layer `at` (in front of all without it), or put it in place of another."""
    pieces = project.pieces
    if replacing is None:
        at = len(pieces) if at is None else at
        return replace(project, pieces=(*pieces[:at], piece, *pieces[at:]))
    new = {replacing: piece.name}
    changed = _put(pieces, _layer_of(project, replacing), piece)
    layers = zip(layer_names(project.piece(replacing)), layer_names(piece), strict=False)
    return replace(
        project,
        pieces=tuple(replace(each, on=new.get(each.on, each.on)) for each in changed),
        mixing=project.mixing.renamed(layers=dict(layers)).counting_only(_mixed(project, changed)),
        extras=extras_put_on(project, replacing, piece.name),
        steps=steps_put_on(project, replacing, piece.name),
    )


def without_piece(project: Project, name: str) -> Project:
    """Remove a piece that carries no other, with its own steps and what is fixed of it.

    Extras that were on it lie on what it was glued to.
    """
    carried = [f'"{piece.name}"' for piece in project.pieces if piece.on == name]
    if carried:
        raise CraftError(
            f'piece "{name}"',
            f"{', '.join(carried)} {'is' if len(carried) == 1 else 'are'} glued to it",
            "glue that to something else first, or remove it first",
        )
    kept = tuple(piece for piece in project.pieces if piece.name != name)
    return replace(
        project,
        pieces=kept,
        mixing=unfixed(project, name),
        extras=extras_put_on(project, name, project.piece(name).on),
        steps=tuple(step for step in project.steps if step.on != name),
    )


def with_extra(project: Project, extra: Extra, replacing: str | None = None) -> Project:
    """Add `extra` at the end, or put it in place of another."""
    if replacing is None:
        return replace(project, extras=(*project.extras, extra))
    changed = (extra if each.name == replacing else each for each in project.extras)
    return replace(project, extras=tuple(changed))


def without_extra(project: Project, name: str) -> Project:
    return replace(project, extras=tuple(each for each in project.extras if each.name != name))


def with_piece_moved(project: Project, name: str, by: int) -> Project:
    """Move a piece `by` one layer to the front (1) or to the back (-1), as far as there are."""
    pieces = list(project.pieces)
    at = _layer_of(project, name)
    to = at + by
    if not 0 <= to < len(pieces):
        return project
    front, back = (pieces[at], pieces[to]) if by < 0 else (pieces[to], pieces[at])
    if front.on == back.name:
        raise CraftError(
            f'piece "{front.name}"',
            f'it is glued to "{back.name}" and cannot lie behind it',
            "change what it is glued to first",
        )
    pieces[at], pieces[to] = pieces[to], pieces[at]
    return replace(project, pieces=tuple(pieces))


def with_own_step(project: Project, step: OwnStep, replacing: str | None = None) -> Project:
    """Add a step of the maker's own at the end, or put it in place of the one so called."""
    if replacing is None:
        return replace(project, steps=(*project.steps, step))
    at = project.steps.index(project.own_step(replacing))
    return replace(project, steps=_put(project.steps, at, step))


def without_own_step(project: Project, name: str) -> Project:
    """Remove the step of that name."""
    return replace(project, steps=tuple(step for step in project.steps if step.name != name))


def _mixed(project: Project, pieces: Sequence[Piece]) -> set[str]:
    """The papers of which mixed pieces may be cut."""
    return {paper for piece in pieces if project.mixed(piece) for paper in piece.papers}


def _layer_of(project: Project, name: str) -> int:
    return project.pieces.index(project.piece(name))


def _put(things: Sequence[_Thing], at: int, thing: _Thing) -> tuple[_Thing, ...]:
    return (*things[:at], thing, *things[at + 1 :])
