"""The sheet for a visit: what hangs where, on what, in which weather. Never a price."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone
from django.utils.safestring import SafeString

from decor.business.service import the_business
from decor.calendar.moments import clock_text
from decor.display import hours_text, length_text
from decor.models import Business, Site, Visit
from decor.models.visit import VisitKind
from inventory.kit.service import kit_holds_open
from quoting.estimator import Estimate, OrderConditions, estimate
from quoting.estimator.cautions import Caution
from quoting.estimator.hanging import Anchors, Hanging, hanging_of
from quoting.estimator.hours import elapsed_hours, needs_ladder, top_m, visit_labour
from quoting.estimator.ladder import foot_out_m, length_to_rest_at_m
from quoting.estimator.picture import PictureError
from quoting.estimator.weather.daylight import Daylight, LatestStart, daylight, latest_start
from quoting.installing.checklist import CheckLine, checklist
from quoting.installing.forecast import forecast_of, is_old, under_visit
from quoting.making.pieces import PieceToMake
from quoting.making.plan import Plan, plan_for
from quoting.making.words import load_words, swatches_of, where_words
from quoting.models import VisitForecast
from quoting.pictures.drawing import estimate_svg
from quoting.pieces.shelf import Shelf, shelf_of
from quoting.pieces.words import piece_in_words

AT_THE_PLACE = ("hang", "check and fill")
WHATS = {
    "accent": "bunch of accents",
    "mini": "mini-cluster",
    "starburst": "starburst",
    "single": "large single",
}


@dataclass(frozen=True)
class Row:
    """One line of what to hang: where along the path, what, and on which side."""

    where: str
    what: str
    side: str = ""


@dataclass(frozen=True, kw_only=True)
class BagRow:
    """One packing bag: what is in it, and where along the path that hangs."""

    number: int
    what: str
    where: str


@dataclass(frozen=True, kw_only=True)
class PieceSheet:
    title: str
    words: str
    length: str
    begins: str
    picture: SafeString | None
    clusters: tuple[Row, ...]
    added: tuple[Row, ...]
    anchors: tuple[str, ...]
    anchors_words: str
    at_site: str


@dataclass(frozen=True, kw_only=True)
class VisitSheet:
    visit: Visit
    business: Business
    site: Site | None
    problems: tuple[str, ...]
    pieces: tuple[PieceSheet, ...]
    bags: tuple[BagRow, ...]
    kit: tuple[str, ...]
    ladder: str
    cautions: tuple[str, ...]
    hours: str
    sunset: str
    latest_start: str
    forecast: VisitForecast | None
    forecast_is_old: bool
    checks: tuple[CheckLine, ...]

    @property
    def arrive_until(self) -> datetime | None:
        """Whoever comes to hang it is there within this window."""
        minutes = self.business.arrival_window_minutes
        if not minutes or self.visit.kind != VisitKind.INSTALL:
            return None
        return self.visit.starts_at + timedelta(minutes=minutes)

    @property
    def is_strike(self) -> bool:
        return self.visit.kind == VisitKind.STRIKE

    @property
    def checks_left(self) -> int:
        return sum(line.mark is None for line in self.checks)


def visit_sheet(visit: Visit, *, now: datetime, with_pictures: bool = True) -> VisitSheet:
    business, job = the_business(), visit.job
    plan, forecast = plan_for(job), forecast_of(visit)
    made = [(piece, _under(piece.estimate, forecast)) for piece in plan.pieces]
    hours = _hours_there(visit, [each for _, each in made])
    light = _daylight(visit, business)
    return VisitSheet(
        visit=visit,
        business=business,
        site=job.site,
        problems=plan.problems,
        pieces=tuple(
            _piece(piece, each, business=business, with_picture=with_pictures)
            for piece, each in made
        ),
        bags=tuple(_bags(plan, business.units)),
        kit=tuple(f"{hold.quantity} × {hold.kit.name}" for hold in kit_holds_open(job)),
        ladder=_ladder([each for _, each in made], business.units),
        cautions=tuple(_cautions([each for _, each in made], business.units)),
        hours=hours_text(hours) if hours else "",
        sunset=clock_text(light.sunset.time()) if light and light.sunset else "",
        latest_start=_start_text(latest_start(light, hours)) if light and hours else "",
        forecast=forecast,
        forecast_is_old=forecast is not None and is_old(forecast, now=now),
        checks=checklist(visit),
    )


def _under(made: Estimate, forecast: VisitForecast | None) -> Estimate:
    """The same piece in the weather that was typed for the visit."""
    if forecast is None:
        return made
    spec = under_visit(made.spec, forecast)
    return estimate(spec, catalogue=made.catalogue, rates=made.rates)


def _bags(plan: Plan, units: str) -> Iterator[BagRow]:
    """What is in which packing bag, the first to open first."""
    swatches, several = swatches_of([plan]), len(plan.pieces) > 1
    for load in plan.loads:
        yield BagRow(
            number=load.number,
            what="; ".join(load_words(load, swatches)),
            where=where_words(load, units, is_one_of_several=several),
        )


def _hours_there(visit: Visit, made: list[Estimate]) -> float:
    """With the people of the visit, not those the quote was reckoned with. What there is to mend
    nobody reckoned: a revisit takes as long as was planned for it."""
    if visit.kind == VisitKind.REVISIT:
        return (visit.ends_at - visit.starts_at) / timedelta(hours=1)
    if not made:
        return 0.0
    lines = _taking_down(made) if visit.kind == VisitKind.STRIKE else _hanging(made)
    return elapsed_hours(sum(lines), visit.people, made[0].rates.unit_times)


def _hanging(made: list[Estimate]) -> list[float]:
    lines = [line for each in made for line in each.labour]
    return [line.person_hours for line in lines if line.phase in AT_THE_PLACE]


def _taking_down(made: list[Estimate]) -> list[float]:
    lines = visit_labour(
        [each.path_length_m for each in made],
        conditions=OrderConditions(strike=True),
        crew=1,
        rates=made[0].rates,
    )
    return [line.person_hours for line in lines if line.phase == "strike"]


def _daylight(visit: Visit, business: Business) -> Daylight | None:
    """Where the place, or the business near it, is on the map, and work is outdoors."""
    site = visit.job.site
    place = (site.coordinates if site else None) or business.coordinates
    if site is None or not site.is_outdoor or place is None:
        return None
    return daylight(
        latitude=place.latitude,
        longitude=place.longitude,
        on=timezone.localdate(visit.starts_at),
        timezone=business.timezone,
    )


def _start_text(start: LatestStart) -> str:
    if start.at is None:
        return start.why[:1].upper() + start.why[1:]
    return clock_text(start.at.time())


def _cautions(made: list[Estimate], units: str) -> Iterator[str]:
    """The gravest first, each said once for all pieces; of ladders that to the highest."""
    highest = max(made, key=lambda each: top_m(each.spec), default=None)
    found: list[Caution] = sorted(
        (
            caution
            for each in made
            for caution in each.cautions
            if caution.key != "ladder" or each is highest
        ),
        key=lambda caution: caution.severity,
    )
    yield from dict.fromkeys(caution.said(units) for caution in found)


def _ladder(made: list[Estimate], units: str) -> str:
    """How a leaning ladder stands that rests as high as the work goes; empty without one."""
    tops = [top_m(each.spec) for each in made if needs_ladder(each.spec)]
    if not tops:
        return ""
    foot = foot_out_m(length_to_rest_at_m(max(tops)))
    top, out = length_text(max(tops), units), length_text(foot, units)
    return f"Leaning at {top}, its foot stands {out} out: one quarter of its working length."


def _piece(
    piece: PieceToMake, made: Estimate, *, business: Business, with_picture: bool
) -> PieceSheet:
    units, shelf, hangs = business.units, shelf_of(made.catalogue), hanging_of(made)
    words = piece_in_words(made.spec, units=units, catalogue=made.catalogue)
    return PieceSheet(
        title=piece.title,
        words=words,
        length=length_text(made.path_length_m, units),
        begins=_begins(made),
        picture=_picture(piece, made, words, units) if with_picture else None,
        clusters=tuple(_cluster_rows(hangs, shelf, units)),
        added=tuple(_added_rows(hangs, shelf, units)),
        anchors=tuple(length_text(at, units) for at in hangs.anchors.at_m),
        anchors_words=_anchors_words(hangs.anchors, units),
        at_site=_at_site(made),
    )


def _begins(made: Estimate) -> str:
    kind = type(made.spec.path).__name__.lower()
    if kind in {"arch", "posts"}:
        return "from the left foot, as the guests see it"
    if kind == "ring":
        return "from the top, going round to the right as the guests see it"
    if kind == "drape":
        return "from the first point"
    return "from the left end, as the guests see it"


def _picture(piece: PieceToMake, made: Estimate, words: str, units: str) -> SafeString | None:
    try:
        return estimate_svg(
            made,
            catalogue=made.catalogue,
            units=units,
            title=piece.title,
            words=words,
            id_prefix=f"piece-{piece.pk}-",
        )
    except PictureError:
        return None


def _cluster_rows(hangs: Hanging, shelf: Shelf, units: str) -> Iterator[Row]:
    for run in hangs.runs:
        name = shelf.name_of(run.colour).lower()
        if run.count == 1:
            yield Row(length_text(run.from_m, units), f"{run.first}: {name}")
        else:
            between = f"{length_text(run.from_m, units)} to {length_text(run.to_m, units)}"
            yield Row(between, f"{run.first} to {run.last}: {run.count} {name}")


def _added_rows(hangs: Hanging, shelf: Shelf, units: str) -> Iterator[Row]:
    for each in hangs.added:
        foil = shelf.foil_colour(each.colour) if each.what == "starburst" else None
        name = (foil.name if foil else shelf.name_of(each.colour)).lower()
        yield Row(length_text(each.at_m, units), f"{name} {WHATS[each.what]}", each.side or "")


def _anchors_words(anchors: Anchors, units: str) -> str:
    every = length_text(anchors.spacing_m, units)
    tie = length_text(anchors.tie_m, units)
    words = f"{anchors.count} anchors: one every {every}, each tie {tie}"
    if anchors.low:
        words += f"; {anchors.low} of them low, from other sides, so that wind cannot twist it"
    return words + "."


def _at_site(made: Estimate) -> str:
    singles = made.packing.singles_at_site
    if not singles:
        return ""
    return f"{singles} large single{'' if singles == 1 else 's'} to inflate here: take the pump."
