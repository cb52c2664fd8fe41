"""The map between two views of one plane, from points known in both.

Direct linear transform with normalised points: R. Hartley, "In defence of the eight-point
algorithm", *IEEE Transactions on Pattern Analysis and Machine Intelligence* 19(6), 1997;
R. Hartley, A. Zisserman, *Multiple View Geometry*, 2nd edition, algorithm 4.2.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def direct_linear_transform(seen: Floats, known: Floats) -> Floats:
    """3 x 3 of (n, 2) `seen` to (n, 2) `known`, n at least 4; mean w over `seen` is 1."""
    from_seen, to_known = _normaliser(seen), _normaliser(known)
    x, y = _homogeneous(seen) @ from_seen.T[:, :2], _homogeneous(known) @ to_known.T[:, :2]
    p = _homogeneous(x)
    nothing = np.zeros_like(p)
    across = np.hstack([p, nothing, -y[:, :1] * p])
    up = np.hstack([nothing, p, -y[:, 1:] * p])
    *_, rows = np.linalg.svd(np.vstack([across, up]))
    matrix = np.linalg.inv(to_known) @ rows[-1].reshape(3, 3) @ from_seen
    return scaled(matrix, seen)


def scaled(matrix: Floats, points: Floats) -> Floats:
    """The same map, with positive w on the side of the horizon where `points` lie."""
    return matrix / (_homogeneous(points) @ matrix[2]).mean()


def mapped(matrix: Floats, points: Floats) -> tuple[Floats, Floats]:
    """(n, 2) images and (n,) w: how near a point is to the horizon, where w is 0."""
    images = _homogeneous(points) @ matrix.T
    w = images[:, 2]
    return images[:, :2] / w[:, None], w


def slope(matrix: Floats, point: Floats) -> Floats:
    """2 x 2 derivative of the map at a point."""
    image, w = mapped(matrix, point[None, :])
    return (matrix[:2, :2] - np.outer(image[0], matrix[2, :2])) / w[0]


def _homogeneous(points: Floats) -> Floats:
    return np.column_stack([points, np.ones(len(points))])


def _normaliser(points: Floats) -> Floats:
    """Moves the centre to 0 and the mean distance from it to the root of 2."""
    centre = points.mean(axis=0)
    scale = np.sqrt(2) / np.linalg.norm(points - centre, axis=1).mean()
    return np.array([[scale, 0, -scale * centre[0]], [0, scale, -scale * centre[1]], [0, 0, 1]])
