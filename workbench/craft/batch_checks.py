"""Checks of what is not a piece: the stock, the rules of mixing, a card with nothing on it."""

from collections.abc import Iterator

from workbench.craft.card import BASE
from workbench.craft.finding import Finding
from workbench.craft.paper import Offcut
from workbench.craft.project import Project
from workbench.measure.writing import write_near


def batch_findings(project: Project) -> Iterator[Finding]:
    """Find what is unlikely to be meant, without a mend: only the maker knows what was meant."""
    yield from _bare_card(project)
    yield from filter(None, (large_offcut(project, offcut) for offcut in project.offcuts))
    yield from _rules_at_odds(project)
    yield from _idle_repeats(project)


def _bare_card(project: Project) -> Iterator[Finding]:
    if not project.pieces:
        yield Finding(
            "bare card",
            BASE,
            "nothing is glued to it",
            "The batch would be of bare cards",
            "add a piece",
            None,
        )


def large_offcut(project: Project, offcut: Offcut) -> Finding | None:
    """The finding on an offcut that is larger than the sheet it came from, None for any other."""
    sheet, size = project.paper(offcut.paper).size, offcut.size
    if sheet.holds(size) or sheet.holds(size.turned):
        return None
    width, height = (write_near(side, project.units) for side in (size.width, size.height))
    return Finding(
        "large offcut",
        BASE,
        f"{width} × {height} is more than a whole sheet, whichever way it lies",
        "The plan would count on paper that is not there",
        "measure it again, or say which paper it is of",
        None,
        f'offcut of "{offcut.paper}"',
    )


def _idle_repeats(project: Project) -> Iterator[Finding]:
    """Pairs of pieces that may show the same print, though no paper could give it to both."""
    repeat = project.mixing.repeat
    papers = {piece.name: set(piece.papers) for piece in project.pieces}
    papers[BASE] = {project.card.paper}
    for one, other in () if isinstance(repeat, bool) else repeat:
        if not papers[one] & papers[other]:
            yield Finding(
                "idle repeat",
                BASE,
                f'"{one}" and "{other}" may show the same print, but no paper is ticked for both',
                "It allows nothing",
                "tick a paper for both, or leave the pair out",
                None,
                "mixing",
            )


def _rules_at_odds(project: Project) -> Iterator[Finding]:
    together = set(map(frozenset, project.mixing.together))
    for one, other in project.mixing.apart:
        if frozenset((one, other)) in together:
            yield Finding(
                "rules at odds",
                BASE,
                f'"{one}" and "{other}" are to be apart and together',
                "Only cards that show neither keep both rules",
                "leave them in one of the two",
                None,
                "mixing",
            )
