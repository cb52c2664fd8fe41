"""What an order adds to its pieces: when and where, extra lines, a discount."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class OrderConditions:
    """Distance and drive one way. `lead_days` None: no rush is looked for.

    Taking down is a second visit, so it doubles the driving.
    """

    lead_days: int | None = None
    outside_hours: bool = False
    strike: bool = False
    distance_km: float = 0.0
    drive_minutes: float = 0.0

    @property
    def round_trips(self) -> int:
        return 2 if self.strike else 1


@dataclass(frozen=True, kw_only=True)
class ExtraLine:
    """Something sold at a price of its own, before tax; no margin is added to it."""

    label: str
    amount_cents: int
    why: str = "extra line"


@dataclass(frozen=True, kw_only=True)
class Discount:
    """A share of the price in basis points, a fixed amount, or both."""

    label: str
    bp: int = 0
    amount_cents: int = 0
