"""What finished jobs say of the rate card and of the estimates. Needs numpy and scipy."""

from .beta import Beta, beta_around
from .calibration import (
    Calibration,
    PhaseError,
    RangedJob,
    Verdict,
    calibration,
    phase_errors,
    share_interval,
)
from .fill import BandFill, FillLearning, FillObservation, filled_m3, learn_fill
from .losses import LossObservation, learn_loss
from .observed import Observation, observations_of
from .proposal import Learned, Proposal
from .times import PhaseLearning, learn_times
from .unit_times import TIMES_OF_PHASE, rates_with

__all__ = [
    "TIMES_OF_PHASE",
    "BandFill",
    "Beta",
    "Calibration",
    "FillLearning",
    "FillObservation",
    "Learned",
    "LossObservation",
    "Observation",
    "PhaseError",
    "PhaseLearning",
    "Proposal",
    "RangedJob",
    "Verdict",
    "beta_around",
    "calibration",
    "filled_m3",
    "learn_fill",
    "learn_loss",
    "learn_times",
    "observations_of",
    "phase_errors",
    "rates_with",
    "share_interval",
]
