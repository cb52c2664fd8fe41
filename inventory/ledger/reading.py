"""What the ledger says: line by line, and whether everything agrees with it."""

from django.db import connection
from django.db.models import Count, F, Q, QuerySet, Sum, Window
from django.db.models.functions import Coalesce

from inventory.ledger.guards import GUARDS
from inventory.models import Bag, Item, LedgerLine
from inventory.models.ledger import LineKind

WRONG_SUM = "Bag {pk} ({tag}): the ledger says {lines} are left, the bag says {left}."
WRONG_OPEN = "Bag {pk} ({tag}): opened in the ledger and on the bag do not agree."
NOT_RECEIVED = "Bag {pk} ({tag}): no line says that it was received with {printed} in it."
GUARD_MISSING = "The database does not watch over the ledger: {name} is missing. Run migrate."


def lines_of_bag(bag: Bag) -> QuerySet[LedgerLine]:
    """Newest first, each with how many were left after it in `left_after`."""
    return (
        LedgerLine.objects.filter(bag=bag)
        .select_related("job", "by")
        .annotate(left_after=Window(Sum("quantity"), order_by="pk"))
        .order_by("-pk")
    )


def lines_of_item(item: Item) -> QuerySet[LedgerLine]:
    """Newest first, over all its bags, each with how many of the item were left after it."""
    return (
        LedgerLine.objects.filter(bag__item=item)
        .select_related("job", "by", "bag")
        .annotate(left_after=Window(Sum("quantity"), order_by="pk"))
        .order_by("-pk")
    )


def shelf_problems() -> list[str]:
    """Whatever does not agree with the sum of the lines. Empty when the shelf is sound."""
    unguarded = [GUARD_MISSING.format(name=name) for name in GUARDS.missing(connection)]
    return unguarded + bag_problems()


def bag_problems() -> list[str]:
    """Of the bags alone, whether or not the database watches over them."""
    problems = []
    for bag in _bags_that_disagree():
        said = {"pk": bag.pk, "tag": bag.tag, "left": bag.left, "printed": bag.printed_count}
        if bag.of_lines != bag.left:
            problems.append(WRONG_SUM.format(lines=bag.of_lines, **said))
        if bool(bag.openings) != bag.is_open:
            problems.append(WRONG_OPEN.format(**said))
        if bag.received != bag.printed_count:
            problems.append(NOT_RECEIVED.format(**said))
    return problems


def _bags_that_disagree() -> QuerySet[Bag]:
    received, opened = Q(lines__kind=LineKind.RECEIVED), Q(lines__kind=LineKind.OPENED)
    return (
        Bag.objects.annotate(
            of_lines=Coalesce(Sum("lines__quantity"), 0),
            received=Coalesce(Sum("lines__quantity", filter=received), 0),
            openings=Count("lines", filter=opened),
        )
        .filter(
            ~Q(of_lines=F("left"))
            | ~Q(received=F("printed_count"))
            | Q(openings=0, is_open=True)
            | Q(openings__gt=0, is_open=False)
        )
        .order_by("pk")
    )
