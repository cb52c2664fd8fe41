"""Fit a piece to what a client can pay."""

from .fitting import BudgetTooSmall, Fit, fit_budget
from .scaling import FIT_BY, scaled

__all__ = ["FIT_BY", "BudgetTooSmall", "Fit", "fit_budget", "scaled"]
