"""Steps of the maker's own at the bench: told, counted off, kept, and never done twice."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction

from tests.making.plans import HARBOUR, PLAN, inches, size
from workbench.craft.own_step import Hole, OwnStep
from workbench.craft.trimmer import Trimmer
from workbench.making.batch import count_one, replay, tick
from workbench.making.cautions import all_cautions
from workbench.making.events import Event
from workbench.making.history import history_of, told
from workbench.making.outline import outline
from workbench.making.pace import time_left
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import prompt
from workbench.making.work_state import work_state_of
from workbench.making.worked_plan import worked_plan
from workbench.measure.writing import SIXTEENTHS
from workbench.planning import Own
from workbench.planning.finishing import with_own_steps
from workbench.publish.minutes import finishing_seconds
from workbench.store.plan_data import plan_from_data, plan_to_data

PUNCH = OwnStep(
    "punch a hole",
    "panel",
    minutes=Fraction(3, 2),
    caution="Keep fingers off the punch.",
    holes=(Hole(inches("1/2"), inches("1/2"), size("1/8", "1/8")),),
)
PROJECT = replace(HARBOUR, steps=(PUNCH, OwnStep("add a ribbon", when="last")))
STEPS = with_own_steps(PROJECT, PLAN.sheets, PLAN.cuts, PLAN.combinations)
OWNED = replace(PLAN, steps=STEPS)
BENCH = PlanIndex(PROJECT, OWNED)
AT = datetime(2031, 2, 3, 19, tzinfo=UTC)


def at_the_punch() -> tuple[list[Event], Own]:
    step = next(step for step in STEPS if isinstance(step, Own))
    return [Event("ticked", n, AT) for n in range(1, step.n)], step


def test_it_is_told_with_its_holes_its_caution_and_its_time() -> None:
    events, step = at_the_punch()
    said = prompt(BENCH, replay(OWNED, events), SIXTEENTHS)
    assert said is not None
    assert said.title == "Punch a hole"
    assert "Take care: Keep fingers off the punch." in said.how
    assert any("1/2 in from the left, 1/2 in from the bottom" in line for line in said.how)
    assert f"{len(step.takes)} × panel" in said.pick_up[0]
    assert any(PUNCH.caution in words for words in all_cautions(BENCH, Trimmer()))
    assert "Punch a hole" in [stretch.heading for stretch in outline(BENCH, SIXTEENTHS)]


def test_it_is_counted_off_and_ticked_like_all_others() -> None:
    events, step = at_the_punch()
    state = replay(OWNED, events)
    counted = count_one(OWNED, state, AT)
    assert counted.what == "counted"
    state = replay(OWNED, [*events, counted])
    assert state.counted == 1
    assert replay(OWNED, [*events, tick(state, AT)]).done == step.n


def test_it_is_kept_and_its_minutes_count() -> None:
    assert plan_from_data(plan_to_data(OWNED, "in")) == OWNED
    _, step = at_the_punch()
    steps = with_own_steps(HARBOUR, PLAN.sheets, PLAN.cuts, PLAN.combinations)
    plain = finishing_seconds(PlanIndex(HARBOUR, replace(PLAN, steps=steps)))
    ribbons = 30 * OWNED.cards
    assert finishing_seconds(BENCH) - plain == 90 * len(step.takes) + ribbons


def test_after_a_slip_nothing_is_punched_twice() -> None:
    events, step = at_the_punch()
    events.append(Event("ticked", step.n, AT))
    work = work_state_of(BENCH, replay(OWNED, events))
    again = [each for each in worked_plan(work).steps if isinstance(each, Own)]
    punched = [part for each in again if each.name == PUNCH.name for part in each.takes]
    assert sorted(punched) == sorted(step.takes)
    assert again[-1].name == "add a ribbon"


def test_its_minutes_are_in_the_time_left_until_it_is_timed_itself() -> None:
    _, step = at_the_punch()
    minute = timedelta(minutes=1)
    events = [Event("ticked", n, AT + minute * n) for n in range(1, step.n)]
    left = time_left(PROJECT, OWNED, replay(OWNED, events), events)
    quick = replace(PROJECT, steps=(replace(PUNCH, minutes=Fraction(0)), PROJECT.steps[1]))
    guessed = time_left(quick, OWNED, replay(OWNED, events), events)
    assert left is not None
    assert guessed is not None
    given = timedelta(seconds=float(PUNCH.minutes) * 60) * len(step.takes)
    assert left - guessed == given - minute  # a minute a step is the mean so far
    timed = [*events, Event("ticked", step.n, AT + minute * (step.n + 9))]
    after = time_left(PROJECT, OWNED, replay(OWNED, timed), timed)
    assert after == time_left(quick, OWNED, replay(OWNED, timed), timed)


def test_it_stands_in_the_record_in_the_words_of_the_maker() -> None:
    events, step = at_the_punch()
    assert "Punch a hole" not in " ".join(told(history_of(AT, PROJECT, OWNED, events)))
    events.append(Event("ticked", step.n, AT))
    assert f"Punch a hole: {len(step.takes)} times." in list(
        told(history_of(AT, PROJECT, OWNED, events))
    )


def test_as_long_as_its_own_minutes_nobody_was_away() -> None:
    slow = replace(PROJECT, steps=(replace(PUNCH, minutes=Fraction(20)), PROJECT.steps[1]))
    events, step = at_the_punch()
    events.append(Event("ticked", step.n, AT + timedelta(minutes=20 * len(step.takes))))
    history = history_of(AT, slow, OWNED, events)
    assert (history.minutes, len(history.sittings)) == (20 * len(step.takes), 1)
    supper = replace(slow, steps=(replace(PUNCH, minutes=Fraction(1)), PROJECT.steps[1]))
    assert len(history_of(AT, supper, OWNED, events).sittings) == 2
