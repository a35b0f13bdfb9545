"""The mixture in words: how often a card and a print repeat, what is left, light and dark."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from rich.text import Text

from workbench.craft.card import BASE
from workbench.craft.contrast import SOFT, ratio
from workbench.craft.project import Project
from workbench.craft.surface import neighbours, seen
from workbench.drawing.cards import seen_face
from workbench.drawing.prints import swatch
from workbench.drawing.tones import Tones, card_tones, paper_luminance
from workbench.making.words import variety
from workbench.planning import Combination, Plan, is_fixed, left_over, repeats

MOST_NAMED = 6


def batch_words(project: Project, plan: Plan) -> str:
    """How many different cards there are, and which are the darkest and the lightest."""
    told = variety(project, plan)
    return f"{told}\n{_extremes(project, plan.combinations)}" if plan.different > 1 else told


def print_lines(project: Project, plan: Plan, letters: Mapping[str, str]) -> Iterator[Text]:
    """How many pieces of each print are on cards and left."""
    cards = plan.combinations
    used = Counter(face for card in cards for face in card.pieces.values())
    left = left_over(project, plan)
    for paper in project.papers:
        for face in paper.faces:
            if face.name in used:
                more = f" +{left[paper.name]}" if left[paper.name] else ""
                letter = letters.get(face.name, "").rjust(2)
                line = f" {letter} {used[face.name]:>3}{more} × {face.name}"
                yield Text.assemble(swatch(face, 4, 1).to_text(), line)


def card_words(
    project: Project, cards: Sequence[Combination], card: Combination, *, full: bool = False
) -> Text:
    """One card; `full` tells the contrast of all neighbours, else only of the faintest."""
    held = ", fixed" if is_fixed(project, card.card) else ""
    lines = [f"Card {card.card}{held}"]
    lines += [f"{layer}: {face}" for layer, face in card.pieces.items()]
    if alike := repeats(cards).get(card.card):
        lines.append(f"the same as {_numbers(card.card, alike)}")
    lines += _contrasts(project, card, full=full)
    lines.append(_balance(card_tones(project, seen(project), _faces_seen(project, card))))
    return Text("\n".join(lines))


def _numbers(card: int, alike: Sequence[int]) -> str:
    """The other cards, and after the first few only how many more."""
    others = [str(number) for number in alike[: MOST_NAMED + 1] if number != card][:MOST_NAMED]
    more = len(alike) - 1 - len(others)
    return ", ".join(others) + (f" and {more} more" if more else "")


def _contrasts(project: Project, card: Combination, *, full: bool) -> Iterator[str]:
    """The contrast of layers that are seen side by side, each print as a whole, faintest first."""
    faces = {BASE: project.card.paper, **_faces_seen(project, card)}
    bright = {layer: paper_luminance(project.face(face)) for layer, face in faces.items()}
    pairs = [pair for pair in neighbours(seen(project)) if bright.keys() >= set(pair)]
    found = sorted((ratio(*(bright[name] for name in pair)), pair) for pair in pairs)
    for apart, (lower, upper) in found if full else found[:1]:
        faint = ", faint" if apart < SOFT else ""
        yield f"{upper} on {lower}: {apart:.1f}:1{faint}"


def _extremes(project: Project, cards: Sequence[Combination]) -> str:
    """Which card is the darkest, and which the lightest."""
    layers = seen(project)
    looks: dict[tuple[tuple[str, str], ...], Combination] = {}
    for card in cards:
        looks.setdefault(tuple(card.pieces.items()), card)
    dark = {
        card.card: card_tones(project, layers, _faces_seen(project, card)).dark
        for card in looks.values()
    }
    return f"darkest {max(dark, key=dark.__getitem__)}, lightest {min(dark, key=dark.__getitem__)}"


def _faces_seen(project: Project, card: Combination) -> dict[str, str]:
    """By layer; one that the card does not get is left out.

    Loose copies of a piece lie on one another, so the last is seen of them.
    """
    loose = (piece for piece in project.pieces if piece.spread == "loose")
    seen_here = {piece.name: seen_face(piece, card.pieces) for piece in loose}
    return {**card.pieces, **{name: face for name, face in seen_here.items() if face is not None}}


def _balance(tones: Tones) -> str:
    """ "light 41, middle 9, dark 50 %"."""
    said = zip(("light", "middle", "dark"), tones, strict=True)
    return ", ".join(f"{name} {share * 100:.0f}" for name, share in said if share) + " %"
