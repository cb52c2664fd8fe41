"""Counting day: what is found in a place, and what becomes of the differences.

Counts are kept as they are entered, so that counting can stop at any time. They change nothing
until the place is finished; then each becomes a line of the ledger, all together or none.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import Count, F, Q, QuerySet

from inventory.ledger.service import (
    ABOVE_PRINTED,
    BELOW_NONE,
    SAY_WHY,
    BagRefused,
    By,
    bag_count,
)
from inventory.models import Bag, CountedBag, Counting
from inventory.shelf.listing import bags_listed

FINISHED = "This count is finished. Start another one."
CHANGED_SINCE = "{bag} has changed since you counted it: count it again."


class CountRefused(Exception):
    """The count cannot be taken. `problems` are by bag, for the owner to read; `changed` are
    bags whose counts no longer fit what happened to them since."""

    def __init__(self, problems: Mapping[int, str], changed: list[Bag]) -> None:
        super().__init__("; ".join(problems.values()))
        self.problems, self.changed = problems, changed


@dataclass(frozen=True)
class CountRow:
    """A bag of the place and what was counted of it so far, if anything."""

    bag: Bag
    entry: CountedBag | None

    @property
    def difference(self) -> int:
        return self.entry.counted - self.entry.left_then if self.entry else 0

    @property
    def difference_text(self) -> str:
        return f"{abs(self.difference)} {'more' if self.difference > 0 else 'fewer'}"


@dataclass(frozen=True)
class PlaceToCount:
    name: str
    bags: int
    open: Counting | None
    counted: int = 0


def counting_start(*, place: str, by: By, now: datetime) -> Counting:
    """The place's open count, or a new one."""
    counting, _ = Counting.objects.get_or_create(
        place=place, finished_at=None, defaults={"started_at": now, "by": by}
    )
    return counting


def counting_rows(counting: Counting) -> list[CountRow]:
    """All that should be there, and what was counted though it has gone or moved since."""
    entries = {entry.bag_id: entry for entry in counting.counted_bags.all()}
    here = Q(place=counting.place, left__gt=0) | Q(pk__in=entries)
    return [CountRow(bag, entries.get(bag.pk)) for bag in bags_listed().filter(here)]


@transaction.atomic
def count_enter(*, counting: Counting, bag: Bag, counted: int, now: datetime) -> CountedBag:
    """Keeps one count, with what the ledger said at that moment. Entered again, it replaces."""
    _unfinished(counting)
    current = Bag.objects.select_for_update(no_key=True).get(pk=bag.pk)
    if counted < 0:
        raise BagRefused(BELOW_NONE)
    if counted > current.printed_count:
        raise BagRefused(ABOVE_PRINTED.format(printed=current.printed_count, counted=counted))
    entry, _ = CountedBag.objects.update_or_create(
        counting=counting,
        bag=bag,
        defaults={"counted": counted, "left_then": current.left, "at": now},
    )
    return entry


def count_forget(*, counting: Counting, bag: Bag) -> None:
    _unfinished(counting)
    CountedBag.objects.filter(counting=counting, bag=bag).delete()


@transaction.atomic
def counting_finish(
    *, counting: Counting, reasons: Mapping[int, str], by: By, now: datetime
) -> int:
    """Writes a line for every counted bag and says how many differed. `reasons` are by bag.

    A bag that was found as it should be gets a line as well, which says when that was.
    """
    locked = _unfinished(counting)
    entries = list(locked.counted_bags.select_related("bag__item__colour").order_by("bag_id"))
    problems, changed = {}, []
    for entry in entries:
        told = _line_write(entry, reasons.get(entry.bag_id, "").strip(), by=by, now=now)
        if told:
            problems[entry.bag_id] = told
        if told and told != SAY_WHY:
            changed.append(entry.bag)
    if problems:
        raise CountRefused(problems, changed)  # and nothing of it is written
    locked.finished_at = now
    locked.save(update_fields=["finished_at"])
    return sum(entry.counted != entry.left_then for entry in entries)


def places_to_count() -> list[PlaceToCount]:
    """Places with bags in them, those half counted first."""
    bags = dict(
        Bag.objects.filter(left__gt=0).order_by().values_list("place").annotate(bags=Count("pk"))
    )
    unfinished = {
        counting.place: counting
        for counting in Counting.objects.filter(finished_at=None).annotate(
            counted=Count("counted_bags")
        )
    }
    names = sorted(bags.keys() | unfinished.keys(), key=lambda name: (not name, name.casefold()))
    places = [
        PlaceToCount(
            name=name,
            bags=bags.get(name, 0),
            open=unfinished.get(name),
            counted=unfinished[name].counted if name in unfinished else 0,
        )
        for name in names
    ]
    return sorted(places, key=lambda place: place.open is None)


def countings_finished() -> QuerySet[Counting]:
    """Newest first, with how many bags each counted and how many of them differed."""
    differs = ~Q(counted_bags__counted=F("counted_bags__left_then"))
    return (
        Counting.objects.exclude(finished_at=None)
        .select_related("by")
        .annotate(
            counted=Count("counted_bags"),
            differed=Count("counted_bags", filter=differs),
        )
        .order_by("-finished_at")
    )


def _line_write(entry: CountedBag, why: str, *, by: By, now: datetime) -> str:
    """Empty, or what is wrong with it."""
    try:
        bag_count(
            bag=entry.bag,
            counted=entry.counted,
            left_then=entry.left_then,
            why=why,
            by=by,
            now=now,
        )
    except BagRefused as refused:
        is_why = str(refused) == SAY_WHY
        return SAY_WHY if is_why else CHANGED_SINCE.format(bag=entry.bag.item)
    return ""


def _unfinished(counting: Counting) -> Counting:
    locked = Counting.objects.select_for_update(no_key=True).get(pk=counting.pk)
    if locked.finished_at is not None:
        raise BagRefused(FINISHED)
    return locked
