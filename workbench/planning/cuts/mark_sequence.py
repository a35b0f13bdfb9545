"""The order of the marks: the fewest settings of the guide, by iterative deepening.

Once the guide stands at a mark, doing every cut there is at it never costs a setting later. So
only the sequence of marks is searched; a state is what is still to be cut. Each mark left is due
once. Marks that wait for one another in a cycle are due once more for each mark that must be taken
out to break all cycles (`feedback_vertex_set`): where that is more than may still be set, the
search goes no further. Among the shortest sequences, one with few turns of the sheet is looked
for by a beam search.
"""

import logging
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import count, islice, product
from operator import itemgetter
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.planning.cuts.precedence import OpenState, Precedence
from workbench.planning.layouts.tree import Node
from workbench.planning.layouts.trimmer import held_at_last
from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.shape import DIRECTIONS

_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Order:
    """The marks in turn. No order needs fewer than `fewest` settings of the guide.

    `begins`: which way the sheets lie at first. `roots`: each layout's root, with a part that must
    be held by cut off last.
    """

    marks: tuple[int, ...]
    begins: Direction
    fewest: int
    roots: Mapping[Node, Node]

    @property
    def proven(self) -> bool:
        """Whether no order needs fewer settings than this one."""
        return len(self.marks) == self.fewest


def fewest_settings(roots: Iterable[Node], hold: int = 0, limits: Limits = DEFAULT) -> Order:
    """The shortest sequence of marks that cuts all of `roots` apart.

    At every stroke one of the two parts is at least `hold` wide, where any order allows that.
    """
    return _ordered(tuple(dict.fromkeys(roots)), hold, limits)


@lru_cache(maxsize=16)
def _ordered(different: tuple[Node, ...], hold: int, limits: Limits) -> Order:
    """As `fewest_settings`: the same layouts are measured, then written."""
    ways = product(*(held_at_last(root, hold, limits.held_orders) for root in different))
    tried = [_shortest(different, trees, limits) for trees in islice(ways, limits.held_orders)]
    best = min(tried, key=lambda order: len(order.marks))
    fewest = min(order.fewest for order in tried)
    if len(tried) == limits.held_orders:
        openings = Precedence(different, limits.broken_marks)
        fewest = min(fewest, openings.least(openings.start))
    return replace(best, fewest=fewest)


def _shortest(roots: Sequence[Node], trees: Sequence[Node], limits: Limits) -> Order:
    openings = Precedence(trees, limits.broken_marks)
    course, fewest = _searched(openings, limits)
    return Order(course.marks, course.begins, fewest, dict(zip(roots, trees, strict=True)))


def _searched(openings: Precedence, limits: Limits) -> tuple["_Course", int]:
    """A sequence as short as can be found, and how short one could be."""
    search = _Search(openings, limits.sequence_states)
    for settings in count(openings.least(openings.start)):
        try:
            marks = search.within(openings.start, settings)
        except _SpentError:
            _log.debug("the order of marks: %d states looked at, made do", limits.sequence_states)
            return _quick(openings, limits.beam), settings
        if marks is not None:
            return _few_turns(openings, settings, limits.beam) or _along(openings, marks), settings
    raise AssertionError


class _SpentError(Exception):
    """Raised when as many states were looked at as is sensible."""


@dataclass
class _Search:
    """Looks for a sequence of a given length, deeper each time it is asked."""

    openings: Precedence
    most: int
    states: int = 0
    hopeless: set[tuple[OpenState, int]] = field(default_factory=set)

    def within(self, state: OpenState, settings: int) -> tuple[int, ...] | None:
        """A sequence of at most so many settings; None if there is none. Raises _SpentError."""
        if not state:
            return ()
        if (state, settings) in self.hopeless or not self.openings.fits(state, settings):
            return None
        self.states += 1
        if self.states > self.most:
            raise _SpentError
        free = self.openings.free(state)
        for mark in self.openings.offered(state) if free is None else (free,):
            after = self.within(self.openings.after(state, mark), settings - 1)
            if after is not None:
                return (mark, *after)
        self.hopeless.add((state, settings))
        return None


class _Course(NamedTuple):
    """The turns of the sheets so far, and the marks, negative so that wide ones come first.

    How the sheets lay at first and how they lie, and what is open.
    """

    turns: int
    negative: tuple[int, ...]
    begins: Direction
    lies: Direction
    state: OpenState

    @property
    def marks(self) -> tuple[int, ...]:
        return tuple(-mark for mark in self.negative)


_rank = itemgetter(0, 1)
"""Few turns first."""


def _begun(openings: Precedence) -> list[_Course]:
    return [_Course(0, (), way, way, openings.start) for way in DIRECTIONS]


def _few_turns(openings: Precedence, settings: int, beam: int) -> _Course | None:
    """A sequence of so many settings with few turns: a beam search, so not always the fewest."""
    courses = _begun(openings)
    for left in reversed(range(settings)):
        further = sorted(_further(openings, courses), key=_rank)
        fitting = (course for course in further if openings.fits(course.state, left))
        courses = list(islice(fitting, beam))
    return courses[0] if courses else None


def _along(openings: Precedence, marks: Iterable[int]) -> _Course:
    """The marks in that order, the sheets lying at first as takes the fewer turns."""
    courses = _begun(openings)
    for mark in marks:
        courses = [_taken(openings, course, mark) for course in courses]
    return min(courses, key=_rank)


def _quick(openings: Precedence, beam: int) -> _Course:
    """A short sequence found without looking far, by always keeping the most promising."""
    courses = _begun(openings)
    while all(course.state for course in courses):
        further = _further(openings, courses)
        ranked = sorted(further, key=lambda course: (openings.left(course.state), _rank(course)))
        courses = ranked[:beam]
    return next(course for course in courses if not course.state)


def _further(openings: Precedence, courses: Iterable[_Course]) -> Iterable[_Course]:
    """Each course taken one setting further in every way; the best of those that meet."""
    found: dict[tuple[OpenState, Direction], _Course] = {}
    for course in courses:
        for mark in openings.offered(course.state):
            further = _taken(openings, course, mark)
            key = further.state, further.lies
            known = found.get(key)
            if known is None or _rank(further) < _rank(known):
                found[key] = further
    return found.values()


def _taken(openings: Precedence, course: _Course, mark: int) -> _Course:
    """The course with the guide set to `mark` next: first all that lies this way, then turned."""
    turns, negative, begins, lies, state = course
    after, phases = openings.cut(state, mark, lies)
    ends = lies if phases % 2 else lies.other
    return _Course(turns + phases - 1, (*negative, -mark), begins, ends, after)
