"""A step as one would say it aloud."""

import re
from collections.abc import Iterator

from workbench.making.prompts import Prompt
from workbench.making.words import headline
from workbench.measure.length import Unit

_ONE_AND_MORE = {"in": ("inch", "inches"), "mm": ("millimetre", "millimetres")}
_MIXED = re.compile(r"(\d) (\d+/\d)")
_OF_AN_INCH = re.compile(r"(?<!\d )(?<!and )\b(\d+/\d+) in\b")
_FRACTION = re.compile(r"(\d+)/(\d+)")
_PARTS = {
    "2": "half",
    "4": "quarter",
    "8": "eighth",
    "16": "sixteenth",
    "32": "thirty-second",
    "64": "sixty-fourth",
}
_COUNT = re.compile(r"(\d+) × (?=[^\d≈])")
_SIZE = re.compile(r" × ")
_MEASURE = re.compile(r"(\d+(?:\.\d+)?(?: and \d+/\d+)?) (in|mm)\b( line\b)?")


def spoken(prompt: Prompt, unit: Unit) -> str:
    """What to set, how it falls on the rule, what to pick up."""
    return " ".join(aloud(sentence) for sentence in _sentences(prompt, unit))


def _sentences(prompt: Prompt, unit: Unit) -> Iterator[str]:
    if prompt.guide:
        yield f"{prompt.title} {prompt.guide.number} {unit}."
        yield f"{headline(prompt.guide.where)}."
    else:
        yield f"{prompt.title}."
    for laid in prompt.layers:
        yield f"{laid.name}, {laid.paper}."
    for picked in prompt.pick_up:
        yield f"Pick up {picked}."


def aloud(sentence: str) -> str:
    """Signs that a voice would stumble over, in words."""
    sentence = _COUNT.sub(r"\1 of ", sentence)
    sentence = _MIXED.sub(r"\1 and \2", sentence)
    sentence = _OF_AN_INCH.sub(r"\1 of an inch", sentence)
    sentence = _MEASURE.sub(_measure, sentence)
    sentence = _FRACTION.sub(_fraction, sentence)
    return _SIZE.sub(" by ", sentence).replace("≈", "about")


def _measure(found: re.Match[str]) -> str:
    """Such as "1 inch", "133.5 millimetres", "the 60 millimetre line"."""
    number, unit, line = found.groups()
    one, more = _ONE_AND_MORE[unit]
    return f"{number} {one if line or number == '1' else more}{line or ''}"


def _fraction(found: re.Match[str]) -> str:
    """Such as "3 quarters" or "a quarter"; what no rule is divided into as "4 over 9"."""
    number, parts = found.groups()
    if parts not in _PARTS:
        return f"{number} over {parts}"
    if number == "1":
        return f"{'an' if parts == '8' else 'a'} {_PARTS[parts]}"
    return f"{number} {_PARTS[parts]}s"
