"""The maker's rules of mixing: how alike the cards are, which papers meet, what is fixed."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, get_args

from workbench.craft.card import BASE
from workbench.craft.errors import CraftError, nearest

Pair = tuple[str, str]
Likeness = Literal["varied", "as a set", "all different"]
Use = Literal["as it comes", "all", "evenly"]

USES: tuple[Use, ...] = get_args(Use)
MOST_DEALS = 1_000_000

_NOTHING: Mapping[str, str] = {}
_NOTHING_COUNTED: Mapping[str, int] = {}


@dataclass(frozen=True, slots=True)
class FixedCard:
    """A card that the maker has fixed.

    Attributes:
        number: the card's, from 1.
        shows: the name of the face that each fixed layer shows, by the layer's name.
    """

    number: int
    shows: Mapping[str, str] = field(hash=False)


@dataclass(frozen=True, slots=True)
class Mixing:
    """The maker's rules. Papers are named by the face that shows, the front's name or the back's.

    Attributes:
        apart: pairs of which a card never shows both.
        together: pairs of which a card never shows just one.
        cards: the cards that are fixed, in whole or in part.
        wish: "varied" for as varied as the pieces allow, "as a set" for all alike, "all different".
        deal: the seed of the dealing, from 0; the same pieces and seed give the same cards.
        repeat: True where a card may show a print on several pieces; or the pairs of pieces, by
            name, that may show the same. Copies of one piece follow its own `copies`.
        use: "as it comes", "all" for every paper that is ticked, "evenly" for each piece from its
            papers as equally as can be; or by paper, how many of the mixed pieces are of it.
    """

    apart: tuple[Pair, ...] = ()
    together: tuple[Pair, ...] = ()
    cards: tuple[FixedCard, ...] = ()
    wish: Likeness = "varied"
    deal: int = 0
    repeat: bool | tuple[Pair, ...] = False
    use: Use | Mapping[str, int] = field(default="as it comes", hash=False)

    def may_repeat(self, one: str, other: str) -> bool:
        """Whether two pieces, by name, may show the same print on a card."""
        if isinstance(self.repeat, bool):
            return self.repeat
        return any({one, other} == set(pair) for pair in self.repeat)

    @property
    def counts(self) -> Mapping[str, int]:
        """How many mixed pieces are to be of each paper that is named, by paper."""
        return _NOTHING_COUNTED if isinstance(self.use, str) else self.use

    def without_piece(self, name: str) -> "Mixing":
        """The same rules without the pairs that name a piece; what cards fix of it stays."""
        if isinstance(self.repeat, bool):
            return self
        return replace(self, repeat=tuple(pair for pair in self.repeat if name not in pair))

    def counting_only(self, papers: Collection[str]) -> "Mixing":
        """The same rules, with counts of use only for the papers in `papers`."""
        if isinstance(self.use, str):
            return self
        kept = {paper: count for paper, count in self.use.items() if paper in papers}
        return replace(self, use=kept or "as it comes")

    def renamed(
        self, faces: Mapping[str, str] = _NOTHING, layers: Mapping[str, str] = _NOTHING
    ) -> "Mixing":
        """The same rules under new names of faces and layers, given by their old names."""

        def pairs(old: Iterable[Pair], new: Mapping[str, str]) -> tuple[Pair, ...]:
            return tuple((new.get(one, one), new.get(other, other)) for one, other in old)

        return replace(
            self,
            apart=pairs(self.apart, faces),
            together=pairs(self.together, faces),
            repeat=self.repeat if isinstance(self.repeat, bool) else pairs(self.repeat, layers),
            use=self.use
            if isinstance(self.use, str)
            else {faces.get(paper, paper): count for paper, count in self.use.items()},
            cards=tuple(
                replace(
                    fixed,
                    shows={
                        layers.get(layer, layer): faces.get(face, face)
                        for layer, face in fixed.shows.items()
                    },
                )
                for fixed in self.cards
            ),
        )


NO_RULES = Mixing()


def check_rules(
    mixing: Mixing,
    cards: int,
    faces: Collection[str],
    layers: Mapping[str, Collection[str]],
    pieces: Mapping[str, Collection[str]],
) -> None:
    """Check that the rules name what is there.

    Args:
        mixing: the rules.
        cards: how many cards the batch has.
        faces: the names of all faces of its papers.
        layers: the names of the faces that each layer may show, by the layer's name.
        pieces: the papers of each piece of which it is left open what it shows; of others none.

    Raises:
        CraftError: for the first rule that names anything else, or stands there twice.
    """
    if not 0 <= mixing.deal <= MOST_DEALS:
        raise CraftError(
            "mixing, deal",
            f"{mixing.deal} is not the number of a deal",
            f"give a whole number from 0 to {MOST_DEALS}",
        )
    _check_pairs(mixing.apart, "mixing, apart", faces)
    _check_pairs(mixing.together, "mixing, together", faces)
    if not isinstance(mixing.repeat, bool):
        _check_pairs(mixing.repeat, "mixing, repeat", {*pieces, BASE}, "piece")
    _check_counts(mixing.counts, pieces)
    _check_fixed(mixing.cards, cards, layers)


def _check_fixed(
    every: Collection[FixedCard], cards: int, layers: Mapping[str, Collection[str]]
) -> None:
    numbers = Counter(fixed.number for fixed in every)
    for fixed in every:
        place = f"mixing, card {fixed.number}"
        if not 1 <= fixed.number <= cards:
            raise CraftError(place, "there is no such card", f"give a number from 1 to {cards}")
        if numbers[fixed.number] > 1:
            raise CraftError(place, "it is fixed twice", "join the two")
        if not fixed.shows:
            raise CraftError(
                place, "it shows nothing", 'say what it shows, as in shows = { panel = "..." }'
            )
        for layer, face in fixed.shows.items():
            _check_known(layer, layers, f"{place}, shows", "piece")
            _check_known(face, layers[layer], f'{place}, "{layer}"', "paper it can be cut from")


def _check_counts(counts: Mapping[str, int], pieces: Mapping[str, Collection[str]]) -> None:
    ticked = {paper for papers in pieces.values() for paper in papers}
    for paper, count in counts.items():
        _check_known(paper, ticked, "mixing, use", "paper that a mixed piece is cut from")
        if count < 0:
            raise CraftError(
                f'mixing, use, "{paper}"', f"{count} pieces cannot be", "give a number from 0"
            )


def _check_pairs(
    pairs: Collection[Pair], place: str, known: Collection[str], what: str = "paper"
) -> None:
    seen = set()
    for pair in pairs:
        for name in pair:
            _check_known(name, known, place, what)
        if pair[0] == pair[1]:
            raise CraftError(place, f'"{pair[0]}" is paired with itself', f"name two {what}s")
        if frozenset(pair) in seen:
            one, other = pair
            raise CraftError(place, f'"{one}" and "{other}" stand there twice', "name them once")
        seen.add(frozenset(pair))


def _check_known(name: str, known: Collection[str], place: str, what: str) -> None:
    if name not in known:
        right = nearest(name, sorted(known)) if known else "leave it out"
        raise CraftError(place, f'"{name}" is no {what}', right)
