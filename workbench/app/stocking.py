"""Putting offcuts in the stock of the project that a batch was begun from."""

from dataclasses import replace
from pathlib import Path

from workbench.app.base import WorkbenchApp
from workbench.app.saving import save
from workbench.app.session import Session
from workbench.craft.project import Project
from workbench.making.plan_index import PlanIndex
from workbench.making.stock_update import StockTake, papers_gone, restocked
from workbench.making.words import listed
from workbench.store.batch_rows import Batch
from workbench.store.errors import ProjectFileError, shown
from workbench.store.project_file import loses_notes, read_project_file, write_project

NO_FILE = (
    "This batch was begun from a project that has no file, so it has no stock. Note the offcuts,"
    " or enter them by hand once the project is saved."
)
GONE = (
    "is not there any more, so the offcuts have no stock to go in. Open the project from where it"
    " is now, and keep them then; nothing is lost meanwhile."
)
NO_PAPER = (
    "is not among the project's papers any more. What the batch left and used of it is not in that"
    " stock: put it right by hand, on the Stock page."
)
NOTES_IN_THE_WAY = (
    "The notes (after a #) in the project's file could not be kept. Open the project and put the"
    " offcuts in its stock there."
)


async def put_in_stock(
    app: WorkbenchApp, batch: Batch, index: PlanIndex, take: StockTake
) -> StockTake | None:
    """In the open project where it is that of `batch`, else in its file.

    Returns:
        What of `take` went in; None where nothing could, which is said.
    """
    session = app.session
    if session and _is_of(session, batch):
        kept = _known(app, session.project, index, take)
        if kept is None:
            return None
        app.change_project(restocked(session.project, index, kept))
        # The maker's own changes are the maker's to save.
        stays = session.path is None or session.changed or await save(app)
        return kept if stays else None
    if batch.path is None:
        app.say_wrong(NO_FILE)
        return None
    if not batch.path.exists():
        app.say_wrong(f"{batch.path} {GONE}")
        return None
    return _put_in_file(app, batch.path, index, take)


def _is_of(session: Session, batch: Batch) -> bool:
    """Whether the open project is what `batch` was begun from, renamed or moved since or not."""
    if batch.path and batch.path.exists():
        return session.path == batch.path
    return session.project.title == batch.project.title


def _put_in_file(
    app: WorkbenchApp, path: Path, index: PlanIndex, take: StockTake
) -> StockTake | None:
    try:
        found = read_project_file(path)
        kept = _known(app, found.project, index, take)
        if kept is None:
            return None
        project = restocked(found.project, index, kept)
        if loses_notes(found, project):
            app.say_wrong(NOTES_IN_THE_WAY)
            return None
        write_project(path, project, found, found.content)
    except ProjectFileError as error:
        app.say_wrong(str(error))
        return None
    return kept


def _known(
    app: WorkbenchApp, project: Project, index: PlanIndex, take: StockTake
) -> StockTake | None:
    """What of `take` is of a paper that `project` or the drawer has; says which ones are not."""
    gone = papers_gone(project, index, take)
    if not gone:
        return take
    app.say_wrong(f"{listed([shown(name) for name in gone])} {NO_PAPER}")
    drawn = {paper.name for paper in index.project.papers if paper.stock}
    lost = set(gone) - drawn
    offcuts = tuple(offcut for offcut in take.offcuts if offcut.paper not in lost)
    nothing = not offcuts and restocked(project, index, take) == project
    return None if nothing else replace(take, offcuts=offcuts)
