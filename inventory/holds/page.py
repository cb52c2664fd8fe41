"""What a job has of the shelf, as its page shows it. Four queries, however much it is."""

from collections import defaultdict
from dataclasses import dataclass

from decor.models import Job
from inventory.holds.proposing import Proposal, bags_proposed
from inventory.holds.service import holds_open
from inventory.models import Bag, Hold
from inventory.models.hold import HoldState


@dataclass(frozen=True, kw_only=True)
class HeldItem:
    hold: Hold
    proposals: tuple[Proposal, ...]

    @property
    def to_take(self) -> int:
        return self.hold.quantity - self.hold.taken

    @property
    def missing(self) -> int:
        """What no bag holds yet."""
        return self.to_take - sum(proposal.quantity for proposal in self.proposals)

    @property
    def lots(self) -> int:
        """Two lots of one colour can be two shades."""
        return len({(p.bag.lot, p.bag.lot or p.bag.delivery_id) for p in self.proposals})


@dataclass(frozen=True, kw_only=True)
class HeldPage:
    items: tuple[HeldItem, ...]

    @property
    def is_soft(self) -> bool:
        return any(held.hold.state == HoldState.SOFT for held in self.items)

    @property
    def quotes(self) -> list[str]:
        return sorted({held.hold.source for held in self.items if held.hold.source})


def held_page(job: Job) -> HeldPage:
    holds = list(holds_open(job).select_related("item__colour"))
    bags: dict[int, list[Bag]] = defaultdict(list)
    for bag in Bag.objects.filter(item__in=[hold.item_id for hold in holds], left__gt=0):
        bags[bag.item_id].append(bag)
    return HeldPage(
        items=tuple(
            HeldItem(
                hold=hold,
                proposals=tuple(bags_proposed(bags[hold.item_id], hold.quantity - hold.taken)),
            )
            for hold in holds
        )
    )
