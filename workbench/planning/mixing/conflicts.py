"""Whether there can be cards of the kind asked for at all, and in words why not."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import islice

from workbench.craft.card import Piece
from workbench.craft.project import Project
from workbench.measure.counting import counted
from workbench.planning.limits import DEFAULT
from workbench.planning.milp import Milp
from workbench.planning.mixing.card_rules import (
    HOUSE_RULES,
    NO_PRINT_TWICE,
    Held,
    Rule,
    no_print_twice,
)
from workbench.planning.mixing.card_types import card_types
from workbench.planning.mixing.sections import Section, sections
from workbench.planning.mixing.use_counts import use_counts
from workbench.planning.progress import PlanningError, Watch

ALL_ALIKE = "all cards are alike, as a set"
ALLOW_REPEATS = "let a print show on several pieces of a card"


def check_mixing(project: Project) -> None:
    """Raise PlanningError when no amount of paper would give cards of the kind asked for.

    Either some pieces have too few prints to choose from, or the maker's rules clash.
    """
    _check_prints(project)
    _check_kinds(project)
    clash = conflict(project)
    allow = f", or {ALLOW_REPEATS}" if NO_PRINT_TWICE in clash else ""
    if len(clash) == 1:
        raise PlanningError(f"this rule cannot hold: {clash[0]}; change it or leave it out{allow}")
    if clash:
        raise PlanningError(
            f"these rules cannot all hold: {'; '.join(clash)}; "
            f"change or leave out one of them{allow}"
        )
    if project.mixing.use != "as it comes":
        count = project.card.count
        use_counts(project, count, card_types(project, count, DEFAULT.card_types))


def _check_kinds(project: Project) -> None:
    if project.mixing.wish != "all different":
        return
    cards = project.card.count
    found = (islice(section.cards(), cards) for section in sections(project))
    kinds = math.prod(sum(1 for _ in some) for some in found)
    if 0 < kinds < cards:
        raise PlanningError(
            f"all cards shall be different, but only {kinds} different ones are possible, not "
            f"{cards}; let a piece be cut from more papers, or let cards be alike"
        )


def _check_prints(project: Project) -> None:
    dealt = [piece for piece in project.pieces if project.mixed(piece) and piece.needed]
    if not dealt or _enough_prints(project, dealt):
        return
    for piece in list(dealt):
        fewer = [other for other in dealt if other is not piece]
        if fewer and not _enough_prints(project, fewer):
            dealt = fewer
    raise PlanningError(_too_few_prints(project, dealt))


def _too_few_prints(project: Project, dealt: Sequence[Piece]) -> str:
    """Why pieces have too few prints to choose from, and each way to mend it by its name."""
    rule = no_print_twice(project)
    names = ", ".join(f'"{piece.name}"' for piece in dealt)
    faces = dict.fromkeys(face for piece in dealt for face in project.faces(piece))
    prints = ", ".join(f'"{face}"' for face in faces)
    layers = sum(piece.per_card // project.alike(piece) for piece in dealt)
    barred = [face for face in faces if all(rule.bars(piece.name, face) for piece in dealt)]
    taken = "".join(f'; "{face}" is on every card already' for face in barred)
    lacking = layers - len(faces) + len(barred)
    them = "them" if len(dealt) > 1 else "it"
    ways = [f"let {them} be cut from {counted(lacking, 'more print')}"]
    ways += [
        f'let the copies of "{piece.name}" on a card be alike'
        for piece in dealt
        if piece.per_card > project.alike(piece)
    ]
    if len(dealt) > 1 or barred:
        ways.append(ALLOW_REPEATS)
    why = "no card may show a print twice" if rule.repeat is not True else "each is to be another"
    wants = f"take{'' if len(dealt) > 1 else 's'} {counted(layers, 'piece')} a card"
    return f"{why}, but {names} {wants} from {prints}{taken}; {', or '.join(ways)}"


def _enough_prints(project: Project, dealt: Sequence[Piece]) -> bool:
    """Whether each of `dealt` can have its pieces on one card, fractions allowed.

    Where pairs of pieces may repeat a print, only what they are by themselves is looked at.
    """
    rule = no_print_twice(project)
    program = Milp()
    by_print: dict[str, dict[int, float]] = {}
    for piece in dealt:
        terms = {}
        for face in project.faces(piece):
            column = program.add_column(high=0 if rule.bars(piece.name, face) else 1)
            terms[column] = 1.0
            if face in rule.prints and not rule.repeat:
                by_print.setdefault(face, {})[column] = 1.0
        program.add_row(piece.per_card // project.alike(piece), terms)
    for terms in by_print.values():
        program.add_row(0, terms, 1)
    return program.solve_relaxation(Watch()).found


def conflict(project: Project) -> tuple[str, ...]:
    """The words of a smallest set of rules that cannot all hold; empty when they can.

    Without any one of them, the others can (a deletion filter).
    """
    for section in sections(project):
        together: list[Sequence[Held]] = [(), *((held,) for held in section.held)]
        if section.wish == "as a set":
            together.append(section.held)
        for held in together:
            clash = _clash(section, held)
            if clash:
                return clash
    return ()


def _clash(section: Section, held: Sequence[Held]) -> tuple[str, ...]:
    """The words of what cannot hold for one card that is all of `held`."""

    def possible(rules: Sequence[Rule], holding: Sequence[Held]) -> bool:
        ruled = replace(section, rules=tuple(rules))
        for each in holding:
            ruled = ruled.holding(each.fixed)
        return ruled.possible()

    rules, holding = list(section.rules), list(held)
    if possible(rules, holding):
        return ()
    # The house's own rules come last: the maker can only change those that were set by hand.
    for rule in sorted(section.rules, key=lambda rule: isinstance(rule, HOUSE_RULES)):
        others = [other for other in rules if other is not rule]
        if not possible(others, holding):
            rules = others
    for one in held:
        fewer = [other for other in holding if other is not one]
        if not possible(rules, fewer):
            holding = fewer
    words = [said.words for said in (*rules, *holding)]
    unlike = [s.piece for s in section.slots if any(len(one.shown_by(s)) > 1 for one in holding)]
    words[:0] = [f'the copies of "{piece}" on a card are alike' for piece in unlike]
    return (ALL_ALIKE, *words) if len(holding) > 1 else tuple(words)
