"""The ways on after a mistake: each is worked out to its last cut before it is offered."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from workbench.craft.card import BASE
from workbench.craft.project import Project
from workbench.craft.trimmer import TOLERANCE, Trimmer
from workbench.making.batch import BatchState
from workbench.making.cutting_down import strips_off, trimmed_alike, trimmed_to_size
from workbench.making.events import Event, Recovery
from workbench.making.mistakes import Mistake, after
from workbench.making.plan_index import PlanIndex
from workbench.making.proof import bounded_anew
from workbench.making.recutting import Recutter, stocked_offcuts
from workbench.making.true_cuts import cut_truly
from workbench.making.words import shortlist, written_size
from workbench.making.work_state import Need, WorkState
from workbench.making.worked_plan import worked_plan
from workbench.measure.counting import counted
from workbench.measure.length import Length, Unit
from workbench.measure.writing import Graduation, write_near
from workbench.planning import (
    Assemble,
    Combination,
    Cut,
    Mount,
    PartId,
    Plan,
    PlanningError,
    Sheet,
    Watch,
    deal,
    fixed,
)


@dataclass(frozen=True, slots=True)
class Way:
    """A way on that works: its `name`, its `cost` in words, and the recovery that takes it."""

    name: str
    cost: tuple[str, ...]
    recovery: Recovery


def choosing(way: Way, at: datetime) -> Event:
    """The event that chooses `way`."""
    return Event("mended", way.recovery.done, at, way.recovery)


def ways_on(
    index: PlanIndex,
    state: BatchState,
    mistake: Mistake,
    *,
    trimmer: Trimmer | None = None,
    tolerance: Length = TOLERANCE,
    unit: Unit | None = None,
    watch: Watch | None = None,
) -> tuple[Way, ...]:
    """Every way on that truly works now, its lengths in `unit`, the project's where none is given.

    Raises:
        ImpossibleMistake: for a mistake that cannot have been made.
    """
    watch = watch or Watch()
    trimmer = trimmer or Trimmer()
    rule = trimmer.graduations[unit or index.project.units]
    work = after(index, state, mistake)
    mender = _Mender(work, Recutter(trimmer, watch, {}), tolerance, rule, watch)
    found: list[Way] = []
    for name, worked_out in mender.ways():
        mended = cut_truly(worked_out, trimmer)
        plan = mender.proven(mended)
        if all(plan != way.recovery.plan for way in found):
            made = max(state.done, mistake.step)  # that at hand was cut too
            cost = tuple(_cost(made, work, mended, plan, rule))
            recovery = Recovery(mistake.wrong, name, mended.project, plan, len(mended.past))
            found.append(Way(name, cost, recovery))
    return tuple(found)


@dataclass(frozen=True)
class _Mender:
    work: WorkState
    recutter: Recutter
    tolerance: Length
    rule: Graduation
    watch: Watch

    def proven(self, mended: WorkState) -> Plan:
        """The plan of `mended`, its bounds worked out anew where the cards ask for less."""
        plan, before, now = worked_plan(mended), self.work.project, mended.project
        if (now.card, now.pieces) == (before.card, before.pieces):
            return plan
        return bounded_anew(plan, now, self.recutter.trimmer, self.watch)

    def ways(self) -> Iterator[tuple[str, WorkState]]:
        bare = strips_off(self.work.uncut(self.work.off()), self.recutter.trimmer)
        missing = bare.missing()
        if self.work.off():
            yield from self._trimmed()
            yield from self._as_it_is()
        if not missing:
            yield "Go on: the cards need nothing of it", bare.fitted()
            return
        yield from _offered("Do without it: it was only wanted if it fits", _left_out(bare))
        again = list(self._again(bare, missing))
        yield from again
        yield from _offered("Cut another of another print, and swap prints", self._swapped(bare))
        if bare.cuts:  # or it would be to cut another, once more
            anew = strips_off(_uncut(bare), self.recutter.trimmer)
            cut = self.recutter.cut(anew, anew.missing())
            yield from _offered("Plan all uncut paper anew", cut)
        if dropped := _fewer(bare):
            left = dropped[-1] if again else self._fewest(dropped)
            fewer = self.work.project.card.count - left.project.card.count
            cards = "One card" if fewer == 1 else f"{fewer} cards"
            yield f"{cards} fewer", left.fitted()
        if not again:
            yield from self._bought(bare, missing)

    def _trimmed(self) -> Iterator[tuple[str, WorkState]]:
        """The plain mend of what came out too large, and what must follow for the rest."""
        found = trimmed_to_size(self.work, self.recutter.trimmer)
        if found is None:
            return
        trimmed, surplus = found
        name = f"Trim it by {write_near(surplus, self.rule.unit)}"
        bare = strips_off(trimmed.uncut(trimmed.off()), self.recutter.trimmer)
        if missing := bare.missing():
            for then, mended in self._again(bare, missing):
                yield f"{name}; then {then[0].lower()}{then[1:]}", mended
        else:
            yield name, bare.fitted()

    def _as_it_is(self) -> Iterator[tuple[str, WorkState]]:
        """Ways that use the parts in the size that they have."""
        kept = self._kept()
        if kept:
            yield "Keep it as it is", kept
        trimmed = trimmed_alike(self.work, self.recutter.trimmer)
        if trimmed:
            name, _ = self.work.pieces[self.work.off()[0]]
            size = written_size(trimmed.project.piece(name).size, self.rule)
            yield f"Make every {name} {size}, as this one is", trimmed

    def _kept(self) -> WorkState | None:
        """The work itself, where nothing is missing and no border is uneven beyond tolerance."""
        if self.work.missing():
            return None
        for label in self.work.off():
            size, wanted = self.work.rectangles[label].size, self.work.wanted(label)
            off = max(abs(size.width - wanted.width), abs(size.height - wanted.height))
            if off > self.tolerance:
                return None
        return self.work

    def _again(
        self, bare: WorkState, missing: Mapping[Need, int]
    ) -> Iterator[tuple[str, WorkState]]:
        """What is missing cut again of the same prints."""
        uncut = replace(self.recutter, stock=False).cut(bare, missing)
        yield from _offered("Cut another from what is still uncut", uncut)
        if not stocked_offcuts(bare):
            return
        stock = replace(self.recutter, uncut=False).cut(bare, missing)
        yield from _offered("Cut another from offcuts in stock", stock)
        if stock is None:
            both = self.recutter.cut(bare, missing)
            if both and any(_offcuts_more(self.work, both)):
                yield from _offered(
                    "Cut some from offcuts in stock, the rest from uncut paper", both
                )

    def _swapped(self, bare: WorkState) -> WorkState | None:
        """Other prints for what is missing, swapped among the cards that are not finished."""
        cut = self.recutter.cut(bare, bare.missing(), other_prints=True)
        if cut is None:
            return None
        counts: dict[str, Counter[str]] = {}
        for (name, paper), count in cut.have().items():
            counts.setdefault(name, Counter())[paper] += count
        for free in _dealt_anew(cut, bare):
            try:
                dealt = deal(_held(cut, free), cut.project.card.count, counts, self.watch)
            except PlanningError:
                continue
            if not _in_other_prints(bare.combinations, dealt.combinations):
                return None
            return replace(cut, combinations=dealt.combinations)
        return None

    def _fewest(self, dropped: Sequence[WorkState]) -> WorkState:
        """Of works with ever fewer cards, the first whose missing pieces what is left can give."""
        found, low, high = dropped[-1], 0, len(dropped) - 1
        while low < high:
            middle = (low + high) // 2
            cut = self.recutter.cut(dropped[middle], dropped[middle].missing())
            if cut:
                found, high = cut, middle
            else:
                low = middle + 1
        return found

    def _bought(
        self, bare: WorkState, missing: Mapping[Need, int]
    ) -> Iterator[tuple[str, WorkState]]:
        papers = dict.fromkeys(paper for _, paper in missing)
        more = replace(self.recutter, more=dict.fromkeys(papers, sum(missing.values())))
        yield from _offered("Get more paper and cut another", more.cut(bare, missing))


def _dealt_anew(work: WorkState, bare: WorkState) -> Iterator[frozenset[int]]:
    """The cards that may get other prints: as few as can be where pieces lie on piles already."""
    if bare.lying:
        lacking = _lacking(bare)
        yield lacking
        looks = {tuple(card.pieces.items()): card.card for card in work.combinations}
        yield from (lacking | {other} for other in looks.values())
    yield frozenset(card.card for card in work.combinations)


def _lacking(work: WorkState) -> frozenset[int]:
    """The cards that lack something of what was dealt to them."""
    there: dict[int, Counter[Need]] = {}
    for label, card in work.lying.items():
        if label in work.pieces:
            need = work.pieces[label][0], work.papers[label]
            there.setdefault(card, Counter())[need] += 1
    needs = _needs(work, work.combinations)
    return frozenset(card for card, need in needs.items() if need - there.get(card, Counter()))


def _needs(work: WorkState, cards: Sequence[Combination]) -> dict[int, Counter[Need]]:
    """What each of the cards takes."""
    return {card.card: replace(work, combinations=(card,)).need() for card in cards}


def _held(work: WorkState, free: frozenset[int]) -> Project:
    """The project with every card fixed that is finished or not `free` to get other prints.

    What is mounted inside the others is fixed too.
    """
    mounted = {part for step in work.past if isinstance(step, Mount) for part in step.takes}
    inside = {work.pieces[part][0] for part in mounted if part in work.pieces}
    layers = {layer.name for layer in work.project.layers() if layer.piece.name in inside}
    project = work.project
    for card in work.combinations:
        if card.card in work.made or card.card not in free:
            project = fixed(project, card)
        elif layers:
            shows = {name: face for name, face in card.pieces.items() if name in layers}
            project = fixed(project, replace(card, pieces=shows))
    return project


def _offered(name: str, work: WorkState | None) -> Iterator[tuple[str, WorkState]]:
    if work:
        yield name, work.fitted()


def _left_out(work: WorkState) -> WorkState | None:
    """Cards without the missing pieces, where all of those were wanted only if they fit."""
    missing = work.missing()
    needed = {piece.name for piece in work.project.pieces if piece.needed} | {BASE}
    if any(name in needed for name, _ in missing):
        return None
    layers = {layer.name: layer.piece.name for layer in work.project.layers()}
    cards = []
    for card in reversed(work.combinations):
        pieces = dict(card.pieces)
        for layer, face in card.pieces.items():
            need = layers[layer], work.project.paper_of(face).name
            if missing[need] > 0 and card.card not in work.made:
                missing[need] -= 1
                del pieces[layer]
        cards.append(Combination(card.card, pieces))
    return replace(work, combinations=tuple(reversed(cards)))


def _uncut(work: WorkState) -> WorkState:
    """The work with no cut planned any more: only pieces that lie there count."""
    there = {label: piece for label, piece in work.pieces.items() if label in work.in_hand}
    cut = {label for step in work.past if isinstance(step, Cut) for label in step.takes}
    sheets = tuple(sheet for sheet in work.sheets if sheet.whole in cut | there.keys())
    return replace(work, cuts=(), sheets=sheets, pieces=there)


def _fewer(work: WorkState) -> Sequence[WorkState]:
    """One card fewer, and one more, until nothing is missing; those that lack most go first.

    None at all where that leaves no card.
    """
    found = []
    while missing := work.missing():
        number = _lacking_most(work, missing)
        if number is None:
            return ()
        work = _dropped(work, number)
        found.append(work)
    return found


def _lacking_most(work: WorkState, missing: Counter[Need]) -> int | None:
    """The card to leave out, None where that would not help or leave none.

    One whose pile lacks something goes rather than one whose pile is whole.
    """
    unmade = [card for card in work.combinations if card.card not in work.made]
    lack = {card: (need & missing).total() for card, need in _needs(work, unmade).items()}
    if not any(lack.values()) or len(work.combinations) == 1:
        return None
    lacking = _lacking(work) if work.lying else frozenset()
    return max(lack, key=lambda number: (lack[number], number in lacking, number))


def _dropped(work: WorkState, number: int) -> WorkState:
    """One card fewer: the last takes its number."""
    last = work.project.card.count
    cards = tuple(
        replace(card, card=number if card.card == last else card.card)
        for card in work.combinations
        if card.card != number
    )
    past = tuple(
        replace(step, card=number) if isinstance(step, Assemble) and step.card == last else step
        for step in work.past
    )
    card = replace(work.project.card, count=last - 1)
    lying = {
        part: number if there == last else there
        for part, there in work.lying.items()
        if there != number
    }
    cards_held = tuple(
        replace(held, number=number if held.number == last else held.number)
        for held in work.project.mixing.cards
        if held.number != number
    )
    project = replace(
        work.project, card=card, mixing=replace(work.project.mixing, cards=cards_held)
    )
    return replace(work, project=project, combinations=cards, past=past, lying=lying)


def _showing(plan: Plan, labels: Collection[PartId]) -> set[int]:
    """The cards that any of the parts are put on."""
    sought = frozenset(labels)
    on_cards = (step for step in plan.steps if isinstance(step, Assemble))
    return {step.card for step in on_cards if not sought.isdisjoint(step.takes)}


def _cost(
    made: int, work: WorkState, mended: WorkState, after_it: Plan, rule: Graduation
) -> Iterator[str]:
    plan = work.plan
    fewer = plan.cards - after_it.cards
    if fewer:
        yield f"{after_it.cards} made instead of {plan.cards}"
    if kept := mended.off():
        cards = counted(len(_showing(after_it, kept)), "card")
        yield f"the border is off on {cards}, but even within your tolerance"
    short = _short(after_it) - _short(plan)
    for paper, count in _sheets_more(work, mended).items():
        got = f" ({short[paper]} to be got first)" if paper in short else ""
        yield f"{counted(count, 'more sheet')} of {paper}{got}"
    if offcuts := list(_offcuts_more(work, mended)):
        yield f"{shortlist([_from_stock(each, rule) for each in offcuts])} from stock"
    cuts = len(mended.cuts) - sum(cut.n > made for cut in plan.cuts)
    if cuts:
        yield f"{counted(abs(cuts), 'cut')} {'more' if cuts > 0 else 'fewer'} than planned"
    else:
        yield "as many cuts as planned"
    changed = _in_other_prints(work.combinations, mended.combinations)
    if changed and not fewer:
        yield f"{counted(changed, 'card')} in other prints"


def _short(plan: Plan) -> Counter[str]:
    """How many sheets are to be bought, by paper."""
    return Counter({short.paper: short.sheets for short in plan.shortages})


def _in_other_prints(before: Sequence[Combination], after: Sequence[Combination]) -> int:
    """How many cards show other prints than before."""
    were = {card.card: card.pieces for card in before}
    return sum(card.pieces != were.get(card.card) for card in after)


def _sheets_more(work: WorkState, mended: WorkState) -> Counter[str]:
    """Sheets by paper beyond those of the plan; spoilt ones count."""
    kept = {sheet.id for sheet in mended.sheets}
    spoilt = (s for s in work.plan.sheets if s.whole in work.ruined and s.id not in kept)
    taken = Counter(sheet.paper for sheet in (*mended.sheets, *spoilt) if not sheet.offcut)
    return taken - Counter(sheet.paper for sheet in work.plan.sheets if not sheet.offcut)


def _offcuts_more(work: WorkState, mended: WorkState) -> Iterator[Sheet]:
    """Offcuts from stock beyond those of the plan that still serve."""
    planned = Counter(
        (s.paper, s.size) for s in work.plan.sheets if s.offcut and s.whole not in work.ruined
    )
    for sheet in mended.sheets:
        if sheet.offcut and not planned[sheet.paper, sheet.size]:
            yield sheet
        elif sheet.offcut:
            planned[sheet.paper, sheet.size] -= 1


def _from_stock(sheet: Sheet, graduation: Graduation) -> str:
    return f"offcut {sheet.id} of {sheet.paper} ({written_size(sheet.size, graduation)})"
