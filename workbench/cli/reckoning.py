"""How the drawer reckons: what costs, and which offcuts are worth keeping."""

from argparse import ArgumentParser, Namespace
from dataclasses import replace
from typing import TYPE_CHECKING

from workbench.cli.command import DONE, whole_number
from workbench.cli.questions import say, square_inches

if TYPE_CHECKING:
    from workbench.planning import Watch
    from workbench.store.drawer import Drawer


def least_options(parser: ArgumentParser) -> None:
    parser.add_argument("--side", metavar="LENGTH", help='its shorter side, as in "1 in"')
    parser.add_argument("--area", metavar="N", help="square inches, as in 6 or 13/2")


def least_useful(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    """Say the least useful offcut; changed before, where a side or an area is given."""
    from workbench.measure.reading import read_length
    from workbench.measure.writing import write_exact, write_near

    least = drawer.least_useful
    if given.side:
        least = replace(least, side=read_length(given.side, given.units))
    if given.area:
        least = replace(least, area=square_inches(given.area))
    if given.side or given.area:
        drawer.keep_least_useful(least)
    side = write_exact(least.side, given.units)
    near = write_near(least.side, given.units)
    words = f"Offcuts are kept from {near} a side and {least.area} square inches on."
    say(given, {"side": side, "square_inches": str(least.area)}, [words])
    return DONE


def pricing_options(parser: ArgumentParser) -> None:
    parser.add_argument("--currency", help="three letters, as EUR")
    parser.add_argument("--hourly", help="what an hour at the table costs")
    parser.add_argument(
        "--margin", type=whole_number, help="hundredths of the price that are to stay"
    )
    parser.add_argument(
        "--extra",
        action="append",
        default=[],
        help='"envelope = 0.12", for a whole batch "glue = 0.35 a batch"; 0 takes it out',
    )


def pricing(given: Namespace, drawer: "Drawer", _: "Watch") -> int:
    """Say how costs are reckoned; changed before, where anything is given."""
    from workbench.craft.money import Money, checked_currency
    from workbench.making.costs import ExtraCost
    from workbench.store.pricing import keep_pricing, pricing_of

    kept = pricing_of(drawer.workshop)
    if given.currency:
        kept = kept.paid_in(checked_currency(given.currency.upper()))
    if given.hourly:
        kept = replace(kept, hourly=Money.read(given.hourly, kept.currency))
    if given.margin is not None:
        kept = replace(kept, margin=given.margin)
    for words in given.extra:
        extra = ExtraCost.read(words, kept.currency)
        others = tuple(one for one in kept.extras if one.name != extra.name)
        kept = replace(kept, extras=(*others, extra) if extra.money.exact else others)
    if given.currency or given.hourly or given.margin is not None or given.extra:
        keep_pricing(drawer.workshop, kept)
    extras = [{"name": one.name, "money": str(one.money), "per": one.per} for one in kept.extras]
    hourly = str(kept.hourly) if kept.hourly else None
    data = {"currency": kept.currency, "hourly": hourly, "margin": kept.margin, "extras": extras}
    lines = [
        f"currency {kept.currency}, an hour {hourly or 'not reckoned'}, margin {kept.margin} %",
        *(f"{one['name']}: {one['money']} a {one['per']}" for one in extras),
    ]
    say(given, data, lines)
    return DONE
