"""Which jobs stand apart from the others. They are pointed out; leaving them out is the owner's.

Modified z-scores: 0.6745 |y - median| / MAD over 3.5 (Iglewicz and Hoaglin 1993, in the
NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17; from memory), on logarithms.
"""

from collections.abc import Sequence
from math import exp, log
from statistics import median
from typing import Final

MOST_Z: Final = 3.5
NORMAL_MAD: Final = 0.6745  # of a standard deviation
# From this many jobs on they are held against each other; fewer against the card.
JOBS_TO_COMPARE: Final = 5
# Jobs that happen to agree closely make no outlier of one that is a tenth off.
LEAST_SIGMA: Final = 0.10
# From memory: four times as long, or a quarter, is a slip of the pen or another kind of job.
FAR_FROM_CARD: Final = log(4)

RULE: Final = (
    f"From {JOBS_TO_COMPARE} jobs on, a job stands apart where its modified z-score is over "
    f"{MOST_Z:g}; with fewer, where it is over {exp(FAR_FROM_CARD):.0f} times the card or under "
    f"a {exp(FAR_FROM_CARD):.0f}th of it."
)


def sigma_of(values: Sequence[float]) -> float:
    """Of most of them, whatever a few do: MAD / 0.6745."""
    middle = median(values)
    return median(abs(value - middle) for value in values) / NORMAL_MAD


def stand_apart(logs: Sequence[float]) -> tuple[bool, ...]:
    """Of each log-ratio to the card, in the same order."""
    if len(logs) < JOBS_TO_COMPARE:
        return tuple(abs(value) > FAR_FROM_CARD for value in logs)
    middle, sigma = median(logs), max(sigma_of(logs), LEAST_SIGMA)
    return tuple(abs(value - middle) > MOST_Z * sigma for value in logs)
