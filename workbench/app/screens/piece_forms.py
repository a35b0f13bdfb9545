"""The forms of the Pieces: the card itself, or one piece."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import ClassVar

from textual.app import ComposeResult
from textual.widgets import Label

from workbench.app.edits import with_piece
from workbench.app.widgets.fields import Choice, YesNo
from workbench.app.widgets.forms import PREVIEW, UNIT_NAMES, ProjectForm, row, text
from workbench.craft.card import (
    ACROSS,
    APART,
    COPIES,
    CORNERS,
    FOLDS,
    FRONT,
    INSIDE,
    SPREADS,
    UP,
    Across,
    Card,
    Fold,
    Piece,
    Place,
    Rounding,
    Spread,
    Up,
)
from workbench.craft.fitting import each_placed
from workbench.craft.paper import Size
from workbench.craft.project import Project, fits
from workbench.craft.sheet_sizes import read_card
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.drawing.labels import write_exactly
from workbench.making.offcut_offers import lying_of
from workbench.measure.counting import counted
from workbench.measure.length import UNITS, ZERO, Length, Unit

FOLD_WORDS: dict[Fold, str] = {
    "top": "at the top",
    "side": "at the side",
    "none": "none, a flat card",
}
SPREAD_WORDS: dict[Spread, str] = {
    "loose": "loose, anywhere",
    "mirrored": "mirrored to the corners",
    "in a row": "in a row",
    "placed": "each in its place",
}
ROUNDER: dict[Unit, Length] = {"in": Length.of(Fraction(1, 4), "in"), "mm": Length.of(6, "mm")}
"""A common corner rounder, offered where there is none yet. Common practice, no source."""
BORDER: dict[Unit, Length] = {"in": Length.of(Fraction(1, 8), "in"), "mm": Length.of(3, "mm")}
"""What a new piece leaves all round it, to begin with. Common practice, no source."""


class CardForm(ProjectForm):
    """Changes the card and the project's title."""

    TITLE = "Card"
    ABOUT = (
        "The front of the card, how it is folded, what its base is cut from and how many to make."
        " The base is cut unfolded: twice as high for a fold at the top, twice as wide for one"
        " at the side. Measured in says what a bare number in the project's file means."
    )

    def fields(self) -> ComposeResult:
        card = self.project.card
        papers = tuple(paper.name for paper in self.project.papers)
        yield row("Title", text("title", self.project.title))
        yield self.size_row(card.size, "A6, US A2, or two lengths")
        yield row("Fold", Choice(tuple(FOLD_WORDS.values()), FOLD_WORDS[card.fold], key="fold"))
        yield row("Base cut from", Choice(papers, card.paper, key="paper"))
        yield row("How many", text("count", card.count))
        measured = UNIT_NAMES[self.project.units]
        yield row("Measured in", Choice(tuple(UNIT_NAMES.values()), measured, key="units"))

    def read(self) -> Project:
        fold: Fold = next(fold for fold in FOLDS if FOLD_WORDS[fold] == self.chosen("fold"))
        units: Unit = next(unit for unit in UNITS if UNIT_NAMES[unit] == self.chosen("units"))
        card = Card(
            self.both_sides(read_card), fold, self.chosen("paper"), self.count("count", "how many")
        )
        return replace(self.project, title=self.typed("title"), units=units, card=card)

    def preview(self, project: Project) -> Canvas:
        return draw_card(project, None, *PREVIEW)


class PieceForm(ProjectForm):
    """Changes `piece`, or adds one at layer `at`."""

    TITLE = "Piece"
    ABOUT = (
        "A rectangle layered on the card. Name every paper it may be cut from; several are mixed"
        " over the batch, so that no card shows a print twice. Several on each card are alike, of"
        " one print, or each another; where each has a place of its own, the page moves them one"
        " by one. Its place is a word (left, centre,"
        " right; bottom, centre, top) or a length from the left and the bottom of what it is glued"
        " to. Spare pieces are cut for slips and go on no card. A piece that is not needed is cut"
        " only where it costs no extra sheet. Foam pads raise it above what it is glued to."
        " What lies apart goes with the card and is not glued to it, as an envelope does."
    )

    PLACES: ClassVar[Mapping[str, str]] = {"pieces": "name", "round": "radius"}

    def __init__(
        self, project: Project, unit: Unit, piece: Piece | None = None, at: int | None = None
    ) -> None:
        super().__init__(project, unit)
        self.piece = piece
        self.at = at
        below = project.pieces[: len(project.pieces) if at is None else at]
        self.bearer = below[-1].name if below and below[-1].on != INSIDE else FRONT

    def fields(self) -> ComposeResult:
        piece = self.piece
        place = piece.place if piece else Place()
        yield row("Name", text("name", piece.name if piece else ""))
        yield self.size_row(piece.size if piece else self._usual_size())
        chosen = piece.papers if piece else self._usual_papers()
        for number, (paper, offcuts) in enumerate(self._papers_offered()):
            mark = YesNo(paper, paper in chosen, group="paper")
            said = [Label(offcuts)] if offcuts else []
            yield row("" if number else "Cut from", mark, *said)
        yield row("Glued to", Choice(self._bearers(), piece.on if piece else self.bearer, key="on"))
        yield row("From the left", text("x", self._where(place.x), "or a word", ACROSS))
        yield row("From the bottom", text("y", self._where(place.y), "or a word", UP))
        rounding = piece.rounding if piece else None
        for number, corner in enumerate(CORNERS):
            mark = YesNo(corner, bool(rounding and corner in rounding.corners), group="corner")
            yield row("" if number else "Round corners", mark)
        radius = write_exactly(rounding.radius if rounding else ROUNDER[self.unit], self.unit)
        yield row(f"Radius ({self.unit})", text("radius", radius))
        yield row("On each card", text("per_card", piece.per_card if piece else 1))
        copies = piece.copies if piece else "alike"
        yield row("Several are", Choice(COPIES, copies, key="copies"))
        spread = SPREAD_WORDS[piece.spread if piece else "loose"]
        yield row("They lie", Choice(tuple(SPREAD_WORDS.values()), spread, key="spread"))
        yield row("Spare in all", text("spare", piece.spare if piece else 0))
        needed = YesNo("on every card", piece.needed if piece else True, group="needed")
        yield row("Needed", needed)
        raised = write_exactly(piece.raised, self.unit) if piece and piece.raised else ""
        yield row(f"Foam pads ({self.unit})", text("raised", raised, "how thick, if any"))

    def read(self) -> Project:
        spread = next(each for each in SPREADS if SPREAD_WORDS[each] == self.chosen("spread"))
        piece = Piece(
            name=self.named("name", "name"),
            size=self.both_sides(),
            papers=self._papers(),
            place=Place(self._across(), self._up()),
            rounding=self._rounding(),
            per_card=self.count("per_card", "on each card"),
            copies=next(each for each in COPIES if each == self.chosen("copies")),
            spread=self._pattern() if spread == "placed" else spread,
            needed=bool(self.marked("needed")),
            on=self.chosen("on"),
            spare=self.count("spare", "spare in all"),
            raised=self.length("raised", "foam pads") if self.typed("raised") else ZERO,
        )
        if self.piece:
            project = with_piece(self.project, piece, replacing=self.piece.name)
        else:
            project = with_piece(self.project, piece, at=self.at)
        if spread == "placed":
            return each_placed(project, piece.name, self.piece.places if self.piece else ())
        return project

    def _pattern(self) -> Spread:
        """How copies lie that get a place of their own here, until they are moved."""
        return self.piece.spread if self.piece and not self.piece.places else "in a row"

    def mend(self) -> tuple[str, str] | None:
        """A radius larger than the piece allows becomes the largest it does."""
        size, radius = self.both_sides(), self.length("radius", "radius")
        most = min(size.width, size.height) / 2
        if self.marked("corner") and ZERO < most < radius:
            return "radius", write_exactly(most, self.unit)
        return None

    def preview(self, project: Project) -> Canvas:
        return draw_card(project, None, *PREVIEW, marked=self.typed("name"))

    def _usual_size(self) -> Size:
        """A narrow border all round what it is glued to."""
        project = self.project
        on = project.card.size if self.bearer == FRONT else project.piece(self.bearer).size
        left = Size(on.width - BORDER[self.unit] * 2, on.height - BORDER[self.unit] * 2)
        return left if min(left.width, left.height) > ZERO else on

    def _usual_papers(self) -> tuple[str, ...]:
        """Every printed paper, to be mixed; the base's own where there is none."""
        printed = tuple(paper.name for paper in self.project.papers if paper.shows_print)
        return printed or (self.project.card.paper,)

    def _papers_offered(self) -> list[tuple[str, str]]:
        """Every paper, those first of which an offcut is large enough, and how many of it are."""
        size = self.piece.size if self.piece else self._usual_size()
        fitting = Counter[str]()
        for lying in lying_of(self.project):
            if fits(replace(lying.paper, size=lying.size, strip=None), size):
                fitting[lying.paper.name] += lying.count
        names = sorted((paper.name for paper in self.project.papers), key=lambda n: not fitting[n])
        return [(n, counted(fitting[n], "offcut") if fitting[n] else "") for n in names]

    def _bearers(self) -> tuple[str, ...]:
        """The card, and the pieces that lie behind this one."""
        pieces = self.project.pieces
        at = pieces.index(self.piece) if self.piece else len(pieces) if self.at is None else self.at
        below = (piece.name for piece in pieces[:at] if not piece.is_apart)
        return (FRONT, INSIDE, *below, APART)

    def _papers(self) -> tuple[str, ...]:
        """The papers marked; those it had before come first, in their order."""
        marked = self.marked("paper")
        before = self.piece.papers if self.piece else ()
        kept = [name for name in before if name in marked]
        return (*kept, *(name for name in marked if name not in kept))

    def _rounding(self) -> Rounding | None:
        marked = self.marked("corner")
        before = self.piece.rounding.corners if self.piece and self.piece.rounding else ()
        kept = [corner for corner in before if corner in marked]
        corners = (*kept, *(one for one in CORNERS if one in marked and one not in kept))
        return Rounding(corners, self.length("radius", "radius")) if corners else None

    def _where(self, where: str | Length) -> str:
        return write_exactly(where, self.unit) if isinstance(where, Length) else where

    def _across(self) -> Across | Length:
        typed = self.typed("x").lower()
        word = next((word for word in ACROSS if word == typed), None)
        return word or self.length("x", "from the left")

    def _up(self) -> Up | Length:
        typed = self.typed("y").lower()
        word = next((word for word in UP if word == typed), None)
        return word or self.length("y", "from the bottom")
