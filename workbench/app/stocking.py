"""Putting offcuts in the stock of the project that a batch was begun from."""

from workbench.app.base import WorkbenchApp
from workbench.app.saving import save
from workbench.making.plan_index import PlanIndex
from workbench.making.stock_update import StockTake, restocked
from workbench.store.batch_rows import Batch
from workbench.store.errors import ProjectFileError
from workbench.store.project_file import loses_notes, read_project_file, write_project

NO_FILE = (
    "This batch was begun from a project that has no file, so it has no stock. Note the offcuts,"
    " or enter them by hand once the project is saved."
)
NOTES_IN_THE_WAY = (
    "The notes (after a #) in the project's file could not be kept. Open the project and put the"
    " offcuts in its stock there."
)


async def put_in_stock(app: WorkbenchApp, batch: Batch, index: PlanIndex, take: StockTake) -> bool:
    """In the open project where it is that of `batch`, else in its file; False if it cannot be."""
    session = app.session
    if session and (session.project.title, session.path) == (batch.project.title, batch.path):
        app.change_project(restocked(session.project, index, take))
        # The maker's own changes are the maker's to save.
        return session.path is None or session.changed or await save(app)
    if batch.path is None:
        app.say_wrong(NO_FILE)
        return False
    try:
        found = read_project_file(batch.path)
        project = restocked(found.project, index, take)
        if loses_notes(found, project):
            app.say_wrong(NOTES_IN_THE_WAY)
            return False
        write_project(batch.path, project, found, found.content)
    except ProjectFileError as error:
        app.say_wrong(str(error))
        return False
    return True
