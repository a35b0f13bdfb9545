"""Strokes put in the order of least handling, where that costs no time.

The marks are set as often as before and no sheet is turned more often. One paper is cut up before
the next is taken up, as far as the marks allow, and what is in hand is cut on before anything else
is, as long as the guide stands where it does.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby
from operator import attrgetter

from workbench.craft.direction import Direction
from workbench.planning.result import Cut

_BEAM = 16


def in_hand(cuts: Sequence[Cut], papers: Mapping[str, str]) -> list[Cut]:
    """The same cuts, numbered anew. `papers` by sheet; every part is freed before it is cut."""
    made_by = {part: at for at, cut in enumerate(cuts) for part in cut.takes}
    behind = [
        {made_by[parent] for part in cut.takes if (parent := part.parent) in made_by}
        for cut in cuts
    ]
    strokes = [
        _Stroke(at, cut, papers[cut.takes[0].sheet], frozenset(before))
        for at, (cut, before) in enumerate(zip(cuts, behind, strict=True))
    ]
    settings = [tuple(run) for _, run in groupby(strokes, key=lambda stroke: stroke.cut.mark)]
    found: list[_Stroke] = []
    for setting in _ordered([_Setting(run) for run in settings]):
        for _, phase in groupby(setting.strokes, key=lambda stroke: stroke.cut.measure):
            found += _depth_first(list(phase), found[-1].paper if found else "")
    return [replace(stroke.cut, n=n) for n, stroke in enumerate(found, 1)]


@dataclass(frozen=True, slots=True)
class _Stroke:
    """A stroke, its place in the order that came in, and the places of those it waits for."""

    at: int
    cut: Cut
    paper: str
    behind: frozenset[int]


@dataclass(frozen=True)
class _Setting:
    """All strokes that are made while the guide stands at one mark."""

    strokes: Sequence[_Stroke]

    @cached_property
    def papers(self) -> frozenset[str]:
        return frozenset(stroke.paper for stroke in self.strokes)

    @cached_property
    def ways(self) -> tuple[Direction, Direction]:
        """How the sheets lie at its first stroke and at its last."""
        return self.strokes[0].cut.measure, self.strokes[-1].cut.measure


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


def _depth_first(strokes: Sequence[_Stroke], paper: str) -> Iterator[_Stroke]:
    """Strokes at one mark in one direction: what a stroke frees is cut next; `paper` at first."""
    places = {stroke.at for stroke in strokes}
    waiting = {stroke.at: len(stroke.behind & places) for stroke in strokes}
    freed: dict[int, list[_Stroke]] = defaultdict(list)
    for stroke in strokes:
        for at in stroke.behind & places:
            freed[at].append(stroke)
    ready = _last_first(_by_paper([one for one in strokes if not waiting[one.at]], paper))
    while ready:
        stroke = ready.pop()
        yield stroke
        for other in _last_first(freed[stroke.at]):
            waiting[other.at] -= 1
            if not waiting[other.at]:
                ready.append(other)


def _by_paper(strokes: Sequence[_Stroke], first: str) -> list[_Stroke]:
    """Those of one paper together, that paper `first`, else as they came."""
    places = {first: -1}
    for stroke in strokes:
        places.setdefault(stroke.paper, len(places))
    return sorted(strokes, key=lambda stroke: places[stroke.paper])


def _last_first(strokes: Iterable[_Stroke]) -> list[_Stroke]:
    return list(reversed(list(strokes)))
