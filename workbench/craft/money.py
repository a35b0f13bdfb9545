"""Money: exact decimal amounts in a currency, and rounding that adds up."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Context, Decimal, InvalidOperation
from fractions import Fraction
from typing import Self

from workbench.craft.errors import CraftError
from workbench.measure.length import MeasureError
from workbench.measure.numerals import quoted, read_whole

DEFAULT_CURRENCY = "EUR"
_MOST = Decimal(10) ** 12
# Decimal places other than two (ISO 4217, "minor unit").
_NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_THREE = "BHD IQD JOD KWD LYD OMR TND"
_PLACES = {**dict.fromkeys(_NONE.split(), 0), **dict.fromkeys(_THREE.split(), 3)}


def checked_currency(code: str) -> str:
    """`code` when it is shaped as ISO 4217 shapes a currency's. Raises CraftError."""
    if len(code) == 3 and code.isascii() and code.isalpha() and code.isupper():
        return code
    raise CraftError(
        "currency",
        f"{quoted(code)} is no currency's code",
        'give three capital letters, as in "EUR"',
    )


def places(currency: str) -> int:
    """How many decimals an amount of `currency` has."""
    return _PLACES.get(currency, 2)


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in the currency's smallest unit or coarser, nothing or more.

    Raises CraftError for an amount that is finer, less than nothing or past all reason.
    """

    amount: Decimal
    currency: str = DEFAULT_CURRENCY

    def __post_init__(self) -> None:
        checked_currency(self.currency)
        if not (self.amount.is_finite() and 0 <= self.amount <= _MOST):
            raise CraftError(
                "amount", f"{self.amount} is no amount to pay", f"give 0 to {_MOST:,} at most"
            )
        exact = self.amount.quantize(_unit(self.currency), context=_EXACT)
        if exact != self.amount:
            raise CraftError(
                "amount",
                f"{self.amount} is finer than {self.currency} is paid",
                f"give at most {places(self.currency)} decimals",
            )
        object.__setattr__(self, "amount", exact)

    @classmethod
    def read(cls, words: str, currency: str = DEFAULT_CURRENCY) -> Self:
        """What a maker writes: "4.50", "4,50", "4.50 EUR" or "EUR 4.50".

        A bare number is of `currency`. Raises CraftError.
        """
        parts = words.split()
        codes = [part for part in parts if part.isalpha()]
        numbers = [part for part in parts if not part.isalpha()]
        if len(numbers) != 1 or len(codes) > 1:
            raise _unreadable(words)
        return cls(_decimal(numbers[0], words), codes[0].upper() if codes else currency)

    @classmethod
    def rounded(cls, exact: Fraction, currency: str) -> Self:
        """The nearest amount that can be paid, halves up."""
        (amount,) = rounded_shares([exact], currency)
        return cls(amount.amount, currency)

    @property
    def exact(self) -> Fraction:
        """The amount as a fraction, to calculate with."""
        return Fraction(self.amount)

    def __add__(self, other: "Money") -> "Money":
        if other.currency != self.currency:
            raise CraftError(
                "currency",
                f"{self.currency} and {other.currency} cannot be added",
                "give all prices in one currency",
            )
        return Money(self.amount + other.amount, self.currency)

    def __str__(self) -> str:
        """Write it as "4.50 EUR"."""
        return f"{self.amount} {self.currency}"


@dataclass(frozen=True, slots=True)
class Price:
    """What so many sheets cost together: 1 for a price by the sheet, 24 for a pad of 24."""

    money: Money
    sheets: int = 1

    def __post_init__(self) -> None:
        if self.sheets < 1:
            raise CraftError(
                "price", f"it cannot be for {self.sheets} sheets", "give 1 sheet or more"
            )

    @property
    def of_one(self) -> Fraction:
        """What one sheet costs, exactly."""
        return self.money.exact / self.sheets

    def __str__(self) -> str:
        """Write it as "4.50 EUR" for a sheet, "4.50 EUR / 24" for a pad of 24."""
        return f"{self.money} / {self.sheets}" if self.sheets > 1 else str(self.money)

    @classmethod
    def read(cls, words: str, currency: str = DEFAULT_CURRENCY) -> Self:
        """Read "0.80", "0.80 EUR", or for a pad "12.95 EUR / 24".

        Raises:
            CraftError: for anything else.
        """
        money, slash, sheets = words.partition("/")
        try:
            return cls(Money.read(money, currency), read_whole(sheets) if slash else 1)
        except MeasureError as error:
            raise CraftError(
                "price",
                f"{quoted(words)} does not say how many sheets it is for",
                'write it as "12.95 / 24"',
            ) from error


def total(amounts: Iterable[Money], currency: str) -> Money:
    """Their sum; nothing of `currency` where there are none. Raises CraftError when they differ."""
    return sum(amounts, Money(Decimal(0), currency))


def rounded_shares(exact: Sequence[Fraction], currency: str) -> tuple[Money, ...]:
    """Amounts that can be paid, one for each share, whose sum is the rounded sum of the shares.

    Each is within one smallest unit of its exact share; what is over goes to those that lost most,
    the first of equals first (the method of the largest remainder, Hamilton 1792).
    """
    scale = 10 ** places(currency)
    whole = [share * scale // 1 for share in exact]
    left = (sum(exact, Fraction()) * scale + Fraction(1, 2)) // 1 - sum(whole)
    most_lost = sorted(range(len(exact)), key=lambda at: whole[at] - exact[at] * scale)
    for at in most_lost[:left]:
        whole[at] += 1
    return tuple(Money(Decimal(units).scaleb(-places(currency)), currency) for units in whole)


def shares(whole: Money, weights: Sequence[int | Fraction]) -> tuple[Money, ...]:
    """`whole` split in proportion to `weights`, to the smallest unit; the shares add up to it.

    Raises CraftError where the weights are nothing together.
    """
    weight = sum(weights, Fraction())
    if weight <= 0 or any(one < 0 for one in weights):
        raise CraftError("shares", "there is nothing to share it by", "give weights above 0")
    return rounded_shares([whole.exact * one / weight for one in weights], whole.currency)


_EXACT = Context(prec=40, rounding=ROUND_FLOOR)


def _unit(currency: str) -> Decimal:
    return Decimal(1).scaleb(-places(currency))


def _decimal(number: str, words: str) -> Decimal:
    plain = number.replace(",", ".") if number.count(",") == 1 and "." not in number else number
    if not plain.isascii() or len(plain) > 30 or set(plain) - set("0123456789."):
        raise _unreadable(words)
    try:
        return Decimal(plain)
    except InvalidOperation as error:
        raise _unreadable(words) from error


def _unreadable(words: str) -> CraftError:
    return CraftError(
        "price", f"{quoted(words)} is no amount of money", 'write it as in "4.50 EUR"'
    )
