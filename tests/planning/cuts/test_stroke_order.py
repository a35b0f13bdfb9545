"""Strokes in the order of least handling: the same strokes, in no more time."""

from hypothesis import given
from hypothesis import strategies as st

from workbench.craft.direction import Direction
from workbench.measure.length import Length
from workbench.planning.cuts.stroke_order import Stroke, in_hand
from workbench.planning.result import Cut, PartId, table_work

WIDE, HIGH = Direction.WIDTH, Direction.HEIGHT
PAPERS = {"S1": "oat", "S2": "moss", "S3": "oat"}


@st.composite
def cuts(draw: st.DrawFn) -> list[Cut]:
    """Three sheets cut at random, one part in each stroke, each freed before it is cut."""
    ready = [PartId(sheet) for sheet in PAPERS]
    found: list[Cut] = []
    for n in range(1, draw(st.integers(1, 9)) + 1):
        part = ready.pop(draw(st.integers(0, len(ready) - 1)))
        ready += part.halves
        mark = Length.of(draw(st.integers(1, 3)), "in")
        found.append(Cut(n, (part,), draw(st.sampled_from([WIDE, HIGH])), mark))
    return found


def ordered(came: list[Cut]) -> list[Cut]:
    """The cuts put in order, each behind those that free what it takes."""
    freed_by = {half: cut.n for cut in came for pair in cut.gives for half in pair}
    strokes = [
        Stroke(
            cut.n,
            cut.takes,
            cut.measure,
            cut.mark,
            PAPERS[cut.takes[0].sheet],
            frozenset(freed_by[part] for part in cut.takes if part in freed_by),
        )
        for cut in came
    ]
    return in_hand(strokes)


@given(cuts())
def test_the_strokes_are_the_same_and_each_part_is_freed_before_it_is_cut(came: list[Cut]) -> None:
    found = ordered(came)
    assert [cut.n for cut in found] == list(range(1, len(came) + 1))
    assert sorted((c.takes, c.mark, c.measure) for c in found) == sorted(
        (c.takes, c.mark, c.measure) for c in came
    )
    lying = {PartId(sheet) for sheet in PAPERS}
    for cut in found:
        assert lying.issuperset(cut.takes)
        lying = (lying - {*cut.takes}) | {half for pair in cut.gives for half in pair}


@given(cuts())
def test_it_takes_no_more_time(came: list[Cut]) -> None:
    before, after = table_work(came), table_work(ordered(came))
    assert after.settings <= before.settings
    assert after.turns <= before.turns


def test_one_paper_is_cut_up_before_the_next_is_taken_up() -> None:
    marks = [(10, "S1", ()), (9, "S2", ()), (8, "S1", (2,)), (7, "S2", (2,))]
    came = [
        Cut(n, (PartId(sheet, path),), WIDE, Length.of(mark, "in"))
        for n, (mark, sheet, path) in enumerate(marks, 1)
    ]
    assert [cut.takes[0].sheet for cut in ordered(came)] == ["S1", "S1", "S2", "S2"]


def test_what_is_in_hand_is_cut_on() -> None:
    """Two sheets, each cut twice at one mark: the first is finished before the second."""
    parts = [PartId("S1"), PartId("S3"), PartId("S1", (2,)), PartId("S3", (2,))]
    came = [Cut(n, (part,), WIDE, Length.of(3, "in")) for n, part in enumerate(parts, 1)]
    assert [str(cut.takes[0]) for cut in ordered(came)] == ["S1", "S1.2", "S3", "S3.2"]
