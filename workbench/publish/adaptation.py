"""A project for a reader's own paper, unit, count and size of card; and what that changes."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial

from workbench.craft.card import BASE
from workbench.craft.conversion import in_unit
from workbench.craft.errors import CraftError
from workbench.craft.mixing import NO_RULES, Mixing, Use
from workbench.craft.pace import ESTIMATED, Pace
from workbench.craft.paper import MOST_SHEETS, Paper, Size
from workbench.craft.project import Project, fits
from workbench.craft.resizing import in_size
from workbench.craft.sheet_sizes import CARDS, SHEETS, sheet_name
from workbench.craft.trimmer import Trimmer
from workbench.drawing.two_units import TwoUnits
from workbench.making.plan_index import PlanIndex
from workbench.making.words import in_minutes, listed
from workbench.measure.counting import counted
from workbench.measure.length import Unit
from workbench.planning import Plan, PlanningError, Watch, plan_as_wished, settings
from workbench.publish.minutes import cutting_seconds
from workbench.publish.stand_ins import stood_in

# The sheets that paper for cards is sold in, the smallest first. Common practice, no source.
_SOLD = ("6 × 6 in", "8 × 8 in", "Letter", "A4", "Legal", "12 × 12 in", "Tabloid", "A3")


class AdaptationError(Exception):
    """Raised where the card cannot be made so: says what does not fit, and what would."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a reader has: None, or nothing, leaves the project as it is in that.

    `sheet` is the size of card and other plain sheets, `patterned` that of printed ones.
    `stand_ins` gives the reader's own paper for a paper of the project, by name.
    """

    unit: Unit | None = None
    sheet: Size | None = None
    patterned: Size | None = None
    count: int | None = None
    card: Size | None = None
    stand_ins: Mapping[str, Paper] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Adaptation:
    """The project as it was and as it is for the reader, each with its plan."""

    before: PlanIndex
    after: PlanIndex
    wishes: Wishes

    def changes(self) -> tuple[str, ...]:
        """What is different, a sentence for each thing, in the unit of the reader."""
        return tuple(_Teller(self).tell())


def adapt(
    project: Project,
    wishes: Wishes,
    trimmer: Trimmer | None = None,
    watch: Watch | None = None,
    plan: Plan | None = None,
    *,
    pace: Pace = ESTIMATED,
) -> Adaptation:
    """The project for that reader, planned, its sheets as many as it takes.

    `plan` is that of the project, where there is one already: all is planned at its pace, else at
    `pace`.

    Raises:
        AdaptationError: where it cannot be made so.
        Cancelled: when `watch` stops it.
    """
    trimmer, watch = trimmer or Trimmer(), watch or Watch()
    try:
        before = PlanIndex(project, plan or plan_as_wished(project, trimmer, watch, pace))
        planned = partial(_planned, trimmer=trimmer, watch=watch, pace=before.plan.pace)
        after = planned(adapted(project, wishes))
        if after.plan.totals.sheets > before.plan.totals.sheets and _is_converted(project, wishes):
            smaller = planned(adapted(project, wishes, down=True))
            if smaller.plan.totals.sheets < after.plan.totals.sheets:
                after = smaller
        if wishes != Wishes(unit=wishes.unit):
            wanted = _with_sheets(after.project, after.plan)
            # Sheets that a plan leaves in the drawer may be missing there as well.
            same = PlanIndex(wanted, after.plan)
            after = planned(wanted) if after.plan.shortages else same
    except PlanningError as error:
        raise AdaptationError(str(error)) from error
    return Adaptation(before, after, wishes)


def _planned(project: Project, trimmer: Trimmer, watch: Watch, pace: Pace) -> PlanIndex:
    return PlanIndex(project, plan_as_wished(project, trimmer, watch, pace))


def _is_converted(project: Project, wishes: Wishes) -> bool:
    return wishes.unit not in (None, project.units)


def adapted(project: Project, wishes: Wishes, *, down: bool = False) -> Project:
    """The project for that reader, not planned yet. Raises AdaptationError where nothing fits.

    With `down` converted sizes are rounded down.
    """
    papers = tuple(_on_sheet(paper, wishes) for paper in project.papers)
    offcuts = project.offcuts
    try:
        project = replace(project, offcuts=())
        sizes = {paper.name: paper.size for paper in project.papers}
        if wishes.card or _is_converted(project, wishes) or papers != project.papers:
            project = in_unit(_endless(project), wishes.unit or project.units, papers, down=down)
            project = in_size(project, wishes.card) if wishes.card else project
            project = _on_papers(project, papers)
        # A reader with other sheets does not have the maker's offcuts either.
        other = {paper.name for paper in papers if paper.size != sizes[paper.name]}
        kept = tuple(one for one in offcuts if one.paper not in other)
        project = replace(project, offcuts=kept)
        if wishes.stand_ins:
            project = stood_in(project, wishes.stand_ins)
        return _for_count(project, wishes.count) if wishes.count else project
    except CraftError as error:
        raise AdaptationError(str(error)) from error


def _on_papers(project: Project, papers: tuple[Paper, ...]) -> Project:
    """The project on these sheets of its papers."""
    _check_fit(project, {paper.name: paper for paper in papers})
    return replace(project, papers=papers)


def _endless(project: Project) -> Project:
    """The project on sheets so large that any card can be tried."""
    papers = tuple(
        replace(paper, size=Size(paper.size.width * 50, paper.size.height * 50), strip=None)
        for paper in project.papers
    )
    return replace(project, papers=papers)


def _on_sheet(paper: Paper, wishes: Wishes) -> Paper:
    size = wishes.patterned if paper.kind == "patterned" else wishes.sheet
    if size is None or size == paper.size:
        return paper
    share = paper.usable.area / size.area
    # In the maker's drawer it is of the old size.
    return _stocked(replace(paper, size=size, strip=None, stock=None), share)


def _stocked(paper: Paper, share: Fraction) -> Paper:
    """The paper with so many times its sheets, or as many as there can be."""
    return replace(paper, sheets=min(math.ceil(paper.sheets * share), MOST_SHEETS))


def _check_fit(project: Project, papers: Mapping[str, Paper]) -> None:
    """Refuse sheets too small for a piece, and say what would do."""
    wanted: list[tuple[str, Size, tuple[str, ...]]] = [
        (BASE, project.card.base_size, (project.card.paper,))
    ]
    wanted += [(piece.name, piece.size, piece.papers) for piece in project.pieces]
    units = TwoUnits(project.units)
    misfits = [
        (name, size, papers[names[0]])
        for name, size, names in wanted
        if not any(fits(papers[each], size) for each in names)
    ]
    if not misfits:
        return
    said = [f"{name} {units.lead_size(size)}" for name, size, _ in misfits]
    sheets = listed(list(dict.fromkeys(_called(paper.size, units) for _, _, paper in misfits)))
    ways = [*_sheets_that_do(misfits), *_cards_that_do(project, papers, units)]
    verb = "does" if len(said) == 1 else "do"
    raise AdaptationError(
        f"{listed(said)} {verb} not fit on {sheets}; use {' or '.join(ways) or 'larger sheets'}"
    )


def _sheets_that_do(misfits: list[tuple[str, Size, Paper]]) -> Iterator[str]:
    """The smallest named sheet on which all of them fit."""
    for name in _SOLD:
        sheet = SHEETS[name]
        if all(fits(replace(paper, size=sheet, strip=None), size) for _, size, paper in misfits):
            yield f"sheets of {name}"
            return


def _cards_that_do(project: Project, papers: Mapping[str, Paper], units: TwoUnits) -> Iterator[str]:
    """The largest named card, smaller than this one, of which all pieces fit."""
    front = project.card.size
    smaller = [size for size in CARDS.values() if front.holds(size) and size != front]
    smaller.sort(key=lambda size: -size.area)
    for size in smaller:
        try:
            card = in_size(_endless(project), size)
            replace(card, papers=tuple(papers.values()))
        except CraftError:
            continue
        name = next(name for name, one in CARDS.items() if one == size)
        yield f"a card of {units.lead_size(size)} ({name})"
        return


def _for_count(project: Project, count: int) -> Project:
    """The same card as often as wanted; rules for cards that are not made are left out."""
    share = Fraction(count, project.card.count)
    papers = tuple(_stocked(paper, share) for paper in project.papers)
    cards = tuple(card for card in project.mixing.cards if card.number <= count)
    return replace(
        project,
        card=replace(project.card, count=count),
        papers=papers,
        mixing=replace(project.mixing, cards=cards, use=_use(project.mixing, share)),
    )


def _use(mixing: Mixing, share: Fraction) -> Use | Mapping[str, int]:
    """Pieces counted paper by paper are those of the old count; then as they come is near."""
    if isinstance(mixing.use, str):
        return mixing.use
    counts = {paper: count * share for paper, count in mixing.use.items()}
    if any(count.denominator != 1 for count in counts.values()):
        return NO_RULES.use
    return {paper: int(count) for paper, count in counts.items()}


def _with_sheets(project: Project, plan: Plan) -> Project:
    """The project with as many sheets of each paper as its plan opens."""
    opened = Counter(sheet.paper for sheet in plan.sheets if not sheet.offcut)
    papers = tuple(replace(paper, sheets=opened[paper.name]) for paper in project.papers)
    return replace(project, papers=papers)


def _called(size: Size, units: TwoUnits) -> str:
    return sheet_name(size) or units.lead_size(size)


@dataclass(frozen=True)
class _Teller:
    adaptation: Adaptation

    def tell(self) -> Iterator[str]:
        yield from self._sizes()
        yield from self._papers()
        yield from self._left_out()
        yield from self._work()

    @property
    def _units(self) -> TwoUnits:
        return TwoUnits(self.adaptation.after.project.units)

    def _sizes(self) -> Iterator[str]:
        before, after = self.adaptation.before.project, self.adaptation.after.project
        pairs = [("card", before.card.size, after.card.size)]
        pairs += [
            (one.name, one.size, other.size)
            for one, other in zip(before.pieces, after.pieces, strict=True)
        ]
        was, now = TwoUnits(before.units), self._units
        for name, old, new in pairs:
            if old != new or before.units != after.units:
                yield f"{name}: {was.lead_size(old)} → {now.lead_size(new)}"
        if before.card.count != after.card.count:
            yield f"cards: {before.card.count} → {after.card.count}"

    def _papers(self) -> Iterator[str]:
        before, after = self.adaptation.before, self.adaptation.after
        taken = [
            Counter(sheet.paper for sheet in index.plan.sheets if not sheet.offcut)
            for index in (before, after)
        ]
        stand_ins = self.adaptation.wishes.stand_ins
        for paper in before.project.papers:
            own = stand_ins[paper.name].name if paper.name in stand_ins else paper.name
            new = after.project.paper(own)
            was = f"{counted(taken[0][paper.name], 'sheet')} of {_called(paper.size, self._units)}"
            now = f"{counted(taken[1][own], 'sheet')} of {_called(new.size, self._units)}"
            if (was, paper.name) != (now, own):
                renamed = f" ({own} in its place)" if own != paper.name else ""
                yield f"{paper.name}{renamed}: {was} → {now}"

    def _left_out(self) -> Iterator[str]:
        before, after = self.adaptation.before.project, self.adaptation.after.project
        if len(after.offcuts) < len(before.offcuts):
            kept = {one.paper for one in after.offcuts}
            left = dict.fromkeys(one.paper for one in before.offcuts if one.paper not in kept)
            whose = f" of {listed(list(left))}" if kept else ""
            yield f"the maker's offcuts{whose} are left out, as they are of other sheets"
        if len(after.mixing.cards) < len(before.mixing.cards):
            yield "what was settled for cards that are not made is left out"
        if before.mixing.counts and not after.mixing.counts:
            yield "how often each print is used is left open, as the cards are another number"
        strips = [one.name for one in before.papers if one.strip]
        if strips and not any(one.strip for one in after.papers):
            yield f"no printed strip is trimmed off {listed(strips)}, as other sheets may have none"

    def _work(self) -> Iterator[str]:
        old, new = self.adaptation.before, self.adaptation.after
        pairs = (
            ("sheets", old.plan.totals.sheets, new.plan.totals.sheets),
            ("marks", old.plan.totals.marks, new.plan.totals.marks),
            ("times the guide is set", settings(old.plan), settings(new.plan)),
            ("cuts", old.plan.totals.cuts, new.plan.totals.cuts),
        )
        for name, was, now in pairs:
            if was != now or name == "sheets":
                yield f"{name}: {was} → {now}"
        minutes = [in_minutes(cutting_seconds(index)) for index in (old, new)]
        yield f"time to cut: about {minutes[0]} → about {minutes[1]}"
        proof = (
            "fewer sheets are impossible"
            if new.plan.totals.proven
            else (f"not ruled out: {counted(new.plan.totals.fewest_possible, 'sheet')}")
        )
        yield f"planned anew: {proof}"
