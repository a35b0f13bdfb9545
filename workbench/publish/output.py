"""A recipe written to files: what is written is told by how the file's name ends."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from workbench.making.events import Event
from workbench.making.plan_index import PlanIndex
from workbench.publish.cues import cue_sheet, subtitles
from workbench.publish.pages import PageSize, page_pictures, pdf
from workbench.publish.recipe import Recipe
from workbench.publish.text import markdown, plain_text
from workbench.publish.wall import cards_png, cards_svg
from workbench.publish.web_page import web_page
from workbench.store.errors import StoreError
from workbench.store.places import check_place, put

GUIDE, CARDS, CUES = "guide", "cards", "cues"


class OutputError(StoreError):
    """Raised for a file whose name does not say what it is to hold."""


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

    Gives the files written, in order.

    Raises:
        OutputError: for a name that ends in another way.
        PlaceError: for a place where no file can be written; then none is.
    """
    parts = _maker(what, file)(publication)
    targets = [file.with_name(f"{file.stem}{added}{file.suffix}") for added in parts]
    for target in targets:
        check_place(target)
    for target, data in zip(targets, parts.values(), strict=True):
        put(target, data)
    return targets


def check_output(what: str, file: Path) -> None:
    """Say before a batch is planned that `what` cannot be written there.

    Raises:
        OutputError: for a name that ends in another way.
        PlaceError: for a place where no file can be written.
    """
    _maker(what, file)
    check_place(file)


def write_subtitles(index: PlanIndex, events: Sequence[Event], file: Path) -> None:
    """Write the subtitles of a batch with this record. Raises PlaceError."""
    put(file, subtitles(index, events).encode())


def _maker(what: str, file: Path) -> _Make:
    forms = _FORMS[what]
    make = forms.get(file.suffix.casefold())
    if make is None:
        meant = "a guide" if what == GUIDE else what
        ending = f"ends in “{file.suffix}”" if file.suffix else "has no ending"
        raise OutputError(
            str(file),
            f"its name {ending}, which is not how {meant} can be written",
            f"let it end in {_listed(forms)}",
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
