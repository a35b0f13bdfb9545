"""What a batch costs, card by card, and what to ask for a card."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, Self

from workbench.craft.errors import CraftError, checked_name
from workbench.craft.money import (
    DEFAULT_CURRENCY,
    Money,
    Price,
    checked_currency,
    places,
    rounded_shares,
    total,
)
from workbench.making.plan_index import PlanIndex

Per = Literal["card", "batch"]
PaperCost = Literal["by area", "by sheet"]
HIGHEST_MARGIN = 99
TIME = "time at the table"


@dataclass(frozen=True, slots=True)
class ExtraCost:
    """Something beside the paper: an envelope, glue, gems, postage. Raises CraftError."""

    name: str
    money: Money
    per: Per = "card"

    def __post_init__(self) -> None:
        checked_name(self.name, "extra")

    @classmethod
    def read(cls, words: str, currency: str) -> Self:
        """Read "envelope = 0.12", or for a whole batch "glue = 0.35 a batch". Raises CraftError."""
        name, sign, money = words.partition("=")
        if not sign:
            raise CraftError(
                "extras", f"“{words.strip()}” is no extra", 'write it as "envelope = 0.12"'
            )
        amount, _, per = money.partition(" a ")
        if per.strip() not in ("", "card", "batch"):
            raise CraftError(
                "extras", f"“{words.strip()}” is for neither a card nor a batch", 'end in "a batch"'
            )
        return cls(
            name.strip(),
            Money.read(amount, currency),
            "batch" if per.strip() == "batch" else "card",
        )

    def __str__(self) -> str:
        """Write it as `read` reads it: "glue = 0.35 a batch"."""
        return f"{self.name} = {self.money.amount}" + (" a batch" if self.per == "batch" else "")


@dataclass(frozen=True, slots=True)
class Pricing:
    """How the maker reckons: what costs beside the paper, an hour's work, and the margin.

    `margin` is the part of the price, in hundredths, that stays above all costs. Raises
    CraftError, for amounts in several currencies too.
    """

    currency: str = DEFAULT_CURRENCY
    extras: tuple[ExtraCost, ...] = ()
    hourly: Money | None = None
    margin: int = 0

    def __post_init__(self) -> None:
        checked_currency(self.currency)
        if not 0 <= self.margin <= HIGHEST_MARGIN:
            raise CraftError(
                "margin", f"{self.margin} % cannot be kept", f"give 0 to {HIGHEST_MARGIN}"
            )
        hourly = (self.hourly,) if self.hourly else ()
        total((*(extra.money for extra in self.extras), *hourly), self.currency)

    def paid_in(self, currency: str) -> Self:
        """The same figures in another currency. Raises CraftError."""

        def same(money: Money) -> Money:
            return Money(money.amount, currency)

        extras = tuple(replace(extra, money=same(extra.money)) for extra in self.extras)
        hourly = same(self.hourly) if self.hourly else None
        return replace(self, currency=currency, extras=extras, hourly=hourly)


@dataclass(frozen=True, slots=True)
class CostLine:
    """One thing that costs, and what it costs exactly."""

    name: str
    exact: Fraction


@dataclass(frozen=True, slots=True)
class Cost:
    """What a batch of `cards` costs, its lines exact until they are rounded together.

    `unpriced` papers have no price and are left out.
    """

    lines: tuple[CostLine, ...]
    cards: int
    currency: str
    margin: int
    unpriced: tuple[str, ...]

    @property
    def exact(self) -> Fraction:
        """The whole, not rounded."""
        return sum((line.exact for line in self.lines), Fraction())

    @property
    def whole(self) -> Money:
        """The whole, rounded."""
        return Money.rounded(self.exact, self.currency)

    @property
    def rounded(self) -> tuple[tuple[str, Money], ...]:
        """Each line rounded so that they add up to the whole."""
        amounts = rounded_shares([line.exact for line in self.lines], self.currency)
        return tuple((line.name, money) for line, money in zip(self.lines, amounts, strict=True))

    @property
    def by_card(self) -> tuple[Money, ...]:
        """What each card costs, so that the cards add up to the whole."""
        return rounded_shares([self.exact / self.cards] * self.cards, self.currency)

    @property
    def to_ask(self) -> Money:
        """The least price of a card that leaves the margin, rounded up."""
        price = self.exact / self.cards / (1 - Fraction(self.margin, 100))
        unit = Fraction(1, 10 ** places(self.currency))
        return Money.rounded(-(-price // unit) * unit, self.currency)


def cost_of(
    index: PlanIndex,
    prices: Mapping[str, Price],
    pricing: Pricing,
    minutes: int = 0,
    by: PaperCost = "by area",
) -> Cost:
    """Work out what a batch costs.

    Args:
        index: the batch, as it is worked by.
        prices: of its papers, by their names in it.
        pricing: how the maker reckons.
        minutes: the time at the table, as it was measured.
        by: "by area" charges each paper for what lies on the cards, as part of its sheet; "by
            sheet" for every sheet opened. Offcuts from stock are paid for with their sheet.

    Returns:
        The cost, every line exact.

    Raises:
        CraftError: where prices are in several currencies.
    """
    for name, price in prices.items():
        if price.money.currency != pricing.currency:
            raise CraftError(
                f"price of {name}",
                f"it is in {price.money.currency}, which cannot be added to {pricing.currency}",
                f"give it in {pricing.currency}, or reckon in {price.money.currency}",
            )
    opened = _area_shares(index) if by == "by area" else _sheets(index)
    cards = index.plan.cards
    lines = [
        CostLine(name, prices[name].of_one * count)
        for name, count in opened.items()
        if name in prices
    ]
    for extra in pricing.extras:
        times = cards if extra.per == "card" else 1
        lines.append(CostLine(extra.name, extra.money.exact * times))
    if pricing.hourly and minutes:
        lines.append(CostLine(TIME, pricing.hourly.exact * Fraction(minutes, 60)))
    unpriced = tuple(name for name in opened if name not in prices)
    return Cost(tuple(lines), cards, pricing.currency, pricing.margin, unpriced)


def waste_share(index: PlanIndex) -> Fraction:
    """The part of all opened paper that is neither on a card nor kept as an offcut."""
    whole = sum((sheet.size.area for sheet in index.plan.sheets), Fraction())
    scrap = sum(
        (
            part.size.area
            for sheet in index.plan.sheets
            for part in sheet.parts
            if part.role == "scrap"
        ),
        Fraction(),
    )
    return scrap / whole if whole else Fraction()


def _sheets(index: PlanIndex) -> dict[str, Fraction]:
    counts: dict[str, Fraction] = defaultdict(Fraction)
    for sheet in index.plan.sheets:
        counts[sheet.paper] += 0 if sheet.offcut else 1
    return counts


def _area_shares(index: PlanIndex) -> dict[str, Fraction]:
    """How many sheets' worth of each paper lie on the cards."""
    shares: dict[str, Fraction] = defaultdict(Fraction)
    for sheet in index.plan.sheets:
        whole = index.project.paper(sheet.paper).size.area
        for part in sheet.parts:
            if part.role == "piece":
                shares[sheet.paper] += part.size.area / whole
    return shares
