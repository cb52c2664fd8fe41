"""What closed look-backs say, as the estimator's learning takes it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from inventory.models.item import Kind
from quoting.estimator import Rates
from quoting.estimator.constants import LARGE_NOMINAL_IN
from quoting.estimator.learning import (
    FillObservation,
    LossObservation,
    Observation,
    RangedJob,
    filled_m3,
    observations_of,
)
from quoting.estimator.rates import UnitTimes
from quoting.models import LookBack

SECONDS = 3600


@dataclass(frozen=True)
class Seen:
    """One closed look-back. `name` tells it from every other: titles may be alike."""

    look_back: LookBack

    @property
    def name(self) -> str:
        return f"{self.look_back.job.title} ({self.look_back.job_id})"

    @property
    def result(self) -> Mapping[str, Any]:
        return self.look_back.result


def look_backs_closed() -> list[Seen]:
    """The oldest first. One query."""
    closed = LookBack.objects.filter(closed_at__isnull=False).order_by("closed_at", "pk")
    return [Seen(each) for each in closed.select_related("job__client")]


def times_seen(seen: Iterable[Seen], card: UnitTimes) -> list[Observation]:
    return [observation for each in seen for observation in _times(each, card)]


def _times(seen: Seen, card: UnitTimes) -> tuple[Observation, ...]:
    result = seen.result
    return observations_of(
        seen.name,
        planned_s={row["phase"]: row["planned"] * SECONDS for row in result["phases"]},
        actual_s={
            row["phase"]: None if row["real"] is None else row["real"] * SECONDS
            for row in result["phases"]
        },
        planned_by=UnitTimes(**result["unit_times"]),
        card=card,
        left_out=seen.look_back.left_out,
        is_outdoor=result["outdoor"],
        is_cold=result["cold"],
    )


def fills_seen(seen: Iterable[Seen]) -> list[FillObservation]:
    """Of pieces whose clusters were counted as they hung: as planned says nothing new."""
    return [
        FillObservation(
            job=each.name,
            width_m=piece["mean_width_m"],
            envelope_m3=piece["envelope_m3"],
            filled_m3=filled_m3(
                envelope_m3=piece["envelope_m3"],
                fill=piece["fill"],
                planned_body=piece["body"],
                mean_m3=piece["balloon_m3"],
                used=piece["clusters_hung"] * piece["cluster_of"],
            ),
        )
        for each in seen
        for piece in each.result["pieces"]
        if piece["clusters_hung"] is not None
    ]


def losses_seen(seen: Iterable[Seen]) -> dict[str, list[LossObservation]]:
    """By the number of the card that it speaks of; of a job its items together."""
    found: dict[str, list[LossObservation]] = defaultdict(list)
    for each in seen:
        for name, (tried, lost) in _tried_and_lost(each).items():
            found[name].append(LossObservation(job=each.name, tried=tried, lost=lost))
    return dict(found)


def _tried_and_lost(seen: Seen) -> dict[str, tuple[int, int]]:
    sums: dict[str, tuple[int, int]] = {}
    for item in seen.result["items"]:
        name = loss_name(item["kind"], item["nominal_in"])
        if name and item["used"] > 0:
            tried, lost = sums.get(name, (0, 0))
            sums[name] = tried + item["used"], lost + item["lost"]
    return sums


def loss_name(kind: str, nominal_in: float | None) -> str:
    """Empty for what is no balloon."""
    if kind == Kind.FOIL:
        return "loss_foil"
    if kind != Kind.LATEX:
        return ""
    return "loss_large" if (nominal_in or 0) >= LARGE_NOMINAL_IN else "loss_latex"


def hours_ranged(seen: Iterable[Seen]) -> list[RangedJob]:
    """Jobs of which every phase was timed: only then are their hours what they took."""
    return [
        _ranged(each, "person_hours", sum(row["real"] for row in each.result["phases"]))
        for each in seen
        if each.result["is_all_timed"]
    ]


def costs_ranged(seen: Iterable[Seen]) -> list[RangedJob]:
    return [
        _ranged(each, "cost_cents", each.result["money"]["real_cents"])
        for each in seen
        if each.result["is_all_timed"]
    ]


def _ranged(seen: Seen, what: str, actual: float) -> RangedJob:
    low, estimate, high = seen.result["range"][what]
    return RangedJob(job=seen.name, low=low, estimate=estimate, high=high, actual=actual)


def card_value(name: str, rates: Rates) -> float:
    """A number of the card by its name, among its unit times or not."""
    of_times = getattr(rates.unit_times, name, None)
    return getattr(rates, name) if of_times is None else of_times


def points_in_time(seen: Iterable[Seen]) -> Iterator[tuple[Seen, float, float]]:
    """Estimated and real hours of what was timed, the oldest job first."""
    for each in seen:
        timed = [row for row in each.result["phases"] if row["real"] is not None]
        if timed:
            yield (
                each,
                sum(row["planned"] for row in timed),
                sum(row["real"] for row in timed),
            )
