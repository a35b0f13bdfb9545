"""What the maker asks of the mixture: papers that never or always meet, cards fixed by hand."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from workbench.craft.faults import CraftError

Pair = tuple[str, str]

_NOTHING: Mapping[str, str] = {}


@dataclass(frozen=True, slots=True)
class FixedCard:
    """What some layers of one card show, by layer; the rest is dealt around it."""

    number: int
    shows: Mapping[str, str] = field(hash=False)


@dataclass(frozen=True, slots=True)
class Mixing:
    """The maker's rules. Papers, and the backs of double-faced ones, are named as cards show them.

    Of a pair in `apart` a card never shows both, of a pair in `together` never just one.
    """

    apart: tuple[Pair, ...] = ()
    together: tuple[Pair, ...] = ()
    cards: tuple[FixedCard, ...] = ()

    def renamed(
        self, faces: Mapping[str, str] = _NOTHING, layers: Mapping[str, str] = _NOTHING
    ) -> "Mixing":
        """The same rules where papers or layers have new names."""

        def pairs(old: Iterable[Pair]) -> tuple[Pair, ...]:
            return tuple((faces.get(one, one), faces.get(other, other)) for one, other in old)

        return Mixing(
            pairs(self.apart),
            pairs(self.together),
            tuple(
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
    """Refuse rules that name what is not there; `layers` says what each layer may show."""
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
