"""Small pieces of sentences."""

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from workbench.craft.paper import Size
from workbench.craft.project import Project
from workbench.measure.counting import counted
from workbench.measure.length import Length
from workbench.measure.writing import Graduation, nearest_mark, write_length, write_number
from workbench.planning import (
    Assemble,
    Cut,
    Deal,
    Fold,
    Group,
    Mount,
    Own,
    Plan,
    Round,
    Score,
    Step,
)

_SHOWN = 3


def variety(project: Project, plan: Plan) -> str:
    """How many cards differ, and whether more could, of the same pieces by the same rules."""
    cards = counted(len(plan.combinations), "card")
    if len(plan.combinations) == 1:
        return cards
    words = f"{cards}, {how_different(plan.different)}"
    most = plan.totals.most_different
    if plan.different == 1 and (project.mixing.wish == "as a set" or most == 1):
        return words
    if project.mixing.wish != "varied":
        return f"{words} ({project.mixing.wish})"
    if most is None:
        return words
    more = f"{most} not ruled out" if most > plan.different else "as different as the counts allow"
    return f"{words}, {more}"


def how_different(looks: int) -> str:
    """How several cards of so many looks differ."""
    return "all alike" if looks == 1 else f"{looks} different"


def verb(step: Step) -> str:
    """What is done in `step`, in a word: "cut", "fold"."""
    match step:
        case Cut():
            return "cut"
        case Score():
            return "score"
        case Fold():
            return "fold"
        case Round():
            return "round"
        case Deal():
            return "deal"
        case Mount():
            return "mount"
        case Assemble():
            return "assemble"
        case Own():
            return f"{step.name}:"


def headline(words: str) -> str:
    """`words` with a capital, as a title begins; the rest as the maker wrote it."""
    return words[:1].upper() + words[1:]


def minutes_in_words(minutes: Fraction) -> str:
    """Such as "8 min", "1 h 20 min"; half a minute counts as one."""
    hours, rest = divmod(max(1, ceil(minutes)), 60)
    return " ".join([*([f"{hours} h"] if hours else []), *([f"{rest} min"] if rest else [])])


def in_minutes(seconds: float) -> str:
    """As a maker says it: "1 minute", "25 minutes", "1 h 40 min"."""
    minutes = max(1, round(seconds / 60))
    if minutes < 60:
        return counted(minutes, "minute")
    hours, rest = divmod(5 * round(minutes / 5), 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def taken_words(plan: Plan, proof: str = "") -> str:
    """What a plan takes, `proof` behind its sheets: "13 offcuts and 1 sheet"."""
    offcuts = sum(sheet.offcut for sheet in plan.sheets)
    sheets = f"{counted(plan.totals.sheets, 'sheet')}{proof}"
    if not offcuts:
        return sheets
    return f"{counted(offcuts, 'offcut')} and {sheets if plan.totals.sheets else 'no sheet'}"


def because_words(group: Group) -> str:
    """Why no fewer sheets do: "not fewer than 3 sheets, as each card shows 3 prints"."""
    return f"not fewer than {counted(group.fewest_possible, 'sheet')}, as {group.because}"


def unused_words(project: Project, plan: Plan) -> str:
    """What is ticked and left in the drawer: "maple check: not used, 3 prints suffice"; or ""."""
    from workbench.planning import papers_shown, unused_papers

    # What another piece is cut from does not lie in the drawer.
    cut = {sheet.paper for sheet in plan.sheets if any(part.piece for part in sheet.parts)}
    unused = [paper for paper in unused_papers(project, plan) if paper not in cut]
    if not unused:
        return ""
    shown = len(papers_shown(project, plan))
    suffice = "1 print suffices" if shown == 1 else f"{shown} prints suffice"
    return f"{listed(unused)}: not used, {suffice}"


def loss_words(project: Project, before: Plan, after: Plan) -> str:
    """What cards lose by new rules: prints that drop out, cards that no longer differ; or ""."""
    from workbench.planning import papers_shown

    dropped = sorted(papers_shown(project, before) - papers_shown(project, after))
    told = [f"{listed(dropped)} will not be used any more"] if dropped else []
    if after.different < before.different:
        told.append(f"of the cards only {after.different} will differ, not {before.different}")
    return ", and ".join(told)


def listed(things: Sequence[str]) -> str:
    """Such as "a", "a and b", "a, b and c"."""
    return " and ".join(filter(None, [", ".join(things[:-1]), *things[-1:]]))


def shortlist(things: Sequence[str]) -> str:
    """The first few, and how many more there are."""
    if len(things) <= _SHOWN + 1:
        return listed(things)
    return f"{', '.join(things[:_SHOWN])} and {len(things) - _SHOWN} more"


def spans(numbers: Sequence[int]) -> str:
    """Such as "1–4, 7" for 1, 2, 3, 4, 7."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)


def which_cards(numbers: Sequence[int], cards: int) -> str:
    """Such as "card 3", "cards 1–4, 7" or, of all `cards` of the batch, "every card"."""
    if len(numbers) == cards:
        return "every card"
    return f"card{'' if len(numbers) == 1 else 's'} {spans(numbers)}"


def written_length(length: Length, graduation: Graduation) -> str:
    """The nearest mark, "4 3/4 in"; "≈" where the length lies beside it."""
    reading = nearest_mark(length, graduation)
    return f"{'≈ ' if reading.off else ''}{write_length(reading.mark, graduation)}"


def written_size(size: Size, graduation: Graduation) -> str:
    """Width and height at their nearest marks, "6 × 4 3/4 in"; "≈" where one lies beside it."""
    return f"{written_sides(size, graduation)} {graduation.unit}"


def written_sides(size: Size, graduation: Graduation) -> str:
    """Width and height as `written_size` gives them, without the unit: "6 × 4 3/4"."""
    readings = [nearest_mark(side, graduation) for side in (size.width, size.height)]
    across, up = (write_number(reading.mark, graduation.unit) for reading in readings)
    near = "≈ " if any(reading.off for reading in readings) else ""
    return f"{near}{across} × {up}"
