"""The paper drawer: every paper and offcut that the maker owns, whichever project uses it."""

import json
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from workbench.craft.paper import Offcut, Size
from workbench.craft.stock import (
    Counts,
    LeastUseful,
    Move,
    StockPaper,
    bought,
    counted_again,
    thrown_away,
    used,
)
from workbench.measure.counting import counted
from workbench.store.database import Workshop
from workbench.store.drawer_audit import disagreements
from workbench.store.drawer_changes import changing, undo
from workbench.store.drawer_lines import (
    Listing,
    OffcutLine,
    Origin,
    PaperLine,
    all_offcuts,
    all_papers,
    lots_of,
    no_paper,
    one_lot,
    one_paper,
)
from workbench.store.errors import WorkshopError, shown
from workbench.store.least_useful import LEAST_KEY, least_useful, least_useful_kept
from workbench.store.lots import lot_of
from workbench.store.stock_data import size_kept
from workbench.store.stock_preview import Known, Preview

_MOST_DAYS = 36_500


@dataclass(frozen=True, slots=True)
class Drawer:
    """The drawer of a workshop. Everything changed is on disk when a method returns.

    Raises:
        WorkshopError: by every method, when the file cannot be used.
    """

    workshop: Workshop

    # What there is

    def listing(self) -> Listing:
        """All papers and all offcuts on hand or reserved, by name."""
        with self.workshop.reading() as connection:
            return Listing(all_papers(connection), all_offcuts(connection))

    def papers(self) -> tuple[PaperLine, ...]:
        """Every paper, by name."""
        with self.workshop.reading() as connection:
            return all_papers(connection)

    def paper(self, paper_id: int) -> PaperLine:
        """The paper with that id. Raises WorkshopError where there is none."""
        with self.workshop.reading() as connection:
            return one_paper(connection, paper_id)

    def find(self, words: str) -> PaperLine:
        """The paper of that number, or else of that name.

        Raises:
            WorkshopError: where there is none, or several of that name.
        """
        with self.workshop.reading() as connection:
            found = all_papers(connection, "name = ?", words)
            if not found and words.isascii() and words.isdigit():
                found = all_papers(connection, "papers.id = ?", int(words[:18]))
            names = [line.data.name for line in all_papers(connection)] if not found else []
        if len(found) == 1:
            return found[0]
        if not found:
            raise no_paper(words, names)
        numbers = ", ".join(str(line.id) for line in found)
        raise WorkshopError(
            "the drawer", f"{len(found)} papers are called {shown(words)}", f"say {numbers}"
        )

    def counts(self, lot_id: int) -> Counts:
        """What became of the sheets, or offcuts, of that lot."""
        with self.workshop.reading() as connection:
            return one_lot(connection, lot_id).counts

    def origins(self, lot_id: int) -> tuple[Origin, ...]:
        """Where the offcuts of a lot came from, the latest first."""
        with self.workshop.reading() as connection:
            rows = connection.execute(
                "SELECT batch, coalesce(title, ''), sum(bought), max(at) FROM movements "
                "LEFT JOIN batches ON batches.id = batch WHERE lot = ? "
                "GROUP BY batch HAVING sum(bought) > 0 ORDER BY max(at) DESC",
                (lot_id,),
            )
            return tuple(
                Origin(batch, title, offcuts, datetime.fromisoformat(at))
                for batch, title, offcuts, at in rows
            )

    # What is changed by hand, each of which can be taken back

    def add(self, stock: StockPaper) -> int:
        """Put a paper in, with its sheets; returns its id."""
        return self.add_all([stock])[0]

    def add_all(self, stocks: Sequence[StockPaper], words: str = "") -> list[int]:
        """Put papers in, all of them or, where that fails, none; returns their ids."""
        said = words or _said("add", [stock.paper.name for stock in stocks])
        with changing(self.workshop, said) as change:
            return [change.add(stock) for stock in stocks]

    def take_in(self, found: Preview) -> None:
        """Write what a file of stock says, all of it or, where that fails, none.

        Raises:
            WorkshopError: where a row of it is refused.
        """
        if found.refused:
            first = found.refused[0]
            raise WorkshopError(first.place, first.why, "put it right, then take the file in again")
        with changing(self.workshop, f"take in {counted(len(found.rows), 'row')}") as change:
            ids: dict[str, int] = {}
            for row in found.rows:
                if isinstance(row.read, StockPaper):
                    ids.setdefault(row.name, change.take_in(row))
            lie: Counter[tuple[int, Size]] = Counter()
            for row in found.rows:
                if isinstance(row.read, Offcut):
                    paper_id = ids.get(row.read.paper, row.known)
                    assert paper_id
                    lie[paper_id, row.read.size] += row.read.count
            for (paper_id, size), count in lie.items():
                there = lot_of(change.connection, paper_id, size)
                change.move(there.id, counted_again(there.counts.on_hand, count))

    def known(self) -> tuple[Known, ...]:
        """Every paper, to see a file of stock beside them."""
        listing = self.listing()
        offcuts: dict[int, dict[Size, int]] = {}
        for line in listing.offcuts:
            offcuts.setdefault(line.paper, {})[line.measures] = line.counts.on_hand
        return tuple(
            Known(line.id, line.paper, offcuts.get(line.id, {})) for line in listing.papers
        )

    def change(self, paper_id: int, stock: StockPaper) -> None:
        """Describe a paper anew; its counts stay."""
        with changing(self.workshop, f"change “{stock.paper.name}”") as change:
            change.describe(paper_id, stock)

    def buy(self, paper_id: int, sheets: int) -> None:
        """More sheets of a paper come in."""
        self._move(paper_id, "buy {} of", sheets, lambda _: bought(sheets))

    def use(self, paper_id: int, sheets: int) -> None:
        """Sheets are used without a batch."""
        self._move(paper_id, "use {} of", sheets, lambda _: used(sheets))

    def throw(self, paper_id: int, sheets: int) -> None:
        """Sheets are thrown away."""
        self._move(paper_id, "throw away {} of", sheets, lambda _: thrown_away(sheets))

    def count(self, paper_id: int, found: int) -> None:
        """So many sheets lie there, besides those that are reserved."""
        self._move(
            paper_id, "count {} of", found, lambda there: counted_again(there.on_hand, found)
        )

    def add_offcuts(self, paper_id: int, size: Size, count: int) -> int:
        """Offcuts of a paper come in; like ones lie together. Returns the id of their lot."""
        name = self.paper(paper_id).data.name
        with changing(self.workshop, f"add {counted(count, 'offcut')} of “{name}”") as change:
            there = lot_of(change.connection, paper_id, size)
            change.move(there.id, bought(count))
            return there.id

    def count_offcuts(self, lot_id: int, found: int) -> None:
        """So many offcuts of a lot lie there, besides those that are reserved."""
        with changing(self.workshop, f"count {counted(found, 'offcut')}") as change:
            there = one_lot(change.connection, lot_id)
            change.move(lot_id, counted_again(there.counts.on_hand, found))

    def clear_out(self, lot_ids: Iterable[int]) -> int:
        """Throw away all offcuts of these lots that are free; returns how many."""
        cleared = 0
        with changing(self.workshop, "clear out offcuts") as change:
            for lot_id in lot_ids:
                free = one_lot(change.connection, lot_id).counts.on_hand
                change.move(lot_id, thrown_away(free))
                cleared += free
        return cleared

    def split(self, paper_id: int, names: Sequence[str], sheets: int) -> list[int]:
        """Split a pad: `sheets` of it become a paper of each of the names; returns their ids.

        Raises:
            StockShortError: where it has fewer free sheets than that.
        """
        with changing(self.workshop, f"split a pad into {len(names)}") as change:
            line = one_paper(change.connection, paper_id)
            whole = lot_of(change.connection, paper_id, None)
            out = len(names) * sheets
            change.move(whole.id, Move(bought=-out, on_hand=-out))
            stock = line.paper
            pad = stock.pad or stock.paper.name
            parts = [
                replace(stock, paper=replace(stock.paper, name=name, sheets=sheets), pad=pad)
                for name in names
            ]
            return [change.add(part) for part in parts]

    def merge(self, paper_ids: Sequence[int]) -> int:
        """Make one paper of several that are the same; returns the id of the first, which stays.

        What batches have reserved of the others stays theirs, and goes on to the first when it
        comes back.
        """
        first, *others = paper_ids
        with changing(self.workshop, f"merge {len(paper_ids)} papers") as change:
            for paper_id in others:
                for there in lots_of(change.connection, paper_id):
                    free = there.counts.on_hand
                    size = size_kept(there.size)
                    change.move(there.id, Move(bought=-free, on_hand=-free))
                    change.move(lot_of(change.connection, first, size).id, bought(free))
                change.set_merged(paper_id, first)
        return first

    def remove(self, paper_id: int) -> None:
        """Take a paper out of the lists; what was free of it counts as thrown away.

        Raises:
            WorkshopError: while a batch has sheets of it reserved.
        """
        name = self.paper(paper_id).data.name
        with changing(self.workshop, f"remove “{name}”") as change:
            for there in lots_of(change.connection, paper_id):
                if there.counts.reserved:
                    raise WorkshopError(
                        f"“{name}”",
                        f"a batch has {there.counts.reserved} of it reserved",
                        "finish or abandon that batch first",
                    )
                change.move(there.id, thrown_away(there.counts.on_hand))
            change.set_removed(paper_id)

    def undo(self) -> str | None:
        """Take back the last change made by hand; says which, None where there is none.

        Raises:
            StockShortError: where what it brought is not there any more.
        """
        return undo(self.workshop)

    # What is worth keeping, and whether all agrees

    @property
    def least_useful(self) -> LeastUseful:
        """The smallest offcut that batches begun from now on give back."""
        kept = self.workshop.preference(LEAST_KEY) if self.workshop.exists else None
        return least_useful(None if kept is None else json.dumps(kept))

    def keep_least_useful(self, least: LeastUseful) -> None:
        """Let batches begun from now on give back only what is no smaller than that."""
        self.workshop.set_preference(LEAST_KEY, least_useful_kept(least))

    def not_worth_keeping(self, days: int) -> tuple[OffcutLine, ...]:
        """The free offcuts that are below the least useful size, or older than so many days."""
        if not 0 <= days <= _MOST_DAYS:
            raise WorkshopError("days", f"{days} cannot be told", f"give 0 to {_MOST_DAYS}")
        least = self.least_useful
        oldest = (datetime.now(UTC) - timedelta(days=days)).isoformat()
        with self.workshop.reading() as connection:
            return tuple(
                line
                for line in all_offcuts(connection)
                if line.counts.on_hand and (line.since < oldest or not least.keeps(line.measures))
            )

    def audit(self) -> tuple[str, ...]:
        """Every place where the sums do not agree, in words; nothing where all do.

        Looked at are the counts of each lot, what its movements come to, and whether every batch
        has moved just what it should have by where it stands.
        """
        with self.workshop.reading() as connection:
            connection.execute("BEGIN")
            try:
                return tuple(disagreements(connection))
            finally:
                connection.execute("ROLLBACK")

    # Inside

    def _move(self, paper_id: int, words: str, sheets: int, by: Callable[[Counts], Move]) -> None:
        if sheets < 0:
            raise WorkshopError("sheets", f"{sheets} is less than nothing", "give 0 or more")
        name = self.paper(paper_id).data.name
        with changing(self.workshop, f"{words.format(sheets)} “{name}”") as change:
            there = lot_of(change.connection, paper_id, None)
            change.move(there.id, by(there.counts))


def _said(verb: str, names: Sequence[str]) -> str:
    return f"{verb} “{names[0]}”" if len(names) == 1 else f"{verb} {len(names)} papers"
