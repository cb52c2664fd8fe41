"""The invented business and its jobs. Days are counted from the day the demo is made."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import time
from typing import Any, Final

from decor.models.business import Currency, Paper, Units
from decor.models.job import Stage
from decor.models.located import Coordinates

BUSINESS: Final[Mapping[str, Any]] = {
    "name": "Larkspur Lane Garlands",
    "owner_name": "Nell Okafor-Hart",
    "strapline": "Balloon garlands, made by hand in Wexcombe Bay",
    "email": "nell@larkspurlane.example",
    "phone": "(207) 555-0101",
    "address": "14 Larkspur Lane\nWexcombe Bay",
    "units": Units.IMPERIAL,
    "currency": Currency.USD,
    "timezone": "America/New_York",
    "coordinates": Coordinates(43.66, -70.26),
    "paper": Paper.LETTER,
    "how_to_pay": "By bank transfer, by check to Larkspur Lane Garlands, or in cash on the day.",
    "how_to_accept": "Reply to this quote or call (207) 555-0101 to say yes.",
}
OWNER: Final = ("nell", "Nell", "Okafor-Hart")
HELPER: Final = ("tomas", "Tomas", "")


@dataclass(frozen=True)
class DemoPlace:
    name: str
    address: str = ""
    is_outdoor: bool = False
    access_note: str = ""
    distance_m: int | None = None
    drive_minutes: int | None = None


@dataclass(frozen=True)
class DemoClient:
    name: str
    contact: str


@dataclass(frozen=True)
class DemoPiece:
    """`typed` is what the owner would type into the piece's form, the rest left as usual."""

    title: str
    typed: Mapping[str, str | list[str]]
    is_traced: bool = False  # its path is tapped on the job's photo
    other: Mapping[str, str | list[str]] | None = None  # typed differently: a second variant


@dataclass(frozen=True)
class DemoExtra:
    label: str
    unit_cents: int
    quantity: int = 1


@dataclass(frozen=True, kw_only=True)
class DemoJob:
    title: str
    client: DemoClient
    place: DemoPlace
    in_days: int
    at: time | None = None
    asked_days_ago: int
    note: str = ""
    stage: Stage = Stage.ASKED
    why_ended: str = ""
    pieces: tuple[DemoPiece, ...] = ()
    extras: tuple[DemoExtra, ...] = ()
    message: str = ""
    has_photo: bool = False  # of the arbour, see arbour_photo.py


LIBRARY = DemoClient("Wexcombe Bay Library", "reading@wexcombebay.example")
TWINS = DemoClient("The Brannigan twins (Orla Brannigan)", "(207) 555-0144")
TEA_ROOM = DemoClient("Quill & Kettle tea room", "hello@quillandkettle.example")
ROWERS = DemoClient("Harrow Hill Rowing Club", "events@harrowhillrowing.example")
SCHOOL = DemoClient("Tern Point School", "office@ternpoint.example")
GARDENERS = DemoClient("Wexcombe Bay Growers", "(207) 555-0163")
BAKER = DemoClient("Saltmarsh Bakery", "orders@saltmarshbakery.example")
WEDDING = DemoClient("Imani Castellane", "imani@castellane.example")
LANTERN_WALKERS = DemoClient("Chapel Green Lantern Walk", "walk@chapelgreen.example")
GALLERY = DemoClient("Rope Walk Gallery", "desk@ropewalk.example")
CHOIR = DemoClient("The Lantern Choir", "note under the vestry door, or after Tuesday practice")

BOATHOUSE = DemoPlace("Boathouse bar", "Harrow Hill boathouse", False, "", 15300, 22)
CHAPEL_GATE = DemoPlace("Chapel gate", "Chapel Green", True, "", 2700, 6)
GALLERY_RAIL = DemoPlace("Upstairs gallery", "8 Rope Walk", False, "Stairs only.", 4100, 10)
LIBRARY_PORCH = DemoPlace(
    "Library porch",
    "2 Harbour Street, Wexcombe Bay",
    True,
    "Ask at the desk; the ladder is kept behind the returns trolley.",
    4800,
    9,
)
TWINS_PORCH = DemoPlace("The twins' front porch", "31 Samphire Road", True, "", 7200, 14)
TEA_WINDOW = DemoPlace(
    "Tea room window", "5 Quay Steps", False, "Before eight or after six.", 5200, 11
)
RIVER = DemoPlace(
    "Finish line on the slipway",
    "Harrow Hill boathouse",
    True,
    "Open to the wind from the south-west. Park by the trailer gate.",
    15300,
    22,
)
HALL = DemoPlace("School hall", "Tern Point School", False, "Caretaker from seven.", 9800, 16)
ARBOUR = DemoPlace("Allotment arbour", "Foundry Lane allotments", True, "", 6100, 12)
BAKERY_COUNTER = DemoPlace("Bakery counter", "12 Saltmarsh Row", False, "", 3900, 8)
BARN = DemoPlace("Castellane barn", "Upper Fallow Farm", False, "Long gravel track.", 21500, 31)
VESTRY = DemoPlace("Church hall stage", "Chapel Green", False, "", 2600, 6)

READING_ARCH = DemoPiece(
    "Arch over the library doors",
    {
        "shape": "walk_arch", "arch_width": "8 ft", "arch_height": "7 ft 6 in",
        "fullness": "full", "base": ["oat", "fern", "tidewater"], "accents": ["marigold"],
        "height": "8 ft",
    },
)  # fmt: skip
PORCH_SWAG = DemoPiece(
    "Porch swag",
    {
        "shape": "porch_swag", "swag_span": "9 ft", "swag_sag": "1 ft 9 in", "fullness": "full",
        "base": ["plum", "marigold"], "share_plum": "60", "share_marigold": "40",
        "height": "8 ft 6 in", "site_temperature": "46",
    },
)  # fmt: skip
WINDOW_GARLAND = DemoPiece(
    "Garland over the window",
    {
        "shape": "window_line", "line_length": "9 ft", "fullness": "slim",
        "base": ["oat", "tidewater"], "burst_copper": "3",
    },
)  # fmt: skip
FINISH_POSTS = DemoPiece(
    "Finish-line posts",
    {
        "shape": "entrance_posts", "posts_width": "14 ft", "posts_height": "9 ft",
        "fullness": "full", "base": ["tidewater", "oat"], "pattern": "banded", "height": "9 ft",
        "gust": "22", "crew": "2",
    },
)  # fmt: skip
STAGE_LINE = DemoPiece(
    "Garland along the stage",
    {
        "shape": "table_line", "line_length": "16 ft", "fullness": "full",
        "base": ["fern", "marigold", "oat"],
    },
)  # fmt: skip
ARBOUR_DRAPE = DemoPiece(
    "Garland over the arbour",
    {
        "shape": "drape", "fullness": "full", "base": ["fern", "oat"], "accents": ["plum"],
        "height": "8 ft",
    },
    is_traced=True,
)  # fmt: skip
COUNTER_LINE = DemoPiece(
    "Line along the counter",
    {
        "shape": "table_line", "line_length": "6 ft", "fullness": "slim",
        "base": ["oat", "marigold"],
    },
)  # fmt: skip
BACKDROP_RING = DemoPiece(
    "Ring behind the top table",
    {
        "shape": "backdrop_ring", "ring_diameter": "7 ft", "fullness": "lush",
        "base": ["oat", "plum", "tidewater"], "burst_copper": "4", "height": "8 ft",
    },
)  # fmt: skip
BARN_DOORS = DemoPiece(
    "Arch at the barn doors",
    {
        "shape": "walk_arch", "arch_width": "10 ft", "arch_height": "9 ft", "fullness": "lush",
        "base": ["oat", "plum"], "accents": ["marigold"], "height": "9 ft 6 in", "crew": "2",
    },
)  # fmt: skip

PRIZE_LINE = DemoPiece(
    "Garland along the prize table",
    {
        "shape": "table_line", "line_length": "12 ft", "fullness": "full",
        "base": ["tidewater", "oat"],
    },
)  # fmt: skip

LANTERN_ARCH = DemoPiece(
    "Arch at the chapel gate",
    {
        "shape": "walk_arch", "arch_width": "7 ft", "arch_height": "7 ft 6 in", "fullness": "full",
        "base": ["marigold", "oat"], "height": "7 ft 6 in", "crew": "2",
    },
    other={"fullness": "slim"},
)  # fmt: skip
GALLERY_LINE = DemoPiece(
    "Garland along the gallery rail",
    {
        "shape": "table_line", "line_length": "10 ft", "fullness": "full",
        "base": ["plum", "oat"], "crew": "2",
    },
)  # fmt: skip

JOBS: Final = (
    DemoJob(
        title="Reading-week arch", client=LIBRARY, place=LIBRARY_PORCH, in_days=12, at=time(10),
        asked_days_ago=9, stage=Stage.QUOTED, pieces=(READING_ARCH,),
        note="Over the main doors for the first morning. They open outwards.",
        message="A woodland arch for the first morning of reading week.",
    ),
    DemoJob(
        title="Sixth birthday porch", client=TWINS, place=TWINS_PORCH, in_days=4, at=time(14),
        asked_days_ago=15, stage=Stage.PROMISED, pieces=(PORCH_SWAG,),
        extras=(DemoExtra("Name sign, two names", 2800),),
        note="Two sixes if there is time. One cousin is allergic to latex: indoors stays clear.",
    ),
    DemoJob(
        title="Tea room window", client=TEA_ROOM, place=TEA_WINDOW, in_days=9, at=time(8),
        asked_days_ago=6, stage=Stage.QUOTED, pieces=(WINDOW_GARLAND,),
        note="Starbursts that look like steam from a kettle.",
    ),
    DemoJob(
        title="Regatta finish line", client=ROWERS, place=RIVER, in_days=17, at=time(9),
        asked_days_ago=3, pieces=(FINISH_POSTS,),
        note="Stands in the open. They had one blow round on itself last year.",
    ),
    DemoJob(
        title="Winter concert stage", client=SCHOOL, place=HALL, in_days=23, at=time(18),
        asked_days_ago=5, stage=Stage.QUOTED, pieces=(STAGE_LINE,),
    ),
    DemoJob(
        title="Seed swap arbour", client=GARDENERS, place=ARBOUR, in_days=30,
        asked_days_ago=2, pieces=(ARBOUR_DRAPE,), has_photo=True,
        note="Anything that goes with bean poles.",
    ),
    DemoJob(
        title="Bakery's first year", client=BAKER, place=BAKERY_COUNTER, in_days=1, at=time(7),
        asked_days_ago=20, stage=Stage.MADE, pieces=(COUNTER_LINE,),
    ),
    DemoJob(
        title="Wedding in the barn", client=WEDDING, place=BARN, in_days=45, at=time(12),
        asked_days_ago=11, stage=Stage.PROMISED, pieces=(BARN_DOORS, BACKDROP_RING),
        extras=(DemoExtra("Hire of the ring stand", 4500),),
        message="Two pieces in one palette: the doors first, the ring behind you.",
    ),
    DemoJob(
        title="Lantern walk", client=LANTERN_WALKERS, place=CHAPEL_GATE, in_days=13, at=time(17),
        asked_days_ago=4, stage=Stage.QUOTED, pieces=(LANTERN_ARCH,),
        message="Two ways to do it: full, or slim and lighter on the purse.",
    ),
    DemoJob(
        title="Gallery opening", client=GALLERY, place=GALLERY_RAIL, in_days=13, at=time(17),
        asked_days_ago=3, stage=Stage.QUOTED, pieces=(GALLERY_LINE,),
        note="The same evening as the lantern walk: both want us just before five.",
    ),
    DemoJob(
        title="Carols by lantern", client=CHOIR, place=VESTRY, in_days=20, at=time(19),
        asked_days_ago=0, note="Very little money, lots of goodwill.",
    ),
    DemoJob(
        title="Harvest window", client=TEA_ROOM, place=TEA_WINDOW, in_days=-38, at=time(8),
        asked_days_ago=60, stage=Stage.DONE, pieces=(WINDOW_GARLAND,),
    ),
    DemoJob(
        title="Open day gate", client=SCHOOL, place=HALL, in_days=-12, at=time(9),
        asked_days_ago=40, stage=Stage.LOST, why_ended="They used paper chains this year.",
        pieces=(STAGE_LINE,),
    ),
    DemoJob(
        title="Summer fair arch", client=LIBRARY, place=LIBRARY_PORCH, in_days=-75, at=time(11),
        asked_days_ago=110, stage=Stage.DONE, pieces=(READING_ARCH,),
    ),
    DemoJob(
        title="Rowers' prize table", client=ROWERS, place=BOATHOUSE, in_days=-52, at=time(17),
        asked_days_ago=80, stage=Stage.DONE, pieces=(PRIZE_LINE,),
    ),
    DemoJob(
        title="Growers' show stage", client=GARDENERS, place=VESTRY, in_days=-24, at=time(10),
        asked_days_ago=55, stage=Stage.DONE, pieces=(STAGE_LINE,),
    ),
)  # fmt: skip
SAMPLE_QUOTE_OF: Final = "Wedding in the barn"
