"""The card's losses from what jobs lost: a Beta around the card, updated by counting.

Every balloon counts as a try of its own. Losses come in runs (a hot day, a bad lot), so the
range is rather too narrow than too wide; lots are weighed against each other in the stock.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from scipy.stats import betabinom

from .beta import Beta, beta_around
from .priors import SURE
from .proposal import Learned, Proposal, proposed

# Before anything was tried, the usual loss counts for as much as twenty balloons: enough that one
# popped balloon of three says little, little enough that a bag of a hundred speaks for itself.
PRIOR_WEIGHT: Final = 20
# A job stands apart where, by all the others, so many lost or more (or so few or fewer) had a
# chance under this.
RARE: Final = 0.001


@dataclass(frozen=True, kw_only=True)
class LossObservation:
    """`tried` were inflated for the job, the `lost` ones among them."""

    job: str
    tried: int
    lost: int
    is_left_out: bool = False

    def __post_init__(self) -> None:
        if not 0 <= self.lost <= self.tried:
            raise ValueError(f"{self.job} cannot have lost {self.lost} of {self.tried}")


def learn_loss(
    name: str, observations: Iterable[LossObservation], *, card: float
) -> Proposal | None:
    """`name` is loss_latex, loss_large or loss_foil; None where nothing was tried or the card says
    that nothing is ever lost."""
    known = [o for o in observations if o.tried]
    if not known or card <= 0:
        return None
    prior = beta_around(card, weight=PRIOR_WEIGHT)
    counted = [o for o in known if not o.is_left_out]
    apart = [o for o in counted if _stands_apart(o, counted, prior)]
    return proposed(
        name,
        card,
        _learned(counted, prior),
        without_apart=_learned([o for o in counted if o not in apart], prior),
        jobs=len(counted),
        left_out=tuple(o.job for o in known if o.is_left_out),
        apart=tuple(o.job for o in apart),
    )


def _after(observations: Sequence[LossObservation], prior: Beta) -> Beta:
    return prior.after(
        hits=sum(o.lost for o in observations), tries=sum(o.tried for o in observations)
    )


def _learned(observations: Sequence[LossObservation], prior: Beta) -> Learned:
    """The mean, as what is ordered is for the next balloons; as a factor on the card."""
    rate = _after(observations, prior)
    low, high = rate.interval(SURE)
    return Learned(factor=rate.mean / prior.mean, low=low / prior.mean, high=high / prior.mean)


def _stands_apart(one: LossObservation, counted: Sequence[LossObservation], prior: Beta) -> bool:
    others = _after([o for o in counted if o is not one], prior)
    chances = betabinom(one.tried, others.a, others.b)
    return min(float(chances.sf(one.lost - 1)), float(chances.cdf(one.lost))) < RARE
