"""How many balloons do not last after inflating, by item and by lot.

Tried: all that left the bag to be inflated. The ledger says so twice over. Straight, it is
-(taken + returned + lost); as the lines of a bag add up to what is left in it, it is also
received - left + counted + thrown away, which needs only the few lines of these two kinds.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from django.db.models import F, Sum

from inventory.models import Bag, Item, LedgerLine
from inventory.models.item import Kind
from inventory.models.ledger import LineKind
from quoting.estimator.constants import LARGE_NOMINAL_IN, LOSS_FOIL, LOSS_LARGE, LOSS_LATEX
from quoting.estimator.learning.beta import Beta, beta_around
from quoting.estimator.learning.losses import PRIOR_WEIGHT

# From so many tries on, an item's own losses take the place of the rate card's.
TRIED_ENOUGH = 50
SURE = 0.90
LOTS_SHOWN = 5
CLEARLY_WORSE = 0.975
# Nearer than this many standard deviations no lot is that clearly worse: it need not be weighed.
FAR = 1.0
# And a first look in a few slices, right to well within a hundredth, tells which to look at closer.
ROUGH_SLICES, ROUGHLY = 60, 0.01

Tally = tuple[int, int]  # tried, lost


@dataclass(frozen=True)
class Loss:
    """So many of those tried were lost, and what that says about the rate."""

    tried: int
    lost: int
    rate: Beta

    @property
    def rate_text(self) -> str:
        return _percent(self.rate.mean)

    @property
    def range_text(self) -> str:
        low, high = (_percent(end) for end in self.rate.interval(SURE))
        return f"{low.removesuffix(' %')} to {high}"


@dataclass(frozen=True)
class LotLoss:
    lot: str
    loss: Loss
    others: Loss

    @cached_property
    def is_clearly_worse(self) -> bool:
        rate, others = self.loss.rate, self.others.rate
        if rate.standard_distance(others) < FAR:
            return False
        roughly = rate.chance_above_other(others, slices=ROUGH_SLICES)
        return roughly >= CLEARLY_WORSE - ROUGHLY and self.chance_worse >= CLEARLY_WORSE

    @cached_property
    def chance_worse(self) -> float:
        return self.loss.rate.chance_above_other(self.others.rate)

    @property
    def others_text(self) -> str:
        if not self.others.tried:
            return f"{self.others.rate_text} is usual"
        said = f"{self.others.lost} of {self.others.tried}"
        return f"of the other lots {said}, {self.others.rate_text} to be expected"

    @property
    def chance_text(self) -> str:
        return "over 99.9 %" if self.chance_worse > 0.999 else _percent(self.chance_worse)


@dataclass(frozen=True)
class ItemLoss:
    item: Item
    loss: Loss
    lots: tuple[LotLoss, ...]

    @property
    def worse_lots(self) -> tuple[LotLoss, ...]:
        return tuple(lot for lot in self.lots if lot.is_clearly_worse)

    @property
    def worst_lots(self) -> list[LotLoss]:
        """A few of those that lost most, the worst first."""
        ranked = sorted(self.lots, key=lambda lot: lot.loss.rate.mean, reverse=True)
        return ranked[:LOTS_SHOWN]


def usual_loss(item: Item) -> float:
    if item.kind == Kind.FOIL:
        return LOSS_FOIL.value
    is_large = item.nominal_in is not None and item.nominal_in >= LARGE_NOMINAL_IN
    return (LOSS_LARGE if is_large else LOSS_LATEX).value


def losses(items: Iterable[Item] | None = None) -> list[ItemLoss]:
    """Of every balloon that was ever inflated, those with a clearly worse lot first."""
    tallies = _by_lot(items)
    known = Item.objects.select_related("colour").filter(pk__in=tallies)
    found = [_item_loss(item, tallies[item.pk]) for item in known]
    return sorted(found, key=lambda each: not each.worse_lots)


def loss_of(item: Item) -> ItemLoss | None:
    return next(iter(losses([item])), None)


def loss_rates(items: Iterable[Item]) -> dict[int, float]:
    """By item, for estimates: only where it was tried often enough to speak for itself."""
    tallies = _tallies("item")
    rates = {}
    for item in items:
        tried, lost = tallies.get((item.pk,), (0, 0))
        if tried >= TRIED_ENOUGH:
            rates[item.pk] = _loss((tried, lost), prior=_prior(item)).rate.mean
    return rates


def _item_loss(item: Item, lots: Mapping[str, Tally]) -> ItemLoss:
    prior, of_all = _prior(item), _sum(lots.values())
    return ItemLoss(
        item=item,
        loss=_loss(of_all, prior=prior),
        lots=tuple(_lot_loss(lot, lots[lot], of_all, prior=prior) for lot in sorted(lots)),
    )


def _lot_loss(lot: str, tally: Tally, of_all: Tally, *, prior: Beta) -> LotLoss:
    """A lot is taken to be like the others until it has shown that it is not."""
    others = _loss((of_all[0] - tally[0], of_all[1] - tally[1]), prior=prior)
    loss = _loss(tally, prior=beta_around(others.rate.mean, weight=PRIOR_WEIGHT))
    return LotLoss(lot, loss, others)


def _prior(item: Item) -> Beta:
    return beta_around(usual_loss(item), weight=PRIOR_WEIGHT)


def _loss(tally: Tally, *, prior: Beta) -> Loss:
    tried, lost = tally
    return Loss(tried, lost, prior.after(hits=lost, tries=tried))


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"


def _sum(tallies: Iterable[Tally]) -> Tally:
    tried = lost = 0
    for each_tried, each_lost in tallies:
        tried, lost = tried + each_tried, lost + each_lost
    return tried, lost


def _by_lot(items: Iterable[Item] | None) -> dict[int, dict[str, Tally]]:
    lots: dict[int, dict[str, Tally]] = defaultdict(dict)
    for (item, lot), tally in _tallies("item", "lot", items=items).items():
        lots[item][lot] = tally
    return lots


def _tallies(*keys: str, items: Iterable[Item] | None = None) -> dict[tuple, Tally]:
    """By these fields of a bag, in two questions. Where nothing was tried there is no tally."""
    bags = Bag.objects.exclude(item__kind=Kind.SUNDRY).order_by()
    lines = LedgerLine.objects.exclude(bag__item__kind=Kind.SUNDRY).order_by()
    if items is not None:
        wanted = [item.pk for item in items]
        bags, lines = bags.filter(item__in=wanted), lines.filter(bag__item__in=wanted)
    tried: dict[tuple, int] = defaultdict(int)
    lost: dict[tuple, int] = defaultdict(int)
    gone = bags.values_list(*keys).annotate(gone=Sum(F("printed_count") - F("left")))
    for *key, count in gone:
        tried[tuple(key)] += count
    of_bag = [f"bag__{key}" for key in keys]
    kinds = [LineKind.COUNTED, LineKind.THROWN_AWAY, LineKind.LOST]
    told = lines.filter(kind__in=kinds).values_list(*of_bag, "kind").annotate(sum=Sum("quantity"))
    for *key, kind, count in told:
        if kind == LineKind.LOST:
            lost[tuple(key)] -= count
        else:
            tried[tuple(key)] += count
    return {key: (count, min(lost[key], count)) for key, count in tried.items() if count > 0}
