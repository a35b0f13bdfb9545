"""Random slips over the samples: every way on gives whole cards, and can be taken back."""

import random
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction
from functools import cache
from os import environ
from pathlib import Path

import pytest

from tests.effort import FOR_SHEETS, SOON, some
from tests.making.plans import FOG, HARBOUR, NET, PLAN, inches, size
from tests.planning.checker import plan_faults
from tests.samples import SAMPLES, plan_of, project_of
from workbench.craft.card import Card
from workbench.craft.direction import Direction
from workbench.craft.paper import Offcut, Paper, Size
from workbench.craft.project import Project
from workbench.craft.trimmer import TOLERANCE, Trimmer
from workbench.making import recovery
from workbench.making.batch import BatchState, applied, begun, replay, taking_back
from workbench.making.events import Event
from workbench.making.history import history_of
from workbench.making.mistakes import AT_THE_CUT, WRONGS, Mistake, Wrong, cuts_made, spoilable
from workbench.making.plan_index import PlanIndex
from workbench.making.recovery import Way, choosing
from workbench.making.work_state import ImpossibleMistake
from workbench.measure.length import Length, Unit
from workbench.planning.driver import make_plan
from workbench.planning.mixing.redeal import fixed
from workbench.planning.progress import Watch
from workbench.planning.result import Assemble, Cut, PartId, Plan
from workbench.store.event_data import carried, event_kept

NOW = datetime(2031, 2, 3, 19, 30, tzinfo=UTC)
# All 200 of them by hand: SLIPS=200 pytest tests/making/test_recovery.py
SLIPS = int(environ.get("SLIPS", "8"))
HURRIED = Watch(limits=SOON)


@cache
def index_of(path: Path) -> PlanIndex:
    return PlanIndex(project_of(path.stem), plan_of(path.stem))


def ways_on(index: PlanIndex, state: BatchState, slip: Mistake) -> tuple[Way, ...]:
    return recovery.ways_on(index, state, slip, watch=HURRIED)


def stocked(index: PlanIndex, chance: random.Random) -> PlanIndex:
    """The same with offcuts in stock that its plan does not touch, large and small."""
    offcuts = list(index.project.offcuts)
    for paper in index.project.papers:
        width, height = paper.size.width, paper.size.height
        for share in chance.sample([1, 2, 3, 4], 2):
            offcuts.append(Offcut(paper.name, Size(width, height * Fraction(share, 5))))
    return PlanIndex(replace(index.project, offcuts=tuple(offcuts)), index.plan)


def after_steps(index: PlanIndex, done: int) -> BatchState:
    return replay(index.plan, [Event("ticked", step, NOW) for step in range(1, done + 1)])


def random_slip(chance: random.Random, index: PlanIndex, state: BatchState) -> Mistake:
    wrong, cuts = chance.choice(WRONGS), cuts_made(index, state)
    if wrong in AT_THE_CUT and cuts:
        step = chance.choice(cuts[:8])
        assert step.mark
        off = Length.of(Fraction(chance.choice([-8, -4, -2, -1, 1, 2, 4, 8]), 16), "in")
        mark = step.mark + off if wrong == "cut at another length" else step.mark
        return Mistake(wrong, step.n, mark)
    return Mistake("lost", labels=(chance.choice(spoilable(index, state)),))


def wrong_sizes(way: Way) -> set[PartId]:
    """The pieces that are kept in another size, all within tolerance."""
    project = way.recovery.project
    kept: set[PartId] = set()
    for sheet in way.recovery.plan.sheets:
        for part in sheet.parts:
            if not part.piece:
                continue
            base = part.piece == "card base"
            size = project.card.base_size if base else project.piece(part.piece).size
            size = size.turned if part.turned else size
            off = max(abs(part.width - size.width), abs(part.height - size.height))
            assert off <= TOLERANCE
            if off:
                kept.add(sheet.part_id(part))
    return kept


def bearing_strips(project: Project, plan: Plan) -> Iterator[PartId]:
    """Pieces that reach into the printed strip of their sheet."""
    for sheet in plan.sheets:
        strip = project.paper(sheet.paper).strip
        if sheet.offcut or not strip:
            continue
        for part in sheet.parts:
            inside = {
                "left": part.x,
                "right": sheet.width - part.x - part.width,
                "bottom": part.y,
                "top": sheet.height - part.y - part.height,
            }[strip.edge]
            if part.piece and inside < strip.width:
                yield sheet.part_id(part)


def check(index: PlanIndex, state: BatchState, way: Way) -> None:
    mend, trimmer = way.recovery, Trimmer()
    faults = plan_faults(mend.project, mend.plan, trimmer, mend.done)
    # A sheet of which everything is spoilt was opened for nothing, and that is no fault of the way.
    faults = [fault for fault in faults if "opened for nothing" not in fault]
    # A strip that was miscut is not cut off first any more; but no piece may bear any of it.
    done = mend.plan.steps[: mend.done]
    opened = {str(part) for step in done if isinstance(step, Cut) for part in step.takes}
    faults = [
        f for f in faults if "printed strip" not in f or not opened & {re.split(r"[.:]", f)[0]}
    ]
    assert not list(bearing_strips(mend.project, mend.plan))
    # How little was held at a cut that is made is the maker's own affair.
    held = [f"step {n}: nothing to hold" for n in range(1, mend.done + 1)]
    faults = [fault for fault in faults if not fault.startswith(tuple(held))]
    if way.name == "Keep it as it is":
        sizes = [fault for fault in faults if "wrong size" in fault]
        wrong = wrong_sizes(way)
        assert len(sizes) == len(wrong)
        cards = sum(
            isinstance(s, Assemble) and not wrong.isdisjoint(s.takes) for s in mend.plan.steps
        )
        assert any(words.startswith(f"the border is off on {cards} card") for words in way.cost)
        faults = [fault for fault in faults if fault not in sizes]
    assert faults == [], way.name
    # What was cut is never asked for again: the steps done are the ones that were done.
    cut_before = Counter(
        x for s in index.plan.steps[: state.done] if isinstance(s, Cut) for x in s.takes
    )
    to_cut = Counter(x for s in mend.plan.steps[mend.done :] if isinstance(s, Cut) for x in s.takes)
    assert not cut_before & to_cut
    # Every card, finished ones too, is put together from papers that its combination names.
    mended = PlanIndex(mend.project, mend.plan)
    for part, (_, layer) in mended.layer_of.items():
        if layer != "card base":
            assert mend.project.paper_of(mended.face_of(part)).name == mended.paper_of(part)
    # Kept in the workshop and read again, chosen and taken back, all is exactly as it was.
    event = choosing(way, NOW)
    kept = event_kept(event.what, event.step, event.at.isoformat(), carried(event))
    assert kept.recovery and kept.recovery.project == mend.project
    assert kept.recovery.plan.steps == mend.plan.steps
    chosen = applied(state, event)
    assert (chosen.steps, chosen.done) == (len(mend.plan.steps), mend.done)
    assert applied(chosen, taking_back(chosen, NOW)) == state
    assert applied(chosen, taking_back(chosen, NOW)).before is state.before


@pytest.mark.parametrize("seed", range(SLIPS))
def test_every_way_on_gives_whole_cards(seed: int) -> None:
    chance = random.Random(seed)
    index = index_of(chance.choice(SAMPLES))
    if seed % 2:
        index = stocked(index, chance)
    state = after_steps(index, chance.randrange(len(index.plan.steps) + 1))
    for _ in range(2):
        slip = random_slip(chance, index, state)
        try:
            ways = ways_on(index, state, slip)
        except ImpossibleMistake:
            continue
        assert ways, slip
        for way in ways:
            check(index, state, way)
        # And one more slip after the mend of the first.
        chosen = chance.choice(ways)
        state = applied(state, choosing(chosen, NOW))
        index = PlanIndex(chosen.recovery.project, chosen.recovery.plan)


def lost_panel(index: PlanIndex, state: BatchState) -> tuple[Way, ...]:
    label = next(label for label, part in index.parts.items() if part.piece == "panel")
    return ways_on(index, state, Mistake("lost", labels=(label,)))


@pytest.mark.parametrize(
    "path", some([*SAMPLES[::3], *SAMPLES[1::3], *SAMPLES[2::3]], 3), ids=lambda path: path.stem
)
def test_fewer_cards_never_claim_more_proof_than_planning_them_anew(path: Path) -> None:
    index = index_of(path)
    for way in lost_panel(index, begun(index.plan)):
        if "fewer" in way.name:
            anew = make_plan(way.recovery.project, Trimmer(), Watch(limits=FOR_SHEETS))
            assert way.recovery.plan.totals.fewest_possible <= anew.totals.fewest_possible


def test_the_record_counts_a_step_that_a_way_on_has_done() -> None:
    """Cut at another length: the step at hand was never ticked, and is done all the same."""
    index, state = PlanIndex(HARBOUR, PLAN), after_steps(PlanIndex(HARBOUR, PLAN), 2)
    slip = Mistake("cut at another length", 3, inches("3 1/2"))
    way = ways_on(index, state, slip)[0]
    assert way.recovery.done == 3
    ticked = [Event("ticked", step, NOW) for step in (1, 2)]
    chosen = [*ticked, choosing(way, NOW)]
    steps = len(way.recovery.plan.steps)
    for events, done in (
        (chosen, 3),
        ([*chosen, Event("taken back", 3, NOW)], 2),
        ([*chosen, Event("ticked through", steps, NOW)], steps),
    ):
        history = history_of(NOW, HARBOUR, PLAN, events)
        assert sum(sitting.steps for sitting in history.sittings) == done


def test_what_is_left_is_cut_before_cards_are_given_up() -> None:
    """Five tags of 1 3/4 by 3 1/4 fill a strip of 8 1/2 by 3 3/4: 3 1/4 for two of them sideways.

    Cut at 3 1/8 instead, a tag stands upright in what came off, and three in the rest: by hand.
    """
    kraft = Paper("kraft", "cardstock", size("8 1/2", 11), 0)
    card = Card(size("1 3/4", "3 1/4"), "none", kraft.name, 5)
    strip = Offcut(kraft.name, size("8 1/2", "3 3/4"))
    project = Project("tags", "in", card, (kraft,), offcuts=(strip,))
    index = PlanIndex(project, make_plan(project, Trimmer(), HURRIED))
    assert index.plan.cuts[0].mark == inches("3 1/4")
    state, slip = begun(index.plan), Mistake("cut at another length", 1, inches("3 1/8"))
    (way,) = (way for way in ways_on(index, state, slip) if "fewer" in way.name)
    assert way.name == "One card fewer"
    check(index, state, way)


def test_prints_are_swapped_among_the_cards_that_are_not_finished() -> None:
    """Four cards of two prints, a sheet for each panel, and more of the first print alone."""
    sheets = (9, 9, 2)
    papers = tuple(replace(p, sheets=n) for p, n in zip(HARBOUR.papers, sheets, strict=True))
    project = replace(
        HARBOUR,
        card=replace(HARBOUR.card, count=4),
        papers=papers,
        pieces=HARBOUR.pieces[:1],
    )
    index = PlanIndex(project, make_plan(project, Trimmer()))
    done = next(step.n for step in index.plan.steps if isinstance(step, Assemble))
    state = after_steps(index, done)
    (finished,) = (card for card in index.plan.combinations if card.card == 1)
    found = 0
    for step in index.plan.steps[done:]:
        slip = Mistake("torn or smudged", labels=(step.takes[1],))
        for way in ways_on(index, state, slip):
            check(index, state, way)
            if "swap prints" in way.name:
                found += 1
                assert finished in way.recovery.plan.combinations
    assert found


def test_few_cards_get_other_prints_where_pieces_lie_on_piles_already() -> None:
    """The card that lacks something, and one other to swap with, while all others lie ready."""
    index = index_of(next(path for path in SAMPLES if path.stem == "winter_fair_lanterns"))
    dealt = next(step.n for step in index.plan.steps if isinstance(step, Assemble)) - 1
    state, found = after_steps(index, dealt), 0
    for label in index.plan.steps[dealt].takes[1:]:
        for way in ways_on(index, state, Mistake("lost", labels=(label,))):
            if "swap prints" in way.name:
                found += 1
                check(index, state, way)
                cards = zip(index.plan.combinations, way.recovery.plan.combinations, strict=True)
                assert sum(before != after for before, after in cards) <= 2
    assert found


def test_a_piece_of_one_paper_alone_is_not_cut_of_another_print() -> None:
    index = index_of(next(path for path in SAMPLES if path.stem == "regatta_thanks"))
    dealt = next(step.n for step in index.plan.steps if isinstance(step, Assemble)) - 1
    state = after_steps(index, dealt)
    parts = index.plan.steps[dealt].takes
    greeting = next(part for part in parts if index.parts[part].piece == "greeting")
    ways = ways_on(index, state, Mistake("lost", labels=(greeting,)))
    assert ways
    assert not [way.name for way in ways if "print" in way.name]


def test_planning_anew_is_offered_only_while_something_is_still_to_be_cut() -> None:
    """Afterwards it would be to cut another, from the same paper and the same stock."""
    path = next(path for path in SAMPLES if path.stem == "orchard_a6")
    index = stocked(index_of(path), random.Random(1))
    dealt = next(step.n for step in index.plan.steps if isinstance(step, Assemble)) - 1
    state = after_steps(index, dealt)
    for label in index.plan.steps[dealt].takes:
        ways = {way.name for way in ways_on(index, state, Mistake("lost", labels=(label,)))}
        assert ways
        assert "Plan all uncut paper anew" not in ways


@pytest.mark.parametrize("stem", ["regatta_thanks", "winter_fair_lanterns", "orchard_a6"])
def test_one_card_fewer_is_the_card_that_lacks_something_and_no_pile_is_dealt_anew(
    stem: str,
) -> None:
    index = index_of(next(path for path in SAMPLES if path.stem == stem))
    dealt = next(step.n for step in index.plan.steps if isinstance(step, Assemble)) - 1
    state = after_steps(index, dealt)
    for label in index.plan.steps[dealt].takes[1:]:
        ways = ways_on(index, state, Mistake("lost", labels=(label,)))
        for way in (way for way in ways if "fewer" in way.name):
            left = way.recovery.plan.steps[way.recovery.done :]
            assert {type(step) for step in left} == {Assemble}


def test_a_card_fixed_by_hand_keeps_its_prints_when_it_takes_another_number() -> None:
    index = index_of(next(path for path in SAMPLES if path.stem == "regatta_thanks"))
    last = index.plan.combinations[-1]
    held = PlanIndex(fixed(index.project, last), index.plan)
    for way in lost_panel(held, begun(held.plan)):
        if "fewer" in way.name:
            (card,) = way.recovery.project.mixing.cards
            shown = next(c.pieces for c in way.recovery.plan.combinations if c.card == card.number)
            assert dict(card.shows).items() <= dict(shown).items()


def test_begun_is_where_all_mends_are_taken_back_to() -> None:
    index = index_of(SAMPLES[0])
    assert begun(index.plan).before is None


def test_a_cost_tells_only_the_sheets_beyond_those_of_the_plan() -> None:
    index = index_of(next(path for path in SAMPLES if path.stem == "regatta_thanks"))
    slip = Mistake("cut at another length", 2, Length.of(Fraction(27, 4), "in"))
    ways = {way.name: way for way in ways_on(index, after_steps(index, 1), slip)}
    assert "Plan all uncut paper anew" in ways
    for way in ways.values():
        told = sum(int(words.split()[0]) for words in way.cost if "more sheet" in words)
        assert told == max(0, len(way.recovery.plan.sheets) - len(index.plan.sheets)), way.name


def lost_net_panel(
    *offcuts: Offcut, sheets: int = 1
) -> tuple[PlanIndex, BatchState, dict[str, Way]]:
    """The panel of "net weave", lost when it is cut, with these offcuts in stock."""
    papers = tuple(replace(p, sheets=sheets if p.name == NET else 1) for p in HARBOUR.papers)
    index = PlanIndex(replace(HARBOUR, papers=papers, offcuts=offcuts), PLAN)
    state = after_steps(index, 3)
    label = next(
        label
        for label, part in index.parts.items()
        if part.piece == "panel" and index.paper_of(label) == NET
    )
    ways = {way.name: way for way in ways_on(index, state, Mistake("lost", labels=(label,)))}
    for way in ways.values():
        check(index, state, way)
    return index, state, ways


FROM_STOCK, FROM_UNCUT = "Cut another from offcuts in stock", "Cut another from what is still uncut"


def test_another_is_cut_from_an_offcut_in_stock_where_no_paper_is_left() -> None:
    _, _, ways = lost_net_panel(Offcut(NET, size(4, 5)))
    assert FROM_UNCUT not in ways
    way = ways[FROM_STOCK]
    assert way.cost == ("offcut O1 of net weave (4 × 5 in) from stock", "2 cuts more than planned")
    (taken,) = (sheet for sheet in way.recovery.plan.sheets if sheet.offcut)
    assert (taken.id, taken.size) == ("O1", size(4, 5))
    assert not any("Get more paper" in name for name in ways)


def test_both_are_offered_where_a_sheet_and_an_offcut_are_on_hand() -> None:
    _, _, ways = lost_net_panel(Offcut(NET, size(4, 5)), sheets=2)
    assert "1 more sheet of net weave" in ways[FROM_UNCUT].cost
    assert not any(sheet.offcut for sheet in ways[FROM_UNCUT].recovery.plan.sheets)
    assert "offcut O1 of net weave (4 × 5 in) from stock" in ways[FROM_STOCK].cost


def test_an_offcut_that_is_too_small_or_of_another_paper_is_no_way_on() -> None:
    useless = [Offcut(NET, size(3, 4)), Offcut(FOG, size(8, 10), 3)]
    _, _, ways = lost_net_panel(*useless, sheets=2)
    assert FROM_STOCK not in ways
    assert FROM_UNCUT in ways


def test_an_offcut_that_the_size_fits_is_taken_without_a_cut() -> None:
    _, _, ways = lost_net_panel(Offcut(NET, size("3 3/4", "4 3/4")))
    assert ways[FROM_STOCK].cost[-1] == "as many cuts as planned"


def test_an_offcut_torn_before_it_is_cut_is_not_on_hand_any_more() -> None:
    path = next(path for path in SAMPLES if path.stem == "one_card_from_scraps")
    index = index_of(path)
    state = begun(index.plan)
    torn = next(sheet for sheet in index.plan.sheets if sheet.offcut)
    for way in ways_on(index, state, Mistake("torn or smudged", labels=(torn.whole,))):
        check(index, state, way)
        before, after = index.project.offcuts_on_hand(), way.recovery.project.offcuts_on_hand()
        assert (before - after).total() == 1
        assert (before - after)[torn.paper, torn.size] == 1


def test_some_come_from_stock_where_neither_stock_nor_uncut_paper_is_enough() -> None:
    """Both cards need a panel of one print: an offcut gives one, a sheet the other."""
    papers = tuple(replace(p, sheets=3 if p.name == NET else 1) for p in HARBOUR.papers)
    alone = replace(HARBOUR, papers=papers, pieces=(replace(HARBOUR.pieces[0], papers=(NET,)),))
    plan = make_plan(alone)
    index = PlanIndex(replace(alone, offcuts=(Offcut(NET, size(4, 5)),)), plan)
    assert Counter(sheet.paper for sheet in plan.sheets)[NET] == 2
    state = after_steps(index, len([step for step in plan.steps if isinstance(step, Cut)]))
    panels = tuple(label for label, part in index.parts.items() if part.piece == "panel")
    ways = {way.name: way for way in ways_on(index, state, Mistake("lost", labels=panels))}
    for way in ways.values():
        check(index, state, way)
    both = ways["Cut some from offcuts in stock, the rest from uncut paper"]
    assert "1 more sheet of net weave" in both.cost
    assert "offcut O1 of net weave (4 × 5 in) from stock" in both.cost
    assert {FROM_STOCK, FROM_UNCUT}.isdisjoint(ways)


@pytest.mark.parametrize("done", [0, 1, 9])
@pytest.mark.parametrize(
    ("wrong", "mark"),
    [
        ("cut the wrong way", "1/2"),
        ("cut at another length", "3/8"),
        ("cut at another length", "1"),
    ],
)
def test_no_piece_bears_a_printed_strip_that_was_cut_off_wrongly(
    wrong: Wrong, mark: str, done: int
) -> None:
    index = index_of(next(path for path in SAMPLES if path.stem == "winter_fair_lanterns"))
    striped = {paper.name: paper.strip for paper in index.project.papers if paper.strip}
    first = next(cut for cut in index.plan.cuts if index.paper_of(cut.takes[0]) in striped)
    strip = striped[index.paper_of(first.takes[0])]
    assert (strip.edge, first.mark) == ("bottom", strip.width)
    state = after_steps(index, first.n - 1 + done)
    ways = ways_on(index, state, Mistake(wrong, first.n, inches(mark)))
    assert ways
    for way in ways:
        check(index, state, way)
    if wrong == "cut the wrong way" and done < 2:
        # The rest of the sheets serves once the strip is off, both of them in one cut.
        assert any(
            isinstance(step, Cut)
            and (step.takes, step.measure, step.mark)
            == (tuple(rest for _, rest in first.gives), Direction.HEIGHT, strip.width)
            for way in ways
            for step in way.recovery.plan.steps[way.recovery.done :]
        )


def test_ways_are_told_in_the_unit_that_is_shown() -> None:
    index = PlanIndex(HARBOUR, PLAN)
    cut = next(step for step in PLAN.cuts if step.mark)
    slip = Mistake("cut at another length", cut.n, cut.mark + inches("1/8"))
    state = after_steps(index, cut.n - 1)
    told: dict[Unit, str] = {"in": "Trim it by 1/8 in", "mm": "Trim it by about 3.2 mm"}
    for unit, trimmed in told.items():
        ways = recovery.ways_on(index, state, slip, unit=unit, watch=HURRIED)
        assert any(trimmed in way.name for way in ways), [way.name for way in ways]


def test_the_cut_that_went_wrong_counts_among_those_made() -> None:
    index = PlanIndex(HARBOUR, PLAN)
    cut = next(step for step in PLAN.cuts if step.mark)
    slip = Mistake("cut at another length", cut.n, cut.mark + inches("1/8"))
    trims = [
        way
        for state in (after_steps(index, cut.n - 1), after_steps(index, cut.n))
        for way in ways_on(index, state, slip)
        if way.name == "Trim it by 1/8 in"
    ]
    assert [way.cost for way in trims] == [("1 cut more than planned",)] * 2
