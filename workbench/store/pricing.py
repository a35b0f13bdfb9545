"""How the maker reckons, kept in the workshop: currency, extra costs, hour and margin."""

from typing import Literal

import msgspec

from workbench.craft.errors import CraftError
from workbench.craft.money import DEFAULT_CURRENCY, Money
from workbench.making.costs import ExtraCost, Pricing
from workbench.store.database import Workshop
from workbench.store.errors import WorkshopError

PRICING = "pricing"


class _ExtraCostData(msgspec.Struct):
    name: str
    money: str
    per: Literal["card", "batch"] = "card"


class _PricingData(msgspec.Struct):
    currency: str = DEFAULT_CURRENCY
    extras: tuple[_ExtraCostData, ...] = ()
    hourly: str | None = None
    margin: int = 0


def pricing_of(workshop: Workshop) -> Pricing:
    """What is kept in `workshop`; nothing but the usual currency where nothing is.

    Raises:
        WorkshopError: when it is damaged, or the workshop's file cannot be used.
    """
    kept = workshop.preference(PRICING) if workshop.exists else None
    if kept is None:
        return Pricing()
    try:
        data = msgspec.convert(kept, _PricingData)
        return Pricing(
            data.currency,
            tuple(ExtraCost(one.name, Money.read(one.money), one.per) for one in data.extras),
            Money.read(data.hourly) if data.hourly else None,
            data.margin,
        )
    except (msgspec.ValidationError, CraftError) as error:
        raise WorkshopError("the pricing", f"it is damaged ({error})", "set it again") from error


def keep_pricing(workshop: Workshop, pricing: Pricing) -> None:
    """Keep how the maker reckons. Raises WorkshopError."""
    workshop.set_preference(
        PRICING,
        {
            "currency": pricing.currency,
            "extras": [
                {"name": one.name, "money": str(one.money), "per": one.per}
                for one in pricing.extras
            ],
            "hourly": str(pricing.hourly) if pricing.hourly else None,
            "margin": pricing.margin,
        },
    )
