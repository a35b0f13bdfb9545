"""Every step of every sample can be said and drawn, and what is said adds up."""

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from tests.samples import SAMPLES, plan_of, project_of
from workbench.drawing.steps import draw_step
from workbench.making.batch import BatchState
from workbench.making.outline import outline
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import Prompt, prompt
from workbench.making.words import unused_words, variety, written_length
from workbench.measure.length import UNITS, Unit
from workbench.measure.writing import graduation_for
from workbench.planning import Cut, Score

each_sample = pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)


@cache
def index_of(path: Path) -> PlanIndex:
    return PlanIndex(project_of(path.stem), plan_of(path.stem))


def prompts(index: PlanIndex, unit: Unit) -> list[Prompt]:
    steps = len(index.plan.steps)
    said = [prompt(index, BatchState(steps, done), graduation_for(unit)) for done in range(steps)]
    return [each for each in said if each]


@each_sample
def test_every_step_is_said(path: Path) -> None:
    index = index_of(path)
    for unit in UNITS:
        said = prompts(index, unit)
        assert [each.step for each in said] == list(index.plan.steps)
        assert all(each.how for each in said)
        assert all(each.guide for each in said if isinstance(each.step, Cut | Score))


@each_sample
def test_a_base_is_scored_halfway_along_the_side_that_is_told(path: Path) -> None:
    index = index_of(path)
    for each in prompts(index, "in"):
        if isinstance(each.step, Score):
            unfolded = 2 * each.step.mark
            assert f"({written_length(unfolded, graduation_for('in'))})" in each.how[0]


@each_sample
def test_nothing_that_is_cut_is_said_to_be_left_in_the_drawer(path: Path) -> None:
    index = index_of(path)
    unused = unused_words(index.project, index.plan)
    assert not any(sheet.paper in unused for sheet in index.plan.sheets)


def test_one_card_by_itself_is_not_said_to_differ() -> None:
    assert variety(project_of("one_card_from_scraps"), plan_of("one_card_from_scraps")) == "1 card"


@each_sample
def test_what_comes_off_goes_to_its_pile_once(path: Path) -> None:
    index = index_of(path)
    lines = [line for each in prompts(index, "in") for line in each.comes_off if "→ pile" in line]
    told: Counter[str] = Counter()
    for line in lines:
        number, _, rest = line.partition(" × ")
        told[rest.partition("pile “")[2].partition("”")[0]] += int(number)
    cut = [
        part.piece
        for sheet in index.plan.sheets
        for part in sheet.parts
        if part.piece and len(sheet.parts) > 1
    ]
    assert told == Counter(cut)


@each_sample
def test_a_part_is_picked_up_where_it_was_left(path: Path) -> None:
    index = index_of(path)
    for each in prompts(index, "mm"):
        made = {index.made_by.get(label, 0) for label in each.step.takes}
        assert all(step < each.step.n for step in made)


@each_sample
def test_every_step_has_its_picture(path: Path) -> None:
    index = index_of(path)
    for step in index.plan.steps:
        for columns, rows in ((28, 14), (44, 22)):
            drawn = draw_step(index, step, index.project.units, columns, rows)
            assert 0 < drawn.width <= columns
            assert 0 < drawn.height <= rows


@each_sample
def test_the_outline_lists_every_step_in_order(path: Path) -> None:
    index = index_of(path)
    listed = [
        number
        for stretch in outline(index, graduation_for("in"))
        for line in stretch.lines
        for number in range(line.first, line.last + 1)
    ]
    assert listed == [step.n for step in index.plan.steps]
