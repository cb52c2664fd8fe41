"""Stepping back, checking and filling: balloons are turned into the gaps a viewer sees.

Makers do this last, on site, and the hours count it. Where the face of the garland, W wide
about the path, shows no balloon, the one whose edge is nearest is drawn towards it.
"""

from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from .course import Course, Floats

_CELL_M: Final = 0.03
# Of the nearest centres, one belongs to the nearest edge: large balloons lie further off.
_CANDIDATES: Final = 6
# One step draws a balloon to a gap of its own area by this much of a metre, but by no more
# than this share of its radius.
_DRAW_M: Final = 1.0
_MOST: Final = 0.08
_TINY: Final = 1e-9


@dataclass(frozen=True)
class Face:
    """Small squares that tile the face, by their middles (n, 2)."""

    cells: Floats


def face_of(course: Course) -> Face:
    flat, half = course.points[:, :2], course.widths / 2
    low, high = (flat - half[:, None]).min(axis=0), (flat + half[:, None]).max(axis=0)
    x, y = (np.arange(a, b, _CELL_M) + _CELL_M / 2 for a, b in zip(low, high, strict=True))
    cells = np.stack([part.ravel() for part in np.meshgrid(x, y)], axis=1)
    distance, near = cKDTree(flat).query(cells, distance_upper_bound=float(half.max()))
    met = np.isfinite(distance)
    cells, distance, near = cells[met], distance[met], near[met]
    inside = distance <= half[near]
    if not course.closed:
        for end, outward in course.ends:
            inside &= ~((near == end) & ((cells - flat[end]) @ outward[:2] > 0))
    return Face(cells[inside])


def drawn_to_gaps(face: Face, at: Floats, radii: Floats, fills: NDArray[np.bool_]) -> Floats:
    """A move for each balloon; only those that `fills` marks are moved or close a gap."""
    move = np.zeros_like(at)
    who = np.flatnonzero(fills)
    if not len(who) or not len(face.cells):
        return move
    flat, r = at[who, :2], radii[who]
    known = min(_CANDIDATES, len(who))
    distance, near = (
        part.reshape(len(face.cells), known) for part in cKDTree(flat).query(face.cells, k=known)
    )
    to_edge = distance - r[near]
    row, best = np.arange(len(near)), to_edge.argmin(axis=1)
    is_open = to_edge[row, best] > 0
    chosen = near[row, best][is_open]
    pull = (face.cells[is_open] - flat[chosen]) / distance[row, best][is_open, None]
    pull *= (_DRAW_M * _CELL_M**2 / (pi * r[chosen] ** 2))[:, None]
    total = np.stack([np.bincount(chosen, pull[:, k], len(who)) for k in range(2)], axis=1)
    size = np.linalg.norm(total, axis=1, keepdims=True) + _TINY
    move[who, :2] = total * np.minimum(1, _MOST * r[:, None] / size)
    return move
