"""The order of the cards: those that look nearly alike are kept apart."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, permutations
from typing import TYPE_CHECKING, Any

from workbench.planning.limits import DEFAULT, Limits
from workbench.planning.mixing.card_rules import Faces

if TYPE_CHECKING:
    import numpy as np

    Numbers = np.ndarray[Any, np.dtype[np.int64]]

_STEEPEST = 15


def spread(
    kinds: Mapping[Faces, int], held: Mapping[int, Faces], cards: int, limits: Limits = DEFAULT
) -> list[Faces]:
    """`kinds` of card, so many of each, in an order whose neighbours differ as much as may be.

    `held` cards, by place from 0, stay where they are; `kinds` does not count them. Of many cards
    one round is arranged and repeated.
    """
    rounds = max(1, sum(kinds.values()) // limits.card_round)
    if rounds == 1:
        return _arranged(kinds, held, cards, limits)
    each = {choice: count // rounds for choice, count in kinds.items()}
    order = _ring(each, limits) * rounds
    others = {choice: count % rounds for choice, count in kinds.items()}
    order += _after(order[-1:], others, limits)
    for place in sorted(held):
        order.insert(place, held[place])
    return order


def _ring(kinds: Mapping[Faces, int], limits: Limits) -> list[Faces]:
    """Cards whose last is the neighbour of the first as well."""
    first = max(kinds, key=lambda choice: kinds[choice])
    cards = sum(kinds.values())
    if not kinds[first]:
        return []
    others = {**kinds, first: kinds[first] - 1}
    return _arranged(others, {0: first, cards: first}, cards + 1, limits)[:-1]


def _after(last: Sequence[Faces], kinds: Mapping[Faces, int], limits: Limits) -> list[Faces]:
    """Cards that follow the `last`."""
    held = dict(enumerate(last))
    return _arranged(kinds, held, len(held) + sum(kinds.values()), limits)[len(held) :]


def _arranged(
    kinds: Mapping[Faces, int], held: Mapping[int, Faces], cards: int, limits: Limits
) -> list[Faces]:
    import numpy as np

    order = list(dict.fromkeys([*kinds, *held.values()]))
    codes: dict[str | None, int] = {}
    looks = np.array(
        [[codes.setdefault(face, len(codes)) for face in choice] for choice in order],
        dtype=np.int64,
    ).reshape(len(order), -1)
    places = _Places(
        looks,
        np.array([kinds.get(choice, 0) for choice in order], dtype=np.int64),
        {place: order.index(choice) for place, choice in held.items()},
    )
    placed = places.swapped(places.filled(cards), limits.card_looks)
    if cards <= limits.cards_in_every_order:
        placed = places.best_order(placed)
    return [order[kind] for kind in placed]


@dataclass
class _Places:
    """`looks` has a row a kind of card and a column a layer; `left` is how many of each kind."""

    looks: "Numbers"
    left: "Numbers"
    held: Mapping[int, int]

    def alike(self, kind: int) -> "Numbers":
        """In how many layers each kind is the same as `kind`."""
        same: Numbers = (self.looks == self.looks[kind]).sum(axis=1)
        return same

    def filled(self, cards: int) -> list[int]:
        """Place after place, the kind least like its neighbour.

        Of those as unlike, the one with most left; and in time the one that would else be left
        over for places side by side.
        """
        placed: list[int] = []
        for place in range(cards):
            if place in self.held:
                placed.append(self.held[place])
                continue
            kind = self._next(placed[-1] if placed else None, self.held.get(place + 1))
            self.left[kind] -= 1
            placed.append(kind)
        return placed

    def _next(self, before: int | None, after: int | None) -> int:
        most, total = int(self.left.argmax()), int(self.left.sum())
        if self.left[most] > total // 2 and before != most:
            return most
        likeness = self.left * 0
        for neighbour in (before, after):
            if neighbour is not None:
                likeness += self._steeply(self.alike(neighbour))
        likeness[self.left == 0] = likeness.max() + 1
        least = likeness == likeness.min()
        return int((self.left * least).argmax())

    def swapped(self, placed: list[int], looks: int) -> list[int]:
        """The order bettered by swapping two cards at a time, within a fixed number of looks."""
        import numpy as np

        if len(placed) < 3:
            return placed
        order = np.array(placed, dtype=np.int64)
        free = np.array([place not in self.held for place in range(len(placed))])
        tries = min(10 * len(placed), looks // (len(placed) * max(1, self.looks.shape[1])))
        settled: set[int] = set()
        while tries > 0:
            cost = self._cost(order)
            cost[~free] = -1
            cost[list(settled)] = -1
            place = int(cost.argmax())
            if cost[place] <= 0:
                break
            tries -= 1
            gains = self._gains(order, place)
            gains[~free] = 0
            best = int(gains.argmax())
            if gains[best] <= 0:
                settled.add(place)
                continue
            order[[place, best]] = order[[best, place]]
            settled.clear()
        return [int(kind) for kind in order]

    def best_order(self, placed: list[int]) -> list[int]:
        """The best order of all; of equals the one given, or else the first."""
        free = [place for place in range(len(placed)) if place not in self.held]
        kinds = sorted(placed[place] for place in free)
        numbers = range(len(self.looks))
        costs = [self._steeply(self.alike(kind)).tolist() for kind in numbers]

        def cost(order: Sequence[int]) -> int:
            return sum(costs[one][other] for one, other in pairwise(order))

        best, least = placed, cost(placed)
        for kinds_in_turn in dict.fromkeys(permutations(kinds)):
            order = list(placed)
            for place, kind in zip(free, kinds_in_turn, strict=True):
                order[place] = kind
            if (spent := cost(order)) < least:
                best, least = order, spent
        return best

    def _steeply(self, alike: "Numbers") -> "Numbers":
        """A cost that rises so fast that no saving elsewhere makes up for one layer more."""
        beyond = max(0, self.looks.shape[1] - _STEEPEST)
        cost: Numbers = 4 ** (alike - beyond).clip(min=0) - 1
        return cost

    def _pairs(self, one: "Numbers", other: "Numbers") -> "Numbers":
        return self._steeply((self.looks[one] == self.looks[other]).sum(axis=-1))

    def _cost(self, order: "Numbers") -> "Numbers":
        """What each place costs with the neighbours it has."""
        import numpy as np

        between = self._pairs(order[:-1], order[1:])
        cost: Numbers = np.concatenate([[0], between]) + np.concatenate([between, [0]])
        return cost

    def _gains(self, order: "Numbers", place: int) -> "Numbers":
        """What is saved by swapping the card at `place` with each other one."""
        import numpy as np

        now = self._cost(order)
        numbers = np.arange(len(order))
        after = np.zeros(len(order), dtype=np.int64)
        for side in (-1, 1):
            # The card at `place` among the neighbours of each other place, and the other way.
            theirs = (numbers + side).clip(0, len(order) - 1)
            there = self._pairs(order[theirs], np.full(len(order), order[place]))
            after += np.where(theirs != numbers, there, 0)
            if 0 <= place + side < len(order):
                after += self._pairs(order, np.full(len(order), order[place + side]))
        gains: Numbers = now + now[place] - after
        # Cards side by side keep the pair they share, which the sum above takes for two others.
        same = self._pairs(order[place], order[place])
        for beside in (place - 1, place + 1):
            if 0 <= beside < len(order):
                gains[beside] += 2 * (same - self._pairs(order[place], order[beside]))
        gains[place] = 0
        return gains
