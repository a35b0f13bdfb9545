"""The laws of a batch: its state is the replay of its events, and taking back is exact."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.making.plans import PLAN
from workbench.making.batch import (
    BatchState,
    StepNotReady,
    Tally,
    applied,
    begun,
    count_one,
    progress,
    replay,
    setting,
    setting_of,
    taking_back,
    tick,
    tick_alike,
)
from workbench.making.events import Event

NOW = datetime(2031, 2, 3, 19, 30, tzinfo=UTC)
STEPS = len(PLAN.steps)

events = st.builds(
    Event,
    st.sampled_from(["ticked", "ticked through", "taken back"]),
    st.integers(-3, STEPS + 3),
    st.just(NOW),
)
histories = st.lists(events, max_size=60)
positions = st.integers(0, STEPS)


def state_at(done: int) -> BatchState:
    return replay(PLAN, [Event("ticked", step, NOW) for step in range(1, done + 1)])


@given(histories)
def test_applying_one_by_one_is_the_replay(history: list[Event]) -> None:
    state = begun(PLAN)
    for seen, event in enumerate(history, 1):
        state = applied(state, event)
        assert state == replay(PLAN, history[:seen])


@given(histories)
def test_ticked_steps_are_always_the_first(history: list[Event]) -> None:
    state = replay(PLAN, history)
    ticked = [step.n for step in PLAN.steps if state.ticked(step.n)]
    assert ticked == list(range(1, state.done + 1))
    assert state.current == (None if state.finished else state.done + 1)


@given(positions, st.integers(1, 9))
def test_a_tick_taken_back_restores_the_state_any_number_of_times(done: int, times: int) -> None:
    state = state_at(done)
    for _ in range(times):
        if not state.finished:
            ticked = applied(state, tick(state, NOW))
            assert ticked.done == state.done + 1
            assert applied(ticked, taking_back(ticked, NOW)) == state


@given(positions, positions)
def test_taking_back_all_the_way_and_ticking_again_ends_where_it_was(done: int, back: int) -> None:
    start = state = state_at(done)
    for _ in range(min(back, done)):
        state = applied(state, taking_back(state, NOW))
    while state != start:
        state = applied(state, tick(state, NOW))
    assert state == start


@given(positions, events)
def test_a_doubled_event_changes_nothing(done: int, event: Event) -> None:
    once = applied(state_at(done), event)
    if once != state_at(done):
        assert applied(once, event) == once


@given(positions, events)
def test_an_event_out_of_turn_changes_nothing(done: int, event: Event) -> None:
    state = state_at(done)
    in_turn = {("ticked", done + 1), ("taken back", done)}
    in_turn |= {("ticked through", step) for step in range(done + 1, STEPS + 1) if done < STEPS}
    if (event.what, event.step) not in in_turn:
        assert applied(state, event) == state


@given(histories)
def test_taking_back_restores_whatever_was_there_before(history: list[Event]) -> None:
    states = [begun(PLAN)]
    for event in history:
        after = applied(states[-1], event)
        if event.what != "taken back" and after != states[-1]:
            assert applied(after, taking_back(after, NOW)) == states[-1]
        states.append(after)


def test_a_step_is_counted_off_one_by_one_and_the_last_one_ticks_it() -> None:
    scoring = state_at(7)
    once = applied(scoring, count_one(PLAN, scoring, NOW))
    assert (once.done, once.counted) == (7, 1)
    twice = applied(once, count_one(PLAN, once, NOW))
    assert (twice.done, twice.counted) == (8, 0)
    assert applied(twice, taking_back(twice, NOW)) == once
    assert applied(once, taking_back(once, NOW)) == scoring


def test_all_alike_are_ticked_at_once_and_taken_back_at_once() -> None:
    at_mark = state_at(1)
    through = applied(at_mark, tick_alike(PLAN, at_mark, NOW))
    assert through.done == 3
    assert applied(through, taking_back(through, NOW)) == at_mark
    assembling = state_at(10)
    assert applied(assembling, tick_alike(PLAN, assembling, NOW)).finished


def test_a_pause_is_no_step_to_take_back() -> None:
    paused = applied(state_at(3), Event("paused", 3, NOW))
    assert paused.paused
    assert applied(paused, Event("went on", 3, NOW)) == state_at(3)


def test_nothing_is_ticked_past_the_end_or_taken_back_before_the_start() -> None:
    with pytest.raises(StepNotReady, match="ticked already"):
        tick(state_at(STEPS), NOW)
    with pytest.raises(StepNotReady, match="No step is ticked"):
        taking_back(state_at(0), NOW)


def test_progress_of_batch_sheet_and_setting() -> None:
    now = progress(PLAN, state_at(2))
    assert now.steps == Tally(2, 12)
    assert now.cuts == Tally(2, 7)
    assert now.sheet == Tally(2, 4)
    assert now.setting == Tally(1, 2)


def test_progress_after_the_last_cut_counts_no_sheet() -> None:
    now = progress(PLAN, state_at(7))
    assert (now.cuts.left, now.sheet, now.setting) == (0, None, None)
    assert progress(PLAN, state_at(STEPS)).steps.left == 0


@given(positions)
def test_the_cut_at_hand_lies_in_its_setting(done: int) -> None:
    if done < STEPS:
        step = PLAN.steps[done]
        steps = setting(PLAN, step)
        assert step in steps
        assert set(map(setting_of, steps)) == {setting_of(step)}
