"""A whole plan in a terminal or on paper: what to take, how to cut it, how the prints are mixed."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from workbench.craft.card import BASE
from workbench.craft.paper import Size
from workbench.craft.project import Project, layer_names
from workbench.craft.trimmer import Trimmer
from workbench.drawing.accuracy import warnings
from workbench.drawing.labels import bare_size, write_short, write_size
from workbench.drawing.post import post_summary
from workbench.drawing.prints import swatch
from workbench.drawing.sheet_labels import Likeness, likeness
from workbench.drawing.sheets import draw_numbered
from workbench.drawing.strokes import plain_table, table_of_cuts
from workbench.drawing.unbroken import Unbroken, unbroken
from workbench.making.cautions import all_cautions
from workbench.making.pace import pace_words
from workbench.making.plan_index import PlanIndex
from workbench.making.words import (
    because_words,
    in_minutes,
    listed,
    spans,
    taken_words,
    unused_words,
    variety,
)
from workbench.measure.counting import counted, often
from workbench.measure.length import Unit
from workbench.planning import (
    Assemble,
    Combination,
    Cut,
    Deal,
    Fold,
    Mount,
    Own,
    Plan,
    Round,
    Score,
    Sheet,
    Step,
    cut_alike,
    settings,
    settings_sheet_by_sheet,
    single_cuts,
    table_work,
    turns,
)
from workbench.post import CardByPost

_MARGIN = 2
_WIDEST_SHEET = 60
_TALLEST_SHEET = 24
_NARROWEST_SHEET = 32
_LEGEND = 32
_CARD_NUMBERS = 100
_NOTHING = "—"


def report(
    index: PlanIndex, trimmer: Trimmer, columns: int, card: CardByPost | None = None
) -> RenderableType:
    """Lay out a plan for a terminal or a page.

    Args:
        index: the plan with its project; lengths are in the project's units.
        trimmer: the maker's, for the cautions.
        columns: the width to fill, in cells.
        card: one card as it is posted, None to leave that out.

    Returns:
        A rich renderable: totals, what to take, how sheets are cut, cuts by mark, what follows
        them, which card gets what, the card by post, and what to take care of.
    """
    room = columns - _MARGIN
    sections = Group(
        *_headline(index.plan),
        _heading("What to take from the drawer"),
        _drawer(index),
        _heading("How the sheets are cut"),
        *_layouts(index, room),
        _heading("The cuts, mark by mark"),
        table_of_cuts(index),
        _finishing(index),
        _heading("Which card gets what"),
        *_mixing(index),
        *_by_post(card, index.project.units),
        _heading("Take care"),
        *_cautions(index, trimmer),
    )
    return Unbroken(Padding(sections, (1, 0, 1, _MARGIN), expand=False))


def _by_post(card: CardByPost | None, unit: Unit) -> Iterator[RenderableType]:
    if card:
        yield _heading("The card by post")
        yield post_summary(card, unit)


def _heading(words: str) -> Text:
    return Text(f"\n{words.upper()}\n", style="bold")


def _headline(plan: Plan) -> Iterator[Text]:
    totals = plan.totals
    fewest = totals.fewest_possible
    proof = "fewer is impossible" if totals.proven else f"as few as {fewest} are not ruled out"
    yield Text.assemble((plan.title, "bold"), f" · {counted(plan.cards, 'card')}\n")
    yield Text(taken_words(plan, f", and {proof}"), style="bold")
    for group in plan.groups:
        if group.because:
            yield Text(f"{listed(group.papers)}: {because_words(group)}")
    yield Text(
        f"{counted(totals.cuts, 'cut')}, the sheets turned {often(turns(plan))}; "
        f"planned in {totals.seconds:.1f} s"
    )
    yield Text(_minutes(plan))
    yield Text(f"({pace_words(plan.pace)})")
    yield Text(_settings(plan))
    yield Text(
        f"Without stacking {counted(single_cuts(plan), 'cut')}; sheet by sheet, the guide set "
        f"{often(settings_sheet_by_sheet(plan))}"
    )
    if plan.shortages:
        sheets = [f"{counted(short.sheets, 'sheet')} of {short.paper}" for short in plan.shortages]
        yield Text(f"\nPaper is short: buy {listed(sheets)}.", style="bold")
        yield Text(
            f"This plan counts them as bought. Without them {plan.makeable} of "
            f"{counted(plan.cards, 'card')} can be made."
        )


def _minutes(plan: Plan) -> str:
    seconds, least = table_work(plan.cuts).seconds(plan.pace), plan.totals.least_table_seconds
    words = f"About {in_minutes(seconds)} at the trimmer"
    if least is None or not 60 <= least <= seconds:
        return words
    if least == seconds:
        return f"{words}; no cutting in rows takes less"
    rounded_down = 60 * (least // 60)  # so that what is said is true
    return f"{words}; no cutting in rows takes less than {in_minutes(rounded_down)}"


def _settings(plan: Plan) -> str:
    times, fewest = settings(plan), plan.totals.fewest_settings
    proof: dict[int | None, str] = {times: ", and fewer is impossible", None: ""}
    return f"The guide set {often(times)}{proof.get(fewest, f', {fewest} not ruled out')}"


# What to take


def _drawer(index: PlanIndex) -> Table:
    project = index.project
    offcuts = project.offcuts_on_hand()
    bought = {short.paper: short.sheets for short in index.plan.shortages}
    columns = ("take", "have", "buy", "left") if bought else ("take", "have", "left")
    table = plain_table("", "paper", "size", *columns)
    for column in table.columns[3:]:
        column.justify = "right"
    for (name, offcut, size), take in _taken(index.plan.sheets).items():
        paper = project.paper(name)
        have = offcuts[name, size] if offcut else paper.sheets
        buy = 0 if offcut else bought.get(name, 0)
        numbers = {"take": take, "have": have, "buy": buy, "left": have + buy - take}
        table.add_row(
            swatch(paper, 4, 1).to_text(),
            Text(f"{name}, offcut" if offcut else name),
            Text(write_size(size, project.units)),
            *(Text(str(numbers[column])) for column in columns),
        )
    return table


def _taken(sheets: Iterable[Sheet]) -> Counter[tuple[str, bool, Size]]:
    return Counter((sheet.paper, sheet.offcut, sheet.size) for sheet in sheets)


# The sheets


def _layouts(index: PlanIndex, room: int) -> Iterator[RenderableType]:
    for number, sheets in enumerate(cut_alike(index.plan.sheets)):
        if number:
            yield Text()
        yield _layout(index, sheets, room)


def _layout(index: PlanIndex, sheets: Sequence[Sheet], room: int) -> RenderableType:
    """The first of the sheets drawn, and beside it (below, where it is narrow) what each gives."""
    sheet, unit = sheets[0], index.project.units
    beside = room - _LEGEND >= _NARROWEST_SHEET
    columns = min(_WIDEST_SHEET, room - _LEGEND if beside else room)
    paper = index.project.paper(sheet.paper)
    canvas, numbers = draw_numbered(sheet, paper, columns, _TALLEST_SHEET, unit)
    drawn, legend = canvas.to_text(), _legend(sheets, unit, numbers)
    grid = Table.grid(padding=(0, _MARGIN, 0, 0))
    grid.add_column(no_wrap=True)  # the words make way for the drawing
    for row in [(drawn, legend)] if beside else [(drawn,), (legend,)]:
        grid.add_row(*row)
    return grid


def _legend(sheets: Sequence[Sheet], unit: Unit, numbers: Mapping[Likeness, int]) -> Text:
    """What is taken and what comes of it, with the numbers that parts bear in the drawing."""
    sheet = sheets[0]
    size = write_size(sheet.size, unit)
    text = Text.assemble(
        (f"{counted(len(sheets), 'offcut' if sheet.offcut else 'sheet')}, {size}\n", "bold")
    )
    labels = defaultdict(list)
    for each in sheets:
        labels[each.paper].append(each.id)
    for paper, ids in labels.items():
        text.append(f"{paper}: {_span(ids)}\n")
    text.append("\nEach gives\n" if len(sheets) > 1 else "\nGives\n")
    for style, kept in (("bold", "piece"), ("", "offcut")):
        alike = Counter(likeness(part) for part in sheet.parts if part.role == kept)
        for (name, used), (count, words) in _numbered(alike, numbers).items():
            text.append(f"{count} × {name} {unbroken(bare_size(used, unit))}{words}\n", style)
    return text


def _numbered(
    alike: Mapping[Likeness, int], numbers: Mapping[Likeness, int]
) -> dict[tuple[str, Size], tuple[int, str]]:
    """By name and size, as they will stand on the card: how many, and how the drawing tells it."""
    found: dict[tuple[str, Size], tuple[int, str]] = {}
    for like, count in alike.items():
        before, words = found.get((like.name, like.size), (0, ""))
        if like in numbers:
            words += f" ({numbers[like]}{', sideways' if like.turned else ''})"
        found[like.name, like.size] = before + count, words
    return found


def _span(labels: Sequence[str]) -> str:
    return listed(labels) if len(labels) <= 2 else f"{labels[0]} to {labels[-1]}"


# After the cuts


def _finishing(index: PlanIndex) -> Text:
    cards = counted(index.plan.cards, "card")
    doings = dict.fromkeys(_doing(index, step, cards) for step in index.plan.steps)
    return Text(f"\nThen {listed([doing for doing in doings if doing])}.")


def _doing(index: PlanIndex, step: Step, cards: str) -> str:
    """What is done to all that `step` takes; all dealing, and all assembling, in the same words."""
    match step:
        case Cut():
            return ""
        case Score(mark=mark, measure=measure):
            unit = index.project.units
            at = f"{write_short(mark, unit)} {unit} along the {measure}"
            return f"score {_things(index, step)} at {at}"
        case Fold():
            return f"fold {_things(index, step)}"
        case Round():
            return f"round the corners of {_things(index, step)}"
        case Deal():
            return f"deal the pieces into a pile for each of {cards}"
        case Mount():
            return f"mount {_things(index, step)} inside"
        case Assemble():
            return f"assemble {cards}"
        case Own():
            return f"{step.name} ({_things(index, step)})"


def _things(index: PlanIndex, step: Step) -> str:
    counts = Counter(name for lot in index.lots(step.takes) for name in [lot.name] * lot.count)
    return listed([f"{count} × {name}" for name, count in counts.items()])


# The cards


def _mixing(index: PlanIndex) -> Iterator[RenderableType]:
    cards = index.plan.combinations
    choices = dict(_choices(index.project, cards))
    mixed = [name for name, papers in choices.items() if len(set(papers)) > 1]
    alike = {name: papers[0] for name, papers in choices.items() if name not in mixed}
    same = [f"{name} of {paper}" for name, paper in alike.items() if paper != _NOTHING]
    yield Text(f"On every card: {listed([f'{BASE} of {index.project.card.paper}', *same])}.")
    if left_out := [name for name, paper in alike.items() if paper == _NOTHING]:
        yield Text(f"On no card, for want of paper: {listed(left_out)}.")
    if mixed:
        yield Text()
        rows: dict[tuple[str, ...], list[int]] = defaultdict(list)
        for card, papers in zip(cards, zip(*map(choices.get, mixed), strict=True), strict=True):
            rows[papers].append(card.card)
        table = plain_table("cards", *mixed)
        for papers, numbers in rows.items():
            table.add_row(Text(_card_numbers(numbers)), *map(Text, papers))
        yield table
        yield Text(f"\n{variety(index.project, index.plan)}.")
    if unused := unused_words(index.project, index.plan):
        yield Text(f"{unused}.")


def _choices(project: Project, cards: Sequence[Combination]) -> Iterator[tuple[str, Sequence[str]]]:
    """Each piece, with its paper on every card; several that are alike on all cards as one."""
    for piece in project.pieces:
        names = layer_names(piece)
        papers = {name: tuple(card.pieces.get(name, _NOTHING) for card in cards) for name in names}
        if len(names) > 1 and len(set(papers.values())) == 1:
            yield f"{len(names)} × {piece.name}", papers[names[0]]
        else:
            yield from papers.items()


def _card_numbers(numbers: Sequence[int]) -> str:
    every = spans(numbers)
    each = every.split(", ")
    if len(every) <= _CARD_NUMBERS or len(each) == 2:
        return every
    return f"{each[0]}, {each[1]} … {each[-1]} ({len(numbers)} cards)"


def _cautions(index: PlanIndex, trimmer: Trimmer) -> Iterator[Text]:
    for words in warnings(index, trimmer):
        yield Text(f"• {words}")
    for words in all_cautions(index, trimmer):
        yield Text(f"• {words}")
