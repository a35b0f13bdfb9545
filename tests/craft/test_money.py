"""Money: amounts that can be paid, and rounding that adds up."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.craft.errors import CraftError
from workbench.craft.money import Money, Price, places, rounded_shares, shares, total

CURRENCIES = st.sampled_from(["EUR", "GBP", "JPY", "KWD"])
EXACT = st.fractions(min_value=0, max_value=10_000, max_denominator=5_000)
CARTS = st.lists(EXACT, min_size=1, max_size=40)


def unit(currency: str) -> Fraction:
    return Fraction(1, 10 ** places(currency))


@given(CARTS, CURRENCIES)
def test_rounded_shares_add_up_to_the_rounded_sum(cart: list[Fraction], currency: str) -> None:
    rounded = rounded_shares(cart, currency)
    assert total(rounded, currency) == Money.rounded(sum(cart, Fraction()), currency)
    # The quota rule of the largest remainder: no share is off by a whole smallest unit.
    assert all(
        abs(money.exact - exact) < unit(currency)
        for money, exact in zip(rounded, cart, strict=True)
    )


@given(st.decimals(0, 10_000, places=2), st.lists(st.integers(0, 99), min_size=1, max_size=30))
def test_shares_of_an_amount_add_up_to_it(amount: Decimal, weights: list[int]) -> None:
    whole = Money(amount)
    if sum(weights):
        assert total(shares(whole, weights), "EUR") == whole
    else:
        with pytest.raises(CraftError):
            shares(whole, weights)


def test_three_thirds_by_hand() -> None:
    # By hand: 1.00 / 3 = 0.333...; floors give 0.99, and the cent over goes to the first of equals.
    assert [str(money) for money in shares(Money(Decimal(1)), [1, 1, 1])] == [
        "0.34 EUR",
        "0.33 EUR",
        "0.33 EUR",
    ]


def test_halves_are_rounded_up() -> None:
    assert Money.rounded(Fraction("0.125"), "EUR") == Money(Decimal("0.13"))
    assert Money.rounded(Fraction(5, 2), "JPY") == Money(Decimal(3), "JPY")


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("4.50", "4.50 EUR"),
        ("4,5", "4.50 EUR"),
        ("12 GBP", "12.00 GBP"),
        ("gbp 0.05", "0.05 GBP"),
        ("300 JPY", "300 JPY"),
    ],
)
def test_amounts_are_read_as_makers_write_them(words: str, found: str) -> None:
    assert str(Money.read(words)) == found
    assert Money.read(found) == Money.read(words)


@pytest.mark.parametrize(
    "words",
    [
        *("", "free", "1 2", "1.005", "-1", "1e3", "NaN", "Infinity", "1,000.00", "5 EURO"),
        *("4.5 JPY", "9" * 30, "٣", "1 EUR GBP", "4.50€"),
    ],
)
def test_what_is_no_amount_is_refused_in_one_line(words: str) -> None:
    with pytest.raises(CraftError) as refused:
        Money.read(words)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("words", ["0.80 EUR", "12.95 EUR / 24"])
def test_a_price_is_by_the_sheet_or_by_the_pad(words: str) -> None:
    assert str(Price.read(words)) == words


def test_a_sheet_of_a_pad_costs_its_exact_share() -> None:
    assert Price.read("12.95 / 24").of_one == Fraction(1295, 2400)


@pytest.mark.parametrize("words", ["12 / 0", "12 / many", "12 /", "/ 3", f"1 / {'9' * 5000}"])
def test_a_price_for_no_sheets_is_refused(words: str) -> None:
    with pytest.raises(CraftError):
        Price.read(words)


def test_two_currencies_are_not_added() -> None:
    with pytest.raises(CraftError, match="EUR and GBP"):
        total([Money(Decimal(1), "GBP")], "EUR")
