"""Numbers as people write them, read and written: 4, 5 1/4, 5-1/4, 5¼, 5.25 or 133,5."""

import re
import unicodedata
from fractions import Fraction

from workbench.measure.length import MeasureError

LONGEST_TEXT = 120
MOST_WHOLE = 999_999_999
"""More than anything here is counted to."""
_LONGEST_QUOTE = 40
_MOST_PLACES = 12
_MOST_BELOW_THE_LINE = 10**30
_SAME = str.maketrans("‐‑‒–—−⁄∕", "------//")
_VULGAR = re.compile("(-?)([¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])")
_AMOUNT = re.compile(r"([0-9 .,/-]*)(.*)")
_FRACTION = re.compile(r"(?:([0-9]+)[ -])?([0-9]+) ?/ ?([0-9]+)")
_DECIMAL = re.compile(r"[0-9]+|[0-9]*[.,][0-9]+")
_THOUSANDS_OR_COMMA = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_EXPONENT = re.compile(r"e[+-]?[0-9]+")


def quoted(text: str) -> str:
    """`text` fit to stand in an error: short, and without characters that cannot be printed."""
    clipped = text if len(text) <= _LONGEST_QUOTE else text[: _LONGEST_QUOTE - 1] + "…"
    shown = (c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in clipped)
    return f"“{''.join(shown)}”"


def mixed(number: Fraction) -> str:
    """`number` as a whole number and a fraction in lowest terms: "5 1/4", "1/2", "-3"."""
    sign = "-" if number < 0 else ""
    whole, numerator = divmod(abs(number.numerator), number.denominator)
    if not numerator:
        return f"{sign}{whole}"
    fraction = f"{numerator}/{number.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def plain(number: Fraction) -> str:
    """`number` as a decimal, "133.5", where that is exact; else as a fraction, "133 1/3"."""
    places = 0
    while (number * 10**places).denominator != 1:
        places += 1
        if places == _MOST_PLACES:
            return mixed(number)
    digits = f"{abs(number * 10**places).numerator:0{places + 1}}"
    sign = "-" if number < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def read_amount(text: str, examples: str) -> tuple[Fraction, str]:
    """Split `text` into its number and what follows it.

    Args:
        text: as a maker wrote it.
        examples: what the error shows as right.

    Returns:
        The exact number, zero or more, and the rest in lower case, "" for nothing.

    Raises:
        MeasureError: where there is no number, a negative one, more than one, one that can be read
            in two ways ("1,234"), one finer than `fine_enough` lets pass, or more than 120
            characters.
    """
    if len(text) > LONGEST_TEXT:
        raise MeasureError(
            f"{quoted(text)} has {len(text)} characters", f"write it shortly, as in {examples}"
        )
    tidy = " ".join(_VULGAR.sub(_spelt, text.translate(_SAME)).split()).casefold()
    if not tidy:
        raise MeasureError("nothing is written here", f"write it as in {examples}")
    match = _AMOUNT.fullmatch(tidy)
    number, rest = (part.strip() for part in match.groups()) if match else ("", tidy)
    if number.startswith("-"):
        raise MeasureError(f"{quoted(text)} is less than nothing", "leave out the minus sign")
    if not any(c.isdigit() for c in number):
        raise MeasureError(
            f"{quoted(text)} does not start with a number", f"write it as in {examples}"
        )
    if _EXPONENT.match(rest):
        raise MeasureError(f"{quoted(text)} has an exponent", "write the number out in full")
    return fine_enough(_numeral(number, text, examples), text), rest


def fine_enough(number: Fraction, text: str) -> Fraction:
    """`number` itself, that `text` says, unless it takes too long to be written and read again.

    Raises:
        MeasureError: where it does.
    """
    if number.denominator > _MOST_BELOW_THE_LINE:
        raise MeasureError(f"{quoted(text)} is finer than anything here", "leave out some digits")
    return number


def _spelt(vulgar: re.Match[str]) -> str:
    hyphen, sign = vulgar.groups()
    return (hyphen or " ") + unicodedata.normalize("NFKC", sign).replace("⁄", "/")


def _numeral(number: str, text: str, examples: str) -> Fraction:
    if fraction := _FRACTION.fullmatch(number):
        whole, numerator, denominator = (int(part or 0) for part in fraction.groups())
        return whole + _part(numerator, denominator, text, mixed=fraction[1] is not None)
    if number.count("/") > 1:
        raise MeasureError(f"{quoted(text)} has more than one fraction", "write one, as in 5 1/4")
    if _THOUSANDS_OR_COMMA.fullmatch(number):
        raise MeasureError(
            f"{quoted(text)} could mean {number.replace(',', '')} or {number.replace(',', '.')}",
            "write whichever it is without a comma",
        )
    if number.count(".") + number.count(",") > 1:
        raise MeasureError(
            f"{quoted(text)} has more than one point or comma",
            "write thousands without a separator, as in 1234.5",
        )
    if not _DECIMAL.fullmatch(number):
        raise MeasureError(f"{quoted(text)} is not one number", f"write it as in {examples}")
    return Fraction(number.replace(",", "."))


def _part(numerator: int, denominator: int, text: str, *, mixed: bool) -> Fraction:
    if denominator == 0:
        raise MeasureError(
            f"{quoted(text)} has a 0 below the line", "use 2, 4, 8 or 16 there, as in 5 1/4"
        )
    if mixed and numerator >= denominator:
        raise MeasureError(
            f"{quoted(text)} has a fraction of 1 or more beside a whole number",
            "write the fraction smaller than 1, as in 5 1/4",
        )
    return Fraction(numerator, denominator)


def read_whole(text: str, most: int = MOST_WHOLE, least: int = 0) -> int:
    """The whole number that `text` says in digits: "12".

    Raises:
        MeasureError: where it says none, or one that is not from `least` to `most`.
    """
    tidy = text.translate(_SAME).strip()
    if not tidy:
        raise MeasureError("nothing is written here", "write a whole number, as in 12")
    if tidy.startswith("-"):
        raise MeasureError(f"{quoted(text)} is less than nothing", "leave out the minus sign")
    if not (tidy.isascii() and tidy.isdigit()):
        raise MeasureError(f"{quoted(text)} is not a whole number", "write it as in 12")
    digits = tidy.lstrip("0") or "0"
    # Python itself refuses to read thousands of digits.
    if len(digits) > len(str(most)) or int(digits) > most:
        raise MeasureError(f"{quoted(text)} is too large", f"give {most} at most")
    if int(digits) < least:
        raise MeasureError(f"{quoted(text)} is too small", f"give {least} at least")
    return int(digits)


def read_minutes(text: str) -> Fraction:
    """The exact minutes that `text` says: "20", "1 1/2 min".

    Raises:
        MeasureError: where it says none.
    """
    number, rest = read_amount(text, "1 1/2 or 20")
    if rest not in ("", "min", "min.", "minute", "minutes"):
        raise MeasureError(f"{quoted(text)} is no number of minutes", "write it as in 1 1/2 or 20")
    return number
