"""Balloons as soft spheres: they press each other apart and their ties draw them together.

Every step moves each balloon a little towards where its forces balance. Constants are the
same for every garland: nothing here knows what silhouette is hoped for.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from .course import Course, Floats
from .gaps import Face, drawn_to_gaps

# Shares of what is wrong that one step puts right: well below 1, as a balloon has up to
# twelve neighbours and the whole would swing instead of settling.
_PRESS: Final = 0.5
_CONFINE: Final = 0.7
_PULL: Final = 0.2
# Balloons begin small and grow, so that they can pass each other while there is room;
# then gaps in the face are filled; then all come to rest.
_SMALLEST: Final = 0.6
_GROWN_BY: Final = 0.4
_FILLED_BY: Final = 0.85
_NEIGHBOURS_EVERY: Final = 4
_SKIN: Final = 0.2
_TINY: Final = 1e-9


@dataclass(frozen=True)
class Bodies:
    """Arrays of one length, in metres.

    `ties` are the points the necks are tied to and `slack` how far from them a centre may
    be; `proud` is how far a balloon may stand out of the width of the garland; `free` are
    those that still move, `fills` those that are to close the gaps in the face.
    """

    centres: Floats
    radii: Floats
    ties: Floats
    slack: Floats
    proud: Floats
    free: NDArray[np.bool_]
    fills: NDArray[np.bool_]


def joined(some: Bodies, others: Bodies) -> Bodies:
    pairs = zip(vars(some).items(), vars(others).values(), strict=True)
    return Bodies(**{name: np.concatenate([a, b]) for (name, a), b in pairs})


@dataclass(frozen=True)
class _Contacts:
    one: NDArray[np.intp]
    other: NDArray[np.intp]
    one_gives: Floats


def relax(
    bodies: Bodies, course: Course, *, wall: bool, steps: int, face: Face | None = None
) -> Bodies:
    """`wall`: a flat backing at depth 0, in front of which everything stays."""
    at = bodies.centres.copy()
    contacts, to_gaps = _contacts(bodies, at), np.zeros_like(at)
    for step in range(steps):
        grown = min(1.0, _SMALLEST + (1 - _SMALLEST) * step / (_GROWN_BY * steps))
        radii = np.where(bodies.free, bodies.radii * grown, bodies.radii)
        if step % _NEIGHBOURS_EVERY == 0:
            contacts = _contacts(bodies, at)
            to_gaps = _to_gaps(bodies, at, face, step / steps)
        move = _pressed(at, radii, contacts) + _tied(at, bodies) + to_gaps
        move += _confined(at, radii, bodies.proud, course)
        if wall:
            move[:, 2] += _CONFINE * np.maximum(radii - at[:, 2], 0)
        at += move * bodies.free[:, None]
    return replace(bodies, centres=at)


def _to_gaps(bodies: Bodies, at: Floats, face: Face | None, done: float) -> Floats:
    if face is None or not _GROWN_BY <= done < _FILLED_BY:
        return np.zeros_like(at)
    return drawn_to_gaps(face, at, bodies.radii, bodies.fills)


def _contacts(bodies: Bodies, at: Floats) -> _Contacts:
    """Pairs that touch or soon may. The light give way to the heavy."""
    reach = 2 * float(bodies.radii.max(initial=0))
    pairs = cKDTree(at).query_pairs(reach, output_type="ndarray")
    one, other = pairs[:, 0], pairs[:, 1]
    near = (bodies.radii[one] + bodies.radii[other]) * (1 + _SKIN)
    apart = np.linalg.norm(at[one] - at[other], axis=1)
    keep = (apart < near) & (bodies.free[one] | bodies.free[other])
    one, other = one[keep], other[keep]
    ease = np.where(bodies.free, bodies.radii**-3, 0.0)
    return _Contacts(one, other, ease[one] / (ease[one] + ease[other]))


def _pressed(at: Floats, radii: Floats, contacts: _Contacts) -> Floats:
    one, other = contacts.one, contacts.other
    between = at[one] - at[other]
    apart = np.sqrt(np.einsum("ij,ij->i", between, between)) + _TINY
    overlap = np.maximum(radii[one] + radii[other] - apart, 0)
    push = between * (_PRESS * overlap / apart)[:, None]
    given, taken = push * contacts.one_gives[:, None], push * (1 - contacts.one_gives)[:, None]
    count = len(at)
    return np.stack(
        [
            np.bincount(one, given[:, k], count) - np.bincount(other, taken[:, k], count)
            for k in range(3)
        ],
        axis=1,
    )


def _confined(at: Floats, radii: Floats, proud: Floats, course: Course) -> Floats:
    """Back inside the width about the nearest point of the path, and inside its two ends.

    At an end only half as proud: an edge there is a cut across, not a side that is seen along.
    """
    _, near = course.tree.query(at)
    out = at - course.points[near]
    distance = np.sqrt(np.einsum("ij,ij->i", out, out)) + _TINY
    excess = np.maximum(distance + radii - course.widths[near] / 2 - proud, 0)
    move = out * (-_CONFINE * excess / distance)[:, None]
    if not course.closed:
        for end, outward in course.ends:
            beyond = (at - course.points[end]) @ outward
            is_near = np.abs(near - end) * course.step_m < 2 * radii
            excess = np.maximum(beyond + radii - proud / 2, 0) * is_near
            move -= _CONFINE * excess[:, None] * outward
    return move


def _tied(at: Floats, bodies: Bodies) -> Floats:
    pull = bodies.ties - at
    distance = np.sqrt(np.einsum("ij,ij->i", pull, pull)) + _TINY
    return pull * (_PULL * np.maximum(distance - bodies.slack, 0) / distance)[:, None]
