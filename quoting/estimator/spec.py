"""A garland as the client means it: path, width, colours, sizes, accents, site."""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from . import constants as c


@dataclass(frozen=True)
class Line:
    kind: ClassVar = "line"
    length_m: float


@dataclass(frozen=True)
class Arch:
    """Half an ellipse standing on the ground."""

    kind: ClassVar = "arch"
    width_m: float
    height_m: float


@dataclass(frozen=True)
class Posts:
    """Up, across and down again."""

    kind: ClassVar = "posts"
    width_m: float
    height_m: float


@dataclass(frozen=True)
class Swag:
    """Hung between two points level with each other."""

    kind: ClassVar = "swag"
    span_m: float
    sag_m: float


@dataclass(frozen=True)
class Ring:
    kind: ClassVar = "ring"
    diameter_m: float


@dataclass(frozen=True)
class Drape:
    """From point to point: x along the front, y away from the viewer, z up."""

    kind: ClassVar = "drape"
    points_m: tuple[tuple[float, float, float], ...]


Path = Line | Arch | Posts | Swag | Ring | Drape


class Backing(StrEnum):
    FREE = "free"
    FLAT = "flat"


class Pattern(StrEnum):
    """How the base colours follow each other along the path."""

    SPREAD = "spread"
    BANDED = "banded"
    BLEND = "blend"


@dataclass(frozen=True)
class Station:
    """The width at a fraction of the way along the path."""

    at: float
    width_m: float


@dataclass(frozen=True)
class BaseColour:
    colour: str
    share: float


@dataclass(frozen=True)
class Size:
    """`share` is by count; diameters are spread evenly over `inflated_in`."""

    nominal_in: float
    inflated_in: tuple[float, float]
    share: float


@dataclass(frozen=True)
class Fillers:
    colours: tuple[str, ...]
    nominal_in: float = 5.0
    inflated_in: tuple[float, float] = (3.5, 4.5)
    minis_per_m2: float = c.MINIS_PER_M2.value


@dataclass(frozen=True)
class Singles:
    colours: tuple[str, ...]
    nominal_in: float = 24.0
    inflated_in: tuple[float, float] = (18.0, 22.0)
    per_m: float = c.SINGLES_PER_M.value


@dataclass(frozen=True)
class Accent:
    """`share` is by count of the body with no accents."""

    colour: str
    share: float
    inflated_in: tuple[float, float] = (6.0, 9.0)
    bunch: int = int(c.ACCENT_BUNCH.value)


@dataclass(frozen=True)
class Starburst:
    colour: str
    count: int


@dataclass(frozen=True)
class Site:
    """`site_c` None: as warm as where it is made."""

    outdoor: bool = False
    height_m: float = 0.0
    made_at_c: float = 21.0
    site_c: float | None = None
    gust_mps: float = 0.0
    rain: bool = False

    @property
    def hung_at_c(self) -> float:
        return self.made_at_c if self.site_c is None else self.site_c


@dataclass(frozen=True)
class Travel:
    """One way."""

    distance_km: float = 0.0
    minutes: float = 0.0


@dataclass(frozen=True)
class Spec:
    path: Path
    width: tuple[Station, ...]
    base: tuple[BaseColour, ...]
    sizes: tuple[Size, ...]
    backing: Backing = Backing.FREE
    cluster_of: int = 8
    pattern: Pattern = Pattern.SPREAD
    fillers: Fillers | None = None
    singles: Singles | None = None
    accents: tuple[Accent, ...] = ()
    starbursts: tuple[Starburst, ...] = ()
    site: Site = Site()
    crew: int = 1
    travel: Travel | None = None
    confidence: float = c.CONFIDENCE.value
    seed: int = 1
    version: int = 1
