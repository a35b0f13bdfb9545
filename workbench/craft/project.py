"""A project: one design and the paper it may be made from."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from workbench.craft.card import FRONT, INSIDE, Card, Piece
from workbench.craft.envelope import NO_WISHES, Envelope, Posting
from workbench.craft.errors import CraftError, checked_name, nearest
from workbench.craft.extra import Extra
from workbench.craft.imprint import NO_IMPRINT, Imprint
from workbench.craft.mixing import NO_RULES, Mixing, check_rules
from workbench.craft.own_step import MOST_STEPS, OwnStep
from workbench.craft.paper import Offcut, Paper, Size
from workbench.craft.wish import Wish
from workbench.measure.length import Unit

MOST_PIECES = 60
MOST_PAPERS = 200
MOST_EXTRAS = 200
MOST_ENVELOPES = 200

_Named = TypeVar("_Named", Paper, Piece, OwnStep)


@dataclass(frozen=True, slots=True)
class Layer:
    """One copy of a piece on every card. A piece with several a card gives several layers."""

    name: str
    piece: Piece


@dataclass(frozen=True, slots=True)
class Project:
    """One design and the paper it may be made from: what a project file holds.

    Attributes:
        title: what the maker calls it.
        units: the unit of bare numbers in its file and of lengths shown.
        card: the card itself.
        papers: the papers it may be cut from.
        pieces: what is layered on the card, back to front.
        offcuts: what may be used before a sheet is opened.
        mixing: the rules by which prints are dealt to the cards.
        extras: what is glued on besides, a bead or a bow.
        envelopes: those that the maker has, beside the usual ones.
        posting: how the card goes by post.
        imprint: what its publisher puts on the printed guide.
        steps: what is done besides, by steps of the maker's own, in that order.
        wish: what a plan shall be best at, among plans of as few sheets.

    Raises:
        CraftError: where the parts do not fit one another.
    """

    title: str
    units: Unit
    card: Card
    papers: tuple[Paper, ...] = ()
    pieces: tuple[Piece, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    mixing: Mixing = NO_RULES
    extras: tuple[Extra, ...] = ()
    envelopes: tuple[Envelope, ...] = ()
    posting: Posting = NO_WISHES
    imprint: Imprint = NO_IMPRINT
    steps: tuple[OwnStep, ...] = ()
    wish: Wish = "time"

    def __post_init__(self) -> None:
        checked_name(self.title, "title", "title")
        for things, most, place in (
            (self.pieces, MOST_PIECES, "pieces"),
            (self.papers, MOST_PAPERS, "papers"),
            (self.extras, MOST_EXTRAS, "extras"),
            (self.envelopes, MOST_ENVELOPES, "envelopes"),
            (self.steps, MOST_STEPS, "steps"),
        ):
            if len(things) > most:
                raise CraftError(place, f"there are {len(things)}", f"use at most {most}")
        _check_unique((face.name for face in self._faces()), "papers")
        _check_unique((piece.name for piece in self.pieces), "pieces")
        _check_unique((name for piece in self.pieces for name in layer_names(piece)), "pieces")
        _check_unique((extra.name for extra in self.extras), "extras")
        _check_unique((envelope.name for envelope in self.envelopes), "envelopes")
        _check_unique((step.name for step in self.steps), "steps")
        self._check_papers_known()
        self._check_bearers()
        self._check_sizes()
        self._check_steps()
        # Only fixed cards ask which faces a piece may show, which takes long for many of both.
        dealt = self.pieces if self.mixing.cards else ()
        shown = {piece.name: self.faces(piece) for piece in dealt}
        check_rules(
            self.mixing,
            self.card.count,
            {face.name for face in self._faces()},
            {name: shown[piece.name] for piece in dealt for name in layer_names(piece)},
            {piece.name: piece.papers if self.mixed(piece) else () for piece in self.pieces},
        )

    def offcuts_on_hand(self) -> Counter[tuple[str, Size]]:
        """How many offcuts there are, by paper and size."""
        counts: Counter[tuple[str, Size]] = Counter()
        for offcut in self.offcuts:
            counts[offcut.paper, offcut.size] += offcut.count
        return counts

    def paper(self, name: str) -> Paper:
        """The paper of that name.

        Raises:
            KeyError: where there is none.
        """
        return _named(self.papers, name)

    def face(self, name: str) -> Paper:
        """A paper as it looks from its face of that name.

        Raises:
            KeyError: where no paper has such a face.
        """
        return _named(self._faces(), name)

    def paper_of(self, face: str) -> Paper:
        """The paper that has a face of that name.

        Raises:
            KeyError: where none has.
        """
        for paper in self.papers:
            if any(one.name == face for one in paper.faces):
                return paper
        raise KeyError(face)

    def faces(self, piece: Piece) -> tuple[str, ...]:
        """The names of the faces that `piece` may show, of papers whose sheets are large enough."""
        papers = (self.paper(name) for name in piece.papers)
        return tuple(
            face.name for paper in papers if fits(paper, piece.size) for face in paper.faces
        )

    def mixed(self, piece: Piece) -> bool:
        """Whether `piece` may show more than one face, so that which card shows which is dealt."""
        return len(piece.papers) > 1 or self.paper(piece.papers[0]).back is not None

    def alike(self, piece: Piece) -> int:
        """How many of a card's copies of `piece` are dealt as one, since they show the same face.

        Copies of a piece whose face is settled are dealt one by one.
        """
        return piece.per_card if self.mixed(piece) and piece.copies == "alike" else 1

    def piece(self, name: str) -> Piece:
        """The piece of that name.

        Raises:
            KeyError: where there is none.
        """
        return _named(self.pieces, name)

    def own_step(self, name: str) -> OwnStep:
        """The step of the maker's own of that name.

        Raises:
            KeyError: where there is none.
        """
        return _named(self.steps, name)

    def layers(self) -> tuple[Layer, ...]:
        """Every layer of one card, back to front, without the base."""
        return tuple(_layers(self.pieces))

    def _faces(self) -> Iterator[Paper]:
        return (face for paper in self.papers for face in paper.faces)

    def _check_papers_known(self) -> None:
        known = {paper.name for paper in self.papers}
        asked = [("card, paper", self.card.paper)]
        asked += [
            (f'piece "{piece.name}", from', name)
            for piece in self.pieces
            for name in piece.papers
            if name not in known
        ]
        asked += [
            (f"offcuts[{number}], paper", offcut.paper)
            for number, offcut in enumerate(self.offcuts, 1)
        ]
        for place, name in asked:
            if name not in known:
                right = nearest(name, sorted(known)) if known else "add the paper first"
                raise CraftError(place, f'no paper is called "{name}"', right)

    def _check_bearers(self) -> None:
        below = [FRONT, INSIDE]
        for piece in self.pieces:
            place = f'piece "{piece.name}", on'
            if not piece.is_apart:
                self._check_bearer(place, piece.on, below, "the card or a piece before it")
                below.append(piece.name)
        for extra in self.extras:
            place = f'extra "{extra.name}", on'
            self._check_bearer(place, extra.on, below, "the card or a piece")

    def _check_bearer(self, place: str, on: str, below: list[str], allowed: str) -> None:
        if on not in below:
            raise CraftError(place, f'"{on}" is not {allowed}', nearest(on, below))
        if on == INSIDE and self.card.fold == "none":
            raise CraftError(
                place,
                "a card that is not folded has no inside",
                f'glue it to "{FRONT}", or fold the card at the top or the side',
            )

    def _check_steps(self) -> None:
        sizes = {FRONT: self.card.size, **{piece.name: piece.size for piece in self.pieces}}
        for step in self.steps:
            place = f'step "{step.name}"'
            if step.on not in sizes:
                right = nearest(step.on, sizes)
                raise CraftError(f"{place}, on", f'"{step.on}" is neither card nor piece', right)
            if step.when == "after scoring" and self.card.fold == "none":
                raise CraftError(
                    f"{place}, when", "a flat card is not scored", 'do it "after cutting"'
                )
            if not all(hole.lies_on(sizes[step.on]) for hole in step.holes):
                raise CraftError(
                    f"{place}, holes",
                    f'one does not lie on "{step.on}"',
                    "move it, or make it smaller",
                )

    def _check_sizes(self) -> None:
        self._check_cuttable("card, size", self.card.base_size, (self.card.paper,))
        for piece in self.pieces:
            self._check_cuttable(f'piece "{piece.name}", size', piece.size, piece.papers)

    def _check_cuttable(self, place: str, size: Size, papers: tuple[str, ...]) -> None:
        if not any(fits(self.paper(name), size) for name in papers):
            raise CraftError(
                place,
                f"it is larger than a sheet of {_quoted(papers)}",
                "make it smaller, or name a larger paper"
                + (" (a base is cut unfolded)" if place.startswith("card") else ""),
            )


def fits(paper: Paper, size: Size) -> bool:
    """Whether a rectangle of `size` can be cut from one whole sheet, its run respected."""
    return paper.usable.holds(size) or (paper.turns and paper.usable.holds(size.turned))


def put_back(project: Project, changed: Iterable[Piece]) -> tuple[Piece, ...]:
    """The pieces of `project` in their order, those in `changed` in place of their old selves."""
    new = {piece.name: piece for piece in changed}
    return tuple(new.get(piece.name, piece) for piece in project.pieces)


def layer_names(piece: Piece) -> tuple[str, ...]:
    """The names of a piece's layers: its own, numbered from the second on."""
    return (piece.name, *(f"{piece.name} {copy}" for copy in range(2, piece.per_card + 1)))


def _layers(pieces: Iterable[Piece]) -> Iterator[Layer]:
    for piece in pieces:
        for name in layer_names(piece):
            yield Layer(name, piece)


def _named(things: Iterable[_Named], name: str) -> _Named:
    for thing in things:
        if thing.name == name:
            return thing
    raise KeyError(name)


def _check_unique(names: Iterable[str], place: str) -> None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise CraftError(place, f'"{name}" stands there twice', "give each a name of its own")
        seen.add(name)


def _quoted(names: Iterable[str]) -> str:
    return ", ".join(f'"{name}"' for name in names)
