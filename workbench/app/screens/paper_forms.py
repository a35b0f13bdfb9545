"""The forms of the Stock: one paper, or one offcut."""

from collections.abc import Callable
from pathlib import Path

from textual.app import ComposeResult

from workbench.app.edits import with_offcut, with_paper
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
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
    Strip,
)
from workbench.craft.project import Project
from workbench.drawing.canvas import Canvas, fit
from workbench.drawing.labels import write_exactly
from workbench.drawing.prints import PRINTS, swatch
from workbench.measure.length import Unit
from workbench.measure.weights import read_thickness, read_weight
from workbench.store.errors import StoreError
from workbench.store.pictures import SUFFIXES, colours_of

RUN_WORDS: dict[Run, str] = {"none": "any way", "up": "one way up", "along": "up or down"}
RUN_ARROWS: dict[Run, str] = {"none": "✢", "up": "↑", "along": "↕"}

NO_STRIP = "none"


class PaperForm(ProjectForm):
    """Adds a paper, or changes `paper`."""

    TITLE = "Paper"
    ABOUT = (
        "A kind of sheet: its size with the print upright, how many are on hand, and how to draw"
        " it. Its colours are written as codes, or taken from a photograph or scan of it when you"
        " give the path of that; the picture itself is not kept. The run says which way the print"
        " points: a print that runs one way up is never cut sideways or upside down. A strip that"
        " is printed along one edge of every sheet is trimmed off first. Weight and thickness are"
        " as on the packet; the card's own thickness is told from them. A paper that is printed on"
        " both sides has a back with a name of its own, and either side may show."
    )

    def __init__(self, project: Project, unit: Unit, paper: Paper | None = None) -> None:
        super().__init__(project, unit)
        self.paper = paper

    def fields(self) -> ComposeResult:
        paper = self.paper
        yield row("Name", text("name", paper.name if paper else ""))
        yield row("Kind", Choice(KINDS, paper.kind if paper else "patterned", key="kind"))
        yield self.size_row(paper.size if paper else None)
        yield row("Sheets on hand", text("sheets", paper.sheets if paper else 1))
        prints = "solid, stripe, dot, ... or a name"
        yield row("Print", text("print", paper.print if paper else "solid", prints, PRINTS))
        colours = " ".join(paper.colours) if paper else ""
        hint = "#2f6f8f #f4efe4: marks, then the ground; or a picture's path"
        yield row("Colours", text("colours", colours, hint))
        run = RUN_WORDS[paper.run if paper else "none"]
        yield row("Run", Choice(tuple(RUN_WORDS.values()), run, key="run"))
        strip = paper.strip if paper else None
        edges = (NO_STRIP, *EDGES)
        yield row("Printed strip", Choice(edges, strip.edge if strip else NO_STRIP, key="edge"))
        width = write_exactly(strip.width, self.unit) if strip else ""
        yield row(f"Its width ({self.unit})", text("strip", width, "trimmed off first"))
        weight = (paper and paper.weight) or ""
        yield row("Weight", text("weight", weight, "as on the packet: 110 lb cover, 300 gsm"))
        thickness = (paper and paper.thickness) or ""
        yield row("Thickness", text("thickness", thickness, "14 pt or 0.36 mm"))
        back = paper.back if paper else None
        yield row("Printed back", text("back", back.name if back else "", "its own name, if any"))
        yield row("Its print", text("back-print", back.print if back else SOLID, prints, PRINTS))
        yield row("Its colours", text("back-colours", " ".join(back.colours) if back else "", hint))
        back_run = RUN_WORDS[back.run if back else "none"]
        yield row("Its run", Choice(tuple(RUN_WORDS.values()), back_run, key="back-run"))

    def read(self) -> Project:
        kind: PaperKind = next(kind for kind in KINDS if kind == self.chosen("kind"))
        paper = Paper(
            name=self.typed("name"),
            kind=kind,
            size=self.both_sides(),
            sheets=self.count("sheets", "sheets on hand"),
            print=self.typed("print"),
            colours=self._colours("colours"),
            run=self._run("run"),
            weight=self._note("weight", read_weight),
            thickness=self._note("thickness", read_thickness),
            back=self._back(),
            strip=self._strip(),
            stock=self.paper.stock if self.paper else None,
        )
        return with_paper(self.project, paper, self.paper.name if self.paper else None)

    def preview(self, project: Project) -> Canvas:
        return swatch(project.paper(self.typed("name")), *PREVIEW)

    def _run(self, key: str) -> Run:
        return next(run for run in RUNS if RUN_WORDS[run] == self.chosen(key))

    def _back(self) -> Back | None:
        name = self.typed("back")
        if not name:
            return None
        print_, colours = self.typed("back-print"), self._colours("back-colours")
        return Back(name, print_, colours, self._run("back-run"))

    def _note(self, key: str, read: Callable[[str], object]) -> str | None:
        """As it is typed, when it can be read. Raises MeasureError."""
        typed = self.typed(key)
        if typed:
            read(typed)
        return typed or None

    def _colours(self, key: str) -> tuple[str, ...]:
        """As they are typed, or taken from the picture whose path is typed."""
        typed = self.typed(key)
        if not typed.lower().endswith(SUFFIXES):
            return tuple(typed.replace(",", " ").split())
        try:
            return colours_of(Path(typed).expanduser())
        except StoreError as error:
            raise CraftError("colours", error.what, error.mend) from error

    def _strip(self) -> Strip | None:
        edge = next((edge for edge in EDGES if edge == self.chosen("edge")), None)
        return Strip(edge, self.length("strip", "width of the strip")) if edge else None


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
