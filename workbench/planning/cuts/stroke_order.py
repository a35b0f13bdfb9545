"""Strokes put in the order of least handling, where that costs no time.

The marks are set as often as before and no sheet is turned more often. One paper is cut up before
the next is taken up, as far as the marks allow, and what is in hand is cut on before anything else
is, as long as the guide stands where it does.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby
from operator import attrgetter
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.measure.length import Length
from workbench.planning.result import Cut, PartId

_BEAM = 16


class Stroke(NamedTuple):
    """A stroke to be made: its place in the order that came in, and the places it waits for.

    All that it `takes` is of one paper, and freed by the strokes `behind` it.
    """

    at: int
    takes: tuple[PartId, ...]
    measure: Direction
    mark: Length
    paper: str
    behind: frozenset[int]


def in_hand(strokes: Sequence[Stroke]) -> list[Cut]:
    """The strokes as numbered cuts. Their places count up; every part is freed before it is cut."""
    settings = [tuple(run) for _, run in groupby(strokes, key=attrgetter("mark"))]
    found: list[Stroke] = []
    for setting in _ordered([_Setting(run) for run in settings]):
        for _, phase in groupby(setting.strokes, key=attrgetter("measure")):
            found += _depth_first(list(phase), found[-1].paper if found else "")
    return [Cut(n, each.takes, each.measure, each.mark) for n, each in enumerate(found, 1)]


@dataclass(frozen=True)
class _Setting:
    """All strokes that are made while the guide stands at one mark."""

    strokes: Sequence[Stroke]

    @cached_property
    def papers(self) -> frozenset[str]:
        return frozenset(stroke.paper for stroke in self.strokes)

    @cached_property
    def ways(self) -> tuple[Direction, Direction]:
        """How the sheets lie at its first stroke and at its last."""
        return self.strokes[0].measure, self.strokes[-1].measure


@dataclass(frozen=True, slots=True)
class _Course:
    """Settings so far, by number: the turns between them, and how often a paper was taken up."""

    settings: tuple[int, ...] = ()
    turns: int = 0
    taken_up: int = 0

    @property
    def rank(self) -> tuple[int, int, tuple[int, ...]]:
        return self.turns, self.taken_up, self.settings


def _ordered(settings: Sequence[_Setting]) -> list[_Setting]:
    """The settings in an order that takes up papers seldom: a beam search."""
    setting_of = {stroke.at: n for n, one in enumerate(settings) for stroke in one.strokes}
    behind = [
        {setting_of[at] for stroke in one.strokes for at in stroke.behind} - {n}
        for n, one in enumerate(settings)
    ]
    as_it_came = _Course()
    for n in range(len(settings)):
        as_it_came = _with(as_it_came, n, settings)
    courses = [_Course()]
    for _ in settings:
        further: dict[tuple[frozenset[int], int], _Course] = {}
        for course in courses:
            done = set(course.settings)
            for n in range(len(settings)):
                if n not in done and behind[n] <= done:
                    _keep_better(further, _with(course, n, settings))
        courses = sorted(further.values(), key=attrgetter("rank"))[:_BEAM]
    best = min(as_it_came, courses[0], key=attrgetter("rank")) if courses else as_it_came
    return [settings[n] for n in best.settings]


def _keep_better(courses: dict[tuple[frozenset[int], int], _Course], course: _Course) -> None:
    key = frozenset(course.settings), course.settings[-1]
    if key not in courses or course.rank < courses[key].rank:
        courses[key] = course


def _with(course: _Course, n: int, settings: Sequence[_Setting]) -> _Course:
    """The course, and setting `n` after it."""
    after = (*course.settings, n)
    if not course.settings:
        return replace(course, settings=after, taken_up=len(settings[n].papers))
    last = settings[course.settings[-1]]
    turned = last.ways[1] is not settings[n].ways[0]
    new = len(settings[n].papers - last.papers)
    return _Course(after, course.turns + turned, course.taken_up + new)


def _depth_first(strokes: Sequence[Stroke], paper: str) -> Iterator[Stroke]:
    """Strokes at one mark in one direction: what a stroke frees is cut next; `paper` at first."""
    first = strokes[0].at
    waiting: dict[int, int] = {}
    freed: dict[int, list[Stroke]] = defaultdict(list)
    for stroke in strokes:
        behind = [at for at in stroke.behind if at >= first]
        waiting[stroke.at] = len(behind)
        for at in behind:
            freed[at].append(stroke)
    ready = _by_paper([one for one in strokes if not waiting[one.at]], paper)[::-1]
    while ready:
        stroke = ready.pop()
        yield stroke
        for other in reversed(freed.get(stroke.at, ())):
            waiting[other.at] -= 1
            if not waiting[other.at]:
                ready.append(other)


def _by_paper(strokes: Sequence[Stroke], first: str) -> list[Stroke]:
    """Those of one paper together, that paper `first`, else as they came."""
    places = {first: -1}
    for stroke in strokes:
        places.setdefault(stroke.paper, len(places))
    return sorted(strokes, key=lambda stroke: places[stroke.paper])
