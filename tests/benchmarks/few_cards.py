"""Batches of a few cards, as most evenings have them: how long the least time takes to find."""

import statistics
import time

from tests.benchmarks.batches import batch, scaled
from tests.benchmarks.tables import Table
from workbench.planning.driver import make_plan
from workbench.planning.result import table_work

MOST_PIECES = 16


def few_cards(seeds: range) -> Table:
    """The random batches made so small; processor seconds, and how many cannot be quicker."""
    seconds, proven = [], 0
    for seed in seeds:
        begun = time.process_time()
        plan = make_plan(scaled(batch(seed), MOST_PIECES))
        seconds.append(time.process_time() - begun)
        proven += table_work(plan.cuts).seconds(plan.pace) == plan.totals.least_table_seconds
    shares = statistics.quantiles(seconds, n=20)
    table = Table(
        f"{len(seconds)} batches of at most {MOST_PIECES} pieces",
        ["half within", "95 of 100 within", "all within", "proven the quickest"],
    )
    table.rows.append([f"{s:.2f} s" for s in (shares[9], shares[18], max(seconds))] + [f"{proven}"])
    return table
