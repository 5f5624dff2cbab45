"""Picture size and angles against hand values and one source."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.sight import angles

INCH = 25.4


@pytest.mark.parametrize(
    ("diagonal", "width", "height"),
    [(65, 1438.97, 809.42), (55, 1217.6, 684.9), (85, 1881.7, 1058.5)],  # 16 D/√337 and 9 D/√337 by hand
)
def test_picture_size(diagonal: float, width: float, height: float) -> None:
    assert angles.picture_size(diagonal) == pytest.approx((width, height), abs=0.06)


@pytest.mark.parametrize(
    ("angle", "diagonals"),
    [
        (20, 2.4715),
        (30, 1.6264),
        (40, 1.1973),
    ],  # 30° at 1.6264 diagonals: encyclopaedia on viewing distance; exact by geometry
)
def test_distance_in_diagonals(angle: float, diagonals: float) -> None:
    width, _ = angles.picture_size(1)
    assert angles.distance_for_angle(width, angle) / INCH == pytest.approx(diagonals, abs=1e-4)
    assert angles.width_for_angle(angle, diagonals * INCH) == pytest.approx(width, rel=1e-4)


@pytest.mark.parametrize(
    ("lines", "heights", "angle"),
    # one arc minute a line (ITU-R BT.500 design viewing distance, quoted as 3.2 H, 1.6 H, 0.8 H): 1/(N tan 1′) by hand
    [(720, 4.7746, 21.09), (1080, 3.1831, 31.21), (2160, 1.5915, 58.37), (4320, 0.7958, 96.33)],
)
def test_acuity_distance_and_the_angle_there(lines: int, heights: float, angle: float) -> None:
    assert angles.acuity_distance(1.0, lines) == pytest.approx(heights, abs=5e-4)
    assert angles.picture_angle(16 / 9, 0.0, heights) == pytest.approx(angle, abs=0.02)


@pytest.mark.parametrize(
    ("angle", "diagonal"), [(30, 65.36), (40, 88.78)]
)  # 2 d tan(θ/2)/0.871576 at 2.7 m by hand
def test_diagonal_for_a_distance(angle: float, diagonal: float) -> None:
    per_inch, _ = angles.picture_size(1)
    assert angles.width_for_angle(angle, 2700) / per_inch == pytest.approx(diagonal, abs=0.02)


def test_pixels_per_degree() -> None:
    width, _ = angles.picture_size(65)
    assert angles.pixels_per_degree(width, 2160, 2700) == pytest.approx(
        125.8, abs=0.2
    )  # 2 d tan 0.5° · 3840 / W by hand
    assert angles.pixels_per_degree(
        width, 2160, angles.acuity_distance(width * 9 / 16, 2160)
    ) == pytest.approx(60, abs=0.01)


def test_seat_beside_the_axis() -> None:
    width, _ = angles.picture_size(65)  # seat 1.2 m aside at 2.7 m: worked by hand
    assert angles.sideways(1200, 2700) == pytest.approx(23.96, abs=0.02)
    assert angles.sideways_far(1200, 2700, width) == pytest.approx(35.41, abs=0.02)
    assert angles.picture_angle(width, 1200, 2700) == pytest.approx(25.32, abs=0.02)


def test_up_and_down() -> None:
    _, height = angles.picture_size(65)
    assert angles.up(height / 2, 2700) == pytest.approx(8.52, abs=0.02)  # by hand
    _, height = angles.picture_size(98)  # centre 1400, eye 1100, 3 m: top 16.88°, bottom −5.90° by hand
    assert angles.up(300 + height / 2, 3000) == pytest.approx(16.88, abs=0.02)
    assert angles.up(300 - height / 2, 3000) == pytest.approx(-5.90, abs=0.02)


def test_tilt() -> None:
    assert angles.tilt_to_face(350, 3000) == pytest.approx(6.654, abs=0.01)  # atan(350/3000)
    _, forward = angles.edge_of_tilted(809.42 / 2, 6.654)
    assert forward == pytest.approx(46.9, abs=0.1)  # (H/2) sin δ by hand


def test_bar_before_the_picture() -> None:
    """A bar hides nothing above its own top unless the eye is below it (similar triangles by hand)."""
    assert angles.hidden_up_to(750, 100, 1100, 2700) == pytest.approx(736.5, abs=0.2)
    assert angles.hidden_up_to(750, 100, 700, 2700) == pytest.approx(751.9, abs=0.2)


def test_sight_line_over_the_foot_of_the_bed() -> None:
    assert angles.ray_height(1116, 1145, 3520, 1760) == pytest.approx(1130.5)  # half-way


@given(st.floats(300, 3000), st.floats(-3000, 3000), st.floats(500, 8000))
def test_picture_angle_properties(width: float, aside: float, distance: float) -> None:
    angle = angles.picture_angle(width, aside, distance)
    assert 0 < angle < 180
    assert angle == pytest.approx(angles.picture_angle(width, -aside, distance))
    assert angle <= angles.picture_angle(width, 0.0, distance) + 1e-9
    assert angle == pytest.approx(  # by vectors
        math.degrees(math.acos(((aside + width / 2) * (aside - width / 2) + distance**2)
                               / math.hypot(aside + width / 2, distance) / math.hypot(aside - width / 2, distance))), abs=1e-5
    )  # fmt: skip
