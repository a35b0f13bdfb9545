"""Which offcuts of a batch go in the stock."""

from textual.app import ComposeResult
from textual.containers import VerticalGroup
from textual.content import Content
from textual.widgets import Static

from workbench.app.widgets.fields import YesNo
from workbench.app.widgets.forms import Form
from workbench.making.stock_update import Leftovers, StockTake, each_in_words
from workbench.measure.writing import Graduation


class OffcutsForm(Form[StockTake]):
    """Ticks all `leftovers`; `used` says what the batch took off the stock."""

    TITLE = "Offcuts for the stock"
    ABOUT = (
        "All is cut. What is ticked here goes in the stock of the project, to be used before a"
        " sheet is opened. The sheets and offcuts that the batch has used are taken off the stock"
        " at the same time, unless you did that by hand."
    )

    def __init__(self, leftovers: Leftovers, used: str, graduation: Graduation) -> None:
        super().__init__(graduation.unit)
        self.leftovers, self.used, self.graduation = leftovers, used, graduation

    def fields(self) -> ComposeResult:
        with VerticalGroup():
            for words in self._words():
                yield YesNo(words, True, group="offcuts")
            yield Static(Content(""))
            yield YesNo(f"and take off what was used: {self.used}", True, group="used")

    def read(self) -> StockTake:
        ticked = set(self.marked("offcuts"))
        offcuts = zip(self.leftovers.lots, self._words(), strict=True)
        kept = tuple(offcut for offcut, words in offcuts if words in ticked)
        return StockTake(kept, bool(self.marked("used")))

    def _words(self) -> list[str]:
        return [each_in_words(offcut, self.graduation) for offcut in self.leftovers.lots]
