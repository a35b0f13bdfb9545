"""The unsaved changes of the open project: kept in the workshop shortly after each of them."""

from collections.abc import Callable
from threading import Lock
from typing import TYPE_CHECKING

from textual.app import App

from workbench.app.session import Session

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.store.database import Workshop

# A stroke of keys makes one draft; whoever cuts the power is seldom quicker.
AFTER_SECONDS = 0.3


class Autosave:
    """Follows the session; a draft of it is written in a thread of `app`, and dropped at once.

    `workshop` gives the workshop to keep it in, `say_wrong` tells the maker what went wrong.
    """

    def __init__(
        self, app: App[None], workshop: "Callable[[], Workshop]", say_wrong: Callable[[str], None]
    ) -> None:
        self._app, self._workshop, self._say_wrong = app, workshop, say_wrong
        self._writing = Lock()
        self._waiting = False
        self._session: Session | None = None
        # What its draft is called: each session has its own, so that no window harms another's.
        self._own = ""
        # The draft that there is on disk of the changes, and which of them it holds.
        self._key: str | None = None
        self._kept: Project | None = None

    def begin(self, key: str | None = None) -> None:
        """Another project is opened, out of the draft called `key` where there is one."""
        from uuid import uuid4

        with self._writing:
            self._key, self._kept = key, None
            self._own = uuid4().hex

    def follow(self, session: Session | None) -> None:
        """The session has changed."""
        self._session = session
        if session and not self._waiting:
            self._waiting = True
            self._app.set_timer(AFTER_SECONDS, self._begin_writing)

    def finish(self) -> None:
        """Keep at once what was not kept yet, as nothing will be after this."""
        if self._session:
            self._keep()

    def drop(self) -> None:
        """Nothing of the session is unsaved any more, or what is shall be forgotten."""
        self._session = None
        self._keep()

    def _begin_writing(self) -> None:
        self._waiting = False
        self._app.run_worker(self._keep, thread=True, group="drafts")

    def _keep(self) -> None:
        """Let what is on disk be as the session is; nothing is written where it is already."""
        from workbench.store.errors import StoreError

        with self._writing:
            session = self._session
            try:
                if session and session.changed:
                    self._keep_changes(session)
                elif self._key is not None:
                    self._forget(self._key)
                    self._key = self._kept = None
            except StoreError as error:
                self._app.call_later(self._say_wrong, str(error))

    def _keep_changes(self, session: Session) -> None:
        from workbench.store.drafts import keep_draft

        if session.project is self._kept:
            return
        keep_draft(self._workshop(), self._own, session.path, session.project, session.base)
        if self._key not in (None, self._own):
            self._forget(self._key)
        self._key, self._kept = self._own, session.project

    def _forget(self, key: str) -> None:
        from workbench.store.drafts import drop_draft

        drop_draft(self._workshop(), key)
