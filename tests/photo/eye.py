"""A camera whose every number is known, and walls seen by it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

cv2: Any = pytest.importorskip("cv2")

SIZE = (4000, 3000)
FOCAL = 3000.0


@dataclass(frozen=True)
class Eye:
    """A camera without bending: where it stands and looks, in wall axes (x, y into the wall, z up)."""

    at: tuple[float, float, float]
    looks: tuple[float, float, float] = (1200.0, 0.0, 750.0)
    focal: float = FOCAL
    size: tuple[int, int] = SIZE

    @property
    def turn(self) -> Any:
        ahead = np.array(self.looks) - np.array(self.at)
        ahead = ahead / np.linalg.norm(ahead)
        right = np.cross(ahead, (0.0, 0.0, 1.0))
        right /= np.linalg.norm(right)
        return np.array([right, np.cross(ahead, right), ahead])

    def sees(self, points: Any) -> Any:
        """Pixels of points (n, 3)."""
        at = (np.atleast_2d(np.asarray(points, float)) - np.array(self.at)) @ self.turn.T
        return self.focal * at[:, :2] / at[:, 2:] + np.array(self.size) / 2

    def on_wall(self, places: Any) -> Any:
        """Pixels of places (x, z) on the wall."""
        places = np.atleast_2d(np.asarray(places, float))
        return self.sees(np.column_stack((places[:, 0], np.zeros(len(places)), places[:, 1])))


def at_angle(degrees: float, up: float = 1400.0, away: float = 3500.0) -> Eye:
    """So far off square, in plan, to the right of the wall's middle."""
    turn = np.radians(degrees)
    return Eye((1200.0 + away * float(np.sin(turn)), -away * float(np.cos(turn)), up))


FRONTAL = Eye((1200.0, -3500.0, 1000.0))
AT_35 = at_angle(35.0)


def bent(px: Any, k1: float, eye: Eye) -> Any:
    """Pixels through OpenCV's first radial term (Brown): the oracle of the lens."""
    rays = np.column_stack(((px - np.array(eye.size) / 2) / eye.focal, np.ones(len(px))))
    matrix = np.array([[eye.focal, 0, eye.size[0] / 2], [0, eye.focal, eye.size[1] / 2], [0, 0, 1.0]])
    return cv2.projectPoints(rays, np.zeros(3), np.zeros(3), matrix, np.array([k1, 0.0, 0, 0, 0]))[0].reshape(
        -1, 2
    )


def photographed(eye: Eye, wall: Any, width: float, height: float) -> Any:
    """The photo of a wall painted as `wall` (rows from the ceiling down), grey around it."""
    high, wide = wall.shape[:2]
    corners = np.array([(0, height), (width, height), (width, 0), (0, 0)], float)
    there = np.array([(0, 0), (wide, 0), (wide, high), (0, high)], np.float32)
    h = cv2.getPerspectiveTransform(there, eye.on_wall(corners).astype(np.float32))
    return cv2.warpPerspective(wall, h, eye.size, flags=cv2.INTER_AREA, borderValue=(140, 140, 140))


def point_lines(eye: Eye, points: dict[str, tuple[float, float, float]]) -> list[str]:
    """[[points]] of (x, z, out) as the camera sees them."""
    out: list[str] = []
    for ref, (x, z, away) in points.items():
        u, v = eye.sees([(x, -away, z)])[0]
        out += ["[[points]]", f'ref = "{ref}"', f"px = [{u:.3f}, {v:.3f}]", f"x = {{ value = {x}, state = \"verified\", tolerance = 1 }}",
                f"z = {{ value = {z}, state = \"verified\", tolerance = 1 }}", f"out = {away}"]  # fmt: skip
    return out
