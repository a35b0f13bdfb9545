"""What was made: finished batches as they are told and counted."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from workbench.craft.money import Price
from workbench.making.batch import replay
from workbench.making.costs import Cost, PaperCost, cost_of, waste_share
from workbench.making.history import History, history_of
from workbench.making.plan_index import PlanIndex
from workbench.store.batch_rows import Batch
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.pricing import pricing_of


@dataclass(frozen=True, slots=True)
class Made:
    """One finished batch.

    Attributes:
        id: its number in the workshop.
        title: of its project.
        finished: when its last step was ticked, UTC.
        cards: how many.
        sheets: how many sheets it opened.
        waste: the part of their paper that is on no card and no offcut.
        minutes: at the table.
        papers: by name.
        looks: how many cards of which no two are alike.
        slips: what went wrong, in words.
        notes: what the maker noted.
        recipients: who got which card, by its number.
    """

    id: int
    title: str
    finished: datetime
    cards: int
    sheets: int
    waste: Fraction
    minutes: int
    papers: tuple[str, ...]
    looks: int
    slips: tuple[str, ...]
    notes: tuple[str, ...]
    recipients: dict[int, str]


@dataclass(frozen=True, slots=True)
class MadeFigures:
    """What was made in a month, or a year."""

    cards: int = 0
    sheets: int = 0
    wasted: Fraction = Fraction()
    minutes: int = 0

    @property
    def waste(self) -> Fraction:
        """The part of all sheets that went to waste."""
        return self.wasted / self.sheets if self.sheets else Fraction()

    def plus(self, made: Made) -> "MadeFigures":
        """The figures with one more batch."""
        return MadeFigures(
            self.cards + made.cards,
            self.sheets + made.sheets,
            self.wasted + made.waste * made.sheets,
            self.minutes + made.minutes,
        )


def all_made(workshop: Workshop) -> Iterator[Made]:
    """Every finished batch, the last first, one after the other as it is read."""
    for line in workshop.batches():
        if line.finished:
            yield made_of(line.id, workshop.batch(line.id), recipients(workshop, line.id))


def made_of(batch_id: int, batch: Batch, given: dict[int, str]) -> Made:
    """A finished batch told."""
    index, history = worked(batch)
    plan = index.plan
    return Made(
        batch_id,
        batch.project.title,
        history.finished or batch.started,
        plan.cards,
        plan.totals.sheets,
        waste_share(index),
        history.minutes,
        tuple(dict.fromkeys(sheet.paper for sheet in plan.sheets)),
        plan.different,
        tuple(f"{one.slip}: {one.way}" for one in history.recoveries),
        history.notes,
        given,
    )


def worked(batch: Batch) -> tuple[PlanIndex, History]:
    """The batch as it is worked by now, and its record."""
    index = PlanIndex(batch.project, batch.plan).after(replay(batch.plan, batch.events))
    return index, history_of(batch.started, batch.project, batch.plan, batch.events)


def batch_cost(drawer: Drawer, batch: Batch, by: PaperCost = "by area") -> Cost:
    """What a batch costs, its papers priced as in the drawer now. Raises CraftError."""
    index, history = worked(batch)
    words = {line.key: line.data.price for line in drawer.papers() if line.data.price}
    prices = {
        paper.name: Price.read(words[paper.stock])
        for paper in index.project.papers
        if paper.stock in words
    }
    return cost_of(index, prices, pricing_of(drawer.workshop), history.minutes, by)


def by_month(made: Iterable[Made], year: int) -> tuple[MadeFigures, ...]:
    """The figures of each month of a year, in the time of this computer's place."""
    months = [MadeFigures() for _ in range(12)]
    for each in made:
        when = each.finished.astimezone()
        if when.year == year:
            months[when.month - 1] = months[when.month - 1].plus(each)
    return tuple(months)


def of_year(months: Iterable[MadeFigures]) -> MadeFigures:
    """All months together."""
    whole = MadeFigures()
    for month in months:
        whole = MadeFigures(
            whole.cards + month.cards,
            whole.sheets + month.sheets,
            whole.wasted + month.wasted,
            whole.minutes + month.minutes,
        )
    return whole


def recipients(workshop: Workshop, batch_id: int) -> dict[int, str]:
    """Who got which card of a batch, by the number of the card."""
    with workshop.reading() as connection:
        rows = connection.execute(
            "SELECT card, name FROM recipients WHERE batch = ? ORDER BY card", (batch_id,)
        )
        return dict(rows.fetchall())


def give(workshop: Workshop, batch_id: int, card: int, name: str) -> None:
    """Keep who got a card; no name forgets it."""
    with workshop.writing() as connection:
        connection.execute("DELETE FROM recipients WHERE batch = ? AND card = ?", (batch_id, card))
        if name:
            connection.execute("INSERT INTO recipients VALUES (?, ?, ?)", (batch_id, card, name))
