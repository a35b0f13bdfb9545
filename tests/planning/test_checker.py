"""The checker itself: it passes sound work, and sees every kind of damage."""

from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest

from tests.planning.checker import TrimmerLimits, faults, plan_faults
from tests.planning.facts import CutSteps, asked_by, planned_by
from workbench.craft.card import BASE, Card, Piece
from workbench.craft.direction import Direction
from workbench.craft.paper import Edge, Offcut, Paper, Size, Strip
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning.result import (
    Assemble,
    Combination,
    Cut,
    Fold,
    Group,
    Part,
    PartId,
    Plan,
    Role,
    Score,
    Sheet,
    Shortage,
    Totals,
)


def mm(number: int) -> Length:
    return Length.of(number, "mm")


def size(width: int, height: int) -> Size:
    return Size(mm(width), mm(height))


# Two invented cards: both prints give one panel and one band, and an offcut gives the tabs.
PRINTS = ("rings", "birds")
PROJECT = Project(
    title="Hand-made",
    units="mm",
    card=Card(size(40, 50), "top", "board", 2),
    papers=(
        Paper("board", "cardstock", size(100, 100), sheets=1),
        Paper("rings", "patterned", size(60, 60), sheets=1, print="dot"),
        Paper("birds", "patterned", size(60, 60), sheets=1, print="floral", run="up"),
    ),
    pieces=(
        Piece("panel", size(30, 40), PRINTS),
        Piece("band", size(20, 40), PRINTS),
        Piece("label", size(30, 20), ("board",)),
        Piece("tab", size(20, 40), ("board",), needed=False),
    ),
    offcuts=(Offcut("board", size(40, 40)),),
)


def part(
    name: str,
    role: Role,
    lies: tuple[int, int, int, int],
    piece: str | None = None,
    turned: bool = False,
) -> Part:
    """A part that lies at x, y and measures width, height."""
    x, y, width, height = map(mm, lies)
    return Part(PartId.read(name).path, role, piece, x, y, width, height, turned)


def print_sheet(name: str, paper: str) -> Sheet:
    parts = (
        part(f"{name}.1.1", "piece", (0, 0, 30, 40), "panel"),
        part(f"{name}.1.2.1", "piece", (30, 0, 20, 40), "band"),
        part(f"{name}.1.2.2", "scrap", (50, 0, 10, 40)),
        part(f"{name}.2", "offcut", (0, 40, 60, 20)),
    )
    return Sheet(name, paper, mm(60), mm(60), parts=parts)


def cut(n: int, measure: Direction, mark: int, *takes: str) -> Cut:
    return Cut(n, ids(*takes), measure, mm(mark))


def ids(*names: str) -> tuple[PartId, ...]:
    return tuple(map(PartId.read, names))


PLAN = Plan(
    title="Hand-made",
    cards=2,
    totals=Totals(sheets=3, fewest_possible=3, cuts=8, marks=3, seconds=0.0),
    groups=(Group(("board",), 1, 1), Group(PRINTS, 2, 2)),
    shortages=(),
    sheets=(
        Sheet(
            "S1",
            "board",
            mm(100),
            mm(100),
            parts=(
                part("S1.1", "piece", (0, 0, 40, 100), BASE),
                part("S1.2.1", "piece", (40, 0, 40, 100), BASE),
                part("S1.2.2.1", "piece", (80, 0, 20, 30), "label", turned=True),
                part("S1.2.2.2.1", "piece", (80, 30, 20, 30), "label", turned=True),
                part("S1.2.2.2.2", "offcut", (80, 60, 20, 40)),
            ),
        ),
        print_sheet("S2", "rings"),
        print_sheet("S3", "birds"),
        Sheet(
            "O1",
            "board",
            mm(40),
            mm(40),
            offcut=True,
            parts=(
                part("O1.1", "piece", (0, 0, 20, 40), "tab"),
                part("O1.2", "piece", (20, 0, 20, 40), "tab"),
            ),
        ),
    ),
    steps=(
        cut(1, Direction.WIDTH, 40, "S1"),
        cut(2, Direction.WIDTH, 40, "S1.2"),
        cut(3, Direction.HEIGHT, 40, "S2", "S3"),
        cut(4, Direction.WIDTH, 30, "S2.1", "S3.1"),
        cut(5, Direction.HEIGHT, 30, "S1.2.2"),
        cut(6, Direction.HEIGHT, 30, "S1.2.2.2"),
        cut(7, Direction.WIDTH, 20, "S2.1.2", "S3.1.2"),
        cut(8, Direction.WIDTH, 20, "O1"),
        Score(9, ids("S1.1", "S1.2.1"), Direction.HEIGHT, mm(50)),
        Fold(10, ids("S1.1", "S1.2.1")),
        Assemble(11, (), 1),
        Assemble(12, (), 2),
    ),
    combinations=(
        Combination(1, {"panel": "rings", "band": "birds", "label": "board", "tab": "board"}),
        Combination(2, {"panel": "birds", "band": "rings", "label": "board", "tab": "board"}),
    ),
    makeable=2,
)


def test_sound_work_has_no_faults() -> None:
    assert plan_faults(PROJECT, PLAN) == []


def sheet_with(plan: Plan, index: int, **changes: object) -> Plan:
    sheets = list(plan.sheets)
    sheets[index] = replace(sheets[index], **changes)  # type: ignore[arg-type]
    return replace(plan, sheets=tuple(sheets))


def cut_into(plan: Plan, index: int, parts: Sequence[Part]) -> Plan:
    sheets = list(plan.sheets)
    sheets[index] = replace(sheets[index], parts=tuple(parts))
    return replace(plan, sheets=tuple(sheets))


def part_with(plan: Plan, sheet: int, index: int, **changes: object) -> Plan:
    parts = list(plan.sheets[sheet].parts)
    parts[index] = replace(parts[index], **changes)  # type: ignore[arg-type]
    return cut_into(plan, sheet, parts)


def step_with(plan: Plan, index: int, **changes: object) -> Plan:
    steps = list(plan.steps)
    steps[index] = replace(steps[index], **changes)  # type: ignore[arg-type]
    return replace(plan, steps=tuple(steps))


def totals_with(plan: Plan, **changes: int) -> Plan:
    return replace(plan, totals=replace(plan.totals, **changes))


def swapped(plan: Plan, one: int, other: int) -> Plan:
    """Two steps done in the other order, numbered afresh."""
    steps = list(plan.steps)
    steps[one], steps[other] = (
        replace(steps[other], n=steps[one].n),
        replace(steps[one], n=steps[other].n),
    )
    return replace(plan, steps=tuple(steps))


def dealt(plan: Plan, *cards: dict[str, str]) -> Plan:
    deals = tuple(Combination(number, pieces) for number, pieces in enumerate(cards, 1))
    return replace(plan, combinations=deals)


UNCUT = Sheet("S4", "board", mm(100), mm(100), parts=(part("S4", "offcut", (0, 0, 100, 100)),))
FIRST = dict(PLAN.combinations[0].pieces)
SECOND = dict(PLAN.combinations[1].pieces)
DAMAGE: dict[str, tuple[Callable[[Plan], Plan], str]] = {
    "a part left out": (
        lambda p: cut_into(p, 1, p.sheets[1].parts[:-1]),
        "areas do not add up",
    ),
    "a part too wide": (lambda p: part_with(p, 1, 0, width=mm(31)), "overlap"),
    "a part off the sheet": (lambda p: part_with(p, 1, 3, y=mm(41)), "outside its sheet"),
    "a part that is nothing": (lambda p: part_with(p, 1, 2, width=mm(0)), "no area"),
    "a part moved": (
        lambda p: part_with(part_with(p, 3, 0, x=mm(20)), 3, 1, x=mm(0)),
        "elsewhere or in another size",
    ),
    "a part renamed": (lambda p: part_with(p, 1, 3, path=(3,)), "cuts never give this part"),
    "a mark too long": (lambda p: step_with(p, 7, mark=mm(40)), "mark is not within"),
    "a mark of nothing": (lambda p: step_with(p, 7, mark=mm(0)), "mark is not within"),
    "a mark a hair off": (lambda p: step_with(p, 3, mark=mm(29)), "elsewhere or in another size"),
    "a cut across instead of up": (
        lambda p: step_with(p, 4, measure=Direction.WIDTH, mark=mm(10)),
        "elsewhere or in another size",
    ),
    "a cut before its rectangle is there": (lambda p: swapped(p, 2, 3), "not there to be cut"),
    "a cut left out": (
        lambda p: replace(p, steps=p.steps[:7] + p.steps[8:]),
        "cuts never give this part",
    ),
    "a rectangle cut twice": (
        lambda p: step_with(p, 7, takes=ids("S2.1.2")),
        "not there to be cut",
    ),
    "a stack of different sizes": (
        lambda p: step_with(p, 3, takes=ids("S2.1", "S3.2")),
        "different sizes",
    ),
    "a stack too thick": (
        lambda p: step_with(p, 3, takes=ids("S2.1", "S3.1", "O1")),
        "more than the trimmer takes",
    ),
    "steps misnumbered": (lambda p: step_with(p, 4, n=6), "not numbered"),
    "a piece called scrap": (
        lambda p: part_with(p, 1, 0, role="scrap", piece=None),
        "panel: 1 cut where 2 are wanted",
    ),
    "a piece too many": (
        lambda p: part_with(p, 0, 4, role="piece", piece="tab"),
        "tab: 3 cut where 2 are wanted",
    ),
    "a piece of the wrong size": (
        lambda p: part_with(p, 1, 1, piece="panel"),
        "panel has the wrong size",
    ),
    "a turned piece called upright": (
        lambda p: part_with(p, 0, 2, turned=False),
        "label has the wrong size",
    ),
    "a piece turned against the run": (
        lambda p: part_with(p, 2, 0, turned=True),
        "turned on a paper with a run",
    ),
    "a piece never ordered": (lambda p: part_with(p, 0, 2, piece="tassel"), "never ordered"),
    "a piece from the wrong paper": (
        lambda p: sheet_with(p, 2, paper="board"),
        "panel may not be cut from board",
    ),
    "a sheet too many": (
        lambda p: sheet_with(p, 2, paper="rings"),
        "rings: 2 sheets opened, 1 on hand",
    ),
    "a shortage that is none": (
        lambda p: replace(p, shortages=(Shortage("rings", 1),)),
        "rings: 1 sheets opened, 1 on hand, but 1 to buy",
    ),
    "a sheet of another size": (
        lambda p: sheet_with(p, 1, width=mm(61)),
        "not the size of its paper",
    ),
    "a sheet opened for nothing": (
        lambda p: replace(p, sheets=(*p.sheets, UNCUT)),
        "opened for nothing",
    ),
    "an offcut not in stock": (lambda p: sheet_with(p, 3, paper="rings"), "no such offcut"),
    "an offcut used twice": (
        lambda p: replace(p, sheets=(*p.sheets, replace(p.sheets[3], id="O2"))),
        "no such offcut",
    ),
    "a card left out": (lambda p: dealt(p, FIRST), "not one for each card"),
    "a layer left out": (
        lambda p: dealt(p, {**FIRST}, {k: v for k, v in SECOND.items() if k != "label"}),
        "card 2: label is missing",
    ),
    "layers out of order": (
        lambda p: dealt(p, dict(reversed(FIRST.items())), SECOND),
        "out of order",
    ),
    "a print twice on a card": (
        lambda p: dealt(p, {**FIRST, "band": "rings"}, {**SECOND, "band": "birds"}),
        "shows rings twice",
    ),
    "a layer from the wrong paper": (
        lambda p: dealt(p, {**FIRST, "label": "rings"}, SECOND),
        "label may not be cut from rings",
    ),
    "more dealt than cut": (
        lambda p: dealt(p, FIRST, {**FIRST}),
        "panel: 1 cut from rings but 2 dealt",
    ),
    "an optional piece cut and not dealt": (
        lambda p: dealt(p, FIRST, {k: v for k, v in SECOND.items() if k != "tab"}),
        "tab: 2 cut from board but 1 dealt",
    ),
    "sheets miscounted": (lambda p: totals_with(p, sheets=4, fewest_possible=4), "4 sheets said"),
    "offcuts counted as sheets": (lambda p: totals_with(p, sheets=4), "4 sheets said, 3 opened"),
    "marks miscounted": (lambda p: totals_with(p, marks=4), "4 marks said, 3 used"),
    "cuts miscounted": (lambda p: totals_with(p, cuts=11), "11 cuts said, 8 made"),
    "groups that do not add up": (lambda p: replace(p, groups=p.groups[:1]), "stands in 0 groups"),
    "a proof of the impossible": (
        lambda p: replace(
            totals_with(p, fewest_possible=4), groups=(p.groups[0], Group(PRINTS, 2, 3))
        ),
        "fewer sheets used than are possible",
    ),
    "a fold in the wrong place": (lambda p: step_with(p, 8, mark=mm(40)), "not at the fold"),
    "a base not scored": (lambda p: step_with(p, 8, takes=ids("S1.1")), "not scored once each"),
    "a scrap folded": (lambda p: step_with(p, 9, takes=ids("S2.2")), "takes what is no finished"),
    "a card assembled twice": (lambda p: step_with(p, 11, card=1), "not assembled once each"),
    "another order's plan": (lambda p: replace(p, title="Someone else's"), "another order"),
}


# Harm that a plan cannot hold, but its printed JSON can.
RENAMED: dict[str, tuple[Callable[[CutSteps], CutSteps], str]] = {
    "a part called like another": (lambda w: called(w, 1, 3, "S3.2"), "id is used 2 times"),
    "first and rest exchanged": (
        lambda w: giving(w, 7, ("O1.2", "O1.1")),
        "elsewhere or in another size",
    ),
    "an id given twice": (
        lambda w: giving(w, 7, ("S1.1", "O1.2")),
        "gives an id that was used before",
    ),
    "a stack that gives too little": (
        lambda w: giving(w, 3, *w.deeds[3].gives[:1]),
        "do not pair up",
    ),
}


def called(work: CutSteps, sheet: int, cell: int, name: str) -> CutSteps:
    sheets, cells = list(work.sheets), list(work.sheets[sheet].cells)
    cells[cell] = replace(cells[cell], id=name)
    sheets[sheet] = replace(sheets[sheet], cells=tuple(cells))
    return replace(work, sheets=tuple(sheets))


def giving(work: CutSteps, index: int, *pairs: tuple[str, str]) -> CutSteps:
    deeds = list(work.deeds)
    deeds[index] = replace(deeds[index], gives=pairs)
    return replace(work, deeds=tuple(deeds))


@pytest.mark.parametrize("damage", RENAMED)
def test_damaged_names_are_seen(damage: str) -> None:
    harm, expected = RENAMED[damage]
    found = faults(asked_by(PROJECT), harm(planned_by(PLAN)), TrimmerLimits())
    assert any(expected in fault for fault in found), found


@pytest.mark.parametrize("damage", DAMAGE)
def test_damage_is_seen(damage: str) -> None:
    harm, expected = DAMAGE[damage]
    found = plan_faults(PROJECT, harm(PLAN))
    assert any(expected in fault for fault in found), found


@pytest.mark.parametrize(
    ("stack", "sound"), [({"patterned": 2, "cardstock": 1}, True), ({"patterned": 1}, False)]
)
def test_the_trimmer_limits_the_stack(stack: dict[str, int], sound: bool) -> None:
    at_once = {"patterned": 2, "cardstock": 1, "vellum": 1, "other": 1} | stack
    trimmer = Trimmer(at_once=at_once)  # type: ignore[arg-type]
    assert (plan_faults(PROJECT, PLAN, trimmer) == []) == sound


def test_a_short_trimmer_cannot_make_the_long_cuts() -> None:
    found = plan_faults(PROJECT, PLAN, Trimmer(cut_length=mm(99), rule_length=mm(39)))
    assert any("longer than the trimmer's" in fault for fault in found)
    assert any("beyond the trimmer's rule" in fault for fault in found)


@pytest.mark.parametrize(("hold", "sound"), [(20, True), (25, False), (31, True)])
def test_something_is_held_wherever_it_can_be(hold: int, sound: bool) -> None:
    """Of a row 30, 20 and 10 wide the 30 could have been left till last."""
    found = plan_faults(PROJECT, PLAN, Trimmer(hold=mm(hold)))
    assert (found == []) == sound
    assert all("nothing to hold S" in fault for fault in found)


def striped(edge: Edge, width: int) -> Project:
    """The project with a printed strip on each of the prints."""
    papers = tuple(
        replace(paper, strip=Strip(edge, mm(width))) if paper.name in PRINTS else paper
        for paper in PROJECT.papers
    )
    return replace(PROJECT, papers=papers)


def test_a_strip_goes_first_and_is_thrown_away() -> None:
    thrown = part_with(part_with(PLAN, 1, 3, role="scrap"), 2, 3, role="scrap")
    assert plan_faults(striped("top", 20), thrown) == []
    assert len(plan_faults(striped("top", 20), PLAN)) == 2
    assert any("thrown away" in fault for fault in plan_faults(striped("top", 20), PLAN))


@pytest.mark.parametrize(("edge", "width"), [("top", 19), ("bottom", 20), ("right", 20)])
def test_a_strip_forgotten_is_seen(edge: Edge, width: int) -> None:
    found = plan_faults(striped(edge, width), PLAN)
    assert sum("not cut off first" in fault for fault in found) == 2
