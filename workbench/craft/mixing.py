"""The maker's rules of mixing: how alike the cards are, which papers meet, what is fixed."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, get_args

from workbench.craft.errors import CraftError

Pair = tuple[str, str]
Likeness = Literal["varied", "as a set", "all different"]

LIKENESSES: tuple[Likeness, ...] = get_args(Likeness)
MOST_DEALS = 1_000_000

_NOTHING: Mapping[str, str] = {}


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
    """

    apart: tuple[Pair, ...] = ()
    together: tuple[Pair, ...] = ()
    cards: tuple[FixedCard, ...] = ()
    wish: Likeness = "varied"
    deal: int = 0

    def renamed(
        self, faces: Mapping[str, str] = _NOTHING, layers: Mapping[str, str] = _NOTHING
    ) -> "Mixing":
        """The same rules under new names of faces and layers, given by their old names."""

        def pairs(old: Iterable[Pair]) -> tuple[Pair, ...]:
            return tuple((faces.get(one, one), faces.get(other, other)) for one, other in old)

        return replace(
            self,
            apart=pairs(self.apart),
            together=pairs(self.together),
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


def check_mixing(
    mixing: Mixing, cards: int, faces: Collection[str], layers: Mapping[str, Collection[str]]
) -> None:
    """Check that the rules name what is there.

    Args:
        mixing: the rules.
        cards: how many cards the batch has.
        faces: the names of all faces of its papers.
        layers: the names of the faces that each layer may show, by the layer's name.

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
    numbers = [fixed.number for fixed in mixing.cards]
    for fixed in mixing.cards:
        place = f"mixing, card {fixed.number}"
        if not 1 <= fixed.number <= cards:
            raise CraftError(place, "there is no such card", f"give a number from 1 to {cards}")
        if numbers.count(fixed.number) > 1:
            raise CraftError(place, "it is fixed twice", "join the two")
        if not fixed.shows:
            raise CraftError(
                place, "it shows nothing", 'say what it shows, as in shows = { panel = "..." }'
            )
        for layer, face in fixed.shows.items():
            _check_known(layer, layers, f"{place}, shows", "piece")
            _check_known(face, layers[layer], f'{place}, "{layer}"', "paper it can be cut from")


def _check_pairs(pairs: Collection[Pair], place: str, faces: Collection[str]) -> None:
    seen = set()
    for pair in pairs:
        for face in pair:
            _check_known(face, faces, place, "paper")
        if pair[0] == pair[1]:
            raise CraftError(place, f'"{pair[0]}" is paired with itself', "name two papers")
        if frozenset(pair) in seen:
            one, other = pair
            raise CraftError(place, f'"{one}" and "{other}" stand there twice', "name them once")
        seen.add(frozenset(pair))


def _check_known(name: str, known: Collection[str], place: str, what: str) -> None:
    if name not in known:
        names = ", ".join(f'"{one}"' for one in sorted(known))
        raise CraftError(place, f'"{name}" is no {what}', f"use one of {names}")
