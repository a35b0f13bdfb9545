"""The forms of the Stock: one paper, or one offcut."""

from pathlib import Path

from textual.app import ComposeResult

from workbench.app.edits import with_offcut, with_paper
from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.faults import CraftError
from workbench.craft.paper import EDGES, KINDS, RUNS, Kind, Offcut, Paper, Run, Strip
from workbench.craft.project import Project
from workbench.drawing.canvas import Canvas, fit
from workbench.drawing.labels import write_exactly
from workbench.drawing.prints import PRINTS, swatch
from workbench.measure.length import Unit
from workbench.store.faults import StoreError
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
        " notes for you, as on the packet."
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
        yield row("Weight", text("weight", (paper and paper.weight) or "", "a note"))
        yield row("Thickness", text("thickness", (paper and paper.thickness) or "", "a note"))

    def read(self) -> Project:
        kind: Kind = next(kind for kind in KINDS if kind == self.chosen("kind"))
        run: Run = next(run for run in RUNS if RUN_WORDS[run] == self.chosen("run"))
        paper = Paper(
            name=self.typed("name"),
            kind=kind,
            size=self.both_sides(),
            sheets=self.count("sheets", "sheets on hand"),
            print=self.typed("print"),
            colours=self._colours(),
            run=run,
            weight=self.typed("weight") or None,
            thickness=self.typed("thickness") or None,
            back=self.paper.back if self.paper else None,
            strip=self._strip(),
        )
        return with_paper(self.project, paper, self.paper.name if self.paper else None)

    def preview(self, project: Project) -> Canvas:
        return swatch(project.paper(self.typed("name")), *PREVIEW)

    def _colours(self) -> tuple[str, ...]:
        """As they are typed, or taken from the picture whose path is typed."""
        typed = self.typed("colours")
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
