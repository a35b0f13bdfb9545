"""The forms of a card by post: how it is posted, and one extra that is put on it."""

from collections.abc import Iterator
from dataclasses import replace

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from workbench.app.edits import with_extra
from workbench.app.widgets.fields import Choice, YesNo
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.card import FRONT, INSIDE
from workbench.craft.envelope import UNENVELOPED, Envelope, Posting
from workbench.craft.errors import CraftError
from workbench.craft.extra import Extra
from workbench.craft.project import Project, fits
from workbench.drawing.canvas import Canvas
from workbench.drawing.cards import draw_card
from workbench.drawing.labels import write_exactly, write_size
from workbench.drawing.post import post_report
from workbench.measure.length import Length, Unit
from workbench.post import Desk, card_by_post, card_figures, suggestions
from workbench.post.card import envelopes_of, post_of, with_envelope
from workbench.post.envelope_pieces import EnvelopeCut, envelope_cut, with_envelope_cut

SNUGGEST, BARE = "the snuggest that fits", "none, posted as it is"
AS_IT_IS = "leave the card as it is"
UPRIGHT = "along the short side"
FLAT = "lies flat, no lump"
NO_LINER = "no liner"


class PostForm(ProjectForm):
    """Says all of a card by post, and changes how it is posted."""

    TITLE = "By post"
    ABOUT = (
        "What the card weighs, how thick it is, which envelopes take it and how it travels: each"
        " rule of the post with its figure, and how near the edge the card is. Choose another post"
        " or envelope, or one of the changes that would make it cheaper, and all is worked out"
        " anew. Where a figure is a range, something has not been measured; below stands what, and"
        " how. Tab goes down to it, and the arrows scroll it. Limits change: check with your post"
        " office."
    )

    def __init__(self, project: Project, unit: Unit, desk: Desk) -> None:
        super().__init__(project, unit)
        self.desk = desk
        self._cheaper = {AS_IT_IS: project}
        try:
            card = card_by_post(project, desk)
        except CraftError:
            return
        self._cheaper |= {each.words: each.project for each in suggestions(project, desk, card)}

    def fields(self) -> ComposeResult:
        posting = self.project.posting
        names = {post.key: post.name for post in self.desk.posts.values()}
        yield row("Goes by", Choice(tuple(names.values()), names.get(self._key()), key="to"))
        yield row("Envelope", Choice(self._envelopes(), self._envelope(), key="envelope"))
        clearance = posting.clearance
        said = "" if clearance is None else write_exactly(clearance, self.unit)
        usual = f"{write_exactly(self.desk.clearance, self.unit)} each way, as in your settings"
        yield row(f"Room ({self.unit})", text("clearance", said, usual))
        yield row("Address", YesNo(UPRIGHT, posting.upright, group="upright"))
        if len(self._cheaper) > 1:
            yield row("Cheaper", Choice(tuple(self._cheaper), key="cheaper"))
        with VerticalScroll(id="report-room", can_focus=True):
            yield Static(id="report", markup=False)

    def beside(self) -> Iterator[Widget]:
        return iter(())

    def read(self) -> Project:
        if len(self._cheaper) > 1 and self.chosen("cheaper") != AS_IT_IS:
            return self._cheaper[self.chosen("cheaper")]
        project = replace(self.project, posting=self._posting())
        card_by_post(project, self.desk)
        return project

    def show(self, read: Project) -> None:
        card = card_by_post(read, self.desk)
        self.query_one("#report", Static).update(post_report(card, self.unit))

    def _posting(self) -> Posting:
        before = self.project.posting
        chosen = next(
            post.key for post in self.desk.posts.values() if post.name == self.chosen("to")
        )
        clearance = self.length("clearance", "room") if self.typed("clearance") else None
        return Posting(
            to=before.to if chosen == self._key() else chosen,
            envelope={SNUGGEST: None, BARE: UNENVELOPED}.get(
                self.chosen("envelope"), self.chosen("envelope")
            ),
            clearance=clearance,
            upright=bool(self.marked("upright")),
        )

    def _key(self) -> str:
        try:
            return post_of(self.project, self.desk).key
        except CraftError:
            return next(iter(self.desk.posts))

    def _envelopes(self) -> tuple[str, ...]:
        return (SNUGGEST, *envelopes_of(self.project, self.desk), BARE)

    def _envelope(self) -> str:
        asked = self.project.posting.envelope
        return {None: SNUGGEST, UNENVELOPED: BARE}.get(asked, asked or SNUGGEST)


class ExtraForm(ProjectForm):
    """Changes `extra`, or adds one to the piece called `on`."""

    TITLE = "Extra"
    ABOUT = (
        "What is put on each card and is not cut from paper: beads, ribbon, tape, glue. Weigh ten"
        " and divide by ten. The thickness is how high one stands; leave it blank for glue. What"
        " does not lie flat makes a letter uneven, and some posts ask more for that."
    )

    def __init__(
        self, project: Project, unit: Unit, extra: Extra | None = None, on: str = FRONT
    ) -> None:
        super().__init__(project, unit)
        self.extra, self.on = extra, on

    def fields(self) -> ComposeResult:
        extra = self.extra
        bearers = (FRONT, INSIDE, *(piece.name for piece in self.project.pieces))
        yield row("Name", text("name", extra.name if extra else ""))
        yield row("Weight of one", text("weight", extra.weight if extra else "", "0.4 g or 0.1 oz"))
        thickness = (extra and extra.thickness) or ""
        yield row("Thickness", text("thickness", thickness, "2 mm or 1/16 in"))
        yield row("Lies on", Choice(bearers, extra.on if extra else self.on, key="on"))
        yield row("On each card", text("per_card", extra.per_card if extra else 1))
        yield row("Shape", YesNo(FLAT, extra.flat if extra else False, group="flat"))

    def read(self) -> Project:
        extra = Extra(
            name=self.named("name", "name"),
            weight=self.typed("weight"),
            thickness=self.typed("thickness") or None,
            on=self.chosen("on"),
            per_card=self.count("per_card", "on each card"),
            flat=bool(self.marked("flat")),
        )
        return with_extra(self.project, extra, self.extra.name if self.extra else None)

    def preview(self, project: Project) -> Canvas:
        return draw_card(project, None, *PREVIEW)


class EnvelopeForm(ProjectForm):
    """Has an envelope, and a liner if wanted, cut from papers of the project."""

    TITLE = "Envelope from paper"
    ABOUT = (
        "An envelope for this card, cut with the batch and not glued to it, one for each card. It"
        " is larger than the card by the room of your settings. Flap and seams are by common"
        " practice; change them as you like. Score it above and below the front and along both"
        " seams, cut the seams away beside the front and the flap, fold the back up and glue its"
        " tabs. When the card changes, make it again: it gives way to the new one."
    )

    def __init__(self, project: Project, unit: Unit, clearance: Length) -> None:
        super().__init__(project, unit)
        self.figures = card_figures(project)
        asked = project.posting.clearance
        self.clearance = clearance if asked is None else asked
        self.usual = envelope_cut(self.figures, self.clearance, unit)

    def fields(self) -> ComposeResult:
        papers = tuple(paper.name for paper in self.project.papers)
        yield row("Cut from", Choice(papers, self._usual_paper(), key="paper"))
        yield row("Liner from", Choice((NO_LINER, *papers), key="liner"))
        yield row(f"Flap ({self.unit})", text("flap", write_exactly(self.usual.flap, self.unit)))
        yield row(f"Seams ({self.unit})", text("seam", write_exactly(self.usual.seam, self.unit)))
        yield Static(id="cut", markup=False)

    def beside(self) -> Iterator[Widget]:
        return iter(())

    def read(self) -> Project:
        liner = self.chosen("liner")
        return with_envelope_cut(
            self.project,
            self._cut(),
            self.chosen("paper"),
            None if liner == NO_LINER else liner,
        )

    def show(self, read: Project) -> None:
        cut = self._cut()
        lines = [
            f"Finished  {write_size(cut.outer, self.unit)}",
            f"Blank     {write_size(cut.blank, self.unit)}",
            f"Liner     {write_size(cut.liner, self.unit)}",
            "Flap, seams and liner by common practice; try one first.",
        ]
        self.query_one("#cut", Static).update(Content("\n".join(lines)))

    def _usual_paper(self) -> str:
        """The first that the envelope can be cut from, or else the first of all."""
        papers = self.project.papers
        large = (paper.name for paper in papers if fits(paper, self.usual.blank))
        return next(large, papers[0].name)

    def _cut(self) -> EnvelopeCut:
        flap, seam = self.length("flap", "flap"), self.length("seam", "seams")
        if not flap or not seam:
            raise CraftError("flap and seams", "one of them is nothing", "give lengths above 0")
        return envelope_cut(self.figures, self.clearance, self.unit, flap, seam)


class OwnEnvelopeForm(ProjectForm):
    """Adds an envelope that the maker has, and posts the cards in it."""

    TITLE = "Envelope of your own"
    ABOUT = (
        "An envelope that stands in no table: its name, its outer size, whichever side first, and"
        " what an empty one weighs, where you know it; weigh ten and divide by ten. It is kept with"
        " this project, and its cards are posted in it. To have it in every project write it in"
        " the file envelopes.toml of your workshop, of which trimtally post --amend makes a copy."
    )

    def fields(self) -> ComposeResult:
        yield row("Name", text("name"))
        yield self.size_row(None, "150 × 150 mm")
        yield row("Weight of one", text("weight", "", "7 g or 0.25 oz, if you know"))

    def beside(self) -> Iterator[Widget]:
        return iter(())

    def show(self, read: Project) -> None:
        """What it would take is shown on the page."""

    def read(self) -> Project:
        name, size = self.named("name", "name"), self.both_sides()
        weight = self.typed("weight") or None
        own = self.reading("weight", lambda: Envelope(name, size, weight), Envelope("it", size))
        others = (each for each in self.project.envelopes if each.name != own.name)
        return with_envelope(replace(self.project, envelopes=(*others, own)), own.name)
