"""The steps after the cutting: bases scored and folded, corners rounded, cards put together."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from workbench.craft.card import BASE
from workbench.craft.project import Project
from workbench.planning.plan import Combination, Sheet, Step


def finishing_steps(
    project: Project, sheets: Sequence[Sheet], combinations: Sequence[Combination], done: int
) -> list[Step]:
    """Every step that follows step number `done`, the last cut."""
    piles: dict[str, list[str]] = defaultdict(list)
    by_paper: dict[tuple[str, str], list[str]] = defaultdict(list)
    for sheet in sheets:
        for part in sheet.parts:
            if part.piece:
                piles[part.piece].append(part.id)
                by_paper[part.piece, sheet.paper].append(part.id)
    found = [*_folding(project, piles[BASE]), *_rounding(project, piles)]
    found += _assembling(project, by_paper, combinations)
    return [_numbered(step, done + number) for number, step in enumerate(found, 1)]


def _folding(project: Project, bases: Sequence[str]) -> Iterator[Step]:
    card = project.card
    if card.fold == "none":
        return
    if card.fold == "top":
        yield Step(0, "score", tuple(bases), "height", card.size.height)
    else:
        yield Step(0, "score", tuple(bases), "width", card.size.width)
    yield Step(0, "fold", tuple(bases))


def _rounding(project: Project, piles: dict[str, list[str]]) -> Iterator[Step]:
    for piece in project.pieces:
        if piece.rounding and piles[piece.name]:
            yield Step(0, "round", tuple(piles[piece.name]))


def _assembling(
    project: Project,
    by_paper: dict[tuple[str, str], list[str]],
    combinations: Sequence[Combination],
) -> Iterator[Step]:
    waiting = {key: iter(parts) for key, parts in by_paper.items()}
    for combination in combinations:
        parts = [next(waiting[BASE, project.card.paper])]
        for layer in project.layers():
            face = combination.pieces.get(layer.name)
            if face is not None:
                parts.append(next(waiting[layer.piece.name, project.paper_of(face).name]))
        yield Step(0, "assemble", tuple(parts), card=combination.card)


def _numbered(step: Step, n: int) -> Step:
    return Step(n, step.do, step.takes, step.measure, step.mark, step.gives, step.card)
