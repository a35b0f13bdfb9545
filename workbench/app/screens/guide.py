"""The Guide page: the recipe as others get it, to be looked at, chosen and written."""

import re
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from textual import events, on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static
from textual.worker import get_current_worker

from workbench.app.commands import (
    AdaptCard,
    ChangeImprint,
    ChangePageSize,
    LookDown,
    LookUp,
    NextPage,
    OpenWritten,
    PageBefore,
    WriteCards,
    WriteCues,
    WriteGuide,
    bindings,
)
from workbench.app.screens.page import PageScreen
from workbench.app.session import Session
from workbench.app.widgets.pictures import Picture
from workbench.app.widgets.plan_line import PlanLine
from workbench.app.widgets.questions import PathQuestion, Question
from workbench.drawing.page_picture import draw_page
from workbench.making.plan_index import PlanIndex
from workbench.measure.counting import counted
from workbench.measure.length import Unit

if TYPE_CHECKING:
    from workbench.craft.trimmer import Trimmer
    from workbench.publish.adaptation import Adaptation, Wishes
    from workbench.publish.output import Publication
    from workbench.publish.pages import PageSize
    from workbench.publish.recipe import Recipe

# Below this a page and the words beside it would both be too narrow.
_WIDE = 110
_FINENESS = 40
_ENDINGS = {"guide": ".pdf", "cards": " cards.png", "cues": " cues.txt"}
_BESIDE = re.compile(r"[^\w-]+")


class GuideScreen(PageScreen):
    """Words of the guide to scroll through, and where there is room a picture of each page."""

    CSS_PATH = "guide.tcss"
    BINDINGS = bindings(
        (
            WriteGuide,
            WriteCards,
            WriteCues,
            ChangePageSize,
            ChangeImprint,
            AdaptCard,
            OpenWritten,
            PageBefore,
            NextPage,
            LookUp,
            LookDown,
        )
    )
    PAGE = "guide"
    NEEDS_PLAN = True
    ABOUT = (
        "The recipe of this batch for others: every cut with its number and mark, every size in"
        " both units, yours first. How the name of the file ends says what is written: pdf and png"
        " are pages, svg the drawings, html a page for the web, txt and md words alone. A screen"
        " 110 columns wide shows a picture of each page. Adapt plans the card for somebody with"
        " other paper."
    )

    class Typeset(Message):
        """The guide as it will be written, a picture of each page, and what is not printed."""

        def __init__(self, publication: "Publication", pages: list[bytes], boxes: str) -> None:
            super().__init__()
            self.publication, self.pages, self.boxes = publication, pages, boxes

    class Adapted(Message):
        """The project was planned for another reader; or it cannot be, and `why`."""

        def __init__(self, adaptation: "Adaptation | None", why: str = "") -> None:
            super().__init__()
            self.adaptation, self.why = adaptation, why

    def __init__(self) -> None:
        super().__init__()
        self._page_size: PageSize | None = None
        self._made: GuideScreen.Typeset | None = None
        self._asked: object = None
        self._at = 0
        self._written: Path | None = None

    def body(self) -> ComposeResult:
        yield PlanLine()
        yield Static(id="choices", markup=False)
        with Horizontal():
            with VerticalScroll(id="words"):
                yield Static(id="text", markup=False)
            yield Picture(id="page")
        yield Static(id="where", markup=False)

    def on_mount(self) -> None:
        self.query_one("#words").focus()

    def on_resize(self, event: events.Resize) -> None:
        self.query_one("#page").display = event.size.width >= _WIDE
        self.call_after_refresh(self._show_words)

    def show(self, session: Session, unit: Unit) -> None:
        from workbench.publish.pages import usual_page
        from workbench.publish.writer import make_recipe

        if self._page_size is None:
            self._page_size = usual_page(unit)
        asked = (session.plan, session.project, unit, self._page_size)
        if session.plan and self._asked != asked:
            self._asked = asked
            index = PlanIndex(session.project, session.plan)
            picture, desk = self._picture(session), self.app.post_desk()
            make = partial(make_recipe, index, self.app.trimmer(), unit, picture, desk)
            self._typeset(index, make, self._page_size)
        self._show_choices()

    # What is shown

    def _picture(self, session: Session) -> str:
        from workbench.store.errors import StoreError
        from workbench.store.guide_picture import guide_picture

        try:
            return guide_picture(session.project.imprint, session.path)
        except StoreError as error:
            self.app.say_wrong(str(error))
            return ""

    @work(thread=True, exclusive=True, group="typesetting")
    def _typeset(self, index: PlanIndex, make: "Callable[[], Recipe]", page: "PageSize") -> None:
        from workbench.publish.output import Publication
        from workbench.publish.pages import page_pictures
        from workbench.publish.signs import unprintable, unprintable_words

        recipe = make()
        publication = Publication(index, recipe, page)
        boxes = unprintable_words(unprintable(recipe))
        made = self.Typeset(publication, page_pictures(recipe, page, _FINENESS), boxes)
        if not get_current_worker().is_cancelled:
            self.post_message(made)

    @on(Typeset)
    def _show_made(self, made: Typeset) -> None:
        self._made = made
        self._at = min(self._at, len(made.pages) - 1)
        self._show_words()
        self._show_page()

    def _show_words(self) -> None:
        """As wide as there is room for them now."""
        from workbench.publish.text import plain_text

        width = self.query_one("#words").scrollable_content_region.width
        if self._made and width:
            words = plain_text(self._made.publication.recipe, width)
            self.query_one("#text", Static).update(Content(words))

    def _show_page(self) -> None:
        made = self._made
        if made:
            picture = made.pages[self._at]
            self.query_one("#page", Picture).show(
                lambda columns, rows: draw_page(picture, columns, rows)
            )
        self._show_choices()

    def _show_choices(self) -> None:
        units = "inches first" if self.app.unit == "in" else "millimetres first"
        pages = counted(len(self._made.pages), "page") if self._made else "typesetting …"
        at = f", page {self._at + 1}" if self._made and self.query_one("#page").display else ""
        boxes = f"\n{self._made.boxes}" if self._made and self._made.boxes else ""
        self.query_one("#choices", Static).update(
            Content(f"{self._page_size} · {units} · {pages}{at}{boxes}")
        )

    def action_next_page(self) -> None:
        self._turn(1)

    def action_page_before(self) -> None:
        self._turn(-1)

    @on(events.Click, "#page")
    def _click(self) -> None:
        self._turn(1)

    def _turn(self, by: int) -> None:
        if self._made:
            self._at = (self._at + by) % len(self._made.pages)
            self._show_page()

    def action_look_up(self) -> None:
        self.query_one("#words").scroll_up()

    def action_look_down(self) -> None:
        self.query_one("#words").scroll_down()

    def action_change_page_size(self) -> None:
        self._page_size = "A4" if self._page_size == "Letter" else "Letter"
        self._refresh()

    @work
    async def action_change_imprint(self) -> None:
        from workbench.app.screens.imprint_form import ImprintForm

        if session := self.app.session:
            form = ImprintForm(session.project.imprint, self.app.unit)
            imprint = await self.app.push_screen_wait(form)
            if imprint and session.plan:
                # The plan stays: nothing of it is printed there.
                self.app.planning.take(session.plan, replace(session.project, imprint=imprint))

    # Writing it

    def action_write_guide(self) -> None:
        self._write("guide", "Write the guide to")

    def action_write_cards(self) -> None:
        self._write("cards", "Write the picture of all cards to")

    def action_write_cues(self) -> None:
        self._write("cues", "Write what to say to")

    @work
    async def _write(self, what: str, question: str) -> None:
        made, session = self._made, self.app.session
        if made is None or session is None:
            self.notify("There is no plan to write a guide of yet.", markup=False)
            return
        folder = session.path.parent if session.path else Path.cwd()
        stem = session.path.stem if session.path else _BESIDE.sub("_", session.project.title)
        there = folder / f"{stem}{_ENDINGS[what]}"
        file = await self.app.push_screen_wait(PathQuestion(question, there, "Write"))
        if file is None:
            return
        if file.is_file():
            asked = f"There is already a file {file}."
            answers = {"keep": "Keep it", "replace": "Replace it"}
            if await self.app.push_screen_wait(Question(asked, answers)) != "replace":
                return
        self._say_where("writing …")
        self._put(made.publication, what, file)

    @work(thread=True, exclusive=True, group="writing")
    def _put(self, publication: "Publication", what: str, file: Path) -> None:
        from workbench.publish.output import write
        from workbench.store.errors import StoreError

        say: Callable[..., None] = self.app.call_from_thread
        try:
            written = write(publication, what, file)
        except StoreError as error:
            say(self._say_where, "")
            say(self.app.say_wrong, str(error))
        else:
            say(self._say_written, written)

    def _say_written(self, files: list[Path]) -> None:
        self._written = files[0]
        more = f" and {len(files) - 1} more beside it" if len(files) > 1 else ""
        self._say_where(f"Written: {files[0]}{more}")
        if self.app.is_web:
            self.app.deliver_binary(files[0])

    def _say_where(self, words: str) -> None:
        self.query_one("#where", Static).update(Content(words))

    def action_open_written(self) -> None:
        if self._written is None:
            self.notify("Nothing was written here yet.", markup=False)
        elif self.app.is_web:
            self.app.deliver_binary(self._written)
        else:
            self.app.open_url(self._written.as_uri())

    # For other readers

    @work
    async def action_adapt_card(self) -> None:
        from workbench.app.screens.adapt_form import AdaptForm

        if session := self.app.session:
            wishes = await self.app.push_screen_wait(AdaptForm(session.project, self.app.unit))
            if wishes:
                self._say_where("planning for that reader …")
                self._adapt(session, wishes, self.app.trimmer())

    @work(thread=True, exclusive=True, group="adapting")
    def _adapt(self, session: Session, wishes: "Wishes", trimmer: "Trimmer") -> None:
        from workbench.planning import Cancelled, Watch
        from workbench.publish.adaptation import AdaptationError, adapt

        worker = get_current_worker()
        watch = Watch(lambda _: None, lambda: worker.is_cancelled)
        try:
            adaptation = adapt(session.project, wishes, trimmer, watch, session.plan)
        except AdaptationError as error:
            self.post_message(self.Adapted(None, str(error)))
        except Cancelled:
            return
        else:
            self.post_message(self.Adapted(adaptation))

    @on(Adapted)
    def _hear_adapted(self, message: Adapted) -> None:
        self._say_where("")
        if message.adaptation is None:
            self.app.say_wrong(message.why)
        else:
            self._offer(message.adaptation)

    @work
    async def _offer(self, adaptation: "Adaptation") -> None:
        from workbench.app.screens.adapt_form import AdaptedScreen

        if await self.app.push_screen_wait(AdaptedScreen(adaptation)):
            after = adaptation.after
            self.app.planning.take(after.plan, after.project)
            self.app.show_in(after.project.units)
