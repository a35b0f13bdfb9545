"""An independent checker of plans: it shares no code with the planner and believes nothing.

`faults` says everything that is wrong with a piece of work; an empty list means that the sheets
can be cut as described, and that the parts make the cards that were ordered.
"""

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from tests.planning.facts import (
    Cell,
    CutSteps,
    Deed,
    Opened,
    Order,
    Stocked,
    Wanted,
    asked_by,
    asked_in,
    millimetres,
    planned_by,
    planned_in,
)
from workbench.craft.card import BASE
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning.result import Plan

# Common practice, no source: the careful defaults of craft/trimmer.py, stated a second time here.
CAREFUL_STACKS = {"patterned": 2, "cardstock": 1, "vellum": 1, "other": 1}


@dataclass(frozen=True)
class TrimmerLimits:
    """What the trimmer can do, in millimetres."""

    cut_length: Fraction = Fraction(25, 2) * Fraction(254, 10)
    rule_length: Fraction = 15 * Fraction(254, 10)
    at_once: Mapping[str, int] | None = None
    hold: Fraction = Fraction(1, 2) * Fraction(254, 10)

    def stack(self, kind: str) -> int:
        return (self.at_once or CAREFUL_STACKS)[kind]


@dataclass(frozen=True)
class Box:
    """A rectangle of paper at some moment of the cutting."""

    sheet: str
    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction


def plan_faults(
    project: Project, plan: Plan, trimmer: Trimmer | None = None, done: int = 0
) -> list[str]:
    """Everything wrong with a plan as the program holds it; `done` steps lie in the past."""
    blade = TrimmerLimits()
    if trimmer:
        stacks = {str(kind): sheets for kind, sheets in trimmer.at_once.items()}
        blade = TrimmerLimits(
            millimetres(trimmer.cut_length),
            millimetres(trimmer.rule_length),
            stacks,
            millimetres(trimmer.hold),
        )
    return faults(asked_by(project), planned_by(plan), blade, done)


def printed_faults(project_file: str, printed: str) -> list[str]:
    """Everything wrong with a plan as it is printed, from the texts alone."""
    return faults(asked_in(project_file), planned_in(json.loads(printed)), TrimmerLimits())


def faults(order: Order, work: CutSteps, blade: TrimmerLimits, done: int = 0) -> list[str]:
    """Everything wrong with the work, each in one line; `done` steps lie in the past."""
    return [
        *_names(work),
        *_sheets(order, work),
        *_tiling(work),
        *_cutting(order, work, blade),
        *_strips(order, work),
        *_held(order, work, blade),
        *_true(work, order, blade, done),
        *_pieces(order, work),
        *_finishing(order, work),
        *_cards(order, work),
        *_sums(work),
    ]


def _names(work: CutSteps) -> Iterator[str]:
    ids = [sheet.id for sheet in work.sheets] + [
        cell.id for sheet in work.sheets for cell in sheet.cells if cell.id != sheet.id
    ]
    for name, times in Counter(ids).items():
        if times > 1:
            yield f"{name}: the id is used {times} times"
    if [deed.n for deed in work.deeds] != list(range(1, len(work.deeds) + 1)):
        yield "the steps are not numbered 1, 2, 3"


def _sheets(order: Order, work: CutSteps) -> Iterator[str]:
    if (work.title, work.cards) != (order.title, order.cards):
        yield "the plan is for another order"
    opened = Counter(sheet.paper for sheet in work.sheets if sheet.whole)
    for name in opened.keys() | work.shortages.keys():
        paper = order.papers.get(name)
        if not paper:
            yield f"{name}: there is no such paper"
        elif max(0, opened[name] - paper.sheets) != work.shortages.get(name, 0):
            yield (
                f"{name}: {opened[name]} sheets opened, {paper.sheets} on hand, but "
                f"{work.shortages.get(name, 0)} to buy"
            )
    used = Counter((s.paper, s.width, s.height) for s in work.sheets if not s.whole)
    for (name, width, height), count in used.items():
        if count > order.offcuts.get((name, width, height), 0):
            yield f"{name}: no such offcut in stock, or not so many"
    for sheet in work.sheets:
        paper = order.papers.get(sheet.paper)
        if sheet.whole and paper and (sheet.width, sheet.height) != (paper.width, paper.height):
            yield f"{sheet.id}: the sheet is not the size of its paper"
        if not any(cell.role == "piece" for cell in sheet.cells):
            yield f"{sheet.id}: opened for nothing"


def _tiling(work: CutSteps) -> Iterator[str]:
    sound = set()  # like sheets are looked at once
    for sheet in work.sheets:
        places = tuple((cell.x, cell.y, cell.width, cell.height) for cell in sheet.cells)
        if (sheet.width, sheet.height, places) not in sound:
            wrong = [*_misplaced(sheet)]
            yield from wrong
            if not wrong:
                sound.add((sheet.width, sheet.height, places))


def _misplaced(sheet: Opened) -> Iterator[str]:
    for cell in sheet.cells:
        if cell.width <= 0 or cell.height <= 0:
            yield f"{cell.id}: a part with no area"
        if (
            min(cell.x, cell.y) < 0
            or cell.x + cell.width > sheet.width
            or cell.y + cell.height > sheet.height
        ):
            yield f"{cell.id}: lies outside its sheet"
    if sum(cell.width * cell.height for cell in sheet.cells) != sheet.width * sheet.height:
        yield f"{sheet.id}: the parts' areas do not add up to the sheet's"
    for one, other in combinations(sheet.cells, 2):
        if _overlap(one, other):
            yield f"{one.id} and {other.id}: overlap"


def _overlap(one: Cell, other: Cell) -> bool:
    return (
        one.x < other.x + other.width
        and other.x < one.x + one.width
        and one.y < other.y + other.height
        and other.y < one.y + one.height
    )


def _cutting(order: Order, work: CutSteps, blade: TrimmerLimits) -> Iterator[str]:
    """Replay the cuts with nothing but whole sheets in hand at first."""
    sheets = {sheet.id: sheet for sheet in work.sheets}
    zero = Fraction(0)
    in_hand = {s.id: Box(s.id, zero, zero, s.width, s.height) for s in work.sheets}
    ever = set(in_hand)
    for deed in work.deeds:
        if deed.do != "cut":
            continue
        missing = [name for name in deed.takes if name not in in_hand]
        if missing:
            yield f"step {deed.n}: {', '.join(missing)} is not there to be cut"
            continue
        if len(deed.takes) != len(deed.gives) or len(set(deed.takes)) != len(deed.takes):
            yield f"step {deed.n}: what is taken and what is given do not pair up"
            continue
        taken = [in_hand.pop(name) for name in deed.takes]
        yield from _stroke(deed, taken, sheets, order, blade)
        for box, (first, rest) in zip(taken, deed.gives, strict=True):
            if first in ever or rest in ever or first == rest:
                yield f"step {deed.n}: gives an id that was used before"
            ever |= {first, rest}
            in_hand[first], in_hand[rest] = _cut(box, deed)
    yield from _compared(in_hand, work)


def _stroke(
    deed: Deed, taken: list[Box], sheets: Mapping[str, Opened], order: Order, blade: TrimmerLimits
) -> Iterator[str]:
    if not taken:
        yield f"step {deed.n}: cuts nothing"
        return
    if len({(box.width, box.height) for box in taken}) > 1:
        yield f"step {deed.n}: stacks rectangles of different sizes"
    papers = [order.papers.get(sheets[box.sheet].paper) for box in taken]
    if len(taken) > min(blade.stack(paper.kind) for paper in papers if paper):
        yield f"step {deed.n}: stacks more than the trimmer takes"
    if deed.measure not in ("width", "height") or deed.mark is None:
        yield f"step {deed.n}: a cut without its measure and mark"
        return
    for box in taken:
        along, across = (
            (box.width, box.height) if deed.measure == "width" else (box.height, box.width)
        )
        if not 0 < deed.mark < along:
            yield f"step {deed.n}: the mark is not within what is cut"
        if across > blade.cut_length:
            yield f"step {deed.n}: the cut is longer than the trimmer's"
    if deed.mark > blade.rule_length:
        yield f"step {deed.n}: the mark is beyond the trimmer's rule"


def _cut(box: Box, deed: Deed) -> tuple[Box, Box]:
    mark = deed.mark or Fraction(0)
    if deed.measure == "width":
        return (
            Box(box.sheet, box.x, box.y, mark, box.height),
            Box(box.sheet, box.x + mark, box.y, box.width - mark, box.height),
        )
    return (
        Box(box.sheet, box.x, box.y, box.width, mark),
        Box(box.sheet, box.x, box.y + mark, box.width, box.height - mark),
    )


def _strips(order: Order, work: CutSteps) -> Iterator[str]:
    """A printed strip goes first, whole, and to the scrap."""
    first_cut = {
        name: deed for deed in reversed(work.deeds) if deed.do == "cut" for name in deed.takes
    }
    for sheet in work.sheets:
        paper = order.papers.get(sheet.paper)
        if not (paper and paper.strip and sheet.whole):
            continue
        edge, width = paper.strip
        measure, whole = ("width", sheet.width)
        if edge in ("top", "bottom"):
            measure, whole = ("height", sheet.height)
        mark = width if edge in ("left", "bottom") else whole - width
        deed = first_cut.get(sheet.id)
        if not deed or (deed.measure, deed.mark) != (measure, mark):
            yield f"{sheet.id}: its printed strip is not cut off first"
            continue
        firsts, rests = zip(*deed.gives, strict=True)
        strips = firsts if edge in ("left", "bottom") else rests
        strip = strips[deed.takes.index(sheet.id)]
        if not any(cell.id == strip and cell.role == "scrap" for cell in sheet.cells):
            yield f"{strip}: the printed strip is not thrown away"


def _held(order: Order, work: CutSteps, blade: TrimmerLimits) -> Iterator[str]:
    """One part of every cut is wide enough to hold, unless all that lay side by side is narrow.

    The parts of a rectangle cut again and again the same way can be cut off in any order, so
    any one of them that is wide enough could have been left till last.
    """
    striped = {s.id for s in work.sheets if s.whole and order.papers[s.paper].strip}
    sizes = {sheet.id: {"width": sheet.width, "height": sheet.height} for sheet in work.sheets}
    cut_off: dict[str, tuple[str, list[Fraction]]] = {}
    for deed in work.deeds:
        if deed.do != "cut" or deed.measure is None or deed.mark is None:
            continue
        for taken, (first, rest) in zip(deed.takes, deed.gives, strict=False):
            if taken not in sizes:
                continue
            left = sizes[taken][deed.measure] - deed.mark
            sizes[first] = sizes[taken] | {deed.measure: deed.mark}
            sizes[rest] = sizes[taken] | {deed.measure: left}
            way, before = cut_off.get(taken, ("", []))
            beside = before if way == deed.measure else []
            if taken not in striped:
                cut_off[rest] = (deed.measure, [*beside, deed.mark])
            if max(deed.mark, left) < blade.hold <= max(beside, default=Fraction(0)):
                yield f"step {deed.n}: nothing to hold {taken} by, though there was"


def _compared(in_hand: Mapping[str, Box], work: CutSteps) -> Iterator[str]:
    planned = {
        cell.id: Box(sheet.id, cell.x, cell.y, cell.width, cell.height)
        for sheet in work.sheets
        for cell in sheet.cells
    }
    for name in planned.keys() - in_hand.keys():
        yield f"{name}: the cuts never give this part"
    for name in in_hand.keys() - planned.keys():
        yield f"{name}: the cuts give a part that is not planned"
    for name in planned.keys() & in_hand.keys():
        if planned[name] != in_hand[name]:
            yield f"{name}: the cuts give it elsewhere or in another size"


def _pieces(order: Order, work: CutSteps) -> Iterator[str]:
    cut: Counter[str] = Counter()
    for sheet in work.sheets:
        for cell in sheet.cells:
            if cell.role not in ("piece", "offcut", "scrap"):
                yield f"{cell.id}: {cell.role} is no role"
            if (cell.role == "piece") != (cell.piece is not None):
                yield f"{cell.id}: its role and its piece disagree"
            if cell.piece is not None:
                cut[cell.piece] += 1
                yield from _piece(order, sheet, cell, cell.piece)
    for name, wanted in order.pieces.items():
        every = wanted.count + wanted.spare
        if cut[name] > every or (wanted.needed and cut[name] < every):
            yield f"{name}: {cut[name]} cut where {every} are wanted"


def _piece(order: Order, sheet: Opened, cell: Cell, name: str) -> Iterator[str]:
    wanted, paper = order.pieces.get(name), order.papers.get(sheet.paper)
    if not wanted:
        yield f"{cell.id}: {name} was never ordered"
        return
    lies = (cell.height, cell.width) if cell.turned else (cell.width, cell.height)
    if lies != (wanted.width, wanted.height):
        yield f"{cell.id}: {name} has the wrong size"
    if cell.turned and paper and not paper.turns:
        yield f"{cell.id}: {name} is turned on a paper with a run"
    if sheet.paper not in wanted.papers:
        yield f"{cell.id}: {name} may not be cut from {sheet.paper}"


def _finishing(order: Order, work: CutSteps) -> Iterator[str]:
    """Steps after the cutting, where the plan has them."""
    finals = {cell.id: cell.piece for sheet in work.sheets for cell in sheet.cells if cell.piece}
    for deed in work.deeds:
        if (
            deed.do in ("score", "fold", "round", "deal", "mount")
            and not set(deed.takes) <= finals.keys()
        ):
            yield f"step {deed.n}: takes what is no finished piece"
    scored = Counter(name for deed in work.deeds if deed.do == "score" for name in deed.takes)
    bases = Counter(name for name, piece in finals.items() if piece == BASE)
    if scored and scored != bases:
        yield "the bases are not scored once each"
    spine = {"top": order.front[1], "side": order.front[0]}.get(order.fold)
    for deed in work.deeds:
        if deed.do == "score" and deed.mark != spine:
            yield f"step {deed.n}: the score is not at the fold"
    made = [deed.card for deed in work.deeds if deed.do == "assemble"]
    if made and sorted(card or 0 for card in made) != list(range(1, order.cards + 1)):
        yield "the cards are not assembled once each"


def _cards(order: Order, work: CutSteps) -> Iterator[str]:
    if sorted(card for card, _ in work.dealt) != list(range(1, order.cards + 1)):
        yield "the combinations are not one for each card"
    dealt: Counter[tuple[str, str]] = Counter()
    for card, papers in work.dealt:
        if list(papers) != [layer for layer in order.layers if layer in papers]:
            yield f"card {card}: its layers are unknown or out of order"
        for layer, piece in order.layers.items():
            if layer not in papers:
                if order.pieces[piece].needed:
                    yield f"card {card}: {layer} is missing"
                continue
            paper = order.paper_of(papers[layer])
            dealt[piece, paper] += 1
            if paper not in order.pieces[piece].papers:
                yield f"card {card}: {layer} may not be cut from {papers[layer]}"
        yield from _repeats(order, card, papers)
        yield from _copies(order, card, papers)
        yield from _rules(order, card, papers)
    cut = Counter(
        (cell.piece, sheet.paper)
        for sheet in work.sheets
        for cell in sheet.cells
        if cell.piece and cell.piece != BASE
    )
    left: Counter[str] = Counter()
    for piece, paper in cut.keys() | dealt.keys():
        left[piece] += cut[piece, paper] - dealt[piece, paper]
        spare = order.pieces[piece].spare if piece in order.pieces else 0
        if not 0 <= cut[piece, paper] - dealt[piece, paper] <= spare:
            yield (
                f"{piece}: {cut[piece, paper]} cut from {paper} but "
                f"{dealt[piece, paper]} dealt to cards"
            )
    yield from _used(order, dealt)
    for name, wanted in order.pieces.items():
        if name != BASE and left[name] != wanted.spare:
            yield f"{name}: {left[name]} left over where {wanted.spare} are to be spare"


def _repeats(order: Order, card: int, papers: Mapping[str, str]) -> Iterator[str]:
    """No print on two pieces of a card, unless each of those can be cut from nothing else.

    Or unless those two may repeat it.
    """
    shown = {(BASE, order.pieces[BASE].papers[0])}
    shown |= {
        (order.layers[layer], paper) for layer, paper in papers.items() if layer in order.layers
    }
    for (one, face), (other, same) in combinations(sorted(shown), 2):
        mixed = order.mixes(order.pieces[one]) or order.mixes(order.pieces[other])
        if face == same and order.shows(face) and mixed and not order.may_repeat(one, other):
            yield f"card {card}: shows {face} twice"


def _copies(order: Order, card: int, papers: Mapping[str, str]) -> Iterator[str]:
    """Copies of a mixed piece are all alike, or each is another."""
    for name, wanted in order.pieces.items():
        layers = [layer for layer, piece in order.layers.items() if piece == name]
        shown = [papers.get(layer) for layer in layers]
        faces = [face for face in shown if face is not None]
        if not order.mixes(wanted) or name == BASE:
            continue
        if wanted.another and len(set(faces)) < len(faces):
            yield f"card {card}: {name} is not each another"
        if not wanted.another and len(set(shown)) > 1:
            yield f"card {card}: {name} is not alike"


def _used(order: Order, dealt: Mapping[tuple[str, str], int]) -> Iterator[str]:
    """The papers are used as wished."""
    mixed = {
        name: wanted
        for name, wanted in order.pieces.items()
        if name != BASE and order.mixes(wanted)
    }
    ticked = {paper for wanted in mixed.values() for paper in wanted.papers}
    pieces = {paper: sum(dealt.get((name, paper), 0) for name in mixed) for paper in sorted(ticked)}
    if order.use == "all":
        yield from (f"{paper}: it is not used" for paper, count in pieces.items() if not count)
    elif not isinstance(order.use, str):
        for paper, count in order.use.items():
            if pieces.get(paper, 0) != count:
                yield f"{paper}: {pieces.get(paper, 0)} pieces of it on cards, not {count}"
    elif order.use == "evenly" and len(mixed) == 1:  # of several, one may stand in another's way
        (name, wanted), *_ = mixed.items()
        each = [dealt.get((name, paper), 0) for paper in wanted.papers]
        step = 1 if wanted.another else max(1, wanted.count // order.cards)
        if wanted.needed and _could_be_even(order, wanted) and max(each) - min(each) > step:
            yield f"{name}: not used evenly, {each}"


def _could_be_even(order: Order, wanted: Wanted) -> bool:
    """Whether nothing else keeps any of its papers from the piece."""
    fixed = {
        paper for other in order.pieces.values() if not order.mixes(other) for paper in other.papers
    }
    free = not (order.apart or order.together or order.fixed)
    held = all(_holds(order.papers[paper], wanted) for paper in wanted.papers)
    return free and held and not fixed.intersection(wanted.papers)


def _holds(paper: Stocked, wanted: Wanted) -> bool:
    """Whether the piece fits on a whole sheet, its printed strip cut off."""
    edge, strip = paper.strip or ("left", Fraction(0))
    width = paper.width - strip * (edge in ("left", "right"))
    height = paper.height - strip * (edge in ("top", "bottom"))
    lying = [(wanted.width, wanted.height), (wanted.height, wanted.width)]
    return any(one <= width and other <= height for one, other in lying[: 1 + paper.turns])


def _rules(order: Order, card: int, papers: Mapping[str, str]) -> Iterator[str]:
    """What the maker asked of the mixture."""
    shown = {*papers.values(), *order.pieces[BASE].papers}
    for one, other in order.apart:
        if one in shown and other in shown:
            yield f"card {card}: {one} and {other} meet"
    for one, other in order.together:
        if (one in shown) != (other in shown):
            yield f"card {card}: {one} and {other} do not meet"
    for layer, face in order.fixed.get(card, {}).items():
        if papers.get(layer) != face:
            yield f"card {card}: {layer} is not of {face}"


def _sums(work: CutSteps) -> Iterator[str]:
    whole = Counter(sheet.paper for sheet in work.sheets if sheet.whole)
    cuts = [deed for deed in work.deeds if deed.do == "cut"]
    if work.total.sheets != whole.total():
        yield f"totals: {work.total.sheets} sheets said, {whole.total()} opened"
    if work.cuts != len(cuts):
        yield f"totals: {work.cuts} cuts said, {len(cuts)} made"
    if work.marks != len({deed.mark for deed in cuts}):
        yield f"totals: {work.marks} marks said, {len({deed.mark for deed in cuts})} used"
    grouped = Counter(paper for group in work.groups for paper in group.papers)
    for paper in whole.keys() | grouped.keys():
        if grouped[paper] != 1:
            yield f"groups: {paper} stands in {grouped[paper]} groups"
    for group in work.groups:
        if group.sheets != sum(whole[paper] for paper in group.papers):
            yield f"groups: {', '.join(group.papers)} has the wrong number of sheets"
    if work.total.sheets != sum(group.sheets for group in work.groups):
        yield "groups: their sheets do not add up to the total"
    if work.total.fewest != sum(group.fewest for group in work.groups):
        yield "groups: their fewest possible do not add up to the total"
    for sums in (work.total, *work.groups):
        if sums.fewest > sums.sheets or sums.proven != (sums.fewest == sums.sheets):
            yield "groups: fewer sheets used than are possible, or wrongly called proven"


def _true(work: CutSteps, order: Order, blade: TrimmerLimits, done: int) -> Iterator[str]:
    """Every cut measures something wanted, and what is not measured closes a row of it.

    A first part bears a piece, and in the direction measured its pieces use it up. A printed strip
    is cut off as it lies; a part wider than the rule is measured by what is beside it; the `done`
    steps are those before a slip, which were true then.
    """
    printed = {name for sheet in work.sheets for name in _printed(sheet, order)}
    cuts = {name: (deed, gives) for deed in work.deeds if deed.do == "cut"
            for name, gives in zip(deed.takes, deed.gives, strict=False)}  # fmt: skip
    cells = {cell.id: cell for sheet in work.sheets for cell in sheet.cells}
    known: dict[str, tuple[Fraction, Fraction] | None] = {}

    def filled(name: str) -> tuple[Fraction, Fraction] | None:
        """The width and height that the pieces of a part take up; None where it has none."""
        if name not in known:
            known[name] = _filled(name)
        return known[name]

    def _filled(name: str) -> tuple[Fraction, Fraction] | None:
        if name not in cuts:
            cell = cells.get(name)
            return (cell.width, cell.height) if cell and cell.role == "piece" else None
        deed, halves = cuts[name]
        bearing = [size for size in map(filled, halves) if size is not None]
        if not bearing:
            return None
        widths, heights = zip(*bearing, strict=True)
        if deed.measure == "width":
            return sum(widths, Fraction(0)), max(heights)
        return max(widths), sum(heights, Fraction(0))

    for deed, (first, rest) in cuts.values():
        if printed.intersection((first, rest)) or deed.mark is None or deed.n <= done:
            continue
        size, other = filled(first), filled(rest)
        way = 0 if deed.measure == "width" else 1
        if other is not None and other[way] > blade.rule_length:
            continue
        if size is None:
            yield f"step {deed.n}: {first} is measured and bears no piece"
        elif size[way] != deed.mark:
            yield f"step {deed.n}: {first} measures more than its pieces"


def _printed(sheet: Opened, order: Order) -> Iterator[str]:
    """The parts of a sheet, at any moment of the cutting, that lie wholly in its printed strip."""
    paper = order.papers.get(sheet.paper)
    if not (paper and paper.strip and sheet.whole):
        return
    edge, width = paper.strip
    lying: dict[str, bool] = {}
    for cell in sheet.cells:
        beyond = {
            "left": cell.x + cell.width,
            "right": sheet.width - cell.x,
            "bottom": cell.y + cell.height,
            "top": sheet.height - cell.y,
        }[edge]
        steps = cell.id.split(".")
        for depth in range(1, len(steps) + 1):
            name = ".".join(steps[:depth])
            lying[name] = lying.get(name, True) and beyond <= width
    yield from (name for name, inside in lying.items() if inside)
