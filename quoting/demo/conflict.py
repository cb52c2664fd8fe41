"""A week with a real conflict: two jobs want the last two bags of one colour.

The first is promised and holds them. The second is quoted: it is told before it promises, and a
near colour or a purchase settles it.
"""

from datetime import datetime, time, timedelta
from typing import Final

from django.contrib.auth.models import User

from decor.models.job import Stage
from inventory.catalogue.service import FOIL, colour_add
from inventory.catalogue.starter import LATEX_BAGS
from inventory.deliveries.rows import DeliveryRow
from inventory.deliveries.service import delivery_receive
from inventory.models import Colour, Supplier
from inventory.models.item import Finish
from quoting.demo.scenario import DemoClient, DemoJob, DemoPiece, DemoPlace

SCARCE: Final = "Slipway"
SCARCE_HEX: Final = "#437c93"  # a shade bluer than tidewater, which is near enough to stand in
BAGS_OF_SCARCE: Final = {5: 2, 11: 2, 17: 4, 24: 4}
LOT: Final = "C0117"
RECEIVED_DAYS_AGO: Final = 30

SAILORS = DemoClient("Wexcombe Bay Dinghy Sailors", "(207) 555-0186")
FERRY = DemoClient("The Halfpenny Ferry", "crew@halfpennyferry.example")
BOATSHED = DemoPlace("Boatshed", "3 Slip Lane, Wexcombe Bay", False, "", 3100, 7)
FERRY_STEPS = DemoPlace("Ferry steps", "Quay Steps", True, "Mind the weed.", 5300, 11)

SUPPER_ARCH = DemoPiece(
    "Arch over the boatshed doors",
    {
        "shape": "walk_arch", "arch_width": "11 ft", "arch_height": "8 ft", "fullness": "lush",
        "base": ["slipway", "oat"], "share_slipway": "80", "share_oat": "20", "height": "8 ft",
    },
)  # fmt: skip
STEPS_SWAG = DemoPiece(
    "Swag along the ferry steps",
    {
        "shape": "porch_swag", "swag_span": "13 ft", "swag_sag": "2 ft", "fullness": "lush",
        "base": ["slipway"], "accents": ["marigold"],
        "height": "8 ft", "site_temperature": "46",
    },
)  # fmt: skip

CONFLICT_JOBS: Final = (
    DemoJob(
        title="Sailing supper arch", client=SAILORS, place=BOATSHED, in_days=8, at=time(18),
        asked_days_ago=13, stage=Stage.PROMISED, pieces=(SUPPER_ARCH,),
        note="Their burgee is the colour of the slipway after rain.",
    ),
    DemoJob(
        title="Ferry's hundredth year", client=FERRY, place=FERRY_STEPS, in_days=9, at=time(11),
        asked_days_ago=7, stage=Stage.QUOTED, pieces=(STEPS_SWAG,),
        note="Same blue as the sailors' arch, which they saw in the window.",
    ),
)  # fmt: skip


def scarce_stock(*, owner: User, now: datetime) -> None:
    """Two bags of a size, and no more. Made once, before the jobs."""
    if Colour.objects.filter(name=SCARCE).exists():
        return
    bags = {size: bag for size, bag in LATEX_BAGS.items() if size is not FOIL}
    colour = colour_add(name=SCARCE, hex_value=SCARCE_HEX, finish=Finish.PLAIN, bags=bags, now=now)
    items = colour.items.filter(nominal_in__in=BAGS_OF_SCARCE).order_by("nominal_in")
    delivery_receive(
        supplier=Supplier.objects.order_by("lead_days").first(),
        note_number="Q-1702",
        received_on=(now - timedelta(days=RECEIVED_DAYS_AGO)).date(),
        rows=[
            DeliveryRow(
                item=item,
                printed_count=item.bag_count,
                cost_cents=item.bag_cents,
                bags=BAGS_OF_SCARCE[item.nominal_in],
                lot=LOT,
                place="Hall cupboard",
                note="",
            )
            for item in items
        ],
        by=owner,
        now=now - timedelta(days=RECEIVED_DAYS_AGO),
    )
