"""A recipe as headings, tables, lists and pictures: what its text and its web page are made of."""

from collections.abc import Iterator
from dataclasses import dataclass

from workbench.publish.recipe import Figure, Recipe


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph."""

    text: str


@dataclass(frozen=True, slots=True)
class Points:
    """A list of sentences."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A table: what its columns are called, then its rows."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Pictures:
    """Pictures side by side, each with the words below it; `listed` where a list says as much."""

    figures: tuple[tuple[Figure, str], ...]
    listed: bool = False


Block = Words | Points | Grid | Pictures


@dataclass(frozen=True, slots=True)
class Section:
    """What stands below one heading; `depth` is 2 for a chapter, 3 for a part of one."""

    heading: str
    depth: int
    blocks: tuple[Block, ...]


def sections(recipe: Recipe) -> Iterator[Section]:
    """Every section in the order of the pages; the title is not one of them."""
    card = [(recipe.card, f"Drawn {recipe.card.scale}.")]
    if recipe.inside:
        card.append((recipe.inside, "Its inside."))
    yield Section("The card", 2, (Pictures(tuple(card)),))
    yield Section("What you need", 2, tuple(_needs(recipe)))
    yield Section("Take care", 2, (Points(recipe.cautions), Words(recipe.note)))
    yield Section("The layers of one card", 2, (_layers(recipe),))
    yield Section("How each sheet is cut", 2, ())
    for sheet in recipe.sheets:
        words = f"{sheet.heading}: {', '.join(sheet.papers)}."
        drawn = Pictures(((sheet.figure, f"Drawn {sheet.figure.scale}."),), listed=True)
        blocks = (Words(words), drawn, Points(sheet.gives))
        yield Section(sheet.name, 3, blocks)
    yield Section("The cuts, in order", 2, (Words(f"{recipe.cut_facts}."), _cuts(recipe)))
    yield Section("When all is cut", 2, ())
    for task in recipe.tasks:
        yield Section(f"{task.heading}, about {task.minutes}", 3, (Points(task.lines),))
    if recipe.finished:
        yield Section("The finished card", 3, (Points(recipe.finished),))
    if len(recipe.looks) > 1:
        yield Section("Which card gets which papers", 2, tuple(_looks(recipe)))
    if recipe.leftovers:
        rows = tuple(
            (str(row.count), f"{row.lead} ({row.other})", row.paper, row.good_for)
            for row in recipe.leftovers
        )
        grid = Grid(("keep", "size", "paper", "good for"), rows)
        yield Section("What is left over", 2, (grid,))


def _needs(recipe: Recipe) -> Iterator[Block]:
    rows = tuple(
        (row.name, row.sheets, f"{row.lead} ({row.other})", row.note) for row in recipe.papers
    )
    yield Grid(("paper", "take", "size", "what it is"), rows)
    yield Points((*recipe.tools, *recipe.extras))


def _layers(recipe: Recipe) -> Grid:
    return Grid(
        ("", "layer", "size", "cut from", "where it lies"),
        tuple(
            (
                row.key,
                ", ".join(filter(None, [row.name, row.count])),
                f"{row.lead} ({row.other})",
                row.papers,
                "; ".join(filter(None, [row.how, row.corners])),
            )
            for row in recipe.layers
        ),
    )


def _cuts(recipe: Recipe) -> Grid:
    return Grid(
        ("set the guide to", "cut", "measure", "take", "comes off", "minute"),
        tuple(
            (
                f"{setting.lead} ({setting.other})" if place == 0 else "",
                row.number,
                row.along,
                "; ".join([*row.takes, *([f"{row.at_once} at once"] if row.at_once > 1 else [])]),
                "; ".join(words for words, _ in row.gives),
                str(setting.minute) if place == 0 else "",
            )
            for setting in recipe.settings
            for place, row in enumerate(setting.rows)
        ),
    )


def _looks(recipe: Recipe) -> Iterator[Block]:
    drawn = [
        (look.figure, f"{look.named}: {_papers(look.papers)}")
        for look in recipe.looks
        if look.figure
    ]
    yield Pictures(tuple(drawn))
    if rest := [look for look in recipe.looks if not look.figure]:
        yield Grid(("cards", "papers"), tuple((one.cards, _papers(one.papers)) for one in rest))


def _papers(papers: tuple[tuple[str, str], ...]) -> str:
    return ", ".join(f"{key} {face}" for key, face in papers)
