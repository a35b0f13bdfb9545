"""The forms of the Stock: one paper, or one offcut."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import VerticalGroup
from textual.widgets import Input

from workbench.app.edits import with_offcut, with_paper, with_paper_mixed
from workbench.app.widgets.colours import AS_WRITTEN, PALETTE
from workbench.app.widgets.fields import Choice, Field, YesNo
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.colour_words import colours_of
from workbench.craft.errors import CraftError
from workbench.craft.paper import (
    EDGES,
    KINDS,
    RUNS,
    SOLID,
    Back,
    Offcut,
    Paper,
    PaperKind,
    Run,
    Size,
    Strip,
)
from workbench.craft.project import Project
from workbench.craft.sheet_sizes import SHEETS, read_whole_sheet
from workbench.drawing.canvas import Canvas, fit
from workbench.drawing.labels import write_exactly
from workbench.drawing.prints import PRINTS, swatch
from workbench.measure.counting import counted
from workbench.measure.length import Unit
from workbench.measure.weights import read_thickness, read_weight
from workbench.store.errors import StoreError
from workbench.store.pictures import SUFFIXES, picture_colours

RUN_WORDS: dict[Run, str] = {"none": "any way", "up": "one way up", "along": "up or down"}
RUN_ARROWS: dict[Run, str] = {"none": "✢", "up": "↑", "along": "↕"}

NO_STRIP = "none"
OTHER = "other"
MORE = "run, strip, weight"
FOR_MIXED = "for pieces that mix"
_HINT = "teal ivory, or a photo"
_USUAL_SIZE: dict[Unit, str] = {"in": "12 × 12 in", "mm": "305 mm square"}
MOST_LIKE_IT = 30


class PaperForm(ProjectForm):
    """Adds a paper, or changes `paper`; adds one like `model` where that is given."""

    TITLE = "Paper"
    ABOUT = (
        "A kind of sheet: its size with the print upright, by name or as two lengths, how many are"
        " on hand, and how to draw it. Its colours are written as words or codes, that of the"
        " ground last, picked from the palette, or taken from a photograph or scan of it when you"
        " give the path of that; the picture itself is not kept. Several papers at once, all like"
        " this one, are numbered. Behind more: the run says which way the print points: a print"
        " that runs one way up is never cut sideways or upside down. A strip that is printed along"
        " one edge of every sheet is trimmed off first. Weight and thickness are as on the packet;"
        " the card's own thickness is told from them. A paper that is printed on both sides has a"
        " back with a name of its own, and either side may show."
    )
    PLACES: ClassVar[Mapping[str, str]] = {"papers": "name", "print": "print-name"}

    def __init__(
        self,
        project: Project,
        unit: Unit,
        paper: Paper | None = None,
        model: Paper | None = None,
    ) -> None:
        super().__init__(project, unit)
        self.paper = paper
        self.model = paper or model

    def fields(self) -> ComposeResult:
        paper = self.model
        yield row("Name", text("name", self.paper.name if self.paper else ""))
        yield self.size_row(paper.size if paper else self._usual_size())
        yield row("Sheets on hand", text("sheets", paper.sheets if paper else 1))
        yield row("Kind", Choice(KINDS, paper.kind if paper else "patterned", key="kind"))
        yield from _look_rows(paper or Back("new", self._usual_print()), "")
        yield row("Palette", Choice((AS_WRITTEN, *PALETTE), key="palette"))
        if self._mixing_others():
            yield row("Cut it", YesNo(FOR_MIXED, False, group="mixed"))
        if self.paper is None:
            yield row("How many papers", text("like", 1))
        yield row("More", YesNo(MORE, self._has_more(), group="more"))
        with VerticalGroup(id="more"):
            yield from self._more()

    def _more(self) -> ComposeResult:
        paper = self.model
        run = RUN_WORDS[paper.run if paper else "none"]
        yield row("Run", Choice(tuple(RUN_WORDS.values()), run, key="run"))
        strip = paper.strip if paper else None
        edges = (NO_STRIP, *EDGES)
        yield row("Printed strip", Choice(edges, strip.edge if strip else NO_STRIP, key="edge"))
        width = write_exactly(strip.width, self.unit) if strip else ""
        yield row(f"Its width ({self.unit})", text("strip", width, "trimmed off first"))
        weight = (paper and paper.weight) or ""
        yield row("Weight", text("weight", weight, "110 lb cover, 300 gsm"))
        thickness = (paper and paper.thickness) or ""
        yield row("Thickness", text("thickness", thickness, "14 pt or 0.36 mm"))
        back = self.paper.back if self.paper else None
        yield row("Printed back", text("back", back.name if back else "", "its own name, if any"))
        yield from _look_rows(back, "back-")
        back_run = RUN_WORDS[back.run if back else "none"]
        yield row("Its run", Choice(tuple(RUN_WORDS.values()), back_run, key="back-run"))

    def read(self) -> Project:
        kind: PaperKind = next(kind for kind in KINDS if kind == self.chosen("kind"))
        paper = Paper(
            name=self.named("name", "name"),
            kind=kind,
            size=self.both_sides(read_whole_sheet),
            sheets=self.count("sheets", "sheets on hand"),
            print=self._print(""),
            colours=self._colours("colours"),
            run=self._run("run"),
            weight=self._note("weight", read_weight),
            thickness=self._note("thickness", read_thickness),
            back=self._back(),
            strip=self._strip(),
            stock=self.paper.stock if self.paper else None,
        )
        if self.paper:
            project = with_paper(self.project, paper, self.paper.name)
            return with_paper_mixed(project, (paper.name,)) if self.marked("mixed") else project
        return self._with_like(paper)

    def _with_like(self, paper: Paper) -> Project:
        """The project with as many papers like `paper` as are asked for, cut for what mixes."""
        like = self.count("like", "how many papers")
        if not 1 <= like <= MOST_LIKE_IT:
            right = f"give a whole number from 1 to {MOST_LIKE_IT}"
            raise CraftError("like", f"{counted(like, 'paper')} cannot be added at once", right)
        names = (paper.name, *(f"{paper.name} {number}" for number in range(2, like + 1)))
        project = self.project
        for number, name in enumerate(names, 1):
            back = paper.back
            if back and number > 1:
                back = replace(back, name=f"{back.name} {number}")
            project = with_paper(project, replace(paper, name=name, back=back))
        return with_paper_mixed(project, names) if self.marked("mixed") else project

    def preview(self, project: Project) -> Canvas:
        return swatch(project.paper(self.typed("name")), *PREVIEW)

    def on_mount(self) -> None:
        self._show_more()

    @on(Field.Changed)
    def _show_more(self) -> None:
        self.query_one("#more").display = bool(self.marked("more"))
        for key in ("", "back-"):
            self.query_one(f"#{key}print-row").display = self.chosen(f"{key}print") == OTHER

    @on(Input.Changed, "#name")
    def _follow_name(self, event: Input.Changed) -> None:
        """A new paper named after a print has that: "moth dot", "gate check"."""
        named = [word for word in event.value.casefold().split() if word in PRINTS]
        if named and self.paper is None:
            self.query_one("#print", Choice).choose(named[-1])

    @on(Field.Changed, "#palette")
    def _take_from_palette(self) -> None:
        picked = PALETTE.get(self.chosen("palette"))
        if picked:
            colours = picked[:1] if self.chosen("print") == SOLID else picked
            self.query_one("#colours", Input).value = ", ".join(colours)

    def _usual_size(self) -> Size:
        """That of the printed paper added last."""
        printed = [paper.size for paper in self.project.papers if paper.shows_print]
        return printed[-1] if printed else SHEETS[_USUAL_SIZE[self.unit]]

    def _usual_print(self) -> str:
        """One that no paper has yet, so that they are told apart."""
        taken = {SOLID, *(paper.print for paper in self.project.papers)}
        return next((each for each in PRINTS if each not in taken), SOLID)

    def _mixing_others(self) -> bool:
        """Whether there are pieces that mix papers, and not this one yet."""
        name = self.paper.name if self.paper else ""
        return any(
            len(piece.papers) > 1 and name not in piece.papers for piece in self.project.pieces
        )

    def _has_more(self) -> bool:
        paper = self.model
        return paper is not None and any(
            (paper.run != "none", paper.strip, paper.weight, paper.thickness, paper.back)
        )

    def _print(self, key: str) -> str:
        chosen = self.chosen(f"{key}print")
        return self.typed(f"{key}print-name") if chosen == OTHER else chosen

    def _run(self, key: str) -> Run:
        return next(run for run in RUNS if RUN_WORDS[run] == self.chosen(key))

    def _back(self) -> Back | None:
        name = self.typed("back")
        if not name:
            return None
        print_, colours = self._print("back-"), self._colours("back-colours")
        return Back(name, print_, colours, self._run("back-run"))

    def _note(self, key: str, read: Callable[[str], object]) -> str | None:
        """As it is typed, when it can be read."""
        typed = self.typed(key)
        if typed:
            self.reading(key, lambda: read(typed), None)
        return typed or None

    def _colours(self, key: str) -> tuple[str, ...]:
        """As they are typed, or taken from the picture whose path is typed."""

        def read() -> tuple[str, ...]:
            typed = self.typed(key)
            if not typed.lower().endswith(SUFFIXES):
                return colours_of(typed)
            try:
                return picture_colours(Path(typed).expanduser())
            except StoreError as error:
                raise CraftError("colours", error.what, error.mend) from error

        return self.reading(key, read, ())

    def _strip(self) -> Strip | None:
        edge = next((edge for edge in EDGES if edge == self.chosen("edge")), None)
        return Strip(edge, self.length("strip", "width of the strip")) if edge else None


def _look_rows(look: Paper | Back | None, key: str) -> ComposeResult:
    """How a face is drawn: its print from the list or by another name, and its colours."""
    of = "Its " if key else ""
    print_ = look.print if look else SOLID
    chosen = print_ if print_ in PRINTS else OTHER
    yield row(f"{of}print".capitalize(), Choice((*PRINTS, OTHER), chosen, key=f"{key}print"))
    named = row("called", text(f"{key}print-name", "" if print_ in PRINTS else print_))
    named.id = f"{key}print-row"
    yield named
    colours = " ".join(look.colours) if look else ""
    yield row(f"{of}colours".capitalize(), text(f"{key}colours", colours, _HINT))


class OffcutForm(ProjectForm):
    """Adds an offcut, or changes the one at place `at`."""

    TITLE = "Offcut"
    ABOUT = (
        "A leftover rectangle worth keeping, measured with its print upright. Offcuts are used"
        " before a sheet is opened, where they serve."
    )

    def __init__(
        self, project: Project, unit: Unit, paper: str | None = None, at: int | None = None
    ) -> None:
        super().__init__(project, unit)
        self.offcut = None if at is None else project.offcuts[at]
        self.paper = self.offcut.paper if self.offcut else paper
        self.at = at

    def fields(self) -> ComposeResult:
        names = tuple(paper.name for paper in self.project.papers)
        yield row("Of the paper", Choice(names, self.paper, key="paper"))
        yield self.size_row(self.offcut.size if self.offcut else None)
        yield row("How many", text("count", self.offcut.count if self.offcut else 1))

    def read(self) -> Project:
        offcut = Offcut(self.chosen("paper"), self.both_sides(), self.count("count", "how many"))
        return with_offcut(self.project, offcut, self.at)

    def preview(self, project: Project) -> Canvas:
        offcut = project.offcuts[-1 if self.at is None else self.at]
        return swatch(project.paper(offcut.paper), *fit(offcut.size, *PREVIEW))
