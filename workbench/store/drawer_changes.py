"""Changes of the drawer by hand, each kept with what was before, so that it can be taken back."""

import json
import secrets
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from workbench.craft.stock import Move, StockPaper, bought, counted_again
from workbench.store.database import Workshop
from workbench.store.drawer_lines import no_paper
from workbench.store.lots import lot_of, move, now
from workbench.store.stock_data import stock_text
from workbench.store.stock_preview import RowPreview

_KEY_BYTES = 6


@dataclass(frozen=True, slots=True)
class Change:
    """What one change does: `before` holds what each paper was, so that it can be taken back."""

    connection: sqlite3.Connection
    id: int
    before: list[tuple[int, list[object] | None]]

    def add(self, stock: StockPaper) -> int:
        """A paper is put in, with its sheets; returns its id."""
        written = self.connection.execute(
            "INSERT INTO papers (key, name, data) VALUES (?, ?, ?)",
            (secrets.token_hex(_KEY_BYTES), stock.paper.name, stock_text(stock)),
        )
        assert written.lastrowid is not None
        self.before.append((written.lastrowid, None))
        whole = lot_of(self.connection, written.lastrowid, None)
        self.move(whole.id, bought(stock.paper.sheets))
        return written.lastrowid

    def take_in(self, row: RowPreview) -> int:
        """A paper of a file is put in, or counted where it is known, and described anew if so told.

        Returns its id.
        """
        assert isinstance(row.read, StockPaper)
        if row.known is None:
            return self.add(row.read)
        if row.fate == "described anew":
            self.describe(row.known, row.read)
        whole = lot_of(self.connection, row.known, None)
        self.move(whole.id, counted_again(whole.counts.on_hand, row.read.paper.sheets))
        return row.known

    def describe(self, paper_id: int, stock: StockPaper) -> None:
        """A paper is described anew. Raises WorkshopError where there is none."""
        self._keep(paper_id)
        self.connection.execute(
            "UPDATE papers SET name = ?, data = ? WHERE id = ?",
            (stock.paper.name, stock_text(stock), paper_id),
        )

    def move(self, lot_id: int, by: Move) -> None:
        """The counts of a lot change. Raises StockShortError."""
        move(self.connection, lot_id, by, change=self.id)

    def set_merged(self, paper_id: int, into: int) -> None:
        """A paper is the paper `into` from here on. Raises WorkshopError where there is none."""
        self._keep(paper_id)
        self.connection.execute("UPDATE papers SET merged = ? WHERE id = ?", (into, paper_id))

    def set_removed(self, paper_id: int) -> None:
        """A paper is in no list any more. Raises WorkshopError where there is none."""
        self._keep(paper_id)
        self.connection.execute("UPDATE papers SET removed = 1 WHERE id = ?", (paper_id,))

    def _keep(self, paper_id: int) -> None:
        row = self.connection.execute(
            "SELECT name, data, removed, merged FROM papers WHERE id = ?", (paper_id,)
        ).fetchone()
        if row is None:
            raise no_paper(str(paper_id))
        self.before.append((paper_id, list(row)))


@contextmanager
def changing(workshop: Workshop, words: str) -> Iterator[Change]:
    """One change by hand, all of it or, where that fails, none; `words` say what it does."""
    with workshop.writing() as connection:
        written = connection.execute(
            "INSERT INTO changes (at, words, papers) VALUES (?, ?, '[]')", (now(), words)
        )
        assert written.lastrowid is not None
        change = Change(connection, written.lastrowid, [])
        yield change
        connection.execute(
            "UPDATE changes SET papers = ? WHERE id = ?",
            (json.dumps(change.before), change.id),
        )


def undo(workshop: Workshop) -> str | None:
    """Take back the last change made by hand; says which, None where there is none.

    Raises:
        StockShortError: where what it brought is not there any more.
    """
    with workshop.writing() as connection:
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


def _restore(connection: sqlite3.Connection, paper_id: int, kept: list[object] | None) -> None:
    if kept is None:  # it was put in: it is as if it had never been
        connection.execute("UPDATE papers SET removed = 1 WHERE id = ?", (paper_id,))
        return
    connection.execute(
        "UPDATE papers SET name = ?, data = ?, removed = ?, merged = ? WHERE id = ?",
        (*kept, paper_id),
    )
