"""Plans side by side: each sound, each ahead of the others in what it is offered for."""

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pytest

from tests.effort import SOON, some
from tests.planning.brute_force import Kind, best
from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, patterned, project, size
from tests.samples import plan_of, project_of, shared
from workbench.craft.card import Piece
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.craft.wish import Wish
from workbench.planning.alternatives import (
    WISHES,
    Alternative,
    find_alternatives,
    largest_kept,
    plan_as_wished,
    wished,
)
from workbench.planning.driver import make_plan
from workbench.planning.progress import Cancelled, Watch
from workbench.planning.result import Plan

WHOLE = "one_card_from_scraps"
"""The sample searched as far as the program goes; others only as far as tests need."""
GRID = 20  # millimetres, so that even the narrowest strip can be held
# 1 in wide and 6 sq in at least (common practice, no source), in squares of the grid.
KEEP_SIDE, KEEP_AREA = 2, 10


def kept(plan: Plan) -> float:
    """The area of the largest offcut, in square millimetres."""
    return max(
        (
            float(part.width.mm * part.height.mm)
            for sheet in plan.sheets
            for part in sheet.parts
            if part.role == "offcut"
        ),
        default=0.0,
    )


def pieces(plan: Plan) -> Counter[str | None]:
    return Counter(part.piece for sheet in plan.sheets for part in sheet.parts if part.piece)


def figure(choice: Alternative) -> float:
    """What the choice is called after, the less the better."""
    figures = choice.figures
    match choice.wish:
        case "time":
            return figures.seconds
        case "settings":
            return figures.work.settings
        case "strokes":
            return figures.work.strokes
        case "offcut":
            return -kept(choice.plan)


def worse(choice: Alternative, other: Alternative) -> bool:
    """Whether `other` is at least as good in every figure, and better in one."""
    mine, theirs = choice.figures.rank("time"), other.figures.rank("time")
    return mine != theirs and all(a >= b for a, b in zip(mine, theirs, strict=True))


def check(asked: Project, found: tuple[Alternative, ...], trimmer: Trimmer) -> None:
    first, *others = found
    assert first.wish == "time"
    assert len({choice.wish for choice in found}) == len(found) <= 4
    for choice in found:
        plan = choice.plan
        assert plan_faults(asked, plan, trimmer) == []
        assert plan.totals.sheets == first.plan.totals.sheets
        assert pieces(plan) == pieces(first.plan)
        assert choice.figures.seconds >= first.figures.seconds
        largest = choice.figures.offcut
        assert kept(plan) == (float(largest.width.mm * largest.height.mm) if largest else 0)
        assert not any(worse(choice, other) for other in found)
    for choice in others:
        assert all(
            figure(choice) < figure(replace(other, wish=choice.wish))
            for other in found[: found.index(choice)]
        )
        assert all(figure(choice) <= figure(replace(other, wish=choice.wish)) for other in found)


def alternatives_of(name: str) -> tuple[Alternative, ...]:
    watch = Watch() if name == WHOLE else Watch(limits=SOON)
    return shared(
        f"alternatives of {name}", lambda: find_alternatives(project_of(name), Trimmer(), watch)
    )


@pytest.mark.parametrize(
    "name",
    some([WHOLE, "rainy_day_slimline", "choir_invitations", "orchard_a6", "regatta_thanks"], 3),
)
def test_the_choices_of_a_sample_are_sound_and_differ(name: str) -> None:
    asked = project_of(name)
    found = alternatives_of(name)
    check(asked, found, Trimmer())
    usual = plan_of(name) if name == WHOLE else make_plan(asked, Trimmer(), Watch(limits=SOON))
    assert (found[0].plan.sheets, found[0].plan.steps) == (usual.sheets, usual.steps)


def test_a_slimline_batch_offers_a_larger_offcut() -> None:
    found = alternatives_of("rainy_day_slimline")
    assert "offcut" in [choice.wish for choice in found]
    assert [wished(found, choice.wish) for choice in found] == [choice.plan for choice in found]


def test_a_wish_that_no_other_plan_serves_better_gets_the_usual_plan() -> None:
    """One piece from one sheet: two cuts at two marks, whatever is wished."""
    piece = Piece("tile", size(40, 60, "mm"), ("print",))
    asked = project("mm", 1, [patterned("print", size(120, 120, "mm"), 1)], [piece])
    (only,) = find_alternatives(asked, ONE_BY_ONE, Watch())
    assert wished([only], "strokes") == wished([only], "offcut") == only.plan
    # Beside the tile 80 by 120 is left, or above it 120 by 60: the first is larger by hand.
    largest = largest_kept(only.plan)
    assert largest in (size(80, 120, "mm"), size(120, 80, "mm"))


@pytest.mark.parametrize("wish", WISHES)
def test_a_file_with_a_wish_is_planned_as_the_wish_is_picked_side_by_side(wish: Wish) -> None:
    plan = plan_as_wished(replace(project_of(WHOLE), wish=wish), Trimmer(), Watch())
    picked = wished(alternatives_of(WHOLE), wish)
    assert (plan.sheets, plan.steps) == (picked.sheets, picked.steps)


def test_a_wish_that_is_given_goes_before_that_of_the_file() -> None:
    asked = replace(project_of(WHOLE), wish="offcut")
    plan = plan_as_wished(asked, Trimmer(), Watch(), wish="time")
    assert (plan.sheets, plan.steps) == (plan_of(WHOLE).sheets, plan_of(WHOLE).steps)


def test_choosing_can_be_stopped() -> None:
    asked = project_of("regatta_thanks")
    with pytest.raises(Cancelled):
        find_alternatives(asked, Trimmer(), Watch(stop=lambda: True))


def test_the_choices_are_the_same_every_time() -> None:
    asked = project_of("rainy_day_slimline")
    again = find_alternatives(asked, Trimmer(), Watch(limits=SOON))
    assert [(c.wish, c.plan.sheets, c.plan.steps) for c in again] == [
        (c.wish, c.plan.sheets, c.plan.steps) for c in alternatives_of("rainy_day_slimline")
    ]


# Against every edge-to-edge cutting of tiny sheets, tried one by one


def cases(count: int) -> Iterator[tuple[int, int, list[Kind], bool]]:
    """Tiny cases on two sheets at most, the same every time."""
    draw = random.Random(2207)
    while count:
        width, height = draw.randint(4, 6), draw.randint(4, 6)
        kinds = {
            (draw.randint(1, width), draw.randint(1, height)): draw.randint(1, 3)
            for _ in range(draw.randint(1, 2))
        }
        turning = draw.random() < 0.5
        wanted = [(w, h, copies) for (w, h), copies in kinds.items()]
        if best(width, height, wanted, turning=turning, most=2):
            count -= 1
            yield width, height, wanted, turning


def with_offcuts(width: int, height: int, kinds: list[Kind]) -> Iterator[tuple[int, list[Kind]]]:
    """What to ask for so that a rectangle is left, the largest first, and its area."""
    sizes = [
        (across, up)
        for across in range(KEEP_SIDE, width + 1)
        for up in range(KEEP_SIDE, height + 1)
        if across * up >= KEEP_AREA and (across, up) != (width, height)
    ]
    for across, up in sorted(sizes, key=lambda sides: -sides[0] * sides[1]):
        others = [kind for kind in kinds if kind[:2] != (across, up)]
        same = sum(count for w, h, count in kinds if (w, h) == (across, up))
        yield across * up, [*others, (across, up, same + 1)]


def largest_left(width: int, height: int, kinds: list[Kind], *, turning: bool, sheets: int) -> int:
    """The area of the largest rectangle that can be left."""
    for area, with_it in with_offcuts(width, height, kinds):
        if best(width, height, with_it, turning=turning, most=sheets):
            return area
    return 0


def test_cuts_are_nearly_always_the_fewest_and_offcuts_the_largest() -> None:
    """Searched for as long as is sensible."""
    more_cuts = smaller_offcut = 0
    for width, height, kinds, turning in cases(12):
        paper = patterned(
            "print", size(width * GRID, height * GRID, "mm"), 2, "none" if turning else "up"
        )
        asked_pieces = [
            Piece(f"{w} x {h}", size(w * GRID, h * GRID, "mm"), ("print",), per_card=count)
            for w, h, count in kinds
        ]
        asked = project("mm", 1, [paper], asked_pieces)
        found = find_alternatives(asked, ONE_BY_ONE, Watch())
        check(asked, found, ONE_BY_ONE)
        fewest = best(width, height, kinds, turning=turning, most=2, as_made=True, cuts_first=True)
        assert fewest is not None
        sheets, _, cuts = fewest
        assert min(choice.plan.totals.sheets for choice in found) == sheets + 1  # and the base
        more_cuts += min(choice.figures.work.strokes for choice in found) > cuts
        left = largest_left(width, height, kinds, turning=turning, sheets=sheets)
        left_found = max(kept(choice.plan) for choice in found) / GRID**2
        assert left_found <= left
        smaller_offcut += left_found < left
    assert more_cuts <= 1
    assert smaller_offcut <= 3
