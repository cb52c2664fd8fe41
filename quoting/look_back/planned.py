"""What a job was to take, as it was agreed."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from decor.models import Job
from quoting.estimator import Estimate, OrderConditions, Price, Rates, price_order
from quoting.estimator.hours import visit_labour
from quoting.estimator.ranges import HonestRange, order_range
from quoting.estimator.rates import PHASES
from quoting.making.keys import ItemKey
from quoting.making.plan import Plan, plan_for
from quoting.models import ClientAnswer
from quoting.models.client_page import AnswerKind
from quoting.quotes.agreed import quote_agreed


@dataclass(frozen=True, kw_only=True)
class PlannedItem:
    need: int = 0
    spare: int = 0

    @property
    def total(self) -> int:
        return self.need + self.spare


@dataclass(frozen=True, kw_only=True)
class Planned:
    """`price.net_cents` is what the pieces alone would cost; `net_cents` what was agreed."""

    plan: Plan
    conditions: OrderConditions
    price: Price
    net_cents: int
    hours: Mapping[str, float]
    items: Mapping[ItemKey, PlannedItem]

    @property
    def rates(self) -> Rates:
        return self.plan.rates

    @property
    def pieces(self) -> list[Estimate]:
        return [piece.estimate for piece in self.plan.pieces]

    @property
    def cost_by_kind(self) -> dict[str, int]:
        found: dict[str, int] = defaultdict(int)
        for line in self.price.cost_lines:
            found[line.kind] += line.amount_cents
        return dict(found)

    def honest_range(self) -> HonestRange:
        return order_range(
            self.pieces, price=self.price, conditions=self.conditions, rates=self.rates
        )


def planned_of(job: Job) -> Planned | None:
    """None where no piece of the job is described, so that nothing was planned."""
    plan = plan_for(job)
    if not plan.pieces:
        return None
    pieces = [piece.estimate for piece in plan.pieces]
    conditions = _conditions(job)
    price = price_order(pieces, rates=plan.rates, conditions=conditions)
    return Planned(
        plan=plan,
        conditions=conditions,
        price=price,
        net_cents=_net_agreed(job, price),
        hours=_hours(pieces, conditions, plan.rates),
        items=_items(pieces),
    )


def _conditions(job: Job) -> OrderConditions:
    """The way there and whether it is taken down; what moves the price only is left out."""
    quote, site = quote_agreed(job), job.site
    return OrderConditions(
        strike=quote.includes_strike if quote else True,
        distance_km=((site.distance_m if site else None) or 0) / 1000,
        drive_minutes=(site.drive_minutes if site else None) or 0,
    )


def _net_agreed(job: Job, price: Price) -> int:
    """Of what the client accepted; else of the edition sent last; else of the pieces alone."""
    answer = ClientAnswer.objects.filter(edition__quote__job=job, kind=AnswerKind.ACCEPTED).last()
    if answer is not None:
        return answer.net_cents
    quote = quote_agreed(job)
    edition = quote.editions.defer("pdf").last() if quote else None
    return edition.net_cents if edition else price.net_cents


def _hours(pieces: list[Estimate], conditions: OrderConditions, rates: Rates) -> dict[str, float]:
    """Of persons, by phase, in the order of the work."""
    lines = [line for piece in pieces for line in piece.use.labour]
    lines += visit_labour(
        [piece.path_length_m for piece in pieces],
        conditions=conditions,
        crew=max(piece.spec.crew for piece in pieces),
        rates=rates,
    )
    found = {
        phase: sum(line.person_hours for line in lines if line.phase == phase) for phase in PHASES
    }
    return {phase: hours for phase, hours in found.items() if hours}


def _items(pieces: list[Estimate]) -> dict[ItemKey, PlannedItem]:
    found: dict[ItemKey, PlannedItem] = {}
    for line in (line for piece in pieces for line in piece.balloons):
        key = (line.kind, line.colour, _nominal(line.nominal_in))
        before = found.get(key, PlannedItem())
        found[key] = PlannedItem(need=before.need + line.need, spare=before.spare + line.spare)
    return found


def _nominal(inches: float | None) -> int | None:
    return None if inches is None else round(inches)
