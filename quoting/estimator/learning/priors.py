"""How much the rate card counts for before the jobs speak, and how sure a range is.

Restraint is a choice, not a measurement: the card counts for as much as four jobs, so that three
jobs move a time three sevenths of the way to what they say, and thirty fifteen seventeenths.
"""

from math import sqrt
from typing import Final

from .. import constants as c
from ..ranges.chances import time_sigma
from .belief import Belief, belief_around

CARD_WEIGHT: Final = 4.0  # jobs
SPREAD_WEIGHT: Final = 4.0  # jobs
# An effect besides the level (outdoors, the cold, a garland's width) is held less: what is held
# back of it would be put down to the level, and slow the jobs that have nothing to do with it.
EFFECT_WEIGHT: Final = 2.0  # jobs
SURE: Final = 0.80  # of the range beside a learned number, as of every range that is shown

# Fewer jobs than these say too little for a proposal.
ENOUGH_JOBS: Final = 3
# A change smaller than this is not worth a new version of the card.
LEAST_CHANGE: Final = 0.03

TIME_SIGMA: Final = time_sigma(c.TIME_SPREAD.value)
# One job's fill about the usual: what the fill itself and the sizing by hand (as d^3) spread,
# each even over its range, which has a standard deviation of its half-width / sqrt 3.
FILL_SIGMA: Final = sqrt(
    (c.FILL_SPREAD.value / c.FILL.value) ** 2 + (3 * c.INFLATION_SPREAD.value) ** 2
) / sqrt(3)


def prior(*, spread: float, further: int = 0) -> Belief:
    """The level of log-ratios to the card about 0, and `further` effects about 0."""
    return belief_around(
        [0.0] * (1 + further),
        weights=[CARD_WEIGHT] + [EFFECT_WEIGHT] * further,
        spread=spread,
        spread_weight=SPREAD_WEIGHT,
    )
