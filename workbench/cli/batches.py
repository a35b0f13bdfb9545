"""`trimtally batch`: the batches, and what was made."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from workbench.cli.command import DONE, Command, whole_number
from workbench.cli.questions import answered, ask, asked_in, say
from workbench.measure.counting import counted
from workbench.store.errors import WorkshopError

if TYPE_CHECKING:
    from workbench.making.batch import BatchState
    from workbench.making.costs import Cost
    from workbench.planning import Watch
    from workbench.store.drawer import Drawer


def _batch_options(parser: ArgumentParser) -> None:
    """What can be asked of the batches."""
    asked = asked_in(parser)
    ask(asked, "list", "list every batch", _batches)
    for name, summary, answer in (
        ("show", "tell a batch: its record, its paper, what it cost", _show_batch),
        ("resume", "go on with a batch at the bench", _resume),
        ("abandon", "give a batch up; its paper goes back", _abandon),
    ):
        ask(asked, name, summary, answer).add_argument("batch", type=whole_number, metavar="N")
    year = ask(asked, "year", "count what was made in a year", _year)
    year.add_argument("year", type=whole_number, metavar="YEAR")
    give = ask(asked, "give", "note who got a card", _give)
    give.add_argument("batch", type=whole_number, metavar="N")
    give.add_argument("card", type=whole_number, metavar="CARD")
    give.add_argument("name", metavar="NAME", help="nothing forgets it")


def _batches(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    lines = drawer.workshop.batches()
    data = [
        {
            "batch": line.id,
            "title": line.title,
            "done": line.done,
            "steps": line.steps,
            "state": _state(line),
            "worked": line.worked.isoformat(),
        }
        for line in lines
    ]
    words = [
        f"{line.id:>5}  {line.title}, {_state(line)}: {line.done} of {line.steps} steps"
        for line in lines
    ]
    say(given, data, words or ["There are no batches yet."])
    return DONE


def _show_batch(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.craft.errors import CraftError
    from workbench.making.history import dated, told
    from workbench.store.made import batch_cost, recipients, worked

    batch = drawer.workshop.batch(given.batch)
    index, history = worked(batch)
    cost, trouble = None, ""
    try:
        cost = batch_cost(drawer, batch)
    except CraftError as error:  # its record is told all the same
        trouble = str(error)
    got = recipients(drawer.workshop, given.batch)
    lines = [
        f"{batch.project.title}, {counted(index.plan.cards, 'card')}",
        *dated(history),
        *told(history),
    ]
    lines += cost_words(cost) if cost else [f"  not reckoned: {trouble}"]
    lines += [f"Card {card} went to {name}." for card, name in got.items()]
    data = {
        "batch": given.batch,
        "title": batch.project.title,
        "cards": index.plan.cards,
        "started": batch.started.isoformat(),
        "finished": history.finished and history.finished.isoformat(),
        "minutes": history.minutes,
        "notes": list(history.notes),
        "papers": sorted({sheet.paper for sheet in index.plan.sheets}),
        "combinations": [dict(card.pieces) for card in index.plan.combinations],
        "recipients": {str(card): name for card, name in got.items()},
        "cost": cost_data(cost) if cost else None,
    }
    say(given, data, lines)
    return DONE


def _resume(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.making.batch import replay

    batch = drawer.workshop.batch(given.batch)
    state = replay(batch.plan, batch.events)
    _check_under_way(given, state)
    if given.json:
        data = {"batch": given.batch, "next_step": state.current, "steps": state.steps}
        say(given, data, [])
        return DONE
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise WorkshopError(
            "trimtally batch resume",
            "the bench opens only in a terminal",
            "run it in one, or ask where the batch stands with --json",
        )
    from workbench.app.app import run

    return int(run(None, given.batch))


def _check_under_way(given: Namespace, state: "BatchState") -> None:
    if state.abandoned or state.finished:
        over = "abandoned" if state.abandoned else "finished"
        raise WorkshopError(f"batch {given.batch}", f"it is {over}", "begin another")


def _abandon(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from datetime import UTC, datetime

    from workbench.making.batch import abandoning, replay

    batch = drawer.workshop.batch(given.batch)
    state = replay(batch.plan, batch.events)
    _check_under_way(given, state)
    event = abandoning(state, datetime.now(UTC))
    drawer.workshop.append(given.batch, event, len(batch.events) + 1)
    words = "It is given up; what was not opened is free again, and what is left is offcuts."
    say(given, {"batch": given.batch, "state": "abandoned"}, [words])
    return DONE


def _year(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.drawing.year import chart
    from workbench.store.made import all_made, by_month, of_year

    months = by_month(all_made(drawer.workshop), given.year)
    whole = of_year(months)
    data = {
        "year": given.year,
        "cards": whole.cards,
        "sheets": whole.sheets,
        "waste": round(float(whole.waste), 4),
        "minutes": whole.minutes,
        "months": [month.cards for month in months],
    }
    words = (
        f"{given.year}: {counted(whole.cards, 'card')}, {counted(whole.sheets, 'sheet')}, "
        f"{round(100 * whole.waste)} % of their paper wasted, "
        f"{counted(whole.minutes, 'minute')} at the table"
    )
    say(given, data, [words, *chart([month.cards for month in months])])
    return DONE


def _give(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    from workbench.store.made import give, worked

    index, _history = worked(drawer.workshop.batch(given.batch))
    cards = index.plan.cards
    if not 1 <= given.card <= cards:
        right = "its one card is number 1" if cards == 1 else f"its cards are numbers 1 to {cards}"
        raise WorkshopError(f"batch {given.batch}", f"it has no card {given.card}", right)
    give(drawer.workshop, given.batch, given.card, given.name)
    data = {"batch": given.batch, "card": given.card, "name": given.name}
    say(given, data, [f"Card {given.card}: {given.name or 'nobody'}"])
    return DONE


def cost_data(cost: "Cost") -> dict[str, object]:
    return {
        "lines": [{"name": name, "money": str(money)} for name, money in cost.rounded],
        "whole": str(cost.whole),
        "a_card": str(cost.by_card[0]),
        "to_ask": str(cost.to_ask),
        "unpriced": list(cost.unpriced),
    }


def cost_words(cost: "Cost") -> Iterator[str]:
    if not cost.lines:
        return
    for name, money in cost.rounded:
        yield f"  {name}: {money}"
    yield f"  together {cost.whole}, a card {cost.by_card[0]}; at your margin ask {cost.to_ask}"
    if cost.unpriced:
        yield f"  without a price: {', '.join(cost.unpriced)}"


def _state(line: Any) -> str:
    return "abandoned" if line.abandoned else "finished" if line.finished else "under way"


BATCH = Command(
    "batch",
    "list, show, resume or abandon batches, and count what was made",
    "trimtally batch list",
    answered,
    _batch_options,
    "WHAT",
)
