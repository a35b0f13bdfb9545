"""What cut must wait for what, as layouts are cut apart: marks due, marks ready, who waits.

A cut inside a part waits for the cut that frees the part. As a graph: nodes are marks, with an
arrow from a mark to every mark that some cut waits for it at.
"""

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from workbench.craft.direction import Direction
from workbench.planning.cuts.feedback_vertex_set import apart, fewest_broken
from workbench.planning.layouts.node_table import NodeTable, Open
from workbench.planning.layouts.tree import Node, marks_of

OpenState = frozenset[int]


class Outlook(NamedTuple):
    """The marks that can be set now, and all that are due, one bit each.

    `waiting`: for each mark in turn as many bits, for those with cuts that wait for it.
    """

    offered: int
    due: int
    waiting: int

    def __or__(self, other: "Outlook") -> "Outlook":
        return _together((self, other))


def _together(outlooks: Iterable[Outlook]) -> Outlook:
    offered = due = waiting = 0
    for now, some_time, behind in outlooks:
        offered |= now
        due |= some_time
        waiting |= behind
    return Outlook(offered, due, waiting)


_NOTHING = Outlook(0, 0, 0)


class Precedence:
    """Layouts being cut apart together. A state numbers what is open of each; {} is the end."""

    def __init__(self, roots: Iterable[Node], broken_marks: int) -> None:
        roots = list(roots)
        self._broken_marks = broken_marks
        self.trees = NodeTable()
        self.marks = sorted({mark for root in roots for mark in marks_of(root)})
        self._bits = {mark: 1 << place for place, mark in enumerate(self.marks)}
        self._places: list[Open] = []
        self._offers: list[int] = []
        self._numbers: dict[Open, int] = {}
        self._of_place = cache(self._place_outlook)
        self._of_node = cache(self._node_outlook)
        self._left = cache(self._place_left)
        self._on = cache(self._place_after)
        self._phases = cache(self._place_phases)
        self._node_phases = cache(self._phases_of_node)
        self._outlook = cache(self._state_outlook)
        self._circles = cache(self._circles_apart)
        self.fits = cache(self._fits)
        self.start = self._state(frozenset((self.trees.number(root),)) for root in roots)

    def _state(self, places: Iterable[Open]) -> OpenState:
        found = set()
        for place in places:
            chains = frozenset(number for number in place if self.trees.chain(number))
            if chains:
                if chains not in self._numbers:
                    self._numbers[chains] = len(self._places)
                    self._places.append(chains)
                    self._offers.append(self._offer(chains))
                found.add(self._numbers[chains])
        return frozenset(found)

    def _offer(self, chains: Open) -> int:
        """The marks that one of them can be cut at now."""
        found = 0
        for number in chains:
            chain = self.trees.chain(number)
            for mark, _ in chain.cuts if chain else ():
                found |= self._bits[mark]
        return found

    def _touched(self, state: OpenState, mark: int) -> list[int]:
        """What of it is cut at the mark if that is set now; all else stays as it is."""
        bit, offers = self._bits[mark], self._offers
        return [place for place in state if offers[place] & bit]

    def offered(self, state: OpenState) -> list[int]:
        """The marks that something can be cut at now, the widest first."""
        bits = self._outlook(state).offered
        return [mark for mark in reversed(self.marks) if bits & self._bits[mark]]

    def free(self, state: OpenState) -> int | None:
        """A mark due at which all can be cut now: to set it next is never wrong."""
        outlook = self._outlook(state)
        held_up = 0
        for behind in self._rows(outlook.waiting):
            held_up |= behind
        ready = outlook.due & ~held_up
        return self.marks[ready.bit_length() - 1] if ready else None

    def least(self, state: OpenState) -> int:
        """A number of settings that no order goes below."""
        outlook = self._outlook(state)
        return outlook.due.bit_count() + fewest_broken(
            self._rows(outlook.waiting), self._broken_marks
        )

    def _fits(self, state: OpenState, settings: int) -> bool:
        """False if so many settings are too few for sure."""
        outlook = self._outlook(state)
        spare = settings - outlook.due.bit_count()
        return spare >= 0 and not self._circles(outlook.waiting, spare + 1)

    def _circles_apart(self, waiting: int, circles: int) -> bool:
        return apart(self._rows(waiting), circles)

    def left(self, state: OpenState) -> int:
        """How many marks are due, layout by layout."""
        return sum(map(self._left, state))

    def _rows(self, waiting: int) -> list[int]:
        size = len(self.marks)
        full = (1 << size) - 1
        return [waiting >> place * size & full for place in range(size)]

    def after(self, state: OpenState, mark: int) -> OpenState:
        """What is open once every cut at `mark` is made, those it opens among them."""
        return self._opened(state, self._touched(state, mark), mark)

    def cut(self, state: OpenState, mark: int, lies: Direction) -> tuple[OpenState, int]:
        """What is open after every cut at `mark`, and how many times the sheets lie one way.

        `lies`: how they lie at first.
        """
        touched = self._touched(state, mark)
        phases = [self._phases(place, mark, lies) for place in touched]
        return self._opened(state, touched, mark), max(phases, default=0)

    def _opened(self, state: OpenState, touched: Iterable[int], mark: int) -> OpenState:
        return state.difference(touched).union(*[self._on(place, mark) for place in touched])

    # One layout

    def _place_left(self, place: int) -> int:
        return self._of_place(place).due.bit_count()

    def _place_after(self, place: int, mark: int) -> OpenState:
        opened = (self.trees.after(number, mark) for number in self._places[place])
        return self._state([frozenset[int]().union(*opened)])

    def _place_phases(self, place: int, mark: int, lies: Direction) -> int:
        return max(self._node_phases(number, mark, lies) for number in self._places[place])

    def _state_outlook(self, state: OpenState) -> Outlook:
        return _together(map(self._of_place, state))

    def _place_outlook(self, place: int) -> Outlook:
        return _together(map(self._of_node, self._places[place]))

    # One rectangle

    def _phases_of_node(self, number: int, mark: int, lies: Direction) -> int:
        chain = self.trees.chain(number)
        if chain is None or not self.trees.has(number, mark):
            return 0
        if chain.direction != lies:
            return 1 + self._node_phases(number, mark, lies.other)
        halves = self.trees.halves(number, mark)
        return max(1, *(self._node_phases(half, mark, lies) for half in halves))

    def _node_outlook(self, number: int) -> Outlook:
        chain = self.trees.chain(number)
        if chain is None:
            return _NOTHING
        own = [self._bits[mark] for mark, _ in chain.cuts]
        offered = 0
        for bit in own:
            offered |= bit
        found = _NOTHING
        for bit, (_, first) in zip(own, chain.cuts, strict=True):
            found |= self._behind(bit, first)
        for bit in own:
            found |= self._behind(bit, chain.rest)
        return Outlook(offered, found.due | offered, found.waiting)

    def _behind(self, bit: int, node: Node) -> Outlook:
        """What the node holds, all of which waits for one cut; its mark too, if it comes again."""
        held = self._of_node(self.trees.number(node))
        again = any(
            waiting & bit and 1 << place != bit
            for place, waiting in enumerate(self._rows(held.waiting))
        )
        waits = held.due & ~bit | (bit if again else 0)
        return Outlook(0, held.due, held.waiting | waits << self._row_of(bit))

    def _row_of(self, bit: int) -> int:
        return (bit.bit_length() - 1) * len(self.marks)
