"""A recipe as plain text and as Markdown, without its pictures."""

import re
from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from workbench.drawing.lettering import literal
from workbench.publish.outline import Block, Grid, Pictures, Points, Words, sections
from workbench.publish.recipe import Recipe

# What means something anywhere, and what does only where a line begins.
_MARKUP = re.compile(r"([\\`*_\[\]<>|~&#]|^[-+=](?=\s|[-=]))")
_NUMBERED = re.compile(r"^(\s*\d+)([.)])")
_BLANKS = re.compile(r"\n{3,}")
# A number is not parted from its fraction, its unit or its sign.
_BOUND = re.compile(r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=(?:in|mm)\b)|(?<=≈) (?=\d)")
_TIE = "\N{NO-BREAK SPACE}"
_WIDTH = 96
_NARROWEST_COLUMN = 4


def plain_text(recipe: Recipe, width: int = _WIDTH) -> str:
    """The recipe to be read in any editor or terminal `width` columns wide, tables in columns."""
    return _joined(_plain(recipe, width))


def markdown(recipe: Recipe) -> str:
    """The recipe as Markdown; whatever could be markup in a name is escaped."""
    return _joined(_markdown(recipe))


def tied(text: str) -> str:
    """`text` with blanks that no line breaks at within each measure: "≈ 5 1/4 in"."""
    return _BOUND.sub(_TIE, text)


def _joined(lines: Iterator[str]) -> str:
    text = "\n".join(line.rstrip() for line in lines)
    return _BLANKS.sub("\n\n", text).strip() + "\n"


def _plain(recipe: Recipe, width: int) -> Iterator[str]:
    title = literal(recipe.title)
    yield from _wrapped(title, width)
    yield "=" * min(width, cell_len(title))
    yield from _wrapped("; ".join(map(literal, recipe.facts)), width)
    for section in sections(recipe):
        yield ""
        yield literal(section.heading) if section.depth > 2 else literal(section.heading).upper()
        yield "-" * min(width, cell_len(section.heading))
        for block in section.blocks:
            yield from _plain_block(block, width)
            yield ""
    if recipe.foot:
        yield from _wrapped(literal(recipe.foot), width)


def _plain_block(block: Block, width: int) -> Iterator[str]:
    match block:
        case Words(text):
            yield from _wrapped(literal(text), width)
        case Points(lines):
            for line in lines:
                first, *rest = list(_wrapped(literal(line), width - 2))
                yield f"- {first}"
                yield from (f"  {each}" for each in rest)
        case Grid(columns, rows):
            yield from _columns([columns, *rows], width)
        case Pictures():
            for shown in _told(block):
                yield from _wrapped(literal(shown), width)


def _told(pictures: Pictures) -> Iterator[str]:
    """Pictures in words; those that a list follows are told by it."""
    for figure, words in () if pictures.listed else pictures.figures:
        yield figure.alt if figure.scale else words


def _columns(rows: Sequence[Sequence[str]], room: int) -> Iterator[str]:
    """The rows in columns as wide as they must be; what is too long goes on below."""
    widths = _widths(rows, room)
    for row in rows:
        cells = [
            list(_wrapped(literal(cell), width)) or [""]
            for cell, width in zip(row, widths, strict=True)
        ]
        for line in range(max(map(len, cells))):
            shown = (cell[line] if line < len(cell) else "" for cell in cells)
            yield "  ".join(
                words + " " * (width - cell_len(words))
                for words, width in zip(shown, widths, strict=True)
            )


def _widths(rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """How wide each column is: as it must be, the widest ones narrowed until all have room."""
    widths = [max(cell_len(literal(row[at])) for row in rows) for at in range(len(rows[0]))]
    while sum(widths) + 2 * (len(widths) - 1) > room and max(widths) > _NARROWEST_COLUMN:
        widths[widths.index(max(widths))] -= 1
    return widths


def _wrapped(text: str, width: int) -> Iterator[str]:
    """The words of `text` in lines of `width`; a word that is longer is broken."""
    line = ""
    for word in tied(text).split(" "):
        rest = word.replace(_TIE, " ")
        while cell_len(rest) > width:
            if line:
                yield line
                line = ""
            cut = _fitting(rest, width)
            yield rest[:cut]
            rest = rest[cut:]
        if line and cell_len(line) + 1 + cell_len(rest) > width:
            yield line
            line = rest
        else:
            line = f"{line} {rest}" if line else rest
    if line:
        yield line


def _fitting(word: str, width: int) -> int:
    """How many characters of a word have room."""
    cut = width
    while cut > 1 and cell_len(word[:cut]) > width:
        cut -= 1
    return cut


def _markdown(recipe: Recipe) -> Iterator[str]:
    yield f"# {_escaped(recipe.title)}"
    yield ""
    yield _escaped(" · ".join(recipe.facts))
    for section in sections(recipe):
        yield ""
        yield f"{'#' * section.depth} {_escaped(section.heading)}"
        for block in section.blocks:
            yield ""
            yield from _markdown_block(block)
    if recipe.foot:
        yield ""
        yield _escaped(recipe.foot)


def _markdown_block(block: Block) -> Iterator[str]:
    match block:
        case Words(text):
            yield _escaped(text)
        case Points(lines):
            yield from (f"- {_escaped(line)}" for line in lines)
        case Grid(columns, rows):
            yield _row(columns)
            yield _row(["---"] * len(columns), escape=False)
            yield from map(_row, rows)
        case Pictures():
            yield from (f"- {_escaped(shown)}" for shown in _told(block))


def _row(cells: Sequence[str], *, escape: bool = True) -> str:
    return f"| {' | '.join(_escaped(cell) if escape else cell for cell in cells)} |"


def _escaped(text: str) -> str:
    return _NUMBERED.sub(r"\1\\\2", _MARKUP.sub(r"\\\1", literal(text)))
