"""A recipe written to files: what is written is told by how the file's name ends."""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from errno import EACCES, EINVAL, ENOENT
from pathlib import Path
from stat import S_ISREG

from workbench.making.events import Event
from workbench.making.plan_index import PlanIndex
from workbench.publish.cues import cue_sheet, subtitles
from workbench.publish.pages import PageSize, page_pictures, pdf
from workbench.publish.recipe import Recipe
from workbench.publish.text import markdown, plain_text
from workbench.publish.wall import cards_png, cards_svg
from workbench.publish.web_page import web_page
from workbench.store.replacement import replace

GUIDE, CARDS, CUES = "guide", "cards", "cues"


class OutputError(Exception):
    """Raised when nothing can be written there: says where, what is wrong, and what would do."""


@dataclass(frozen=True, slots=True)
class Publication:
    """What is to be written: a planned batch, its recipe, and the pages it is printed on."""

    index: PlanIndex
    recipe: Recipe
    page: PageSize


# What each ending holds: parts by what is added to the file's name, "" for the file itself.
_Parts = Mapping[str, bytes]
_Make = Callable[[Publication], _Parts]


def write(publication: Publication, what: str, file: Path) -> list[Path]:
    """Write `what` ("guide", "cards" or "cues") to `file`, or beside it where it takes several.

    Gives the files written, in order. Raises OutputError.
    """
    make = _maker(what, file)
    written = []
    for added, data in make(publication).items():
        target = file.with_name(f"{file.stem}{added}{file.suffix}")
        _put(target, data)
        written.append(target)
    return written


def check_output(what: str, file: Path) -> None:
    """Say before a batch is planned that `what` cannot be written there. Raises OutputError."""
    _maker(what, file)
    check_place(file)


def check_place(file: Path) -> None:
    """Say before a batch is planned that nothing can be written there. Raises OutputError."""
    try:
        _look_at(file)
    except OSError as error:
        raise _unwritable(file, error) from error


def write_subtitles(index: PlanIndex, events: Sequence[Event], file: Path) -> None:
    """Write the subtitles of a batch with this record. Raises OutputError."""
    _put(file, subtitles(index, events).encode())


def _put(file: Path, data: bytes) -> None:
    try:
        replace(file, data)
    except OSError as error:
        raise _unwritable(file, error) from error


def _unwritable(file: Path, error: OSError) -> OutputError:
    return OutputError(
        f"{file}: it cannot be written ({error.strerror}); choose another place or name"
    )


def _look_at(file: Path) -> None:
    folder = file.parent
    if not folder.is_dir():
        raise OSError(ENOENT, "there is no such folder")
    if not os.access(folder, os.W_OK):
        raise OSError(EACCES, "nothing may be written in that folder")
    with suppress(FileNotFoundError):
        if not S_ISREG(file.stat().st_mode):
            raise OSError(EINVAL, "it is a folder or a device and not a file")


def _maker(what: str, file: Path) -> _Make:
    forms = _FORMS[what]
    make = forms.get(file.suffix.casefold())
    if make is None:
        meant = "a guide" if what == GUIDE else what
        ending = f"ends in “{file.suffix}”" if file.suffix else "has no ending"
        raise OutputError(
            f"{file}: its name {ending}, which is not how {meant} can be written; "
            f"let it end in {_listed(forms)}"
        )
    return make


def _pages(publication: Publication) -> _Parts:
    pictures = page_pictures(publication.recipe, publication.page)
    if len(pictures) == 1:
        return {"": pictures[0]}
    return {f"-{number}": picture for number, picture in enumerate(pictures, 1)}


def _drawings(publication: Publication) -> _Parts:
    return {f"-{name}": svg.encode() for name, svg in _named_drawings(publication.recipe)}


def _named_drawings(recipe: Recipe) -> Iterator[tuple[str, str]]:
    yield "card", recipe.card.svg
    if recipe.inside:
        yield "inside", recipe.inside.svg
    for sheet in recipe.sheets:
        yield sheet.name.casefold().replace(" ", "-"), sheet.figure.svg


def _text(make: Callable[[Recipe], str]) -> _Make:
    return lambda publication: {"": make(publication.recipe).encode()}


_FORMS: Mapping[str, Mapping[str, _Make]] = {
    GUIDE: {
        ".pdf": lambda publication: {"": pdf(publication.recipe, publication.page)},
        ".png": _pages,
        ".svg": _drawings,
        ".txt": _text(plain_text),
        ".md": _text(markdown),
        ".html": _text(web_page),
    },
    CARDS: {
        ".png": lambda publication: {"": cards_png(publication.index)},
        ".svg": lambda publication: {"": cards_svg(publication.index).encode()},
    },
    CUES: {".txt": _text(cue_sheet)},
}


def _listed(forms: Mapping[str, _Make]) -> str:
    *some, last = forms
    return f"{', '.join(some)} or {last}" if some else last
