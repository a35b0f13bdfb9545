"""From a planned batch to its recipe: all that is said of it, in words and in both units."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from workbench.craft.card import BASE, Piece, Spread
from workbench.craft.errors import CraftError
from workbench.craft.geometry import placements
from workbench.craft.paper import Paper, Size
from workbench.craft.project import layer_names
from workbench.craft.sheet_sizes import sheet_name
from workbench.craft.trimmer import Trimmer
from workbench.drawing.card_figure import Callout, card_figure, pale
from workbench.drawing.svg import card_svg
from workbench.drawing.two_units import TwoUnits
from workbench.making.assembly import layers_of
from workbench.making.cautions import all_cautions
from workbench.making.plan_index import LikeParts, PlanIndex
from workbench.making.possible import times_on
from workbench.making.words import in_minutes, listed, spans, taken_words
from workbench.measure.counting import counted
from workbench.measure.length import Unit
from workbench.measure.writing import graduation_for
from workbench.planning import Cut, Score
from workbench.post import Desk, card_by_post, letter_lines
from workbench.publish.minutes import cutting_seconds, finishing_seconds
from workbench.publish.recipe import (
    CardLook,
    Figure,
    LayerRow,
    LeftOver,
    PaperRow,
    Recipe,
)
from workbench.publish.scale import scale_for, scale_words
from workbench.publish.sheets import SheetWriter
from workbench.publish.tasks import TaskWriter, corner_words, whole_look

# The widest and the highest that a card is drawn, in millimetres of the page.
_CARD_ROOM = (76.0, 92.0)
_MOST_PICTURES = 60
_OTHERS: Mapping[Spread, tuple[str, str]] = {
    "loose": ("the other wherever you like", "the others wherever you like"),
    "mirrored": ("the other mirrored on the far side", "the others mirrored across and up"),
    "in a row": (
        "the other beside it, as far from the other edge",
        "the others in a row, the last as far from the other edge",
    ),
}
"""Where one more lies, and where several do."""
_FOLDS = {"top": "opens like a tent", "side": "opens like a book", "none": "not folded"}
_LENGTH = re.compile(r"(?:≈ )?\d[\d/. ]* (?:in|mm)\b")
_UNIT_WORDS = {"in": "inches", "mm": "millimetres"}


def make_recipe(
    index: PlanIndex,
    trimmer: Trimmer | None = None,
    first: Unit | None = None,
    picture: str = "",
    desk: Desk | None = None,
) -> Recipe:
    """The recipe of a planned batch, lengths in the unit `first` (else the project's) first.

    `picture` is that of the finished card, as a data URI. The `desk` says by which post the cards
    go, and which envelopes there are.
    """
    units = TwoUnits(first or index.project.units)
    return _Writer(index, trimmer or Trimmer(), units, picture, desk or Desk()).write()


@dataclass(frozen=True)
class _Writer:
    index: PlanIndex
    trimmer: Trimmer
    units: TwoUnits
    picture: str
    desk: Desk

    def write(self) -> Recipe:
        project = self.index.project
        sheets = SheetWriter(self.index, self.units, self._keys)
        return Recipe(
            title=project.title,
            facts=tuple(self._facts()),
            units=self.units.first,
            picture=self.picture,
            card=self._card(inside=False),
            inside=self._card(inside=True) if self._has_inside else None,
            layers=tuple(self._layers()),
            papers=tuple(self._papers()),
            tools=tuple(self._tools()),
            extras=tuple(self._extras()),
            sheets=tuple(sheets.sheets()),
            settings=tuple(sheets.settings()),
            cut_facts=sheets.facts(),
            tasks=tuple(self._task_writer.tasks()),
            finished=tuple(line for line in self._by_post if not self._counts_envelopes(line)),
            looks=tuple(self._looks()),
            leftovers=tuple(map(self._leftover, self.index.offcuts)),
            cautions=all_cautions(self.index, self.trimmer),
            foot=project.imprint.line or "",
            note=self._note(),
            minutes=in_minutes(cutting_seconds(self.index) + finishing_seconds(self.index)),
        )

    # What it is

    def _facts(self) -> Iterator[str]:
        project, plan = self.index.project, self.index.plan
        yield counted(plan.cards, "card")
        yield f"{self.units.both_sizes(project.card.size)}, {_FOLDS[project.card.fold]}"
        fewest = ", and fewer is impossible" if plan.totals.proven else ""
        yield taken_words(plan, fewest)
        seconds = cutting_seconds(self.index) + finishing_seconds(self.index)
        yield f"about {in_minutes(seconds)} at the table"

    def _note(self) -> str:
        first, second = (_UNIT_WORDS[unit] for unit in (self.units.first, self.units.second))
        planned = _UNIT_WORDS[self.index.project.units]
        return (
            f"Work in one unit from first to last: {first} or {second}. This card was planned in "
            f"{planned}; a figure with ≈ lies beside the nearest sixteenth of an inch, and "
            "millimetres are rounded to a tenth where they have to be."
        )

    @cached_property
    def _keys(self) -> Mapping[str, str]:
        """A letter for the base and for every piece: A to Z, then AA, AB and on."""
        names = [BASE, *(piece.name for piece in self.index.project.pieces)]
        return {name: _letters(place) for place, name in enumerate(names)}

    @cached_property
    def _inside(self) -> frozenset[str]:
        return frozenset(each.piece.name for each in placements(self.index.project) if each.inside)

    @property
    def _has_inside(self) -> bool:
        return bool(self._inside)

    def _card(self, *, inside: bool) -> Figure:
        project = self.index.project
        layers = [
            Callout(
                piece.name, self._keys[piece.name], piece.name, self.units.lead_size(piece.size)
            )
            for piece in project.pieces
            if (piece.name in self._inside) == inside and not piece.is_apart
        ]
        base = Callout(BASE, self._keys[BASE], BASE, project.card.paper)
        shown = (base, *layers)
        scale = scale_for([project.card.size], _CARD_ROOM)
        svg = card_figure(
            pale(project),
            shown,
            self.units,
            scale=scale,
            papers_by_layer=self._first_look,
            inside=inside,
        )
        names = listed([f"{one.key} {one.words}" for one in shown])
        where = "inside" if inside else "front"
        words = f"The {where} of the card, back to front: {names}."
        return Figure(svg, words, _width(svg), scale_words(scale))

    @property
    def _first_look(self) -> Mapping[str, str]:
        return self.index.plan.combinations[0].pieces

    def _layers(self) -> Iterator[LayerRow]:
        project = self.index.project
        look = whole_look(project)
        lead, other = (
            {laid.name: laid.how for laid in layers_of(project, look, graduation_for(unit))}
            for unit in (self.units.first, self.units.second)
        )
        base = project.card.base_size
        yield LayerRow(
            self._keys[BASE],
            BASE,
            "",
            self.units.lead_size(base),
            self.units.other_size(base),
            project.card.paper,
            lead[BASE],
            "",
        )
        for piece in project.pieces:
            yield LayerRow(
                key=self._keys[piece.name],
                name=piece.name,
                count=self._per_card(piece),
                lead=self.units.lead_size(piece.size),
                other=self.units.other_size(piece.size),
                papers=" or ".join(piece.papers),
                how=_how(piece, lead, other),
                corners=self._shape(piece),
            )

    def _per_card(self, piece: Piece) -> str:
        words = f"{piece.per_card} a card" if piece.per_card > 1 else ""
        if piece.spare:
            words = ", ".join(filter(None, [words, f"{piece.spare} spare"]))
        return words if piece.needed else ", ".join(filter(None, [words, "if it fits"]))

    def _shape(self, piece: Piece) -> str:
        raised = f"on foam pads, {self.units.both(piece.raised)} high" if piece.raised else ""
        return "; ".join(filter(None, [corner_words(piece, self.units), raised]))

    # What is needed

    def _papers(self) -> Iterator[PaperRow]:
        taken: Counter[tuple[str, bool, Size]] = Counter(
            (sheet.paper, sheet.offcut, sheet.size) for sheet in self.index.plan.sheets
        )
        for (name, offcut, size), count in taken.items():
            paper = self.index.project.paper(name)
            called = sheet_name(size)
            notes = [
                paper.kind,
                paper.weight or "",
                {"none": "", "up": "print one way up", "along": "print runs up and down"}[
                    paper.run
                ],
                f"other face “{paper.back.name}”" if paper.back else "",
            ]
            yield PaperRow(
                swatch=self._swatch(paper),
                name=name,
                sheets=counted(count, "offcut" if offcut else "sheet"),
                lead=f"{called}, {self.units.lead_size(size)}"
                if called and " in" not in called and "mm" not in called
                else self.units.lead_size(size),
                other=self.units.other_size(size),
                note=", ".join(filter(None, notes)),
            )

    def _swatch(self, paper: Paper) -> Figure:
        from workbench.drawing.patterns import swatch_svg

        project = pale(self.index.project)
        svg = swatch_svg(project.paper(paper.name), 11, 6)
        return Figure(svg, f"the print of {paper.name}: {paper.print}", 11)

    def _tools(self) -> Iterator[str]:
        """Common practice, no source."""
        project = self.index.project
        steps = (step for step in self.index.plan.steps if isinstance(step, Cut | Score))
        rule = max((step.mark for step in steps), default=None)
        yield (
            f"straight-blade trimmer with a rule to {self.units.both(rule)}" if rule else "trimmer"
        )
        if project.card.fold != "none":
            yield "scoring tool and bone folder"
        radii = {piece.rounding.radius for piece in project.pieces if piece.rounding}
        for radius in sorted(radii):
            yield f"corner rounder, radius {self.units.both(radius)}"
        holes = {hole.size for step in project.steps for hole in step.holes}
        for size in sorted(holes, key=lambda size: (size.width, size.height)):
            yield f"punch for {self._hole(size)}"
        for raised in sorted({piece.raised for piece in project.pieces if piece.raised}):
            yield f"foam pads, {self.units.both(raised)} high"
        yield "glue or double-sided tape, pencil"

    def _hole(self, size: Size) -> str:
        if size.width == size.height:
            return f"round holes, {self.units.both(size.width)}"
        return f"slots, {self.units.both_sizes(size)}"

    def _extras(self) -> Iterator[str]:
        cards = self.index.plan.cards
        for extra in self.index.project.extras:
            yield f"{extra.per_card * cards} × {extra.name}, {extra.per_card} a card"
        yield from (line for line in self._by_post if self._counts_envelopes(line))

    @cached_property
    def _by_post(self) -> tuple[str, ...]:
        try:
            card = card_by_post(self.index.project, self.desk)
        except CraftError:  # an envelope that the card does not fit is a doubt, told there
            return ()
        cards, units = self.index.plan.cards, self.units
        return tuple(letter_lines(card, cards, units.first, units.both_sizes))

    def _counts_envelopes(self, line: str) -> bool:
        """Whether it says what to have ready, and not what the finished card is."""
        return line.startswith(f"{self.index.plan.cards} × ")

    @property
    def _task_writer(self) -> TaskWriter:
        rows = tuple(self._layers())
        return TaskWriter(self.index, self.units, self._keys, rows, self._inside)

    def _looks(self) -> Iterator[CardLook]:
        """The cards that differ, each once."""
        project = pale(self.index.project)
        mixed = {layer.name for layer in project.layers() if project.mixed(layer.piece)}
        pieces = {layer.name: layer.piece.name for layer in project.layers()}
        alike: dict[tuple[tuple[str, str], ...], list[int]] = {}
        for card in self.index.plan.combinations:
            alike.setdefault(tuple(card.pieces.items()), []).append(card.card)
        for place, (shown, cards) in enumerate(alike.items()):
            papers = tuple(
                dict.fromkeys(
                    (self._keys[pieces[name]], face) for name, face in shown if name in mixed
                )
            )
            words = listed([f"{key} {face}" for key, face in papers]) or "all alike"
            picture = None
            if place < _MOST_PICTURES:
                svg = card_svg(project, dict(shown), edged=True)
                alt = f"Card {spans(cards)}: {words}."
                picture = Figure(svg, alt, float(project.card.size.width.mm))
            yield CardLook(spans(cards), len(cards), papers, picture)

    def _leftover(self, lot: LikeParts) -> LeftOver:
        paper = self.index.project.paper(lot.papers[0])
        return LeftOver(
            lot.count,
            self.units.lead_size(lot.size),
            self.units.other_size(lot.size),
            paper.name,
            self._good_for(lot.size, paper),
        )

    def _good_for(self, size: Size, paper: Paper) -> str:
        """The pieces of this card that are cut from its kind of paper and have room, in a grid."""
        offcut, fitting = replace(paper, size=size, strip=None), []
        project = self.index.project
        for piece in project.pieces:
            if paper.kind not in {project.paper(name).kind for name in piece.papers}:
                continue
            if count := times_on(offcut, piece.size):
                fitting.append(f"{count} × {piece.name}")
        return " or ".join(fitting) or "tags, borders, a swatch"


def _how(piece: Piece, lead: Mapping[str, str], other: Mapping[str, str]) -> str:
    """Where it lies, and all of several on a card; `lead` and `other` tell it by layer."""
    layers = layer_names(piece) if piece.spread == "placed" else (piece.name,)
    places = [_side_by_side(lead[one], other[one]) for one in layers]
    if len(places) > 1:
        return "; ".join(f"number {number} {how}" for number, how in enumerate(places, 1))
    if piece.per_card == 1:
        return places[0]
    one, several = _OTHERS[piece.spread]
    return f"{places[0]}; {one if piece.per_card == 2 else several}"


def _side_by_side(lead: str, other: str) -> str:
    """A sentence with each of its lengths in both units, from the same sentence in each."""
    again = iter(_LENGTH.findall(other))
    return _LENGTH.sub(lambda length: f"{length[0]} ({next(again)})", lead)


def _letters(place: int) -> str:
    first, last = divmod(place, 26)
    return (chr(64 + first) if first else "") + chr(65 + last)


def _width(svg: str) -> float:
    """The width that an SVG document of ours says it has, in millimetres."""
    return float(svg.split('width="', 1)[1].split("mm", 1)[0])
