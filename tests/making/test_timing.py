"""The maker's own pace, from simulated evenings whose pace is known."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random

import pytest

from tests.making.plans import PLAN
from workbench.craft.direction import Direction
from workbench.craft.pace import ESTIMATED, Pace
from workbench.making.events import Event, What
from workbench.making.timing import FEWEST, MOST, TimedStroke, measured, timed_strokes
from workbench.measure.length import Length
from workbench.planning import Cut, PartId, Plan

START = datetime(2031, 2, 3, 19, tzinfo=UTC)
SLOW, SWIFT = Pace(38, 14, 6, 5), Pace(9, 4, 1, 0)


def plan_of(chance: Random, strokes: int) -> Plan:
    """Cuts as an evening has them: runs of one mark, stacks of one to four, now and then turned."""
    cuts: list[Cut] = []
    mark, measure = 1, Direction.WIDTH
    for n in range(1, strokes + 1):
        if chance.random() < 0.3:
            mark += 1
        if chance.random() < 0.3:
            measure = measure.other
        takes = tuple(PartId(f"S{n}-{number}") for number in range(chance.randint(1, 4)))
        cuts.append(Cut(n, takes, measure, Length.of(mark, "in")))
    return replace(PLAN, steps=tuple(cuts))


def seconds_of(pace: Pace, before: Cut, cut: Cut) -> int:
    """What one cut takes after another, each thing at its seconds."""
    return pace.seconds(
        int(cut.mark != before.mark), 1, len(cut.takes), int(cut.measure != before.measure)
    )


def evening(chance: Random, plan: Plan, pace: Pace) -> Iterator[Event]:
    """The ticks of a maker of that pace: no two strokes take just as long, and some far longer."""
    at = START
    for before, cut in zip((plan.cuts[0], *plan.cuts), plan.cuts, strict=False):
        spent = seconds_of(pace, before, cut) * chance.uniform(0.8, 1.3)
        if chance.random() < 0.1:
            spent += chance.choice((40, 300, 5000))  # the kettle, the telephone, supper
        at += timedelta(seconds=max(spent, 2.1))
        yield Event("ticked", cut.n, at)


@pytest.mark.parametrize("pace", [ESTIMATED, SLOW, SWIFT])
@pytest.mark.parametrize("seed", range(4))
def test_the_pace_of_simulated_evenings_is_found_again(pace: Pace, seed: int) -> None:
    chance = Random(seed)
    timed: list[TimedStroke] = []
    for _ in range(6):
        plan = plan_of(chance, 60)
        timed += timed_strokes(plan, list(evening(chance, plan, pace)))
    found = measured(timed)
    assert set(found.own) == {"setting", "stroke", "sheet", "turn"}
    for kind, within in (("setting", 0.18), ("stroke", 0.25), ("sheet", 0.25), ("turn", 0.25)):
        true = getattr(pace, kind)
        assert abs(getattr(found, kind) - true) <= max(2, within * true)


def exact(count: int, setting: int, turn: int, sheets: int, pace: Pace) -> list[TimedStroke]:
    seconds = pace.seconds(setting, 1, sheets, turn)
    return [TimedStroke(setting, turn, sheets, seconds)] * count


def test_nothing_is_measured_before_there_are_thirty() -> None:
    few = [*exact(14, 1, 0, 1, SLOW), *exact(15, 0, 0, 1, SLOW)]
    assert measured(few) == ESTIMATED
    # Thirty strokes tell the stroke alone: what a sheet takes is taken off at its estimate.
    thirty = measured([*exact(15, 0, 0, 1, SLOW), *exact(15, 0, 0, 1, SLOW)])
    assert thirty == replace(ESTIMATED, stroke=14 + 6 - 3, own=("stroke",))


def test_a_setting_is_told_by_strokes_alike_in_all_else() -> None:
    both = [*exact(FEWEST, 1, 0, 2, SLOW), *exact(FEWEST, 0, 0, 2, SLOW)]
    assert measured(both).setting == 38
    assert measured(both).own == ("setting", "stroke")
    assert measured(both[1:]).own == ("stroke",)
    # Always with a turn, and never without: nothing tells the two apart.
    mixed_up = [*exact(FEWEST, 1, 1, 2, SLOW), *exact(FEWEST, 0, 0, 2, SLOW)]
    assert measured(mixed_up).own == ("stroke",)


def test_a_sheet_is_told_by_stacks_of_any_two_heights() -> None:
    stacks = [*exact(FEWEST, 0, 0, 1, SLOW), *exact(FEWEST, 0, 0, 4, SLOW)]
    assert measured(stacks) == replace(ESTIMATED, stroke=14, sheet=6, own=("stroke", "sheet"))


def test_the_last_strokes_count_so_that_the_pace_may_change() -> None:
    years_ago = exact(MOST, 0, 0, 1, SLOW)
    assert measured([*years_ago, *exact(MOST, 0, 0, 1, SWIFT)]).stroke == 4 + 1 - 3


def told(*happened: tuple[What, int, float]) -> list[tuple[int, float]]:
    """The sheets and seconds of the strokes that these events of a plan of five cuts time."""
    cuts = tuple(
        Cut(n, (PartId(f"S{n}"),) * n, Direction.WIDTH, Length.of(1, "in")) for n in range(1, 6)
    )
    events = [Event(what, step, START + timedelta(seconds=at)) for what, step, at in happened]
    timed = timed_strokes(replace(PLAN, steps=cuts), events)
    return [(stroke.sheets, stroke.seconds) for stroke in timed]


def test_ticks_one_right_after_the_other_time_a_stroke() -> None:
    assert told(("ticked", 1, 0), ("ticked", 2, 10), ("ticked", 3, 25)) == [(2, 10), (3, 15)]


@pytest.mark.parametrize("what", ["paused", "noted", "went on"])
def test_what_comes_between_two_ticks_leaves_the_stroke_out(what: What) -> None:
    events: Sequence[tuple[What, int, float]]
    events = [("ticked", 1, 0), (what, 1, 5), ("ticked", 2, 30), ("ticked", 3, 40)]
    assert told(*events) == [(3, 10)]


def test_a_tick_taken_back_times_nothing() -> None:
    events: Sequence[tuple[What, int, float]]
    events = [("ticked", 1, 0), ("ticked", 2, 9), ("taken back", 2, 12), ("ticked", 2, 30)]
    assert told(*events) == []


def test_ticks_that_only_catch_up_time_nothing_nor_does_the_one_before() -> None:
    events: Sequence[tuple[What, int, float]]
    events = [("ticked", 1, 0), ("ticked", 2, 60), ("ticked", 3, 61), ("ticked", 4, 70)]
    assert told(*events) == [(4, 9)]


def test_several_ticked_at_once_and_a_walk_to_the_shop_time_nothing() -> None:
    events: Sequence[tuple[What, int, float]]
    events = [("ticked", 1, 0), ("ticked through", 3, 60), ("ticked", 4, 70), ("ticked", 5, 9000)]
    assert told(*events) == []
