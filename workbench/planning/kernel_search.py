"""Good answers of a large integer program soon, by way of small ones.

A column that the relaxed program uses, or a known answer, belongs to the *kernel*; the others, the
cheapest by reduced cost first, are put in *buckets*. The program is solved with the columns of the
kernel alone, then with those of a bucket too, beginning with the best answer.

Source: kernel search (Angelelli, Mansini and Speranza, Computers & Operations Research 37 (2010)
2017-2026).
"""

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

from workbench.planning.limits import Effort
from workbench.planning.milp import NEARLY, Milp, MilpResult
from workbench.planning.progress import Watch


def kernel_search(
    program: Milp,
    columns: Collection[int],
    watch: Watch,
    effort: Effort,
    buckets: Sequence[int],
    *,
    start: MilpResult | None = None,
    also: Collection[int] = (),
    without: Collection[int] = (),
    relaxed: MilpResult | None = None,
    else_none: bool = False,
) -> MilpResult:
    """The best answer found, each small program tried with `effort`.

    `buckets` say how many columns beyond the kernel each has, as a multiple of the kernel's. Only
    of the `columns` are some left out: all others, and those in `also`, are in every kernel, but
    for those `without` which all is tried: none of these may be among `columns`, nor used by
    `start`. Where the kernel alone has no answer, larger ones are tried, unless it is `else_none`.

    The answer's `bound` is that of the relaxed program, which need not be solved where its answer
    is given; nearer to it than the effort's gap is "optimal". Infeasible is said only of the whole
    program; where merely no answer was found, it is "stopped" without one.

    Raises:
        Cancelled: the watch stopped it.
    """
    if relaxed is None:
        relaxed = program.solve_relaxation(watch, without)
    if not relaxed.found:
        return relaxed
    best = start or MilpResult("stopped", math.inf, relaxed.bound)
    kernel = {c for c in columns if c in also or _used(relaxed, c) or _used(best, c)}
    others = sorted(set(columns) - kernel, key=lambda column: (relaxed.reduced[column], column))
    for share in buckets:
        if best.near(relaxed.value, effort.gap) or (share and else_none and not best.found):
            break
        left_out = [*others[share * len(kernel) :], *without]
        enough = effort.over(min(len(columns), (1 + share) * len(kernel)))
        found = program.solve(watch, enough, best if best.found else None, without=left_out)
        if found.found and found.value < best.value:
            best = found
        if len(left_out) == len(without):
            break
    near = best.near(relaxed.value, effort.gap)
    return replace(best, verdict="optimal" if near else "stopped", bound=relaxed.value)


def _used(answer: MilpResult, column: int) -> bool:
    return answer.found and answer.values[column] > NEARLY
