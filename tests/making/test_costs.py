"""What a batch costs, against sums worked by hand."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.making.plans import FOG, GULL, HARBOUR, NET, PLAN
from workbench.craft.errors import CraftError
from workbench.craft.money import Money, Price, total
from workbench.making.costs import Cost, CostLine, ExtraCost, Pricing, cost_of, waste_share
from workbench.making.plan_index import PlanIndex

BENCH = PlanIndex(HARBOUR, PLAN)
PRICES = {
    NET: Price.read("0.80"),
    GULL: Price.read("12.95 / 24"),
    FOG: Price.read("0.25"),
}
PRICING = Pricing(
    extras=(
        ExtraCost("envelope", Money.read("0.12")),
        ExtraCost("glue", Money.read("0.35"), per="batch"),
        ExtraCost("stamp", Money.read("1.10")),
    ),
    hourly=Money.read("12"),
    margin=40,
)


def words(cost: Cost) -> dict[str, str]:
    return {name: str(money.amount) for name, money in cost.rounded}


def test_two_cards_worked_by_hand_by_area() -> None:
    """By hand, two cards at 25 minutes.

    On each print lie a panel and a tide: 3.75 × 4.75 + 3.75 × 1 = 21.5625 of 36 sq in, 0.598958 of
    a sheet. On the card two bases, 2 × 4 × 10 = 80 of 93.5 sq in, 0.855615 of a sheet.

    net weave  0.598958 × 0.80        = 0.479167
    gull dot   0.598958 × 12.95 / 24  = 0.323188
    fog card   0.855615 × 0.25        = 0.213904
    envelopes  2 × 0.12               = 0.24
    glue                                0.35
    stamps     2 × 1.10               = 2.20
    time       25 / 60 × 12           = 5.00
    together                            8.806259, rounded 8.81

    Rounded down the lines make 8.79 (0.47 + 0.32 + 0.21 + 0.24 + 0.35 + 2.20 + 5.00); the two cents
    over go to net weave (0.9167 of a cent lost) and fog card (0.3904), not to gull dot (0.3188).
    A card costs 4.41 and 4.40. At a margin of 40 %: 8.806259 / 2 / 0.6 = 7.338549, asked 7.34.
    """
    cost = cost_of(BENCH, PRICES, PRICING, minutes=25)
    assert words(cost) == {
        NET: "0.48",
        GULL: "0.32",
        FOG: "0.22",
        "envelope": "0.24",
        "glue": "0.35",
        "stamp": "2.20",
        "time at the table": "5.00",
    }
    assert cost.whole == Money(Decimal("8.81"))
    assert [str(money.amount) for money in cost.by_card] == ["4.41", "4.40"]
    assert cost.to_ask == Money(Decimal("7.34"))
    assert cost.unpriced == ()


def test_two_cards_worked_by_hand_by_sheet() -> None:
    # By hand: 0.80 + 12.95 / 24 (0.539583) + 0.25 = 1.589583, rounded 1.59; no extras, no time.
    cost = cost_of(BENCH, PRICES, Pricing(), by="by sheet")
    assert words(cost) == {NET: "0.80", GULL: "0.54", FOG: "0.25"}
    assert cost.whole == Money(Decimal("1.59"))


def test_waste_worked_by_hand() -> None:
    # By hand: of each print 3.75 × 0.25 + 2.25 × 1.25 = 3.75 sq in; of the card 0.5 × 10 + 8.5 × 1
    # = 13.5; together 21 of 36 + 36 + 93.5 = 165.5 sq in.
    assert waste_share(BENCH) == Fraction(21) / Fraction("165.5")


def test_an_offcut_from_stock_was_paid_for_with_its_sheet() -> None:
    sheets = tuple(replace(sheet, offcut=sheet.paper == NET) for sheet in PLAN.sheets)
    cost = cost_of(
        PlanIndex(HARBOUR, replace(PLAN, sheets=sheets)), PRICES, Pricing(), by="by sheet"
    )
    assert words(cost)[NET] == "0.00"


def test_a_paper_without_a_price_is_said_to_have_none() -> None:
    cost = cost_of(BENCH, {NET: PRICES[NET]}, Pricing())
    assert cost.unpriced == (GULL, FOG)


def test_prices_in_two_currencies_are_refused() -> None:
    with pytest.raises(CraftError, match="cannot be added"):
        cost_of(BENCH, {**PRICES, NET: Price.read("1 GBP")}, Pricing())


@pytest.mark.parametrize("margin", [-1, 100])
def test_a_margin_that_cannot_be_is_refused(margin: int) -> None:
    with pytest.raises(CraftError):
        Pricing(margin=margin)


@given(
    st.lists(st.fractions(0, 500, max_denominator=997), min_size=1, max_size=20),
    st.integers(1, 200),
    st.integers(0, 99),
    st.sampled_from(["EUR", "JPY", "KWD"]),
)
def test_lines_and_cards_add_up_whatever_the_cart(
    cart: list[Fraction], cards: int, margin: int, currency: str
) -> None:
    lines = tuple(CostLine(str(at), exact) for at, exact in enumerate(cart))
    cost = Cost(lines, cards, currency, margin, ())
    assert total([money for _, money in cost.rounded], currency) == cost.whole
    assert total(cost.by_card, currency) == cost.whole
    assert cost.to_ask.exact * (100 - margin) / 100 * cards >= cost.exact


def test_a_makers_figures_stay_when_the_currency_is_another() -> None:
    words = ("envelope = 0.12", "glue = 0.35 a batch")
    extras = tuple(ExtraCost.read(each, "EUR") for each in words)
    assert tuple(map(str, extras)) == words
    pricing = Pricing("EUR", extras, Money.read("15", "EUR"), 30)
    moved = pricing.paid_in("CAD")
    assert [str(extra.money) for extra in moved.extras] == ["0.12 CAD", "0.35 CAD"]
    assert str(moved.hourly) == "15.00 CAD"
    with pytest.raises(CraftError, match="cannot be added"):
        Pricing("CAD", extras)
