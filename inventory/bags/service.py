"""What may change about a bag without a line of the ledger: where it is and what it says."""

from django.db.models import QuerySet

from decor.models import Job
from decor.models.job import Stage
from inventory.models import Bag, Hold, LedgerLine
from inventory.models.hold import OPEN_STATES

AT_WORK = (Stage.ASKED, Stage.QUOTED, Stage.PROMISED, Stage.MADE, Stage.UP)


def bag_change(*, bag: Bag, lot: str, place: str, note: str) -> Bag:
    bag.lot, bag.place, bag.note = lot, place, note
    bag.full_clean()
    bag.save(update_fields=["lot", "place", "note"])
    return bag


def jobs_at_work() -> QuerySet[Job]:
    """Those that balloons may be taken for, the soonest first."""
    return Job.objects.filter(stage__in=AT_WORK, archived_at=None).order_by("event_on", "pk")


def jobs_with_some_of(bag: Bag) -> QuerySet[Job]:
    """Jobs, ended ones too, for which something was taken out of this bag."""
    named = LedgerLine.objects.filter(bag=bag).exclude(job=None).values("job")
    return Job.objects.filter(pk__in=named).order_by("-event_on", "pk")


def job_next_for(bag: Bag) -> Job | None:
    """The job that waits soonest for balloons of this item."""
    hold = Hold.objects.filter(item=bag.item_id, state__in=OPEN_STATES).select_related("job")
    first = hold.order_by("needed_on", "pk").first()
    return first.job if first else None


def places_known() -> list[str]:
    return list(
        Bag.objects.exclude(place="").order_by("place").values_list("place", flat=True).distinct()
    )
