"""How far a job may fall from its estimate, and what moves it most. Needs numpy."""

from .chances import HonestRange, Spread, order_range, range_of
from .sensitivity import Effect

__all__ = ["Effect", "HonestRange", "Spread", "order_range", "range_of"]
