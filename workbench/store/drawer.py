"""The paper drawer: every paper and offcut that the maker owns, whichever project uses it."""

import json
import secrets
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import NamedTuple

from workbench.craft.paper import Offcut, Paper, Size
from workbench.craft.project import Project
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
from workbench.store import draws
from workbench.store.database import Workshop
from workbench.store.errors import WorkshopError, shown
from workbench.store.least_useful import LEAST_KEY, least_useful, least_useful_kept
from workbench.store.lots import Lot, final_paper, lot, lot_of, move, now
from workbench.store.stock_data import (
    StockData,
    size_kept,
    stock_data,
    stock_paper,
    stock_text,
)
from workbench.store.stock_files import Known, Planned, Preview

_KEY_BYTES = 6
_MOST_DAYS = 36_500
# Thousands of lots have the same few counts.
_counts = lru_cache(maxsize=4096)(Counts)


class PaperLine(NamedTuple):
    """A paper in the list of papers, unchecked, so that thousands are read at once."""

    id: int
    key: str
    data: StockData
    counts: Counts

    @property
    def paper(self) -> StockPaper:
        """The paper, with the sheets that are free. Raises CraftError when it is damaged."""
        return stock_paper(self.data, self.counts.on_hand)


class OffcutLine(NamedTuple):
    """The offcuts of one paper and size. `since` is when one came in last, UTC."""

    id: int
    paper: int
    name: str
    size: str
    counts: Counts
    since: str

    @property
    def measures(self) -> Size:
        """How large each is, its print upright."""
        size = size_kept(self.size)
        assert size
        return size


class Listing(NamedTuple):
    """All that lies in the drawer: papers by name, offcuts by the name of theirs."""

    papers: tuple[PaperLine, ...]
    offcuts: tuple[OffcutLine, ...]


class Origin(NamedTuple):
    """How many offcuts a batch gave into a lot, and when; no batch where it was by hand."""

    batch: int | None
    title: str
    offcuts: int
    at: datetime


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
            return Listing(_papers(connection), _offcuts(connection))

    def papers(self) -> tuple[PaperLine, ...]:
        """Every paper, by name."""
        with self.workshop.reading() as connection:
            return _papers(connection)

    def paper(self, paper_id: int) -> PaperLine:
        """The paper with that id. Raises WorkshopError where there is none."""
        with self.workshop.reading() as connection:
            return _paper(connection, paper_id)

    def find(self, words: str) -> PaperLine:
        """The paper of that number, or else of that name.

        Raises:
            WorkshopError: where there is none, or several of that name.
        """
        with self.workshop.reading() as connection:
            found = _papers(connection, "name = ?", words)
            if not found and words.isascii() and words.isdigit():
                found = _papers(connection, "papers.id = ?", int(words[:18]))
        if len(found) == 1:
            return found[0]
        if not found:
            raise _no_paper(shown(words))
        numbers = ", ".join(str(line.id) for line in found)
        raise WorkshopError(
            "the drawer", f"{len(found)} papers are called {shown(words)}", f"say {numbers}"
        )

    def counts(self, lot_id: int) -> Counts:
        """What became of the sheets, or offcuts, of that lot."""
        with self.workshop.reading() as connection:
            return _lot(connection, lot_id).counts

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
        with self._changing(said) as change:
            return [change.add(stock) for stock in stocks]

    def take_in(self, found: Preview) -> None:
        """Write what a file of stock says, all of it or, where that fails, none.

        Raises:
            WorkshopError: where a row of it is refused.
        """
        if found.refused:
            first = found.refused[0]
            raise WorkshopError(first.place, first.why, "put it right, then take the file in again")
        with self._changing(f"take in {len(found.rows)} rows") as change:
            ids: dict[str, int] = {}
            for row in found.rows:
                if isinstance(row.read, StockPaper):
                    ids.setdefault(row.name, change.take_in(row))
            for row in found.rows:
                if isinstance(row.read, Offcut):
                    paper_id = ids.get(row.read.paper, row.known)
                    assert paper_id
                    there = lot_of(change.connection, paper_id, row.read.size)
                    change.move(there.id, bought(row.read.count))

    def known(self) -> tuple[Known, ...]:
        """Every paper, to see a file of stock beside them."""
        return tuple(Known(line.id, line.paper) for line in self.papers())

    def change(self, paper_id: int, stock: StockPaper) -> None:
        """Describe a paper anew; its counts stay."""
        with self._changing(f"change “{stock.paper.name}”") as change:
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
        with self._changing(f"add {counted(count, 'offcut')} of “{name}”") as change:
            there = lot_of(change.connection, paper_id, size)
            change.move(there.id, bought(count))
            return there.id

    def count_offcuts(self, lot_id: int, found: int) -> None:
        """So many offcuts of a lot lie there, besides those that are reserved."""
        with self._changing(f"count {counted(found, 'offcut')}") as change:
            there = _lot(change.connection, lot_id)
            change.move(lot_id, counted_again(there.counts.on_hand, found))

    def clear_out(self, lot_ids: Iterable[int]) -> int:
        """Throw away all offcuts of these lots that are free; returns how many."""
        cleared = 0
        with self._changing("clear out offcuts") as change:
            for lot_id in lot_ids:
                free = _lot(change.connection, lot_id).counts.on_hand
                change.move(lot_id, thrown_away(free))
                cleared += free
        return cleared

    def split(self, paper_id: int, names: Sequence[str], sheets: int) -> list[int]:
        """Split a pad: `sheets` of it become a paper of each of the names; returns their ids.

        Raises:
            StockShortError: where it has fewer free sheets than that.
        """
        with self._changing(f"split a pad into {len(names)}") as change:
            line = _paper(change.connection, paper_id)
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
        with self._changing(f"merge {len(paper_ids)} papers") as change:
            for paper_id in others:
                for there in _lots(change.connection, paper_id):
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
        with self._changing(f"remove “{name}”") as change:
            for there in _lots(change.connection, paper_id):
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
        with self.workshop.writing() as connection:
            row = connection.execute(
                "SELECT id, words, papers FROM changes WHERE NOT undone ORDER BY id DESC LIMIT 1"
            ).fetchone()
            if row is None:
                return None
            change_id, words, papers = row
            for paper_id, kept in json.loads(papers):
                _restore(connection, paper_id, kept)
            for lot_id, *counts in connection.execute(
                "SELECT lot, bought, on_hand, reserved, used, thrown FROM movements "
                "WHERE change = ? ORDER BY id DESC",
                (change_id,),
            ).fetchall():
                move(connection, lot_id, -Move(*counts))
            connection.execute("UPDATE changes SET undone = 1 WHERE id = ?", (change_id,))
            return str(words)

    # Projects and batches

    def fresh(self, project: Project) -> Project:
        """The project with the sheets and offcuts that are free now, where it took from the drawer.

        A paper that was merged into another is that one from here on; one that this drawer does
        not know, as in a stranger's file, stays as the file says.
        """
        keys = {paper.stock for paper in project.papers if paper.stock}
        if not keys:
            return project
        with self.workshop.reading() as connection:
            free = {key: found for key in keys if (found := _free(connection, key))}
        papers = tuple(
            replace(paper, sheets=free[paper.stock].sheets, stock=free[paper.stock].key)
            if paper.stock in free
            else paper
            for paper in project.papers
        )
        linked = {paper.name: paper.stock for paper in project.papers if paper.stock in free}
        own = [offcut for offcut in project.offcuts if offcut.paper not in linked]
        # Two papers of a project may be one in the drawer: its offcuts are offered once.
        once = {key: name for name, key in reversed(linked.items()) if key}
        drawn = [
            Offcut(once[key], size, count)
            for key in dict.fromkeys(linked.values())
            if key
            for size, count in free[key].offcuts
        ]
        return replace(project, papers=papers, offcuts=(*own, *drawn))

    def matched(self, project: Project) -> Project:
        """The project with the stock that it could draw on, whether or not it says so.

        A paper that it did not take from this drawer is taken for the drawer's of the same name
        and kind; where there is none, there is none of it.
        """
        by_name = {(line.data.name, line.data.kind): line.key for line in reversed(self.papers())}
        keys = {line.key for line in self.papers()}
        papers = tuple(
            paper
            if paper.stock in keys
            else replace(paper, sheets=0, stock=by_name.get((paper.name, paper.kind)))
            for paper in project.papers
        )
        linked = {paper.name for paper in papers if paper.stock}
        offcuts = tuple(one for one in project.offcuts if one.paper in linked)
        return self.fresh(replace(project, papers=papers, offcuts=offcuts))

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
                for line in _offcuts(connection)
                if line.counts.on_hand and (line.since < oldest or not least.keeps(line.measures))
            )

    def taken(self, paper_id: int, name: str | None = None) -> Paper:
        """The paper as a project takes it, under a name of its own where it needs one."""
        line = self.paper(paper_id)
        paper = line.paper.paper
        return replace(paper, name=name or paper.name, stock=line.key)

    def adopt(self, project: Project) -> Project:
        """Put the papers and offcuts of a project in the drawer; returns it with their keys.

        Papers that the drawer knows already, by key or as one that is described alike, are linked
        with it as they are, and their sheets are not counted twice.
        """
        with self._changing(f"adopt the papers of “{project.title}”") as change:
            alike = {line.paper.description.paper: line.key for line in _papers(change.connection)}
            papers = []
            for paper in project.papers:
                if paper.stock and _free(change.connection, paper.stock):
                    papers.append(paper)
                    continue
                bare = replace(paper, sheets=0, stock=None)
                if bare not in alike:
                    paper_id = change.add(StockPaper(replace(paper, stock=None)))
                    for offcut in project.offcuts:
                        if offcut.paper == paper.name:
                            there = lot_of(change.connection, paper_id, offcut.size)
                            change.move(there.id, bought(offcut.count))
                    alike[bare] = _paper(change.connection, paper_id).key
                papers.append(replace(paper, stock=alike[bare]))
        return self.fresh(replace(project, papers=tuple(papers)))

    def adopt_batch(self, batch_id: int) -> Mapping[str, int]:
        """Let a batch made before draw on the drawer from now on.

        What it has used and still needs is taken from the papers that are described alike, and
        what they lack comes in with it. Returns the papers it draws on, by their names in it.
        """
        batch = self.workshop.batch(batch_id)
        project = self.adopt(
            replace(
                batch.project,
                papers=tuple(replace(paper, sheets=0) for paper in batch.project.papers),
                offcuts=(),
            )
        )
        with self.workshop.writing() as connection:
            links = {
                paper.name: found
                for paper in project.papers
                if paper.stock and (found := _id_of(connection, paper.stock)) is not None
            }
            draws.link(connection, batch_id, batch, links, buying=True)
        return links

    def audit(self) -> tuple[str, ...]:
        """Every place where the sums do not agree, in words; nothing where all do.

        Looked at are the counts of each lot, what its movements come to, and whether every batch
        has moved just what it should have by where it stands.
        """
        with self.workshop.reading() as connection:
            connection.execute("BEGIN")
            try:
                return tuple(_audited(connection))
            finally:
                connection.execute("ROLLBACK")

    # Inside

    def _move(self, paper_id: int, words: str, sheets: int, by: Callable[[Counts], Move]) -> None:
        if sheets < 0:
            raise WorkshopError("sheets", f"{sheets} is less than nothing", "give 0 or more")
        name = self.paper(paper_id).data.name
        with self._changing(f"{words.format(sheets)} “{name}”") as change:
            there = lot_of(change.connection, paper_id, None)
            change.move(there.id, by(there.counts))

    @contextmanager
    def _changing(self, words: str) -> Iterator["_Change"]:
        with self.workshop.writing() as connection:
            written = connection.execute(
                "INSERT INTO changes (at, words, papers) VALUES (?, ?, '[]')", (now(), words)
            )
            assert written.lastrowid is not None
            change = _Change(connection, written.lastrowid, [])
            yield change
            connection.execute(
                "UPDATE changes SET papers = ? WHERE id = ?",
                (json.dumps(change.before), change.id),
            )


@dataclass(frozen=True, slots=True)
class _Change:
    """One change by hand: `before` holds what each paper was, so that it can be taken back."""

    connection: sqlite3.Connection
    id: int
    before: list[tuple[int, list[object] | None]]

    def add(self, stock: StockPaper) -> int:
        written = self.connection.execute(
            "INSERT INTO papers (key, name, data) VALUES (?, ?, ?)",
            (secrets.token_hex(_KEY_BYTES), stock.paper.name, stock_text(stock)),
        )
        assert written.lastrowid is not None
        self.before.append((written.lastrowid, None))
        whole = lot_of(self.connection, written.lastrowid, None)
        self.move(whole.id, bought(stock.paper.sheets))
        return written.lastrowid

    def take_in(self, row: Planned) -> int:
        assert isinstance(row.read, StockPaper)
        if row.known is None:
            return self.add(row.read)
        whole = lot_of(self.connection, row.known, None)
        self.move(whole.id, counted_again(whole.counts.on_hand, row.read.paper.sheets))
        return row.known

    def describe(self, paper_id: int, stock: StockPaper) -> None:
        self._keep(paper_id)
        self.connection.execute(
            "UPDATE papers SET name = ?, data = ? WHERE id = ?",
            (stock.paper.name, stock_text(stock), paper_id),
        )

    def move(self, lot_id: int, by: Move) -> None:
        move(self.connection, lot_id, by, change=self.id)

    def set_merged(self, paper_id: int, into: int) -> None:
        self._keep(paper_id)
        self.connection.execute("UPDATE papers SET merged = ? WHERE id = ?", (into, paper_id))

    def set_removed(self, paper_id: int) -> None:
        self._keep(paper_id)
        self.connection.execute("UPDATE papers SET removed = 1 WHERE id = ?", (paper_id,))

    def _keep(self, paper_id: int) -> None:
        row = self.connection.execute(
            "SELECT name, data, removed, merged FROM papers WHERE id = ?", (paper_id,)
        ).fetchone()
        if row is None:
            raise _no_paper(str(paper_id))
        self.before.append((paper_id, list(row)))


class _Free(NamedTuple):
    """What is free of a paper: sheets, and offcuts by size."""

    key: str
    sheets: int
    offcuts: tuple[tuple[Size, int], ...]


def _papers(
    connection: sqlite3.Connection, where: str = "1", *values: object
) -> tuple[PaperLine, ...]:
    rows = connection.execute(
        "SELECT papers.id, key, data, bought, on_hand, reserved, used, thrown FROM papers "
        "JOIN lots ON lots.paper = papers.id AND size = '' "
        f"WHERE NOT removed AND merged IS NULL AND {where} ORDER BY name, papers.id",
        values,
    )
    return tuple(
        PaperLine(paper_id, key, stock_data(data), _counts(*counts))
        for paper_id, key, data, *counts in rows
    )


def _paper(connection: sqlite3.Connection, paper_id: int) -> PaperLine:
    found = _papers(connection, "papers.id = ?", paper_id)
    if not found:
        raise _no_paper(str(paper_id))
    return found[0]


def _offcuts(connection: sqlite3.Connection) -> tuple[OffcutLine, ...]:
    rows = connection.execute(
        "SELECT lots.id, paper, name, size, since, bought, on_hand, reserved, used, thrown "
        "FROM lots JOIN papers ON papers.id = paper "
        "WHERE size != '' AND on_hand + reserved > 0 AND NOT removed AND merged IS NULL "
        "ORDER BY name, paper, lots.id"
    )
    return tuple(
        OffcutLine(lot_id, paper, name, size, _counts(*counts), since)
        for lot_id, paper, name, size, since, *counts in rows
    )


def _lots(connection: sqlite3.Connection, paper_id: int) -> list[Lot]:
    rows = connection.execute("SELECT id FROM lots WHERE paper = ?", (paper_id,)).fetchall()
    return [lot(connection, lot_id) for (lot_id,) in rows]


def _lot(connection: sqlite3.Connection, lot_id: int) -> Lot:
    if not connection.execute("SELECT 1 FROM lots WHERE id = ?", (lot_id,)).fetchone():
        raise WorkshopError("the drawer", f"it has no lot {lot_id}", "choose one from its list")
    return lot(connection, lot_id)


def _id_of(connection: sqlite3.Connection, key: str) -> int | None:
    row = connection.execute("SELECT id FROM papers WHERE key = ?", (key,)).fetchone()
    return final_paper(connection, row[0]) if row else None


def _free(connection: sqlite3.Connection, key: str) -> _Free | None:
    paper_id = _id_of(connection, key)
    if paper_id is None:
        return None
    (own_key,) = connection.execute("SELECT key FROM papers WHERE id = ?", (paper_id,)).fetchone()
    rows = connection.execute(
        "SELECT size, on_hand FROM lots WHERE paper = ? AND (size = '' OR on_hand > 0)", (paper_id,)
    )
    sizes = {size_kept(size): count for size, count in rows}
    sheets = sizes.pop(None, 0)
    offcuts = tuple((size, count) for size, count in sizes.items() if size)
    return _Free(own_key, sheets, offcuts)


def _restore(connection: sqlite3.Connection, paper_id: int, kept: list[object] | None) -> None:
    if kept is None:  # it was put in: it is as if it had never been
        connection.execute("UPDATE papers SET removed = 1 WHERE id = ?", (paper_id,))
        return
    connection.execute(
        "UPDATE papers SET name = ?, data = ?, removed = ?, merged = ? WHERE id = ?",
        (*kept, paper_id),
    )


def _audited(connection: sqlite3.Connection) -> Iterator[str]:
    moved: dict[int, tuple[int, ...]] = defaultdict(lambda: (0, 0, 0, 0, 0))
    for lot_id, *sums in connection.execute(
        "SELECT lot, sum(bought), sum(on_hand), sum(reserved), sum(used), sum(thrown) "
        "FROM movements GROUP BY lot"
    ):
        moved[lot_id] = tuple(sums)
    for lot_id, name, *counts in connection.execute(
        "SELECT lots.id, name, bought, on_hand, reserved, used, thrown FROM lots "
        "JOIN papers ON papers.id = paper"
    ):
        if counts[0] != sum(counts[1:]) or min(counts) < 0:
            yield f"“{name}” (lot {lot_id}): its counts do not add up"
        if moved[lot_id] != tuple(counts):
            yield f"“{name}” (lot {lot_id}): its movements come to something else"
    drawing = connection.execute("SELECT id, title FROM batches WHERE done IS NOT NULL").fetchall()
    for batch_id, title in drawing:
        if wrong := draws.disagreement(connection, batch_id):
            yield f"batch {batch_id}, “{title}”: {wrong}"


def _no_paper(which: str) -> WorkshopError:
    return WorkshopError("the drawer", f"it has no paper {which}", "choose one from its list")


def _said(verb: str, names: Sequence[str]) -> str:
    return f"{verb} “{names[0]}”" if len(names) == 1 else f"{verb} {len(names)} papers"
