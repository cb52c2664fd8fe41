"""Packing bags that are packed, with what was put into them then."""

from collections.abc import Mapping
from datetime import datetime

from decor.business.service import the_business
from decor.models import Job
from decor.models.business import Units
from inventory.ledger.service import By
from quoting.making.keys import StepKey, Work
from quoting.making.plan import Plan
from quoting.making.words import load_words, swatches_of, where_words
from quoting.models import PackedBag


def packed_follow(
    *, job: Job, counts: Mapping[str, int], plan: Plan, by: By, now: datetime
) -> None:
    """A bag that is counted as packed has a row, and one that was undone has none."""
    there = set(job.packed_bags.values_list("number", flat=True))
    packed = {
        load.number: load
        for load in plan.loads
        if counts.get(str(StepKey(Work.PACK, size=load.number)), 0) > 0
    }
    undone = [each.number for each in plan.loads if each.number not in packed]
    PackedBag.objects.filter(job=job, number__in=undone).delete()
    new = [load for number, load in packed.items() if number not in there]
    if not new:
        return
    swatches, business = swatches_of([plan]), the_business()
    units = business.units if business else Units.IMPERIAL
    several = len(plan.pieces) > 1
    PackedBag.objects.bulk_create(
        PackedBag(
            job=job,
            number=load.number,
            contents={
                "what": load_words(load, swatches),
                "where": where_words(load, units, is_one_of_several=several),
                "of": len(plan.loads),
            },
            packed_at=now,
            by=by,
        )
        for load in new
    )
