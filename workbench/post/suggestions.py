"""What would bring a card into a cheaper class of its post, each change worked out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import chain, islice

from workbench.craft.card import BASE
from workbench.craft.errors import CraftError
from workbench.craft.extra import Extra
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project, fits
from workbench.measure.length import ZERO
from workbench.post.card import CardByPost, Desk, card_by_post, with_envelope
from workbench.post.papers import sheet_figures

_MOST_FIRSTS = 8
_MOST_PAIRS = 4


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One change of a project.

    Attributes:
        words: what to do, 'leave off "gem"'.
        project: the project after it.
        card: the card after it.
    """

    words: str
    project: Project
    card: CardByPost

    @property
    def goes_as(self) -> str:
        """The class that it then surely goes by."""
        sure = self.card.judgement and self.card.judgement.sure
        return sure.postal_class.name if sure else ""


def suggestions(project: Project, desk: Desk, card: CardByPost) -> Iterator[Suggestion]:
    """The changes after which `card`, of `project`, surely goes by a cheaper class.

    Another envelope comes first, the snuggest for each class, then what is left off, then other
    papers of the project. Two changes at once are told only where no single one is enough.
    """
    found = False
    envelopes = _enough(_other_postings(project, card), project, desk, card)
    others = _enough(_lighter_cards(project), project, desk, card)
    for suggestion in chain(_each_cheaper(envelopes), others):
        found = True
        yield suggestion
    if not found:
        yield from islice(_enough(_pairs(project, card), project, desk, card), _MOST_PAIRS)


def _enough(
    changes: Iterable[tuple[str, Project]], project: Project, desk: Desk, card: CardByPost
) -> Iterator[Suggestion]:
    """Those of the changes of `project` that bring its card into a cheaper class, each once."""
    told: list[Project] = []
    for words, changed in changes:
        same = replace(changed, posting=project.posting) == project
        try:
            after = card_by_post(changed, desk, card.post.key, card.figures if same else None)
        except CraftError:
            continue
        if _rank(after) < _rank(card) and changed not in told:
            told.append(changed)
            yield Suggestion(words, changed, after)


def _each_cheaper(found: Iterable[Suggestion]) -> Iterator[Suggestion]:
    """Those after which the card goes by a cheaper class than after all before them."""
    cheapest = None
    for suggestion in found:
        rank = _rank(suggestion.card)
        if cheapest is None or rank < cheapest:
            cheapest = rank
            yield suggestion


def _pairs(project: Project, card: CardByPost) -> Iterator[tuple[str, Project]]:
    """Two changes at once, the first of them one that takes no other paper or envelope."""
    firsts = [*_turned(project), *flatter(project)]
    for words, changed in firsts[:_MOST_FIRSTS]:
        for more, both in _changes(changed, card):
            yield f"{words}, and {more}", both


def _rank(card: CardByPost) -> int:
    """Where its class stands among all of its post, from the cheapest; none comes last."""
    sure = card.judgement and card.judgement.sure
    classes = card.post.classes
    return classes.index(sure.postal_class) if sure else len(classes)


def _changes(project: Project, card: CardByPost) -> Iterator[tuple[str, Project]]:
    yield from _other_postings(project, card)
    yield from _lighter_cards(project)


def _lighter_cards(project: Project) -> Iterator[tuple[str, Project]]:
    yield from flatter(project)
    yield from _other_papers(project)


def flatter(project: Project) -> Iterator[tuple[str, Project]]:
    """What can be left off or glued down, in words, and the project after each."""
    for extra in project.extras:
        yield _leaving_off(project, (extra,))
    lumps = tuple(extra for extra in project.extras if not extra.flat)
    if len(lumps) > 1:
        yield _leaving_off(project, lumps)
    yield from _glued_flat(project)


def _other_postings(project: Project, card: CardByPost) -> Iterator[tuple[str, Project]]:
    yield from _turned(project)
    for fit in card.fits:
        if fit != card.chosen:
            yield (
                f'use the envelope "{fit.envelope.name}"',
                with_envelope(project, fit.envelope.name),
            )


def _turned(project: Project) -> Iterator[tuple[str, Project]]:
    if project.posting.upright:
        turned = replace(project, posting=replace(project.posting, upright=False))
        yield "turn it by 90 degrees, the address along the long side", turned


def _leaving_off(project: Project, extras: tuple[Extra, ...]) -> tuple[str, Project]:
    names = " and ".join(f'"{extra.name}"' for extra in extras)
    kept = tuple(extra for extra in project.extras if extra not in extras)
    return f"leave off {names}", replace(project, extras=kept)


def _glued_flat(project: Project) -> Iterator[tuple[str, Project]]:
    raised = [piece for piece in project.pieces if piece.raised > ZERO and not piece.is_apart]
    for piece in raised:
        yield f'glue "{piece.name}" down without foam pads', _flattened(project, {piece.name})
    if len(raised) > 1:
        names = {piece.name for piece in raised}
        yield "glue all pieces down without foam pads", _flattened(project, names)


def _flattened(project: Project, names: set[str]) -> Project:
    pieces = (
        replace(piece, raised=ZERO) if piece.name in names else piece for piece in project.pieces
    )
    return replace(project, pieces=tuple(pieces))


def _other_papers(project: Project) -> Iterator[tuple[str, Project]]:
    """The base or one piece of a single paper, cut from another that is lighter or thinner."""
    card = project.card
    for paper in _lighter(project, card.paper, card.base_size):
        changed = replace(project, card=replace(card, paper=paper.name))
        yield f'cut the {BASE} from "{paper.name}"', changed
    for piece in project.pieces:
        if len(piece.papers) > 1 or piece.is_apart:
            continue
        for paper in _lighter(project, piece.papers[0], piece.size):
            pieces = tuple(
                replace(each, papers=(paper.name,)) if each is piece else each
                for each in project.pieces
            )
            yield f'cut "{piece.name}" from "{paper.name}"', replace(project, pieces=pieces)


def _lighter(project: Project, name: str, size: Size) -> list[Paper]:
    """The papers of the same kind that may be lighter or thinner, from the heaviest on.

    So the least change comes first.
    """
    mine = project.paper(name)
    now = sheet_figures(mine)
    found = []
    for paper in project.papers:
        sheet = sheet_figures(paper)
        less = sheet.gsm.high < now.gsm.high or sheet.mm.high < now.mm.high
        if paper != mine and paper.kind == mine.kind and fits(paper, size) and less:
            found.append(paper)
    return sorted(found, key=lambda paper: -sheet_figures(paper).gsm.high)
