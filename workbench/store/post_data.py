"""A card by post as data for JSON; every length and weight a string with its unit.

{"size": {"width": L, "height": L}, "weight": R, "thickness": R, "unevenness": R, "lumps": [...],
 "missing": [{"paper": ..., "what": ..., "likely": ..., "measure": ...}],
 "envelope": {"name": ..., "width": L, "height": L, "takes": L} or null, "fits": [name, ...],
 "posted": {"weight": R, "thickness": R} or null,
 "post": {"key": ..., "name": ..., "source": ..., "seen": ..., "surely": name or null,
          "at_best": name or null, "check": ...,
          "classes": [{"name": ..., "verdict": "passed|failed|open",
                       "rules": [{"of": ..., "figure": R, "least": ..., "most": ...,
                                  "verdict": ..., "near": false, "source": ..., "seen": ...}]}]}}

L is an exact length, "21/4 in" or "105 mm". R is {"least": "12.34 g", "most": "13 g"}, weights to
a hundredth of a gram and thicknesses to a thousandth of a millimetre.
"""

from fractions import Fraction
from typing import Any

from workbench.measure.length import Unit
from workbench.measure.numerals import plain
from workbench.measure.ranges import Range
from workbench.measure.writing import write_exact
from workbench.post.card import CardByPost
from workbench.post.envelopes import Fit
from workbench.post.judging import ClassResult, Judgement, RuleResult
from workbench.post.papers import Missing
from workbench.post.rules import CHECK
from workbench.post.suggestions import Suggestion

_PLACES = {"g": 2, "mm": 3, "": 3}
_NUMBERS = ("shape", "lumps")


def card_to_data(card: CardByPost, unit: Unit) -> dict[str, Any]:
    """`card` as dictionaries and lists, its lengths in `unit`."""
    figures, letter = card.figures, card.letter
    return {
        "size": {
            "width": write_exact(figures.size.width, unit),
            "height": write_exact(figures.size.height, unit),
        },
        "weight": _range(figures.grams, "g"),
        "thickness": _range(figures.thickness, "mm"),
        "unevenness": _range(figures.unevenness, "mm"),
        "lumps": list(figures.lumps),
        "missing": [_missing(each) for each in figures.missing],
        "envelope": _envelope(card.chosen, unit) if card.chosen else None,
        "fits": [fit.envelope.name for fit in card.fits],
        "posted": letter
        and {"weight": _range(letter.grams, "g"), "thickness": _range(letter.thickness, "mm")},
        "post": {
            "key": card.post.key,
            "name": card.post.name,
            "source": card.post.source,
            "seen": card.post.seen,
            **_judgement(card.judgement),
            "check": CHECK,
        },
    }


def suggestion_to_data(suggestion: Suggestion) -> dict[str, Any]:
    """A change and the class after it."""
    return {"change": suggestion.words, "goes_as": suggestion.goes_as}


def _judgement(judgement: Judgement | None) -> dict[str, Any]:
    sure, hoped = (judgement.sure, judgement.hoped) if judgement else (None, None)
    return {
        "surely": sure.postal_class.name if sure else None,
        "at_best": hoped.postal_class.name if hoped else None,
        "classes": [_class(each) for each in judgement.classes] if judgement else [],
    }


def _class(result: ClassResult) -> dict[str, Any]:
    return {
        "name": result.postal_class.name,
        "verdict": result.verdict,
        "rules": [_rule(each) for each in result.rules],
    }


def _rule(result: RuleResult) -> dict[str, Any]:
    rule = result.rule
    unit = "" if rule.of in _NUMBERS else "g" if rule.of == "weight" else "mm"
    return {
        "of": rule.of,
        "figure": _range(result.figure, unit),
        "least": rule.least and rule.least.text,
        "most": rule.most and rule.most.text,
        "verdict": result.verdict,
        "near": result.near,
        "source": rule.source,
        "seen": rule.seen,
    }


def _envelope(fit: Fit, unit: Unit) -> dict[str, Any]:
    return {
        "name": fit.envelope.name,
        "width": write_exact(fit.envelope.long, unit),
        "height": write_exact(fit.envelope.short, unit),
        "takes": write_exact(fit.takes, unit),
    }


def _missing(missing: Missing) -> dict[str, str]:
    return {
        "paper": missing.paper,
        "what": missing.what,
        "likely": missing.likely,
        "measure": missing.measure,
    }


def _range(figure: Range, unit: str) -> dict[str, str]:
    return {"least": _number(figure.low, unit), "most": _number(figure.high, unit)}


def _number(number: Fraction, unit: str) -> str:
    parts = 10 ** _PLACES[unit]
    return f"{plain(Fraction(round(number * parts), parts))} {unit}".strip()
