"""Which colours there is enough of, where colours are chosen."""

from datetime import date

from django.db.models import QuerySet

from decor.models import Job
from inventory.free.service import free_on
from inventory.holds.days import making_on
from inventory.models import Item
from inventory.models.item import Kind
from quoting.estimator import Catalogue, Rates, SpecError, estimate
from quoting.models import Piece
from quoting.pieces.specs import piece_spec

USUAL_SIZE_IN = 11  # common practice, no source: what most of a garland is made of


def free_by_colour(job: Job, *, today: date) -> dict[str, int]:
    """How many of the usual size can be promised for the job's making day, by colour's key."""
    items = dict(_usual().values_list("pk", "colour__key"))
    on = making_on(job.event_on, today=today) if job.event_on else today
    free = free_on(on=on, today=today, items=items, but_for=job)
    return {items[pk]: max(0, found.promisable) for pk, found in free.items()}


def colours_with_a_bag(job: Job, *, today: date) -> frozenset[str]:
    """Those of which a whole usual bag is free."""
    free = free_by_colour(job, today=today)
    bags = _usual().values_list("colour__key", "bag_count")
    return frozenset(key for key, count in bags if free[key] >= count)


def most_of_one_colour(piece: Piece, *, catalogue: Catalogue, rates: Rates) -> int | None:
    """Of the usual size, spares in; None where the piece has no recipe yet."""
    spec = piece_spec(piece)
    try:
        made = spec and estimate(spec, catalogue=catalogue, rates=rates)
    except SpecError:
        return None
    counts = [
        line.total for line in (made.balloons if made else ()) if line.nominal_in == USUAL_SIZE_IN
    ]
    return max(counts, default=None)


def _usual() -> QuerySet[Item]:
    return Item.objects.filter(kind=Kind.LATEX, nominal_in=USUAL_SIZE_IN)
