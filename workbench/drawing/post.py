"""A card by post in a terminal or on paper: what it is, its envelope, what its post makes of it."""

from collections.abc import Iterable, Iterator, Sequence

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from workbench.measure.length import Unit
from workbench.measure.writing import write_near
from workbench.post import CHECK, CardByPost, Suggestion
from workbench.post.judging import ClassResult, RuleResult, Verdict
from workbench.post.words import (
    class_words,
    envelope_words,
    missing_words,
    rule_words,
    size_words,
    telling_rules,
    thickness_words,
    uneven_words,
    weight_words,
)

_SAID: dict[Verdict, str] = {"passed": "kept", "failed": "BROKEN", "open": "open"}
_STYLES: dict[Verdict, str] = {"passed": "", "failed": "bold", "open": "italic"}
_MOST_OTHERS = 4
_WIDEST_NAME = 24


def card_table(card: CardByPost, unit: Unit) -> Table:
    """What the card is and what it travels in, a line each.

    Args:
        card: the card.
        unit: the one told first; the other follows in brackets.
    """
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True)
    table.add_column()
    for name, words in _lines(card, unit):
        table.add_row(Text(name), Text(words))
    return table


def post_report(
    card: CardByPost, unit: Unit, suggestions: Sequence[Suggestion] = ()
) -> RenderableType:
    """All of it: the card, every class up to its own with each rule, and what would be cheaper.

    Args:
        card: the card.
        unit: the one told first.
        suggestions: what would make it cheaper, told in their order.
    """
    parts: list[RenderableType] = [_goes_as(card), Text(), card_table(card, unit), Text()]
    if card.judgement:
        for result in card.judgement.classes[: card.judgement.rank(card.judgement.sure) + 1]:
            parts += [_class_line(result), _rules_table(result.rules, card.post.source), Text()]
    if suggestions:
        parts += [Text("Any one of these would surely make it cheaper:")]
        parts += [Text(f"  {each.words}: then {each.goes_as}") for each in suggestions]
        parts += [Text()]
    if card.figures.missing:
        parts += [_missing(card), Text()]
    parts += [Text(f"Rules: {card.post.source}, seen {card.post.seen}."), Text(CHECK, style="bold")]
    return Group(*parts)


def post_summary(card: CardByPost, unit: Unit) -> RenderableType:
    """The card, its class, and only the rules that decide."""
    parts: list[RenderableType] = [_goes_as(card), Text(), card_table(card, unit), Text()]
    if card.judgement and card.judgement.classes:
        told = telling_rules(card.judgement.classes[0])
        parts += [_rules_table(told, card.post.source)] if told else []
    if card.figures.missing:
        papers = ", ".join(dict.fromkeys(each.paper for each in card.figures.missing))
        parts.append(Text(f"Ranges, as not all is known of {papers}.", style="italic"))
    parts.append(Text(f"Rules: {card.post.source}, seen {card.post.seen}. {CHECK}"))
    return Group(*parts)


def _lines(card: CardByPost, unit: Unit) -> Iterator[tuple[str, str]]:
    figures = card.figures
    yield "Finished size", size_words(figures.size, unit)
    yield "Weight", weight_words(figures.grams, unit)
    yield "Thickness", thickness_words(figures.thickness, unit)
    yield "Evenness", uneven_words(card, unit)
    if card.chosen:
        yield "Envelope", envelope_words(card.chosen.envelope, unit)
        yield "", f"takes such a card up to {write_near(card.chosen.takes, unit)} thick"
    elif card.letter:
        yield "Envelope", "none: it is posted as it is"
    else:
        yield "Envelope", "none of the tables or your own takes it"
    others = [fit.envelope.name for fit in card.fits if fit != card.chosen]
    if others:
        more = f" and {len(others) - _MOST_OTHERS} more" if len(others) > _MOST_OTHERS else ""
        yield "Others that fit", ", ".join(others[:_MOST_OTHERS]) + more

    if card.letter and card.chosen:
        thick = thickness_words(card.letter.thickness, unit)
        yield "As posted", f"{weight_words(card.letter.grams, unit)}, {thick}"


def _goes_as(card: CardByPost) -> Text:
    return Text(f"By {card.post.name}: {class_words(card)}", style="bold")


def _class_line(result: ClassResult) -> Text:
    said = {"passed": "it keeps every rule", "failed": "not this one", "open": "perhaps"}
    return Text(f"{result.postal_class.name}: {said[result.verdict]}", style="bold")


def _rules_table(rules: Sequence[RuleResult], known_source: str) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True, min_width=8)
    table.add_column()
    for each in rules:
        style = _STYLES[each.verdict]
        words = Text(rule_words(each), style=style)
        if each.near:
            words.append(" (only just)")
        if each.rule.source != known_source:
            words.append(f" [{each.rule.source}]", style="dim")
        table.add_row(Text(f"  {_SAID[each.verdict]}", style=style), words)
    return table


def _missing(card: CardByPost) -> RenderableType:
    missing = card.figures.missing
    ways = dict.fromkeys(each.measure for each in missing)
    return Group(
        Text("Not known, so figures are ranges:"),
        _indented(missing_words(missing)),
        Text("To find out:"),
        _indented(("-", way) for way in ways),
    )


def _indented(rows: Iterable[tuple[str, str]]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True, max_width=_WIDEST_NAME)
    table.add_column()
    for name, words in rows:
        table.add_row(Text(f"  {name}"), Text(words))
    return table
