"""Lamps in view: solid angle, the light on the eye by another way, and the veil of a lamp by hand."""

from __future__ import annotations

import math

import pytest

from wallwright.sight.glare import glares, solid_angle
from wallwright.sight.mirrored import Source
from wallwright.sight.record import SeatView
from wallwright.sight.reflect import Glass
from wallwright.sight.veil import Front, Picture

GLASS = Glass((0.0, 0.0, 1100.0), 1439.0, 809.4, 0.0)
SEAT = SeatView(
    "A", "sofa", "upright", (0.0, -3000.0, 1100.0), True, 0, 7, 1, 3000, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0
)
FACE, SHOWN = Front("matte", 0.005, 0.0, 1.5), Picture(60.0, 200.0, 0.05, 0.0)


def square(side: float, x: float, y: float, z: float) -> tuple[tuple[float, float, float], ...]:
    h = side / 2
    return (x - h, y, z - h), (x + h, y, z - h), (x + h, y, z + h), (x - h, y, z + h)


def test_solid_angle_of_a_face_of_a_cube() -> None:
    """From the middle of a cube each face fills a sixth of all directions: 4 π/6."""
    assert solid_angle((0, 0, 0), square(2, 0, 1, 0)) == pytest.approx(4 * math.pi / 6)


def test_a_lamp_half_a_metre_wide_one_metre_up() -> None:
    """5000 cd/m², 0.5 m square, 3 m ahead and 1 m up: ω = 0.02361 sr (computed, evalglare 3.06); E = L ω cos θ and 10 E/θ²."""
    lamp = Source("L1", "pendant", square(500, 0, 0, 2100), 5000.0, True)
    assert solid_angle(SEAT.eye, lamp.corners) == pytest.approx(0.02361, abs=1e-5)
    (hit,) = glares([lamp], [SEAT], GLASS, FACE, SHOWN)
    angle = math.degrees(math.atan(1 / 3))
    assert hit.angle == pytest.approx(angle)
    assert hit.light == pytest.approx(5000 * 0.02361 * math.cos(math.radians(angle)), rel=1e-3)
    assert hit.light == pytest.approx(
        112.29, rel=4e-3
    )  # computed (evalglare 3.06): illuminance of the same square
    assert hit.veil == pytest.approx(10 * hit.light / angle**2)
    assert hit.contrast == pytest.approx((200 + hit.veil) / (0.05 + hit.veil))


def test_what_is_not_in_view() -> None:
    """Beyond 30° the formula does not hold; behind its cut-off a downlight shows nothing bright."""
    wide = Source("L1", "pendant", square(500, 2500, 0, 1100), 5000.0, True)
    assert not glares([wide], [SEAT], GLASS, FACE, SHOWN)
    low = Source("L2", "downlight", square(100, 0, -500, 2400), 5000.0, True, cut_off=30.0)
    assert not glares([low], [SEAT], GLASS, FACE, SHOWN)
    bare = Source("L2", "downlight", square(100, 0, -500, 2400), 5000.0, True)
    assert len(glares([bare], [SEAT], GLASS, FACE, SHOWN)) == 1
