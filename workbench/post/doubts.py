"""What about a card by post is unlikely to be meant, and an edit that would mend it."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from workbench.craft.card import BASE
from workbench.craft.errors import CraftError
from workbench.craft.finding import Finding
from workbench.craft.fitting import taken_away
from workbench.craft.project import Project
from workbench.measure.length import Length
from workbench.measure.weights import write_millimetres
from workbench.post.card import CardByPost, Desk, card_by_post
from workbench.post.figures import CardFigures, card_figures
from workbench.post.rules import CHECK
from workbench.post.suggestions import flatter, suggestions
from workbench.post.words import rule_words, telling_rules

# Letters that are higher in places by more than this are sorted by hand (memory of USPS DMM 101).
MOST_UNEVEN = Length.of("1/16", "in")
# Royal Mail letters and UPU standardised letters: 5 mm.
THICKEST_LETTER = Length.of(5, "mm")
_MOST_TOLD = 2


def postal_findings(project: Project, desk: Desk) -> tuple[Finding, ...]:
    """Every doubt about the card as a letter.

    Where the maker has said which post it goes by, in the project or for the `desk`, the rules of
    that post are what counts; else only what many posts ask more for. What nobody has measured is
    given the benefit of the doubt.
    """
    return tuple(_findings(project, desk))


def _findings(project: Project, desk: Desk) -> Iterator[Finding]:
    try:
        card = card_by_post(project, desk)
    except CraftError as error:
        freed = replace(project.posting, envelope=None, to=None)
        why = "As it is asked for, the card cannot be posted"
        mended = replace(project, posting=freed)
        yield Finding("envelope", BASE, error.wrong, why, error.right, mended, error.place)
        return
    if card.letter is None:
        yield _no_envelope(project, desk, card)
    if project.posting.to or desk.to:
        yield from _dearer(project, desk, card)
    else:
        yield from _thick(project, card.figures)


def _no_envelope(project: Project, desk: Desk, card: CardByPost) -> Finding:
    better = next(suggestions(project, desk, card), None)
    thick = write_millimetres(card.figures.thickness)
    return Finding(
        "envelope",
        BASE,
        f"no envelope of the tables or your own takes it, {thick} thick",
        "It would need an envelope made for it",
        better.words if better else "enter an envelope of your own, or change its size",
        better.project if better else None,
    )


def _dearer(project: Project, desk: Desk, card: CardByPost) -> Iterator[Finding]:
    judgement = card.judgement
    if judgement is None or judgement.rank(judgement.hoped) == 0:
        return
    cheapest, hoped = judgement.classes[0], judgement.hoped
    failed = [rule_words(each) for each in telling_rules(cheapest) if each.verdict == "failed"]
    more = f" and {len(failed) - _MOST_TOLD} more" if len(failed) > _MOST_TOLD else ""
    goes = f"goes as {hoped.postal_class.name}" if hoped else "goes as no letter"
    better = next(suggestions(project, desk, card), None)
    yield Finding(
        "dearer post",
        BASE,
        f"by {judgement.post.name} it {goes}, not as {cheapest.postal_class.name} "
        f"({'; '.join(failed[:_MOST_TOLD])}{more})",
        CHECK.removesuffix("."),
        f"{better.words} (then {better.goes_as})" if better else "pay for that, or change its size",
        better.project if better else None,
    )


def _thick(project: Project, figures: CardFigures) -> Iterator[Finding]:
    if figures.thickness.low > THICKEST_LETTER.mm:
        yield Finding(
            "thick card",
            BASE,
            f"the card is {write_millimetres(figures.thickness)} thick",
            "Letters may be 5 mm thick at many post offices; check with yours",
            *_mend(project, lambda after: after.thickness.low <= THICKEST_LETTER.mm),
        )
    elif figures.unevenness.low > MOST_UNEVEN.mm:
        yield Finding(
            "uneven card",
            BASE,
            f"it lies {write_millimetres(figures.unevenness)} higher in places",
            "The post may sort so uneven a letter by hand and ask more; check with yours",
            *_mend(project, lambda after: after.unevenness.low <= MOST_UNEVEN.mm),
        )


def _mend(project: Project, enough: Callable[[CardFigures], bool]) -> tuple[str, Project | None]:
    """The least change that is enough; taking the piece in front away where none is."""
    for words, changed in flatter(project):
        if enough(card_figures(changed)):
            return words, changed
    if not project.pieces:
        return "take something off it", None
    front = project.pieces[-1].name
    try:
        mended = taken_away(project, front)
    except CraftError:
        return "take something off it", None
    return f'take away "{front}", the piece in front', mended
