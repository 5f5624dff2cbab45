"""The plane map against a camera that is known, a hand case, and OpenCV."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.photo.eye import AT_35, FRONTAL, at_angle
from wallwright.photo.homography import condition, homography, mapped, normaliser, slope

cv2: Any = pytest.importorskip("cv2")

WALL = np.array([(0, 0), (2400, 0), (2400, 1500), (0, 1500)], float)
ASKED = np.array([(1200, 750), (600, 400), (1800, 1100), (3200, 750)], float)
PX = np.array([(1325.7253, 1919.6045), (2976.4503, 2357.3330), (3073.8359, 831.7466), (1280.6782, 868.4284)])
"""The four corners as the 35° camera sees them, to four decimals (computed: pinhole, 3000 px)."""


def test_the_hand_case() -> None:
    """Unit square → (0,0) (4,0) (3,2) (1,2): H by hand; the middle goes to where the diagonals cross, (2, 4/3)."""
    square, there = np.array([(0, 0), (1, 0), (1, 1), (0, 1)]), np.array([(0, 0), (4, 0), (3, 2), (1, 2)])
    h = homography(square, there)
    assert h == pytest.approx(np.array([[4, 2, 0], [0, 4, 0], [0, 1, 1]]), abs=1e-9)
    assert mapped(h, [(0.5, 0.5), (0.5, 1.0)]) == pytest.approx(np.array([(2, 4 / 3), (2, 2)]), abs=1e-9)


def test_the_fixed_view_is_read_back() -> None:
    """The corners' pixels, written to 1e-4 px, give the other places back within 1e-3 mm (a px is 1.2 mm)."""
    assert AT_35.at == pytest.approx((3207.5175, -2867.0322, 1400), abs=1e-4)
    assert AT_35.on_wall(WALL) == pytest.approx(PX, abs=1e-4)
    seen = np.array([(2000, 1500), (1627.8567, 1712.9755), (2466.9635, 1232.7594), (4020.9528, 1758.3837)])
    h = homography(PX, WALL)
    assert mapped(h, seen) == pytest.approx(ASKED, abs=1e-3)
    assert h[0] == pytest.approx([2.8046347, -0.1201898, -3487.45824], rel=1e-6)
    assert h[2] == pytest.approx([3.8408795e-4, -1.00158167e-4, 1], rel=1e-6)


@pytest.mark.parametrize("eye", [FRONTAL, AT_35, at_angle(60.0)], ids=["square on", "35", "60"])
def test_without_noise_nothing_is_lost(eye: Any) -> None:
    h = homography(eye.on_wall(WALL), WALL)
    assert mapped(h, eye.on_wall(ASKED)) == pytest.approx(ASKED, abs=1e-8)


def test_against_opencv() -> None:
    """Eight noisy points: the same map as cv2.findHomography's least squares, within what float32 and its own polish move (0.3 mm)."""
    rng = np.random.default_rng(4)
    at = np.array([(x, z) for x in (0, 800, 1600, 2400) for z in (0, 1500)], float)
    px = AT_35.on_wall(at) + rng.normal(0, 0.5, (8, 2))
    theirs, _ = cv2.findHomography(px, at, 0)
    assert mapped(homography(px, at), AT_35.on_wall(ASKED[:3])) == pytest.approx(
        mapped(theirs, AT_35.on_wall(ASKED[:3])), abs=0.3
    )


def test_a_mark_a_pixel_off_moves_the_middle() -> None:
    """The lower left mark 1 px to the right: Q1 by (-0.369, 0.231), Q2 by (-1.050, 0.036) mm (computed)."""
    moved = PX + np.array([(1, 0), (0, 0), (0, 0), (0, 0)])
    seen = AT_35.on_wall(ASKED[:2])
    shift = mapped(homography(moved, WALL), seen) - mapped(homography(PX, WALL), seen)
    assert shift == pytest.approx(np.array([(-0.369, 0.231), (-1.050, 0.036)]), abs=1e-3)


def test_the_condition_that_normalising_is_for() -> None:
    """3.97 normalised, 3.6e7 raw (computed by numpy's singular values)."""
    assert condition(PX, WALL) == pytest.approx(3.97, rel=0.05)
    assert condition(PX, WALL, normalised=False) == pytest.approx(3.58e7, rel=0.05)


def test_normalised_points() -> None:
    """Hartley and Zisserman, 4.4.4: centroid at the origin, mean distance √2."""
    out = mapped(normaliser(PX), PX)
    assert out.mean(axis=0) == pytest.approx([0, 0], abs=1e-12)
    assert np.hypot(*out.T).mean() == pytest.approx(np.sqrt(2))


def test_the_slope_is_the_derivative() -> None:
    h, at, d = homography(PX, WALL), np.array([1700.0, 1600.0]), 1e-3
    by_steps = np.array([(mapped(h, at + s) - mapped(h, at - s))[0] / (2 * d) for s in np.eye(2) * d]).T
    assert slope(h, at) == pytest.approx(by_steps, rel=1e-5)
