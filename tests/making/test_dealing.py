"""The pieces dealt into one pile a card, and what becomes of the piles after a slip."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.effort import SOON
from tests.making.plans import DEALT, GULL, HARBOUR, NET
from tests.making.test_samples import each_sample, index_of
from tests.samples import SAMPLES
from workbench.craft.trimmer import Trimmer
from workbench.making.batch import BatchState, applied, count_one, replay, tick_alike
from workbench.making.events import Event
from workbench.making.mistakes import Mistake
from workbench.making.outline import outline
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import Prompt, prompt
from workbench.making.recovery import Way, choosing, ways_on
from workbench.measure.writing import graduation_for
from workbench.planning import Assemble, Deal, Mount, PartId, make_plan
from workbench.planning.progress import Watch

NOW = datetime(2031, 2, 3, 19, 30, tzinfo=UTC)
INCHES = graduation_for("in")
BENCH = PlanIndex(HARBOUR, DEALT)
DEALING = [step.n for step in DEALT.steps if isinstance(step, Deal)]


def at(index: PlanIndex, step: int) -> Prompt:
    said = prompt(index, BatchState(len(index.plan.steps), step - 1), INCHES)
    assert said
    return said


def after_steps(index: PlanIndex, done: int) -> BatchState:
    return replay(index.plan, [Event("ticked", step, NOW) for step in range(1, done + 1)])


def piles(index: PlanIndex, until: int) -> dict[int, Counter[tuple[str | None, str]]]:
    """What lies on each pile when the first `until` steps are done: pieces by name and paper."""
    lie: dict[PartId, int] = {}
    for step in index.plan.steps[:until]:
        if isinstance(step, Deal):
            lie.update(zip(step.takes, index.cards_of(step), strict=True))
    found: dict[int, Counter[tuple[str | None, str]]] = defaultdict(Counter)
    for label, card in lie.items():
        found[card][index.parts[label].piece, index.paper_of(label)] += 1
    return found


@each_sample
def test_each_pile_holds_what_its_card_is_put_together_from(path: Path) -> None:
    index = index_of(path)
    lie = piles(index, len(index.plan.steps))
    for step in index.plan.steps:
        if isinstance(step, Assemble) and index.plan.cards > 1:
            parts = ((index.parts[part].piece, index.paper_of(part)) for part in step.takes)
            assert lie[step.card] == Counter(parts)


@each_sample
def test_there_is_a_step_for_each_pile_of_pieces_and_not_for_each_piece(path: Path) -> None:
    index = index_of(path)
    kinds = {
        (layer.piece.name, card.pieces[layer.name])
        for card in index.plan.combinations
        for layer in index.project.layers()
        if layer.name in card.pieces
    }
    dealing = [step for step in index.plan.steps if isinstance(step, Deal)]
    assert len(dealing) == (1 + len(kinds) if index.plan.cards > 1 else 0)


def test_dealing_says_which_print_goes_on_which_pile() -> None:
    base, *others = (at(BENCH, step) for step in DEALING)
    assert base.title == "Lay out the bases"
    assert base.pick_up == ("2 × card base 4 × 10 in, fog card, from pile “card base”",)
    told = [(said.pick_up[0].split(" 3")[0], said.how[0], said.cards) for said in others]
    assert told == [
        ("1 × panel", "1 on the pile of card 1.", (1,)),
        ("1 × panel", "1 on the pile of card 2.", (2,)),
        ("1 × tide", "1 on the pile of card 1.", (1,)),
        ("1 × tide", "1 on the pile of card 2.", (2,)),
    ]
    assert [NET in said.pick_up[0] for said in others] == [True, False, False, True]
    assert [GULL in said.pick_up[0] for said in others] == [False, True, True, False]
    headings = {stretch.heading: stretch for stretch in outline(BENCH, INCHES)}
    words = [line.words for line in headings["Deal into piles"].lines]
    assert words[:2] == ["2 × card base, fog card: every card", "panel, net weave: card 1"]


def test_dealing_is_ticked_one_by_one_by_the_pile_or_all_at_once() -> None:
    start = after_steps(BENCH, DEALING[0] - 1)
    one = applied(start, count_one(DEALT, start, NOW))
    assert (one.done, one.counted) == (start.done, 1)
    assert applied(one, count_one(DEALT, one, NOW)).done == start.done + 1
    everything = applied(start, tick_alike(DEALT, start, NOW))
    assert everything.done == DEALING[-1]


def named(ways: tuple[Way, ...], words: str) -> Way:
    return next(way for way in ways if words in way.name.lower())


@pytest.mark.parametrize("seat", [0, 1, -1])
def test_what_lies_on_the_other_piles_stays_there_when_one_piece_is_torn(seat: int) -> None:
    path = next(path for path in SAMPLES if path.stem == "regatta_thanks")
    index = index_of(path)
    dealing = [step for step in index.plan.steps if isinstance(step, Deal)]
    state = after_steps(index, dealing[-1].n)
    before = piles(index, state.done)
    torn = dealing[1].takes[seat]
    card = index.layer_of[torn][0]
    lost = index.parts[torn].piece, index.paper_of(torn)
    way = named(ways_on(index, state, Mistake("torn or smudged", labels=(torn,))), "cut another")
    after = applied(state, choosing(way, NOW))
    mended = index.after(after)
    there = piles(mended, after.done)
    assert before[card] - there[card] == Counter([lost])
    assert {n: pile for n, pile in there.items() if n != card} == {
        n: pile for n, pile in before.items() if n != card
    }
    anew = [step for step in mended.plan.steps[after.done :] if isinstance(step, Deal)]
    assert [mended.cards_of(step) for step in anew] == [(card,)]
    assert "Or on whichever pile lacks it." in at(mended, anew[0].n).how
    assert piles(mended, len(mended.plan.steps)) == before


def _swapped(cards: int) -> Iterator[tuple[PlanIndex, list[Deal]]]:
    """The ways to swap prints for a piece lost at the first of few lanterns, and what they deal."""
    lanterns = index_of(next(path for path in SAMPLES if path.stem == "winter_fair_lanterns"))
    few = replace(lanterns.project, card=replace(lanterns.project.card, count=cards))
    watch = Watch(limits=SOON)
    index = PlanIndex(few, make_plan(few, Trimmer(), watch))
    first = next(step for step in index.plan.steps if isinstance(step, Assemble))
    state = after_steps(index, first.n - 1)
    for part in first.takes[1:]:
        for way in ways_on(index, state, Mistake("lost", labels=(part,)), watch=watch):
            if "swap prints" in way.name:
                mended = PlanIndex(way.recovery.project, way.recovery.plan)
                after = mended.plan.steps[way.recovery.done :]
                yield mended, [step for step in after if isinstance(step, Deal)]


def test_a_piece_that_changes_its_pile_is_taken_where_there_are_two_of_it() -> None:
    """One that lies with a card already is in no pile of its kind any more."""
    tried = (found for cards in (3, 4, 5, 6) for found in _swapped(cards))
    mended, (new, moved) = next(found for found in tried if len(found[1]) == 2)
    (lot,) = at(mended, new.n).pick_up
    assert "from pile “" in lot
    (lot,) = at(mended, moved.n).pick_up
    assert lot.endswith("from the card that has it to spare")


def test_one_card_fewer_gives_the_last_pile_its_number() -> None:
    state = after_steps(BENCH, DEALING[-1])
    torn = next(s for s in DEALT.steps if s.n == DEALING[1]).takes[0]
    way = named(ways_on(BENCH, state, Mistake("lost", labels=(torn,))), "one card fewer")
    mended = PlanIndex(way.recovery.project, way.recovery.plan)
    (last,) = mended.plan.steps[way.recovery.done :]
    assert isinstance(last, Assemble)
    (card,) = mended.plan.combinations
    assert (card.card, dict(card.pieces)) == (1, {"panel": GULL, "tide": NET})


def test_an_inside_panel_is_mounted_in_the_open_card_and_not_again() -> None:
    index = index_of(next(path for path in SAMPLES if path.stem == "rainy_day_slimline"))
    (mount,) = (step for step in index.plan.steps if isinstance(step, Mount))
    said = at(index, mount.n)
    assert said.title == "Mount inside"
    assert "inside the card" in said.how[0]
    assert said.cards == tuple(card.card for card in index.plan.combinations)
    last = at(index, len(index.plan.steps))
    assert all("inside" not in laid.how for laid in last.layers)
    # A base that is spoilt takes with it what was mounted in it.
    state = after_steps(index, mount.n)
    base = next(step for step in index.plan.steps if isinstance(step, Assemble)).takes[0]
    ways = ways_on(index, state, Mistake("torn or smudged", labels=(base,)))
    assert ways
    for way in ways:
        mended = PlanIndex(way.recovery.project, way.recovery.plan)
        there = {
            part for step in mended.plan.steps if isinstance(step, Mount) for part in step.takes
        }
        assert len(there) == mended.plan.cards
