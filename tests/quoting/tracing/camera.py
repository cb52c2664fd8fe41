"""A pinhole camera of our own before a wall, so that the truth behind a photo is known.

The wall is the plane of x (right) and z (up) in metres; the camera stands before it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def turn(axis: int, degrees: float) -> Floats:
    i, j = [k for k in range(3) if k != axis]
    matrix = np.eye(3)
    matrix[[i, j], [i, j]] = np.cos(np.radians(degrees))
    matrix[i, j] = -np.sin(np.radians(degrees))
    matrix[j, i] = np.sin(np.radians(degrees))
    return matrix


@dataclass(frozen=True, kw_only=True)
class Camera:
    """Aims at `aim_m` on the wall from `away_m`, yawed, pitched and rolled by degrees."""

    aim_m: tuple[float, float] = (0.0, 1.2)
    away_m: float = 5.0
    yaw: float = 0.0
    pitch: float = 0.0
    roll: float = 0.0
    photo_px: tuple[int, int] = (4000, 3000)
    focal_px: float = 3000.0

    @property
    def turned(self) -> Floats:
        return turn(2, self.roll) @ turn(0, self.pitch) @ turn(1, self.yaw)

    def depths(self, points: Floats) -> Floats:
        return self.seen(points)[:, 2]

    def pixels(self, points: Floats) -> Floats:
        """(n, 2) wall metres, or (n, 3) with metres out of the wall, to (n, 2) pixels."""
        x, y, z = self.seen(points).T
        middle = np.array(self.photo_px) / 2
        return np.column_stack([x, y]) * self.focal_px / z[:, None] + middle

    def in_photo(self, points: Floats) -> bool:
        pixels = self.pixels(points)
        return bool(
            (self.depths(points) > 0.3).all()
            and (pixels >= 0).all()
            and (pixels <= self.photo_px).all()
        )

    def seen(self, points: Floats) -> Floats:
        """Right, down, ahead of the camera; circling around its aim."""
        out = points[:, 2] if points.shape[1] == 3 else np.zeros(len(points))
        from_aim = np.column_stack(
            [points[:, 0] - self.aim_m[0], self.aim_m[1] - points[:, 1], -out]
        )
        return from_aim @ self.turned.T + [0, 0, self.away_m]


def rectangle(width: float, height: float, *, left: float = -0.45, low: float = 0.0) -> Floats:
    """Clockwise from the top left."""
    right, top = left + width, low + height
    return np.array([(left, top), (right, top), (right, low), (left, low)])
