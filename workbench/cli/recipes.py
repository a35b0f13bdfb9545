"""`trimtally guide` and `trimtally adapt`: a recipe for others, and one made over for a reader."""

import os
import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.cli.command import (
    DONE,
    Command,
    CommandError,
    check_over,
    file_of,
    over_option,
    whole_number,
)
from workbench.cli.own_workshop import own_desk, own_pace, own_preferences
from workbench.cli.plans import shortage
from workbench.cli.terminal import refusing, watched

if TYPE_CHECKING:
    from workbench.craft.paper import Paper
    from workbench.craft.project import Project
    from workbench.publish.adaptation import Wishes
    from workbench.store.batch_rows import Batch


def guide(given: Namespace) -> int:
    from workbench.making.plan_index import PlanIndex
    from workbench.planning import plan_as_wished
    from workbench.publish.output import Publication, check_output, write, write_subtitles
    from workbench.publish.pages import usual_page
    from workbench.publish.signs import TYPESET, unprintable, unprintable_words
    from workbench.publish.writer import make_recipe
    from workbench.store.errors import visible
    from workbench.store.guide_picture import guide_picture
    from workbench.store.project_file import read_project

    project = read_project(given.file)
    if given.output.suffix.casefold() == ".vtt":
        batch = _last_finished(given.file)
        write_subtitles(PlanIndex(batch.project, batch.plan), batch.events, given.output)
        print(f"written: {visible(str(given.output))}")
        return DONE
    check_output(given.only, given.output)
    picture = guide_picture(project.imprint, given.file)
    preferences = own_preferences()
    trimmer, desk = preferences.trimmer, own_desk(preferences)
    with refusing(given.file), watched() as watch:
        made = plan_as_wished(project, trimmer, watch, own_pace(preferences))
        watch.stage("typesetting")
        first = given.units or project.units
        index = PlanIndex(project, made)
        page = given.paper or usual_page(first)
        recipe = make_recipe(index, trimmer, first, picture, desk)
        publication = Publication(index, recipe, page)
        written = write(publication, given.only, given.output)
    for file in written:
        print(f"written: {visible(str(file))}")
    if given.output.suffix.casefold() in TYPESET and (signs := unprintable(recipe)):
        print(visible(unprintable_words(signs)), file=sys.stderr)
    if made.shortages:
        print(f"{shortage(made)}; the guide counts it as bought", file=sys.stderr)
    return DONE


def _last_finished(file: Path) -> "Batch":
    """The batch of that file that was finished last. Raises CommandError where there is none."""
    from workbench.store.database import Workshop

    workshop = Workshop.open()
    lines, there = workshop.batches() if workshop.exists else (), os.path.realpath(file)
    finished = [
        line
        for line in lines
        if line.path and os.path.realpath(line.path) == there and line.done == line.steps
    ]
    if not finished:
        raise CommandError(f"{file}: no batch of it is finished yet, so nothing says when to speak")
    return workshop.batch(max(finished, key=lambda line: line.worked).id)


def adapt(given: Namespace) -> int:
    from workbench.publish.adaptation import AdaptationError
    from workbench.publish.adaptation import adapt as adapted
    from workbench.store.errors import visible
    from workbench.store.places import check_place
    from workbench.store.project_file import read_project, write_project

    project = read_project(given.file)
    check_place(given.output)
    if given.output.exists():
        for source in (given.file, given.papers_from):
            if source and given.output.samefile(source):
                raise CommandError(
                    f"{source}: it would be written over; name another file after -o"
                )
        check_over(given, given.output)
    preferences = own_preferences()
    trimmer, pace = preferences.trimmer, own_pace(preferences)
    try:
        with refusing(given.file), watched() as watch:
            done = adapted(project, _wishes(project, given), trimmer, watch, pace=pace)
    except AdaptationError as error:
        raise CommandError(f"{given.file}: {error}") from error
    write_project(given.output, done.after.project)
    print(f"written: {visible(str(given.output))}")
    for change in done.changes():
        print(visible(f"  {change}"))
    return DONE


def _wishes(project: "Project", given: Namespace) -> "Wishes":
    """What the options of `adapt` say. Raises CommandError for a size that cannot be read."""
    from workbench.craft.sheet_sizes import read_card, read_whole_sheet
    from workbench.measure.length import MeasureError
    from workbench.publish.adaptation import Wishes

    unit = given.units or project.units
    try:
        return Wishes(
            unit=given.units,
            sheet=read_whole_sheet(given.sheet, unit) if given.sheet else None,
            patterned=read_whole_sheet(given.patterned, unit) if given.patterned else None,
            count=given.count,
            card=read_card(given.card, unit) if given.card else None,
            stand_ins=_stand_ins(project, given),
        )
    except MeasureError as error:
        raise CommandError(f"trimtally adapt: {error}") from error


def _stand_ins(project: "Project", given: Namespace) -> dict[str, "Paper"]:
    """The reader's own papers by the papers they stand in for: as suggested, or as `--use` says."""
    from workbench.publish.stand_ins import suggest
    from workbench.store.errors import visible
    from workbench.store.project_file import read_project

    if not given.papers_from:
        if given.use:
            raise CommandError("trimtally adapt: --use wants your papers too: give --papers-from")
        return {}
    own = {paper.name: paper for paper in read_project(given.papers_from).papers}
    theirs = {paper.name for paper in project.papers}
    asked = dict(given.use)
    for name, known, file in (
        *((name, theirs, given.file) for name in asked),
        *((name, theirs | own.keys(), given.papers_from) for name in asked.values()),
    ):
        if name not in known:
            raise CommandError(f"{file}: no paper is called “{name}”")
    chosen = {}
    for found in suggest(project, tuple(own.values())):
        name = found.paper.name
        one = own.get(asked[name]) if name in asked else found.own
        if one:
            chosen[name] = one
        why = "as you say" if name in asked else found.words
        print(visible(f"{name}: {one.name if one else 'kept'} ({why})"))
    return chosen


def _guide_options(parser: ArgumentParser) -> None:
    from workbench.measure.length import UNITS
    from workbench.publish.pages import PAGE_SIZES

    file_of(parser)
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        type=Path,
        required=True,
        help="the file to write; how its name ends says what it holds: pdf, png (pages), svg "
        "(drawings), txt, md, html (one web page), or vtt (subtitles of the last finished batch)",
    )
    parser.add_argument(
        "--paper",
        choices=PAGE_SIZES,
        help="the paper of the pages; if not given Letter for inches, A4 for millimetres",
    )
    parser.add_argument(
        "--units", choices=UNITS, help="the unit that comes first; the project's if not given"
    )
    parser.add_argument(
        "--only",
        choices=("guide", "cards", "cues"),
        default="guide",
        help="cards: all cards of the batch in one picture (png or svg); cues: what to say while "
        "it is made (txt); guide if not given",
    )


def _adapt_options(parser: ArgumentParser) -> None:
    from workbench.measure.length import UNITS

    file_of(parser)
    parser.add_argument(
        "-o", "--output", metavar="NEW", type=Path, required=True, help="the project file to write"
    )
    over_option(parser)
    parser.add_argument("--units", choices=UNITS, help="the unit of your rule")
    parser.add_argument("--sheet", help="your sheets of card: A4, Letter, or two lengths")
    parser.add_argument("--patterned", help='your printed sheets: "6 x 6 in", A4, "12 x 12 in"')
    parser.add_argument(
        "--count", type=partial(whole_number, least=1), help="how many cards to make"
    )
    parser.add_argument("--card", help='the size of the front: A6, "US A2", or two lengths')
    parser.add_argument(
        "--papers-from",
        metavar="MINE",
        type=Path,
        help="a project file with your own papers, to stand in for those named",
    )
    parser.add_argument(
        "--use",
        action="append",
        type=_pair,
        default=[],
        metavar="PAPER=MINE",
        help="which of your papers stands in for one, instead of the suggestion",
    )


def _pair(word: str) -> tuple[str, str]:
    paper, sign, own = word.partition("=")
    if not sign:
        raise ArgumentTypeError(f'write "their paper=my paper", not {word!r}')
    return paper.strip(), own.strip()


GUIDE = Command(
    "guide",
    "write the recipe of a batch for others: pages, pictures, text or a web page",
    "trimtally guide lantern_walk.toml -o lantern_walk.pdf",
    guide,
    _guide_options,
)


ADAPT = Command(
    "adapt",
    "plan a card anew for other paper, another unit, count or size",
    "trimtally adapt lantern_walk.toml --units mm --sheet A4 -o mine.toml",
    adapt,
    _adapt_options,
)
