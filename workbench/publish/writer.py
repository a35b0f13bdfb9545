"""From a planned batch to its recipe: all that is said of it, in words and in both units."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from workbench.craft.card import BASE, Piece, Spread
from workbench.craft.errors import CraftError
from workbench.craft.geometry import placements
from workbench.craft.paper import Paper, Size
from workbench.craft.project import layer_names
from workbench.craft.sheet_sizes import sheet_name
from workbench.craft.trimmer import Trimmer
from workbench.drawing.card_figure import Callout, card_figure, pale
from workbench.drawing.sheet_svg import page_size, sheet_svg
from workbench.drawing.svg import card_svg
from workbench.drawing.two_units import TwoUnits
from workbench.making.assembly import layers_of
from workbench.making.cautions import all_cautions
from workbench.making.plan_index import Lot, PlanIndex
from workbench.making.words import in_minutes, listed, spans
from workbench.measure.counting import counted
from workbench.measure.length import Length, Unit
from workbench.measure.writing import graduation_for, nearest_mark, where_on_rule
from workbench.planning import (
    Cut,
    Score,
    Sheet,
)
from workbench.post import Desk, card_by_post, letter_lines
from workbench.publish.cuts import CutRow, CutTable, Setting
from workbench.publish.minutes import cutting_seconds, finishing_seconds
from workbench.publish.recipe import (
    CardLook,
    CutLineRow,
    Figure,
    LayerRow,
    LeftOver,
    PaperRow,
    Recipe,
    SettingRow,
    SheetRow,
)
from workbench.publish.tasks import TaskWriter, corner_words, whole_look

# Scales that a reader can undo in the head, the largest first.
_SCALES = tuple(
    Fraction(1) / Fraction(part)
    for part in ("1", "3/2", "2", "5/2", "3", "4", "5", "6", "8", "10", "12", "16", "20", "25")
)
# The widest and the highest that a sheet and a card are drawn, in millimetres of the page.
_SHEET_ROOM = (88.0, 112.0)
_CARD_ROOM = (76.0, 92.0)
_MOST_PICTURES = 60
_APART = "goes with the card, glued to nothing"
_OTHERS: Mapping[Spread, str] = {
    "loose": "the others wherever you like",
    "mirrored": "the others mirrored across and up",
    "in a row": "the others in a row, the last as far from the other edge",
}
_FOLDS = {"top": "opens like a tent", "side": "opens like a book", "none": "not folded"}
_CORNERS = 4
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
    bench: PlanIndex
    trimmer: Trimmer
    units: TwoUnits
    picture: str
    desk: Desk

    def write(self) -> Recipe:
        project = self.bench.project
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
            sheets=tuple(self._sheet(sheets) for sheets in self.bench.layouts),
            settings=tuple(self._settings()),
            cut_facts=self._cut_facts(),
            tasks=tuple(self._task_writer.tasks()),
            finished=tuple(line for line in self._by_post if not self._counts_envelopes(line)),
            looks=tuple(self._looks()),
            leftovers=tuple(map(self._leftover, self.bench.offcuts)),
            cautions=all_cautions(self.bench, self.trimmer),
            foot=project.imprint.line or "",
            note=self._note(),
            minutes=in_minutes(cutting_seconds(self.bench) + finishing_seconds(self.bench)),
        )

    # What it is

    def _facts(self) -> Iterator[str]:
        project, plan = self.bench.project, self.bench.plan
        yield counted(plan.cards, "card")
        yield f"{self.units.both_sizes(project.card.size)}, {_FOLDS[project.card.fold]}"
        fewest = ", and fewer is impossible" if plan.totals.proven else ""
        yield f"{counted(plan.totals.sheets, 'sheet')}{fewest}"
        seconds = cutting_seconds(self.bench) + finishing_seconds(self.bench)
        yield f"about {in_minutes(seconds)} at the table"

    def _note(self) -> str:
        first, second = (_UNIT_WORDS[unit] for unit in (self.units.first, self.units.second))
        planned = _UNIT_WORDS[self.bench.project.units]
        return (
            f"Work in one unit from first to last: {first} or {second}. This card was planned in "
            f"{planned}; a figure with ≈ lies beside the nearest sixteenth of an inch, and "
            "millimetres are rounded to a tenth where they have to be."
        )

    @cached_property
    def _keys(self) -> Mapping[str, str]:
        """A letter for the base and for every piece: A to Z, then AA, AB and on."""
        names = [BASE, *(piece.name for piece in self.bench.project.pieces)]
        return {name: _letters(place) for place, name in enumerate(names)}

    @cached_property
    def _inside(self) -> frozenset[str]:
        return frozenset(each.piece.name for each in placements(self.bench.project) if each.inside)

    @property
    def _has_inside(self) -> bool:
        return bool(self._inside)

    def _card(self, *, inside: bool) -> Figure:
        project = self.bench.project
        layers = [
            Callout(
                piece.name, self._keys[piece.name], piece.name, self.units.lead_size(piece.size)
            )
            for piece in project.pieces
            if (piece.name in self._inside) == inside and not piece.is_apart
        ]
        base = Callout(BASE, self._keys[BASE], BASE, project.card.paper)
        shown = (base, *layers)
        scale = _scale([project.card.size], _CARD_ROOM)
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
        words = f"The {where} of the card, to scale, back to front: {names}."
        return Figure(svg, words, _width(svg), _scale_words(scale))

    @property
    def _first_look(self) -> Mapping[str, str]:
        return self.bench.plan.combinations[0].pieces

    def _layers(self) -> Iterator[LayerRow]:
        project = self.bench.project
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
            (sheet.paper, sheet.offcut, sheet.size) for sheet in self.bench.plan.sheets
        )
        for (name, offcut, size), count in taken.items():
            paper = self.bench.project.paper(name)
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

        project = pale(self.bench.project)
        svg = swatch_svg(project.paper(paper.name), 11, 6)
        return Figure(svg, f"the print of {paper.name}: {paper.print}", 11)

    def _tools(self) -> Iterator[str]:
        """Common practice, no source."""
        project = self.bench.project
        steps = (step for step in self.bench.plan.steps if isinstance(step, Cut | Score))
        rule = max((step.mark for step in steps), default=None)
        yield (
            f"straight-blade trimmer with a rule to {self.units.both(rule)}" if rule else "trimmer"
        )
        if project.card.fold != "none":
            yield "scoring tool and bone folder"
        radii = {piece.rounding.radius for piece in project.pieces if piece.rounding}
        for radius in sorted(radii):
            yield f"corner rounder, radius {self.units.both(radius)}"
        yield "glue or double-sided tape, pencil"

    def _extras(self) -> Iterator[str]:
        cards = self.bench.plan.cards
        for extra in self.bench.project.extras:
            yield f"{extra.per_card * cards} × {extra.name}, {extra.per_card} a card"
        yield from (line for line in self._by_post if self._counts_envelopes(line))

    @cached_property
    def _by_post(self) -> tuple[str, ...]:
        try:
            card = card_by_post(self.bench.project, self.desk)
        except CraftError:  # an envelope that the card does not fit is a doubt, told there
            return ()
        return tuple(letter_lines(card, self.bench.plan.cards, self.units.first))

    def _counts_envelopes(self, line: str) -> bool:
        """Whether it says what to have ready, and not what the finished card is."""
        return line.startswith(f"{self.bench.plan.cards} × ")

    # The sheets and their cuts

    @cached_property
    def _names(self) -> Mapping[str, str]:
        """What each sheet is called: those cut alike share a name."""
        return {
            sheet.id: f"sheet {number}"
            for number, sheets in enumerate(self.bench.layouts, 1)
            for sheet in sheets
        }

    @cached_property
    def _cuts(self) -> CutTable:
        return CutTable(self.bench, self._names, self.units)

    @cached_property
    def _sheet_scale(self) -> Fraction:
        return _scale([sheets[0].size for sheets in self.bench.layouts], _SHEET_ROOM)

    def _sheet(self, sheets: Sequence[Sheet]) -> SheetRow:
        first = sheets[0]
        paper = self.bench.project.paper(first.paper)
        runs = {self.bench.project.paper(sheet.paper).run for sheet in sheets}
        name = self._names[first.id]
        by_paper = Counter(sheet.paper for sheet in sheets)
        gives = tuple(self._gives(first))
        what = "offcut" if first.offcut else "sheet"
        svg = sheet_svg(
            first,
            self._cuts.lines(sheets),
            self._keys,
            self.units,
            scale=self._sheet_scale,
            run=paper.run if len(runs) == 1 else "none",
            title=name,
        )
        size = self.units.both_sizes(first.size)
        alt = f"{name}, {what} of {size}, with its numbered cuts; it gives {listed(gives)}."
        return SheetRow(
            name=name.capitalize(),
            heading=f"{counted(len(sheets), what)} of {size}",
            papers=tuple(f"{count} × {paper}" for paper, count in by_paper.items()),
            gives=gives,
            figure=Figure(
                svg,
                alt,
                page_size(first.size, self._sheet_scale)[0],
                _scale_words(self._sheet_scale),
            ),
        )

    def _gives(self, sheet: Sheet) -> Iterator[str]:
        found: Counter[tuple[str, Size]] = Counter()
        for part in sheet.parts:
            if part.role == "scrap":
                continue
            size = Size(part.width, part.height)
            found[part.piece or "to keep", size.turned if part.turned else size] += 1
        for (name, size), count in found.items():
            key = self._keys.get(name, "")
            yield f"{count} × {f'{key} ' if key else ''}{name}, {self.units.both_sizes(size)}"

    def _settings(self) -> Iterator[SettingRow]:
        before = 0.0
        for setting in self._cuts.settings:
            yield SettingRow(
                lead=self.units.lead(setting.mark),
                other=self.units.other(setting.mark),
                where=self._where(setting.mark),
                minute=round(before / 60),
                rows=tuple(map(self._row, setting.rows)),
            )
            before += self._seconds(setting)

    def _where(self, mark: Length) -> str:
        graduation = graduation_for(self.units.first)
        return where_on_rule(nearest_mark(mark, graduation).mark, graduation)

    def _row(self, row: CutRow) -> CutLineRow:
        return CutLineRow(
            str(row.number),
            self._cuts.along(row),
            tuple(self._cuts.takes(row)),
            tuple(self._cuts.gives(row)),
            row.at_once,
        )

    def _seconds(self, setting: Setting) -> float:
        return cutting_seconds(self.bench, setting.strokes)

    def _cut_facts(self) -> str:
        totals = self.bench.plan.totals
        settings = len(self._cuts.settings)
        return (
            f"{counted(totals.cuts, 'cut')}, the guide set {counted(settings, 'time')}, "
            f"about {in_minutes(cutting_seconds(self.bench))}"
        )

    @property
    def _task_writer(self) -> TaskWriter:
        rows = tuple(self._layers())
        return TaskWriter(self.bench, self.units, self._keys, rows, self._inside)

    def _looks(self) -> Iterator[CardLook]:
        """The cards that differ, each once."""
        project = pale(self.bench.project)
        mixed = {layer.name for layer in project.layers() if project.mixed(layer.piece)}
        pieces = {layer.name: layer.piece.name for layer in project.layers()}
        alike: dict[tuple[tuple[str, str], ...], list[int]] = {}
        for card in self.bench.plan.combinations:
            alike.setdefault(tuple(card.pieces.items()), []).append(card.card)
        for place, (shown, cards) in enumerate(alike.items()):
            papers = tuple(
                (self._keys[pieces[name]], face) for name, face in shown if name in mixed
            )
            words = listed([f"{key} {face}" for key, face in papers]) or "all alike"
            picture = None
            if place < _MOST_PICTURES:
                svg = card_svg(project, dict(shown))
                alt = f"Card {spans(cards)}: {words}."
                picture = Figure(svg, alt, float(project.card.size.width.mm))
            yield CardLook(spans(cards), len(cards), papers, picture)

    def _leftover(self, lot: Lot) -> LeftOver:
        paper = self.bench.project.paper(lot.papers[0])
        return LeftOver(
            lot.count,
            self.units.lead_size(lot.size),
            self.units.other_size(lot.size),
            paper.name,
            self._good_for(lot.size, paper),
        )

    def _good_for(self, size: Size, paper: Paper) -> str:
        """The pieces of this card that could be cut from it, in a grid."""
        fitting = []
        for piece in self.bench.project.pieces:
            count = max(
                _grid(size, piece.size), _grid(size, piece.size.turned) if paper.turns else 0
            )
            if count:
                fitting.append(f"{count} × {piece.name}")
        return " or ".join(fitting) or "tags, borders, a swatch"


def _how(piece: Piece, lead: Mapping[str, str], other: Mapping[str, str]) -> str:
    """Where it lies, and all of several on a card; `lead` and `other` tell it by layer."""
    layers = layer_names(piece) if piece.spread == "placed" else (piece.name,)
    places = [_side_by_side(lead.get(one, _APART), other.get(one, _APART)) for one in layers]
    if len(places) > 1:
        return "; ".join(f"number {number} {how}" for number, how in enumerate(places, 1))
    if piece.per_card == 1:
        return places[0]
    return f"{places[0]}; {_OTHERS[piece.spread]}"


def _side_by_side(lead: str, other: str) -> str:
    """A sentence with each of its lengths in both units, from the same sentence in each."""
    again = iter(_LENGTH.findall(other))
    return _LENGTH.sub(lambda length: f"{length[0]} ({next(again)})", lead)


def _grid(size: Size, piece: Size) -> int:
    return int(size.width.ratio(piece.width)) * int(size.height.ratio(piece.height))


def _letters(place: int) -> str:
    first, last = divmod(place, 26)
    return (chr(64 + first) if first else "") + chr(65 + last)


def _scale(sizes: Sequence[Size], room: tuple[float, float]) -> Fraction:
    """The largest scale at which all of these sizes have room."""
    width = max(float(size.width.mm) for size in sizes)
    height = max(float(size.height.mm) for size in sizes)
    margin = page_size(sizes[0], Fraction(0))[0]
    for scale in _SCALES:
        if width * scale + margin <= room[0] and height * scale <= room[1]:
            return scale
    return _SCALES[-1]


def _scale_words(scale: Fraction) -> str:
    """ "1 : 4", "1 : 2.5"."""
    whole = 1 / scale
    return f"1 : {whole.numerator if whole.denominator == 1 else float(whole)}"


def _width(svg: str) -> float:
    """The width that an SVG document of ours says it has, in millimetres."""
    return float(svg.split('width="', 1)[1].split("mm", 1)[0])
