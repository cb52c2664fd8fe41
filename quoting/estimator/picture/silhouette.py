"""The area that discs cover together, by the union of their chords along close lines."""

from typing import Final

import numpy as np

from .course import Floats

_LINE_M: Final = 0.002


def covered_area(x: Floats, y: Floats, radii: Floats, *, line_m: float = _LINE_M) -> float:
    """m2. Exact along each line; lines 2 mm apart are within 0.1 % for balloons of 5 cm and up."""
    if not len(x):
        return 0.0
    first = np.ceil((y - radii) / line_m - 0.5).astype(np.intp)
    last = np.floor((y + radii) / line_m - 0.5).astype(np.intp)
    count = np.maximum(last - first + 1, 0)
    disc = np.repeat(np.arange(len(x)), count)
    line = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count) + first[disc]
    half = np.sqrt(np.maximum(radii[disc] ** 2 - ((line + 0.5) * line_m - y[disc]) ** 2, 0))
    # Lines are laid end to end, far enough apart that no chord meets another line's.
    stride = float(np.ptp(x) + 4 * radii.max())
    shift = (line - line.min()) * stride + radii.max() - x.min()
    starts, stops = x[disc] - half + shift, x[disc] + half + shift
    order = np.argsort(starts, kind="stable")
    starts, stops = starts[order], np.maximum.accumulate(stops[order])
    before = np.concatenate([[0.0], stops[:-1]])
    return float(np.maximum(stops - np.maximum(starts, before), 0).sum() * line_m)
