"""A plan whose sheets stay as they are, its pieces dealt anew or swapped by hand."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.craft.mixing import FixedCard
from workbench.craft.project import Project, layer_names
from workbench.planning.finishing import with_own_steps
from workbench.planning.mixing.conflicts import check_mixing
from workbench.planning.mixing.deal import deal
from workbench.planning.mixing.sections import sections
from workbench.planning.mixing.use_counts import mixed_papers
from workbench.planning.progress import PlanningError, Watch
from workbench.planning.result import Combination, Plan

_Look = tuple[tuple[str, str], ...]


def redealt(project: Project, plan: Plan, watch: Watch) -> Plan:
    """The pieces that `plan` cuts, dealt by the rules that `project` has now.

    Raises PlanningError where they cannot be; planning the batch anew may still find a way.
    """
    check_mixing(project)
    cut: dict[str, Counter[str]] = defaultdict(Counter)
    for sheet in plan.sheets:
        cut_here = Counter(part.piece for part in sheet.parts if part.piece)
        for piece, count in cut_here.items():
            cut[piece][sheet.paper] += count
    dealt = deal(project, plan.cards, cut, watch)
    totals = replace(plan.totals, most_different=dealt.most)
    return with_combinations(project, replace(plan, totals=totals), dealt.combinations)


def dealt_anew(project: Project, plan: Plan, watch: Watch) -> tuple[Project, Plan]:
    """The pieces that `plan` cuts in another deal than its own; the project keeps its number.

    Other cards if there can be any, else the same cards in another order. Raises PlanningError
    where there is no other deal.
    """
    now = Counter(map(_look, plan.combinations))
    reordered = None
    for number in range(
        project.mixing.deal + 1, project.mixing.deal + 1 + watch.limits.deals_drawn
    ):
        numbered = replace(project, mixing=replace(project.mixing, deal=number))
        dealt = redealt(numbered, plan, watch)
        if Counter(map(_look, dealt.combinations)) != now:
            return numbered, dealt
        if reordered is None and dealt.combinations != plan.combinations:
            reordered = numbered, dealt
    if reordered is None:
        raise PlanningError("these pieces can be dealt in no other way by the rules there are")
    return reordered


def with_combinations(project: Project, plan: Plan, combinations: Sequence[Combination]) -> Plan:
    """The plan with other cards of the same pieces, and the steps that put them together."""
    steps = with_own_steps(project, plan.sheets, plan.cuts, combinations)
    return replace(plan, combinations=tuple(combinations), steps=steps)


def fixed(project: Project, combination: Combination) -> Project:
    """The project with this card held as it is, whatever else is dealt."""
    shows = {layer: face for layer, face in combination.pieces.items() if _is_open(project, layer)}
    return _with_card(project, FixedCard(combination.card, shows)) if shows else project


def loosened(project: Project, card: int) -> Project:
    """The project with the card left open to the dealing."""
    cards = tuple(held for held in project.mixing.cards if held.number != card)
    return replace(project, mixing=replace(project.mixing, cards=cards))


def is_fixed(project: Project, card: int) -> bool:
    """Whether the card of that number is held as it is."""
    return any(held.number == card for held in project.mixing.cards)


def swapped(project: Project, plan: Plan, layer: str, one: int, other: int) -> tuple[Project, Plan]:
    """Two cards change their pieces of one layer, and are held so; all other cards stay.

    Copies that are alike change with it. Raises PlanningError, in the words of the rules, where
    the swap would break one.
    """
    cards = {card.card: card for card in plan.combinations}
    mine, theirs = cards[one].pieces.get(layer), cards[other].pieces.get(layer)
    if mine is None or theirs is None:
        raise PlanningError(f'one of the two cards has no "{layer}" to swap')
    layers = _as_one(project, layer)
    cards[one] = _showing(cards[one], layers, theirs)
    cards[other] = _showing(cards[other], layers, mine)
    changed = fixed(fixed(project, cards[one]), cards[other])
    check_mixing(changed)
    _check_different(changed, tuple(cards.values()))
    return changed, with_combinations(changed, plan, tuple(cards.values()))


def swaps(project: Project, plan: Plan, layer: str, one: int) -> tuple[int, ...]:
    """The cards with which a card can swap its piece of one layer, for another face."""
    section = next(
        (
            section
            for section in sections(project)
            if any(layer in slot.layers for slot in section.slots)
        ),
        None,
    )
    if section is None or project.mixing.wish == "as a set":
        return ()
    cards = {card.card: card for card in plan.combinations}
    mine, layers = cards[one], _as_one(project, layer)
    looks = set(map(_look, plan.combinations))
    judged: dict[_Look, bool] = {}

    def allowed(card: Combination) -> bool:
        look = _look(card)
        if look not in judged:
            shown = tuple(card.pieces.get(slot.layers[0]) for slot in section.slots)
            judged[look] = section.allows(shown)
        return judged[look]

    def possible(theirs: Combination) -> bool:
        faces = mine.pieces.get(layer), theirs.pieces.get(layer)
        if None in faces or faces[0] == faces[1]:
            return False
        pair = (
            _showing(mine, layers, str(faces[1])),
            _showing(theirs, layers, str(faces[0])),
        )
        if not all(map(allowed, pair)):
            return False
        return project.mixing.wish != "all different" or all_differ(theirs, pair)

    def all_differ(theirs: Combination, pair: Sequence[Combination]) -> bool:
        """Whether no card would look like another with `pair` in the place of the two."""
        new, old = set(map(_look, pair)), {_look(mine), _look(theirs)}
        return len(new) == len(pair) and looks.isdisjoint(new - old)

    return tuple(number for number, card in cards.items() if possible(card))


def papers_shown(project: Project, plan: Plan) -> frozenset[str]:
    """The papers of which the cards of a plan have mixed pieces."""
    mixed = {layer.name for layer in project.layers() if project.mixed(layer.piece)}
    faces = {
        face for card in plan.combinations for layer, face in card.pieces.items() if layer in mixed
    }
    return frozenset(project.paper_of(face).name for face in faces)


def unused_papers(project: Project, plan: Plan) -> tuple[str, ...]:
    """The papers ticked for mixed pieces that a plan leaves in the drawer."""
    shown = papers_shown(project, plan)
    return tuple(paper for paper in mixed_papers(project) if paper not in shown)


def repeats(combinations: Sequence[Combination]) -> Mapping[int, tuple[int, ...]]:
    """By card, all the cards that look like it, itself among them; only where there are others."""
    alike: dict[_Look, list[int]] = defaultdict(list)
    for card in combinations:
        alike[_look(card)].append(card.card)
    groups = [tuple(numbers) for numbers in alike.values() if len(numbers) > 1]
    return {number: group for group in groups for number in group}


def left_over(project: Project, plan: Plan) -> Counter[str]:
    """By paper, the pieces that are cut and go on no card, such as spares."""
    cut = Counter(
        sheet.paper for sheet in plan.sheets for part in sheet.parts if part.role == "piece"
    )
    used = Counter(
        project.paper_of(face).name for card in plan.combinations for face in card.pieces.values()
    )
    bases = Counter({project.card.paper: plan.cards})
    return cut - used - bases


def _look(card: Combination) -> _Look:
    return tuple(card.pieces.items())


def _check_different(project: Project, combinations: Sequence[Combination]) -> None:
    """Raise PlanningError where cards are alike that shall all be different."""
    if project.mixing.wish == "all different" and (alike := repeats(combinations)):
        numbers = " and ".join(map(str, next(iter(alike.values()))))
        raise PlanningError(f"cards {numbers} would be alike, and all cards shall be different")


def _is_open(project: Project, layer: str) -> bool:
    piece = next(each.piece for each in project.layers() if each.name == layer)
    return project.mixed(piece) or not piece.needed


def _with_card(project: Project, card: FixedCard) -> Project:
    cards = (*loosened(project, card.number).mixing.cards, card)
    ordered = tuple(sorted(cards, key=lambda held: held.number))
    return replace(project, mixing=replace(project.mixing, cards=ordered))


def _as_one(project: Project, layer: str) -> tuple[str, ...]:
    """The layer, and those that always show the same."""
    piece = next(each.piece for each in project.layers() if each.name == layer)
    return layer_names(piece) if project.alike(piece) > 1 else (layer,)


def _showing(card: Combination, layers: Sequence[str], face: str) -> Combination:
    return replace(card, pieces={**card.pieces, **dict.fromkeys(layers, face)})
