"""A form that is opened and kept changes nothing."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from tests.app.running import running
from tests.store.strategies import projects
from workbench.app.screens.own_steps import StepForm
from workbench.app.screens.paper_forms import OffcutForm, PaperForm
from workbench.app.screens.piece_forms import CardForm, PieceForm
from workbench.app.screens.post_forms import ExtraForm
from workbench.app.widgets.forms import ProjectForm
from workbench.craft.project import Project
from workbench.measure.length import UNITS, Unit


def forms_of(project: Project, unit: Unit) -> Iterator[ProjectForm]:
    """Every form about something that is there."""
    yield CardForm(project, unit)
    yield from (PieceForm(project, unit, piece) for piece in project.pieces)
    yield from (PaperForm(project, unit, paper) for paper in project.papers)
    yield from (ExtraForm(project, unit, extra) for extra in project.extras)
    yield from (StepForm(project, unit, step) for step in project.steps)
    yield from (OffcutForm(project, unit, at=at) for at in range(len(project.offcuts)))


def small_letters(project: Project) -> Project:
    """The codes of its colours as a form writes them."""

    def low(look: Any) -> Any:
        colours = tuple(colour.lower() for colour in look.colours)
        return replace(look, colours=colours)

    papers = (replace(low(one), back=low(one.back) if one.back else None) for one in project.papers)
    return replace(project, papers=tuple(papers))


@given(st.lists(projects().map(small_letters), min_size=2, max_size=2), st.sampled_from(UNITS))
@settings(
    max_examples=1,
    phases=(Phase.generate,),  # what fails is told as it is: to make it smaller takes minutes
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
async def test_nothing_changes_where_nothing_was_changed(some: list[Project], unit: Unit) -> None:
    async with running() as (app, pilot):
        for project in some:
            for form in forms_of(project, unit):
                await app.push_screen(form)
                assert form.read() == project
                form.dismiss(None)
                await pilot.pause()
