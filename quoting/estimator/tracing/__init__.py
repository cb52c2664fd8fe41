"""A path tapped on the client's own photo becomes metres, and metres a place on the photo."""

from .path import DEPTH_NOT_SEEN, MOST_TAPS, UNSURE, Trace, trace
from .plane import (
    MARK_SD,
    SIZE_M,
    SQUARE_ON,
    SWAPPED,
    Ellipse,
    Plane,
    plane_from_length,
    plane_from_rectangle,
)
from .problems import Point, TraceError

__all__ = [
    "DEPTH_NOT_SEEN",
    "MARK_SD",
    "MOST_TAPS",
    "SIZE_M",
    "SQUARE_ON",
    "SWAPPED",
    "UNSURE",
    "Ellipse",
    "Plane",
    "Point",
    "Trace",
    "TraceError",
    "plane_from_length",
    "plane_from_rectangle",
    "trace",
]
