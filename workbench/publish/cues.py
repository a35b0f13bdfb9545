"""What to say while the batch is made: a cue sheet by estimate, subtitles by a batch's record."""

from collections.abc import Iterator, Sequence
from datetime import timedelta

from workbench.drawing.lettering import literal
from workbench.making.batch import applied, begun
from workbench.making.events import Event
from workbench.making.pace import LONGEST
from workbench.making.plan_index import PlanIndex
from workbench.making.prompts import prompt
from workbench.making.speech import aloud, spoken
from workbench.making.words import listed
from workbench.measure.writing import Graduation, graduation_for
from workbench.publish.recipe import CutLineRow, Recipe, SettingRow

_TICKS = ("ticked", "ticked through")


def cue_sheet(recipe: Recipe) -> str:
    """The steps in short sentences, each with the minute it begins at by estimate."""
    return "\n".join(_cues(recipe)) + "\n"


def subtitles(
    index: PlanIndex, events: Sequence[Event], graduation: Graduation | None = None
) -> str:
    """WebVTT for a film of the batch: each step is shown while it was being done.

    Time away from the table (pauses, and breaks too long to be work) is left out, as it will be
    cut from the film.
    """
    rule = graduation or graduation_for(index.project.units)
    return "\n".join(["WEBVTT", "", *_timed(index, events, rule)])


def _cues(recipe: Recipe) -> Iterator[str]:
    yield literal(recipe.title)
    yield literal(f"{'. '.join(map(aloud, recipe.facts))}.")
    yield ""
    for setting in recipe.settings:
        yield from _setting(setting)
    for task in recipe.tasks:
        yield f"{task.heading}. About {task.minutes}."
        yield from (f"    {_said(line)}" for line in task.lines)
        yield ""
    for look in recipe.looks if len(recipe.looks) > 1 else ():
        layers = listed([face for _, face in look.papers])
        yield f"{look.named}: {_said(layers)}"
    yield ""
    yield from (f"Take care: {_said(line)}" for line in recipe.cautions)


def _setting(setting: SettingRow) -> Iterator[str]:
    yield (
        f"[minute {setting.minute}] Set the guide to {_said(setting.lead)} "
        f"That is {_said(setting.other)}"
    )
    yield f"    It lies {_said(setting.where)}"
    for row in setting.rows:
        yield f"    Cut {row.number}. {_row(row)}"
    yield ""


def _row(row: CutLineRow) -> str:
    once = f", {row.at_once} at once" if row.at_once > 1 else ""
    takes = listed(row.takes) or "the parts just cut"
    gives = listed([words for words, _ in row.gives]) or "only scrap"
    measured = f"Measure the {row.along}. " if row.along else ""
    return f"{measured}Take {_said(f'{takes}{once}')} Off come {_said(gives)}"


def _said(words: str) -> str:
    sentence = aloud(literal(words)).replace("→ cut", "for cut")
    return sentence if sentence.endswith((".", "!", "?")) else f"{sentence}."


def _timed(index: PlanIndex, events: Sequence[Event], rule: Graduation) -> Iterator[str]:
    clock = shown = timedelta()
    state = begun(index.plan)
    for before, event in zip([None, *events], events, strict=False):
        spent = event.at - before.at if before else timedelta()
        if before and before.what != "paused" and timedelta() <= spent <= LONGEST:
            clock += spent
        after = applied(state, event)
        done = event.what in _TICKS and after.done > state.done and clock > shown
        if done and (said := prompt(index.after(state), state, rule)):
            yield f"{_stamp(shown)} --> {_stamp(clock)}"
            yield _escaped(spoken(said, rule.unit))
            yield ""
            shown = clock
        state = after


def _stamp(time: timedelta) -> str:
    hours, rest = divmod(round(time.total_seconds() * 1000), 3_600_000)
    minutes, rest = divmod(rest, 60_000)
    seconds, thousandths = divmod(rest, 1000)
    return f"{hours:02}:{minutes:02}:{seconds:02}.{thousandths:03}"


def _escaped(text: str) -> str:
    """`text` as WebVTT takes it: nothing in it is markup or ends a cue."""
    return literal(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
