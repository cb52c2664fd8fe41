"""How full garlands of one maker really are, and whether slim ones differ from wide ones.

A fill is what hung of the envelope. The log-ratio to the card is a level and a slope on the
logarithm of the width about a usual one; with neither known, both are taken to be the card's. What
is learned is what counts follow: it takes in how large this hand sizes balloons, too.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import log
from statistics import fmean
from typing import Final

from .belief import Belief
from .outliers import stand_apart
from .priors import FILL_SIGMA, prior
from .proposal import Learned, Proposal, learned_from, proposed

# Bands of mean width in metres, as the range is shown; by common practice slim, usual, full.
WIDTH_BANDS: Final = ((0.0, 0.4), (0.4, 0.7), (0.7, 3.0))


@dataclass(frozen=True, kw_only=True)
class FillObservation:
    """One piece: its mean width, its envelope, and the volume of the balloons that hung."""

    job: str
    width_m: float
    envelope_m3: float
    filled_m3: float
    is_left_out: bool = False

    def __post_init__(self) -> None:
        if not (self.width_m > 0 and self.envelope_m3 > 0 and self.filled_m3 > 0):
            raise ValueError(f"{self.job} has no envelope to fill")

    @property
    def fill(self) -> float:
        return self.filled_m3 / self.envelope_m3


@dataclass(frozen=True, kw_only=True)
class BandFill:
    """Of widths from `from_m` up to `to_m`, told at the mean width of its pieces."""

    from_m: float
    to_m: float
    width_m: float
    pieces: int
    fill: float
    low: float
    high: float


@dataclass(frozen=True, kw_only=True)
class FillLearning:
    proposal: Proposal
    bands: tuple[BandFill, ...]
    observations: tuple[FillObservation, ...]


def filled_m3(
    *, envelope_m3: float, fill: float, planned_body: float, mean_m3: float, used: int
) -> float:
    """Planned, the body before rounding fills `fill` of the envelope with all else there is; each
    base balloon more or less is one mean volume (m3) more or less."""
    return fill * envelope_m3 + (used - planned_body) * mean_m3


def learn_fill(observations: Iterable[FillObservation], *, card: float) -> FillLearning | None:
    """None where nothing was observed. Each piece counts the same."""
    known = tuple(observations)
    if not known:
        return None
    counted = [o for o in known if not o.is_left_out]
    flags = stand_apart([log(o.fill / card) for o in counted])
    apart = [o for o, is_apart in zip(counted, flags, strict=True) if is_apart]
    middle = fmean(log(o.width_m) for o in counted) if counted else 0.0
    belief = _belief(counted, card, middle)
    without = _belief([o for o in counted if o not in apart], card, middle)
    proposal = proposed(
        "fill",
        card,
        learned_from(belief, (1.0, 0.0)),
        without_apart=learned_from(without, (1.0, 0.0)),
        jobs=len({o.job for o in counted}),
        left_out=tuple(o.job for o in known if o.is_left_out),
        apart=tuple(o.job for o in apart),
    )
    return FillLearning(
        proposal=proposal, bands=_bands(counted, belief, card, middle), observations=known
    )


def _belief(counted: Sequence[FillObservation], card: float, middle: float) -> Belief:
    rows = [(1.0, log(o.width_m) - middle) for o in counted]
    logs = [log(o.fill / card) for o in counted]
    return prior(spread=FILL_SIGMA, further=1).after(rows, logs)


def _bands(
    counted: Sequence[FillObservation], belief: Belief, card: float, middle: float
) -> tuple[BandFill, ...]:
    found = []
    for from_m, to_m in WIDTH_BANDS:
        widths = [o.width_m for o in counted if from_m <= o.width_m < to_m]
        if widths:
            width = fmean(widths)
            at: Learned = learned_from(belief, (1.0, log(width) - middle))
            found.append(
                BandFill(
                    from_m=from_m,
                    to_m=to_m,
                    width_m=width,
                    pieces=len(widths),
                    fill=card * at.factor,
                    low=card * at.low,
                    high=card * at.high,
                )
            )
    return tuple(found)
