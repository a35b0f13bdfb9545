"""The drawer's sums, held against one another."""

import sqlite3
from collections import defaultdict
from collections.abc import Iterator

from workbench.store import draws


def disagreements(connection: sqlite3.Connection) -> Iterator[str]:
    """Every place where the sums do not agree, in words."""
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
