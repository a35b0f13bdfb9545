"""The kinds of sheet that a group is cut from: papers that serve the same pieces count as one."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from workbench.planning.bound.guillotine_dp import Prize, Raster
from workbench.planning.instance.instance import Group, Source, Supply
from workbench.planning.layouts.tree import Chain, Leaf, Node, leaves


@dataclass(frozen=True, slots=True)
class Kind:
    """Like sheets, or like offcuts, of papers that serve the same items.

    `supplies` are those papers, with these sheets as their source of that `number`.
    `prizes` are those items as they may lie, named by their index; what one is worth is left to
    prices. `cap` numbers the limit on dealt pieces that the papers share, if any.
    """

    supplies: tuple[Supply, ...]
    number: int
    available: int
    prizes: tuple[Prize, ...]
    cap: int | None
    raster: Raster

    @property
    def source(self) -> Source:
        return self.supplies[0].sources[self.number]

    def priced(self, worths: Sequence[int]) -> tuple[Prize, ...]:
        """The prizes, each item worth what `worths` says."""
        return tuple(replace(prize, value=worths[int(prize.name)]) for prize in self.prizes)


@dataclass(frozen=True, slots=True)
class Pattern:
    """One sheet (or offcut) of kind number `kind`, cut one way: how many of each item it gives."""

    kind: int
    counts: Mapping[int, int]
    root: Node

    @classmethod
    def of(cls, kind: int, root: Node) -> "Pattern":
        counts = Counter(int(leaf.item) for leaf in leaves(root) if leaf.item is not None)
        return cls(kind, counts, root)


@dataclass
class Kinds:
    """The kinds of a group, and `caps`: how many dealt pieces their papers may give in all.

    `apart`: each paper is a kind of its own, though others be like it.
    """

    group: Group
    apart: bool = False
    every: list[Kind] = field(default_factory=list)
    caps: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        alike: dict[tuple[object, ...], list[Supply]] = defaultdict(list)
        for supply in self.group.supplies:
            traits = (supply.turns, self.group.eligible(supply), supply.dealt_limit)
            sizes = tuple((s.width, s.height, s.offcut, s.cost) for s in supply.sources)
            alike[traits, sizes, supply.paper if self.apart else ""].append(supply)
        for supplies in alike.values():
            self._add(supplies)

    def _add(self, supplies: list[Supply]) -> None:
        lead = supplies[0]
        cap = None
        if lead.dealt_limit is not None:
            cap = len(self.caps)
            eligible = (self.group.items[index] for index in self.group.eligible(lead))
            spare = sum(item.spare for item in eligible if item.dealt)
            self.caps.append(lead.dealt_limit * len(supplies) + spare)
        prizes = tuple(
            self._prize(index, turned=turned)
            for index in self.group.eligible(lead)
            for turned in ((False, True) if lead.turns else (False,))
        )
        sizes = [(prize.width, prize.height) for prize in prizes]
        for number, source in enumerate(lead.sources):
            available = sum(supply.sources[number].available for supply in supplies)
            if available and source.width:  # none is left of a sheet whose strip cannot be cut off
                raster = Raster(source.width, source.height, sizes, self.group.blade)
                self.every.append(Kind(tuple(supplies), number, available, prizes, cap, raster))

    def _prize(self, index: int, *, turned: bool) -> Prize:
        item = self.group.items[index]
        sides = (item.height, item.width) if turned else (item.width, item.height)
        return Prize(str(index), *sides, 0, turned)

    def dealt(self, pattern: Pattern) -> int:
        return sum(n for index, n in pattern.counts.items() if self.group.items[index].dealt)

    def named(self, root: Node) -> Node:
        """A tree with items by name, where patterns know them by index."""
        if isinstance(root, Leaf):
            named = root.item and self.group.items[int(root.item)].name
            return replace(root, item=named)
        cuts = tuple((mark, self.named(first)) for mark, first in root.cuts)
        return Chain(root.width, root.height, root.direction, cuts, self.named(root.rest))
