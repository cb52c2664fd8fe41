"""The forecast typed for a visit, and what it means for a piece there."""

from dataclasses import replace
from datetime import datetime

from decor.models import Visit
from quoting.estimator import Spec
from quoting.estimator.weather import Forecast
from quoting.models import VisitForecast


def forecast_keep(
    *,
    visit: Visit,
    gust_mps: float | None,
    site_c: float | None,
    rain: bool,
    source: str,
    now: datetime,
) -> VisitForecast:
    """It takes the place of the one before: only the newest is worth reading."""
    kept, _ = VisitForecast.objects.update_or_create(
        visit=visit,
        defaults={
            "gust_cmps": None if gust_mps is None else round(gust_mps * 100),
            "site_decic": None if site_c is None else round(site_c * 10),
            "rain": rain,
            "source": source,
            "read_at": now,
        },
    )
    return kept


def forecast_of(visit: Visit) -> VisitForecast | None:
    return VisitForecast.objects.filter(visit=visit).first()


def gust_mps(kept: VisitForecast) -> float | None:
    return None if kept.gust_cmps is None else kept.gust_cmps / 100


def site_c(kept: VisitForecast) -> float | None:
    return None if kept.site_decic is None else kept.site_decic / 10


def is_old(kept: VisitForecast, *, now: datetime) -> bool:
    return Forecast(read_at=kept.read_at).is_old(now)


def under_visit(spec: Spec, kept: VisitForecast | None) -> Spec:
    """The spec in that weather. What was left empty stays as the quote had it."""
    if kept is None:
        return spec
    gust, celsius = gust_mps(kept), site_c(kept)
    site = replace(
        spec.site,
        rain=kept.rain,
        gust_mps=spec.site.gust_mps if gust is None else gust,
        site_c=spec.site.site_c if celsius is None else celsius,
    )
    return replace(spec, site=site)
