"""The messages that cross files: what threads and screens tell the screen or app above them."""

from typing import TYPE_CHECKING

from textual.message import Message
from textual.worker import Worker

if TYPE_CHECKING:
    from workbench.app.session import Planned
    from workbench.craft.project import Project
    from workbench.making.events import Event
    from workbench.planning import Plan
    from workbench.store.batch_rows import Batch


class BatchChosen(Message):
    """The maker wants to be at the bench of the batch with that id."""

    def __init__(self, batch_id: int) -> None:
        super().__init__()
        self.batch_id = batch_id


# From the threads of a batch session to the bench


class Opened(Message):
    """The batch was read, or read again."""

    def __init__(self, batch: "Batch") -> None:
        super().__init__()
        self.batch = batch


class Kept(Message):
    """An event is on disk."""

    def __init__(self, event: "Event") -> None:
        super().__init__()
        self.event = event


class Seen(Message):
    """Another window has kept `events` after those that were known."""

    def __init__(self, after: int, events: "tuple[Event, ...]") -> None:
        super().__init__()
        self.after = after
        self.events = events


class Refused(Message):
    """Nothing was written; `why` in words."""

    def __init__(self, why: str) -> None:
        super().__init__()
        self.why = why


# From the thread of the planning worker to the app


class PlanningReported(Message):
    """Something came of the work that `worker` does."""

    def __init__(self, worker: Worker[None]) -> None:
        super().__init__()
        self.worker = worker


class StageBegun(PlanningReported):
    """The planner began a stage."""

    def __init__(self, worker: Worker[None], stage: str) -> None:
        super().__init__(worker)
        self.stage = stage


class PlanFound(PlanningReported):
    """A plan stands, and a better one is looked for."""

    def __init__(self, worker: Worker[None], planned: "Planned") -> None:
        super().__init__(worker)
        self.planned = planned


class PlanningEnded(PlanningReported):
    """The planner came to an end."""

    def __init__(self, worker: Worker[None], planned: "Planned") -> None:
        super().__init__(worker)
        self.planned = planned


class Dealt(PlanningReported):
    """The pieces of a plan are dealt anew: the plan, and the project that says how."""

    def __init__(self, worker: Worker[None], project: "Project", plan: "Plan") -> None:
        super().__init__(worker)
        self.project = project
        self.plan = plan


class LossFound(Message):
    """By other rules, with their plan, cards lose what `lost` says in words."""

    def __init__(self, project: "Project", plan: "Plan", lost: str) -> None:
        super().__init__()
        self.project = project
        self.plan = plan
        self.lost = lost


class DealRefused(PlanningReported):
    """The pieces of the plan cannot be dealt as `asked`; None where the dealing was stopped."""

    def __init__(self, worker: Worker[None], asked: "Project | None", why: str) -> None:
        super().__init__(worker)
        self.asked = asked
        self.why = why
