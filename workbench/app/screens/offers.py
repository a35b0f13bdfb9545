"""Offcuts offered for the piece at hand, and small new pieces that they are good for."""

import asyncio
from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from workbench.app.base import WorkbenchApp
from workbench.app.commands import CloseForm, bindings
from workbench.app.views import ModalView
from workbench.app.widgets.footer import Keys
from workbench.craft.card import Piece
from workbench.craft.project import Project
from workbench.drawing.canvas import shortened
from workbench.drawing.labels import write_size
from workbench.making.offcut_offers import Offer, new_offers, offers_for, with_offer
from workbench.measure.counting import counted
from workbench.measure.length import Unit
from workbench.store.drawer import Drawer
from workbench.store.drawer_projects import fresh_stock
from workbench.store.free_offcuts import offcuts_for

MOST_SHOWN = 40
_NAME_WIDTH = 20


class OffersScreen(ModalView[Offer | None]):
    """Lists offers; gives the one chosen, None for none."""

    CSS_PATH = "offers.tcss"
    BINDINGS = bindings((CloseForm,))
    ABOUT = (
        "The offcuts of this project and of your drawer that the piece at hand could be cut from,"
        " and small pieces that they are good for on any card. Choosing one lets the piece be cut"
        " from that paper too, or adds the small piece, cut only if it fits; offcuts are used"
        " before a sheet is opened. What you chose is changed like all else, and can be taken back."
    )

    def __init__(
        self,
        piece: str | None,
        offers: Sequence[Offer],
        new: Sequence[Offer],
        unit: Unit,
        *,
        lying: bool,
    ) -> None:
        """Offer these; `lying` says whether there are any offcuts at all."""
        super().__init__()
        self.lying = lying
        self.piece, self.unit = piece, unit
        self.offers, self.new = offers[:MOST_SHOWN], new

    def compose(self) -> ComposeResult:
        with Vertical(classes="form"):
            yield Static(Content("Offcuts"), classes="heading")
            yield OptionList(*self._options(), compact=True, markup=False)
        yield Keys(show_command_palette=False)

    def _options(self) -> Sequence[Option]:
        if not self.lying:
            return [_heading(_NONE)]
        options = []
        if self.piece:
            said = "for" if self.offers else "No offcut would do for"
            options.append(_heading(f"{said} {self.piece}".capitalize()))
            options += [Option(Content(self._line(offer))) for offer in self.offers]
        options.append(_heading("Small pieces, cut only if they fit" if self.new else _NOTHING))
        options += [Option(Content(self._new_line(offer))) for offer in self.new]
        return options

    def _line(self, offer: Offer) -> str:
        return f"  {_share(offer)} from {self._lying(offer)}"

    def _new_line(self, offer: Offer) -> str:
        size = write_size(offer.piece.size, self.unit)
        return f"  {offer.piece.name}, {size}: {_share(offer)}\n      from {self._lying(offer)}"

    def _lying(self, offer: Offer) -> str:
        lying = offer.lying
        name, size = shortened(lying.paper.name, _NAME_WIDTH), write_size(lying.size, self.unit)
        return f"{counted(lying.count, 'offcut')} of {name}, {size}"

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        chosen = event.option_index - 1
        if self.piece and chosen < len(self.offers):
            self.dismiss(self.offers[chosen])
        else:
            self.dismiss(self.new[chosen - (len(self.offers) + 1 if self.piece else 0)])

    def action_close_form(self) -> None:
        self.dismiss(None)


_NONE = "There are no offcuts yet, neither in the drawer nor in this project"
_NOTHING = "No offcut is large enough for a strip, a tag or an inside panel"


def _share(offer: Offer) -> str:
    return f"{min(offer.makes, offer.wanted)} of {offer.wanted}"


def _heading(words: str) -> Option:
    return Option(Content.assemble((words, "bold $accent")), disabled=True)


async def project_with_offer(
    app: WorkbenchApp, project: Project, piece: Piece | None
) -> Project | None:
    """Offer what lies there; the project with what the maker chose of it, None for nothing.

    Raises CraftError and StoreError. Is to be awaited in a worker.
    """
    drawer = Drawer(app.workshop)
    lying = await asyncio.to_thread(offcuts_for, project, drawer)
    offers = offers_for(project, piece, lying) if piece else ()
    new = tuple(new_offers(project, lying))
    screen = OffersScreen(piece.name if piece else None, offers, new, app.unit, lying=bool(lying))
    chosen = await app.push_screen_wait(screen)
    if chosen is None:
        return None
    taken = with_offer(project, chosen)
    return fresh_stock(drawer, taken) if drawer.workshop.exists else taken
