"""What went wrong, in the maker's own words: "1/8 short", "the rest is 3 mm too wide", "torn"."""

import re
from collections.abc import Mapping

from workbench.making.mistakes import Wrong
from workbench.measure.length import Length, MeasureError, Unit
from workbench.measure.reading import read_length

EXAMPLES = "1/8 short, 3 mm too wide, or the length it has"
_SMALLER = ("short", "shorter", "narrow", "narrower", "small", "smaller", "little", "less")
_LARGER = ("long", "longer", "wide", "wider", "large", "larger", "big", "tall", "high", "much")
_FILLING = re.compile(
    r"\b(?:is|was|it|its|too|by|the|a|an|part|piece|came|out|about|measures|cut|off|of)\b"
)
_SAID_OUT = {"half": "1/2", "quarter": "1/4", "eighth": "1/8", "sixteenth": "1/16"}
_REST = re.compile(r"\b(?:rest|remainder|other)\b")
_WORDS: Mapping[str, Wrong] = {
    "wrong way": "cut the wrong way",
    "upside down": "cut the wrong way",
    "sideways": "cut the wrong way",
    "crooked": "crooked",
    "askew": "crooked",
    "torn": "torn or smudged",
    "tore": "torn or smudged",
    "smudge": "torn or smudged",
    "stain": "torn or smudged",
    "print": "of the wrong print",
    "paper": "of the wrong print",
    "lost": "lost",
    "missing": "lost",
    "gone": "lost",
}


def wrong_said(text: str) -> Wrong | None:
    """What is said to have gone wrong; None where it is a matter of length, or not understood."""
    plain = text.casefold()
    said = re.findall(r"[^\W\d_]+", plain)
    measured = any(character.isnumeric() for character in plain) or _SAID_OUT.keys() & set(said)
    if measured and not {*_SMALLER, *_LARGER}.isdisjoint(said):
        return None
    found = (wrong for word, wrong in _WORDS.items() if re.search(rf"\b{word}", plain))
    return next(found, None)


def read_miscut(text: str, unit: Unit, planned: Length, whole: Length) -> Length:
    """What the part that was cut off truly measures, as the maker says it.

    Args:
        text: "3 7/8", "1/8 short", "3 mm too wide"; of the other part with the word rest in it.
        unit: what a bare number counts.
        planned: what the part cut off should measure.
        whole: what was cut, along the same side.

    Raises:
        MeasureError: where no length can be read.
    """
    said = _FILLING.sub(" ", text.casefold()).split()
    words = [_SAID_OUT.get(word, word) for word in said]
    of_rest = any(_REST.fullmatch(word) for word in words)
    sign = -1 if any(word in _SMALLER for word in words) else 0
    sign = sign or (1 if any(word in _LARGER for word in words) else 0)
    taken = (*_SMALLER, *_LARGER)
    amount = " ".join(word for word in words if word not in taken and not _REST.fullmatch(word))
    try:
        length = read_length(amount, unit)
    except MeasureError as error:
        raise MeasureError(error.what, f"say it as in {EXAMPLES}") from error
    wanted = whole - planned if of_rest else planned
    true = wanted + length * sign if sign else length
    return whole - true if of_rest else true
