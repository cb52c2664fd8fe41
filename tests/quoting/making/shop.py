"""A job with one piece of everything, and bags on the shelf to make it from."""

from datetime import UTC, date, datetime
from typing import Any
from uuid import uuid4

from decor.models import Job
from decor.models.job import Stage
from inventory.holds.service import hold_soft
from inventory.models import Bag, Item
from quoting.covering.demand import quote_demand
from quoting.models import Quote
from quoting.quotes.pricing import quote_priced
from tests.factories import (
    BagFactory,
    ColourFactory,
    ItemFactory,
    JobFactory,
    PieceFactory,
    QuoteFactory,
    SundryFactory,
    arch_spec,
)

TODAY = date(2026, 6, 13)
NOW = datetime(2026, 6, 19, 14, tzinfo=UTC)


def whole_spec(**changed: Any) -> dict[str, Any]:
    """Fillers, accents, starbursts and large singles on an arch in oat and fern."""
    return {
        **arch_spec(),
        "fillers": {"colours": ["oat"]},
        "singles": {"per_m": 0.6, "colours": ["oat"]},
        "accents": [{"colour": "marigold", "inflated_in": [6, 9], "share": 0.08, "bunch": 4}],
        "starbursts": [{"colour": "copper", "count": 2}],
        **changed,
    }


def items_made() -> dict[str, Item]:
    """By colour and size, such as `oat 11`."""
    sizes = {"oat": (5, 11, 17, 24), "fern": (11, 17), "marigold": (11,)}
    made = {
        f"{key} {size}": ItemFactory(colour=ColourFactory(key=key), nominal_in=size)
        for key, of in sizes.items()
        for size in of
    }
    made["copper"] = ItemFactory(
        kind="foil", colour=ColourFactory(key="copper"), nominal_in=None, bag_count=50
    )
    for name, unit in (("rubber band", "each"), ("packing bag", "each"), ("curling ribbon", "m")):
        SundryFactory(name=name, unit=unit)
    return made


def bags_made(items: dict[str, Item], *, each: int = 3) -> list[Bag]:
    return [BagFactory(item=item) for item in items.values() for _ in range(each)]


def job_quoted(*, spec: dict[str, Any] | None = None, **job: Any) -> Quote:
    quote = QuoteFactory(job=JobFactory(stage=Stage.PROMISED, **job))
    PieceFactory(quote=quote, spec=spec or whole_spec())
    return quote


def job_promised(*, spec: dict[str, Any] | None = None, **job: Any) -> Job:
    """Held for as it was quoted. Items and bags must be there."""
    quote = job_quoted(spec=spec, **job)
    demand = quote_demand(quote_priced(quote, today=TODAY))
    wanted = {pk: n for pk, n in demand.quantities.items() if demand.items[pk].kind != "sundry"}
    hold_soft(
        job=quote.job,
        demand=wanted,
        needed_on=date(2026, 6, 19),
        today=TODAY,
        now=NOW,
        source=quote.number,
    )
    return quote.job


def tick(step: str, quantity: int = 1, **more: Any) -> dict[str, Any]:
    return {"key": str(uuid4()), "step": step, "quantity": quantity, "at": NOW.isoformat(), **more}
