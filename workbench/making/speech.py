"""A step as one would say it aloud."""

import re
from collections.abc import Iterator

from workbench.making.prompts import Prompt
from workbench.measure.length import Unit

_UNITS: dict[Unit, str] = {"in": "inches", "mm": "millimetres"}
_MIXED = re.compile(r"(\d) (\d+/\d)")
_FRACTION = re.compile(r"(\d+)/(\d+)")
_COUNT = re.compile(r"(\d+) × (?=[^\d≈])")
_SIZE = re.compile(r" × ")
_IN = re.compile(r"(?<=\d) in\b")


def spoken(prompt: Prompt, unit: Unit) -> str:
    """What to set, how it falls on the rule, what to pick up."""
    return " ".join(aloud(sentence) for sentence in _sentences(prompt, unit))


def _sentences(prompt: Prompt, unit: Unit) -> Iterator[str]:
    if prompt.guide:
        yield f"{prompt.title} {prompt.guide.number} {_UNITS[unit]}."
        yield f"{prompt.guide.where}."
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
    sentence = _FRACTION.sub(r"\1 over \2", sentence)
    sentence = _IN.sub(" inches", sentence)
    return _SIZE.sub(" by ", sentence).replace("≈", "about")
