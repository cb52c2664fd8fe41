"""What the owner typed from a forecast, where it came from and when she read it."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from ..spec import Spec

# From memory: a forecast of gusts read longer ago than this is worth reading again.
GROWS_OLD_AFTER: Final = timedelta(hours=24)


@dataclass(frozen=True, kw_only=True)
class Forecast:
    """`site_c` is the temperature where it hangs, None: as where it is made; times are aware."""

    gust_mps: float = 0.0
    made_at_c: float = 21.0
    site_c: float | None = None
    rain: bool = False
    source: str = ""
    read_at: datetime | None = None

    def is_old(self, now: datetime) -> bool:
        return self.read_at is not None and now - self.read_at > GROWS_OLD_AFTER


def under_forecast(spec: Spec, forecast: Forecast) -> Spec:
    """The spec at its site in that weather; place and height stay as they are."""
    site = replace(
        spec.site,
        gust_mps=forecast.gust_mps,
        made_at_c=forecast.made_at_c,
        site_c=forecast.site_c,
        rain=forecast.rain,
    )
    return replace(spec, site=site)
