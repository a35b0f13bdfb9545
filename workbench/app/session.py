"""The project that is open: what it is, what was saved, and what is planned for it."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.planning import Plan
    from workbench.store.project_file import ProjectFile


@dataclass(frozen=True, slots=True)
class Planned:
    """What came of planning `project`: a plan, or the trouble in words.

    `early`: the planning was stopped when it had this plan, and better ones may be possible.
    """

    project: "Project"
    plan: "Plan | None" = None
    trouble: str | None = None
    early: bool = False


Moment = tuple["Project", Planned | None]


@dataclass(frozen=True, slots=True)
class Session:
    """An open project. `path` is None until it has a file of its own, as a sample has not.

    `source` is the file as it was opened, with the maker's notes in it, and `on_disk` what the
    file at `path` held when it was read or saved last. `fresh`: it was made up here, and would be
    lost as it is.

    `past` holds what the project was before each change, with what was planned for it, the last
    one at its end; `future` what was taken back, the first to be made again at its end.
    """

    project: "Project"
    saved: "Project"
    path: Path | None = None
    source: "ProjectFile | None" = None
    on_disk: bytes | None = None
    planned: Planned | None = None
    past: tuple[Moment, ...] = ()
    future: tuple[Moment, ...] = ()
    fresh: bool = False

    @classmethod
    def opened(
        cls, project: "Project", path: Path | None, source: "ProjectFile | None" = None
    ) -> "Session":
        on_disk = source.content if source and path else None
        return cls(project, project, path, source, on_disk)

    @property
    def base(self) -> bytes:
        """What its file held before its changes, or would have held."""
        from workbench.store.dump import project_text

        if self.on_disk is not None:
            return self.on_disk
        return self.source.content if self.source else project_text(self.saved).encode()

    @property
    def changed(self) -> bool:
        """Whether something would be lost if it were closed now."""
        return self.fresh or self.project != self.saved

    @property
    def plan(self) -> "Plan | None":
        """The plan of the project as it stands, None while there is none."""
        return self.planned.plan if self.planned and self.is_planned else None

    @property
    def trouble(self) -> str | None:
        """Why the project as it stands has no plan, in words."""
        return self.planned.trouble if self.planned and self.is_planned else None

    @property
    def is_planned(self) -> bool:
        return self.planned is not None and self.planned.project == self.project

    def with_project(self, project: "Project") -> "Session":
        """The session after a change; what was taken back before cannot be made again."""
        return replace(self, project=project, past=(*self.past, self._now), future=())

    def undone(self) -> "Session":
        """The session with the last change taken back, as it is when there is none."""
        if not self.past:
            return self
        *past, (project, planned) = self.past
        future = (*self.future, self._now)
        return replace(self, project=project, planned=planned, past=tuple(past), future=future)

    def redone(self) -> "Session":
        """The session with the change made again that was taken back last."""
        if not self.future:
            return self
        *future, (project, planned) = self.future
        past = (*self.past, self._now)
        return replace(self, project=project, planned=planned, past=past, future=tuple(future))

    @property
    def _now(self) -> Moment:
        return self.project, self.planned

    def with_planned(self, planned: Planned | None) -> "Session":
        return replace(self, planned=planned)

    def saved_at(self, path: Path, written: "ProjectFile") -> "Session":
        source = self.source or written
        return replace(
            self,
            saved=self.project,
            path=path,
            source=source,
            on_disk=written.content,
            fresh=False,
        )

    def read_again(self, found: "ProjectFile") -> "Session":
        """The session with what another hand made of its file, as a change that can be undone."""
        changed = self.with_project(found.project)
        return replace(changed, saved=found.project, source=found, on_disk=found.content)
