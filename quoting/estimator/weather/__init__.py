"""The weather a piece meets: wind, heat and cold, daylight. Nothing is fetched.

`weather.daylight` is imported by itself: only it needs astral.
"""

from .advice import Advice, advice_for
from .beaufort import Beaufort, beaufort
from .forecast import Forecast, under_forecast
from .heat import FoilChange, Life, diameter_at, expected_life, foil_change
from .wind import Wind, anchors_for, wind_chill, wind_force, wind_on, wind_pressure

__all__ = [
    "Advice",
    "Beaufort",
    "FoilChange",
    "Forecast",
    "Life",
    "Wind",
    "advice_for",
    "anchors_for",
    "beaufort",
    "diameter_at",
    "expected_life",
    "foil_change",
    "under_forecast",
    "wind_chill",
    "wind_force",
    "wind_on",
    "wind_pressure",
]
