"""How the drawer reckons: prices of time and extras, the least useful offcut, what to clear out."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from workbench.app.widgets.forms import Form, row, text
from workbench.craft.errors import CraftError
from workbench.craft.money import Money, checked_currency
from workbench.craft.stock import LeastUseful
from workbench.drawing.labels import write_exactly, write_size
from workbench.making.costs import ExtraCost, Pricing
from workbench.measure.counting import counted
from workbench.measure.length import Length, Unit
from workbench.store.drawer_lines import OffcutLine
from workbench.store.errors import StoreError

_AREAS: dict[Unit, str] = {"in": "sq in", "mm": "sq cm"}
_SQUARE_INCHES: dict[Unit, Fraction] = {"in": Fraction(1), "mm": 1 / Fraction(254, 100) ** 2}
"""How many square inches one of those is; an inch is 25.4 mm by definition."""
_MOST_SHOWN = 10
_USUAL_DAYS = 365


class Reckoning(NamedTuple):
    """How costs are reckoned, and which offcuts are worth keeping."""

    pricing: Pricing
    least: LeastUseful


class ReckoningForm(Form[Reckoning]):
    """Changes how the drawer reckons."""

    TITLE = "Costs and offcuts"
    ABOUT = (
        "What a batch costs is told when it is finished, from the prices of its papers and from"
        " what stands here. Extras are an envelope, glue, gems or postage: envelope = 0.12; glue ="
        " 0.35 a batch. The margin is the part of the price of a card, in hundredths, that stays"
        " with you. Offcuts with a shorter side or a smaller area than said here are not put in"
        " the drawer; a batch under way goes by what held when it was begun."
    )

    def __init__(self, unit: Unit, reckoning: Reckoning) -> None:
        super().__init__(unit)
        self.reckoning = reckoning

    def fields(self) -> ComposeResult:
        pricing, least = self.reckoning
        yield row("Currency", text("currency", pricing.currency, "three letters, as EUR"))
        hourly = pricing.hourly.amount if pricing.hourly else ""
        yield row("Your hour", text("hourly", hourly, "not reckoned where nothing is said"))
        yield row("Margin (%)", text("margin", pricing.margin))
        extras = "; ".join(map(str, pricing.extras))
        yield row("Extras", text("extras", extras, "envelope = 0.12; glue = 0.35 a batch"))
        yield row(f"Least side ({self.unit})", text("side", write_exactly(least.side, self.unit)))
        yield row(f"Area ({_AREAS[self.unit]})", text("area", self._area))

    def read(self) -> Reckoning:
        before = self.reckoning.least
        currency = self.reading("currency", self._currency, self.reckoning.pricing.currency)
        pricing = Pricing(
            currency,
            self.reading("extras", lambda: self._extras(currency), ()),
            self.reading("hourly", lambda: self._hourly(currency), None),
            self.reading("margin", self._margin, 0),
        )
        area = self.count("area", "area") * _SQUARE_INCHES[self.unit]
        same = self.typed("area") == self._area
        return Reckoning(
            pricing,
            LeastUseful(
                self.reading("side", self._side, before.side), before.area if same else area
            ),
        )

    @property
    def _area(self) -> str:
        """The least area as its field holds it, to a whole number."""
        return str(round(self.reckoning.least.area / _SQUARE_INCHES[self.unit]))

    def _side(self) -> Length:
        return LeastUseful(self.length("side", "least side")).side

    def _margin(self) -> int:
        return Pricing(margin=self.count("margin", "margin")).margin

    def _currency(self) -> str:
        return checked_currency(self.typed("currency").upper())

    def _extras(self, currency: str) -> tuple[ExtraCost, ...]:
        words = (each for each in self.typed("extras").split(";") if each.strip())
        return tuple(ExtraCost.read(each, currency) for each in words)

    def _hourly(self, currency: str) -> Money | None:
        typed = self.typed("hourly")
        return Money.read(typed, currency) if typed else None


class ClearOutForm(Form[tuple[int, ...]]):
    """Lists the offcuts not worth keeping, by `found` for so many days; gives their lots."""

    TITLE = "Clear out"
    KEEP = "Throw them away"
    ABOUT = (
        "The free offcuts that are smaller than you find useful, or in which nothing came in for"
        " so many days. Throwing them away can be taken back in the drawer."
    )

    def __init__(self, unit: Unit, found: Callable[[int], Sequence[OffcutLine]]) -> None:
        super().__init__(unit)
        self.found = cache(found)

    def fields(self) -> ComposeResult:
        yield row("Older than", text("days", _USUAL_DAYS, "days"))
        yield Static(id="offcuts", markup=False)

    def read(self) -> tuple[int, ...]:
        lines = self._lines()
        if not lines and not self._unread:
            raise CraftError("days", "every offcut is worth keeping", "close the form")
        return tuple(line.id for line in lines)

    def show(self, read: tuple[int, ...]) -> None:
        lines = self._lines()
        words = [
            f"{line.counts.on_hand} × {line.name}, {write_size(line.measures, self.unit)}"
            for line in lines[:_MOST_SHOWN]
        ]
        more = len(lines) - _MOST_SHOWN
        words += [f"and {more} more"] if more > 0 else []
        free = sum(line.counts.on_hand for line in lines)
        words.insert(0, f"{counted(free, 'offcut')} would go:")
        self.query_one("#offcuts", Static).update(Content("\n".join(words)))

    def _lines(self) -> Sequence[OffcutLine]:
        days = self.count("days", "days")

        def found() -> Sequence[OffcutLine]:
            try:
                return self.found(days)
            except StoreError as error:
                raise CraftError("days", error.what, error.mend) from error

        return self.reading("days", found, ()) if "days" not in self._unread else ()
