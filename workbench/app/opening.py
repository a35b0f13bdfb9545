"""Opening projects: from files, samples, layouts, and from changes that were never saved."""

from dataclasses import replace
from pathlib import Path

from workbench.app.base import WorkbenchApp
from workbench.app.commands import AddPiece, Begin, ShowStock, ShowTrimming
from workbench.app.session import Session
from workbench.app.widgets.questions import Question
from workbench.craft.project import Project
from workbench.store.drafts import Draft, drafts, drop_draft
from workbench.store.errors import ProjectFileError, StoreError
from workbench.store.project_file import ProjectFile, read_project_file
from workbench.store.replacement import tidy


def open_file(app: WorkbenchApp, path: Path) -> None:
    """Open the project file at `path`, or say why it cannot be; ask about unsaved changes of it."""
    found = _read(app, path)
    if found is None:
        return
    tidy(path)
    remember(app, path, found.project.title)
    if draft := _draft_of(app, path):
        app.run_worker(_go_on_or_open(app, draft, path))
    else:
        _take_up(app, Session.opened(found.project, path.resolve(), found))


def open_sample(app: WorkbenchApp, path: Path) -> None:
    """Open a sample: the maker's own from the start, so that saving asks for a new file."""
    if found := _read(app, path):
        _take_up(app, Session.opened(found.project, None, found))


def walk_through(app: WorkbenchApp) -> None:
    """Open the smallest sample, and say on each page what comes next until its last step."""
    from workbench.app.samples import WALK, samples

    sample = next(sample for sample in samples() if sample.path.name == WALK)
    app.walking = True
    open_sample(app, sample.path)


def _say_what_comes_next(app: WorkbenchApp) -> None:
    """Name the keys that lead on from an open project to its first cut, or its first piece."""
    if app.session and not app.session.project.pieces:
        said = f"{app.key_of(ShowStock)} shows its papers, {app.key_of(AddPiece)} adds a piece."
    else:
        said = f"{app.key_of(ShowTrimming)} shows the cutting, {app.key_of(Begin)} begins it."
    app.notify(said, markup=False)


def begin_project(app: WorkbenchApp, project: Project) -> None:
    """Open a project that is new, and has no file yet."""
    _take_up(app, replace(Session.opened(project, None), fresh=True))


async def go_on_with(app: WorkbenchApp, draft: Draft) -> bool:
    """Ask whether to go on with changes or to drop them; True where they are dropped."""
    asked = (
        f"You had changes of “{draft.title}” that were not saved"
        f" ({draft.kept.astimezone():%d %b %Y, %H:%M})."
    )
    answers = {"on": "Go on with them", "drop": "Drop them"}
    answer = await app.push_screen_wait(Question(asked, answers))
    try:
        if answer == "on":
            before = draft.before()
            project, session = draft.project(), Session.opened(before.project, draft.path, before)
            fresh = project == before.project
            session = replace(session, fresh=True) if fresh else session.with_project(project)
            _take_up(app, session, draft.key)
        elif answer == "drop":
            drop_draft(app.workshop, draft.key)
    except StoreError as error:
        app.say_wrong(str(error))
    return answer == "drop"


def remember(app: WorkbenchApp, path: Path, title: str) -> None:
    """Keep the file among those that the start page offers."""
    try:
        app.workshop.remember(path, title)
    except StoreError as error:
        app.say_wrong(str(error))


def _take_up(app: WorkbenchApp, session: Session, draft: str | None = None) -> None:
    """Open `session`; where its changes are those of a `draft`, that is kept up to date."""
    app.planning.discard()
    app.autosave.begin(draft)
    app.session = session
    app.count_stock_anew()
    app.show_in(session.project.units)
    app.show_page("pieces")
    if not app.walking:
        _say_what_comes_next(app)


async def _go_on_or_open(app: WorkbenchApp, draft: Draft, path: Path) -> None:
    if await go_on_with(app, draft):
        open_file(app, path)


def _draft_of(app: WorkbenchApp, path: Path) -> Draft | None:
    try:
        found = drafts(app.workshop)
    except StoreError as error:
        app.say_wrong(str(error))
        return None
    return next((draft for draft in found if draft.path == path.resolve()), None)


def _read(app: WorkbenchApp, path: Path) -> ProjectFile | None:
    try:
        return read_project_file(path)
    except ProjectFileError as error:
        app.say_wrong(str(error))
        return None
