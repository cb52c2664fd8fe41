"""Fit a piece to what a client can pay."""

from .fitting import BudgetTooSmall, Fit, fit_budget
from .scaling import scaled

__all__ = ["BudgetTooSmall", "Fit", "fit_budget", "scaled"]
