"""Where a photo was taken from, against the camera that took it and OpenCV's own solution."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.photo.eye import AT_35, FRONTAL, SIZE, Eye, at_angle
from wallwright.photo.camera import focal_from_35, focal_from_plane, off_plane, posed, seen, spread_of
from wallwright.photo.homography import homography

cv2: Any = pytest.importorskip("cv2")

WALL = np.array([(0, 0), (2400, 0), (2400, 1500), (0, 1500)], float)
FLAT = np.column_stack((WALL[:, 0], np.zeros(4), WALL[:, 1]))
MORE = np.vstack((FLAT, [(800, 0, 0), (1600, 0, 0), (300, -900, 0), (2100, -900, 0)]))
PROUD = np.array([(1200.0, -400.0, 500.0)])


@pytest.mark.parametrize("degrees", [20.0, 35.0, 60.0])
def test_focal_length_from_a_rectangle(degrees: float) -> None:
    """3000.000 from exact marks (orthogonal vanishing points)."""
    eye = at_angle(degrees)
    assert focal_from_plane(homography(WALL, eye.on_wall(WALL)), SIZE) == pytest.approx(3000.0, rel=1e-6)


def test_square_on_nothing_tells_the_focal_length() -> None:
    eye = Eye((1200.0, -3500.0, 750.0))
    assert focal_from_plane(homography(WALL, eye.on_wall(WALL)), SIZE) is None
    level = at_angle(
        35.0, up=750.0
    )  # uprights stay parallel: one of the two formulas is 0/0, the other holds
    assert focal_from_plane(homography(WALL, level.on_wall(WALL)), SIZE) == pytest.approx(3000.0, rel=1e-6)


def test_focal_length_as_files_tell_it() -> None:
    """26 mm on 4000 × 3000: 26 · 5000 / 43.267 = 3005 px."""
    assert focal_from_35(26.0, SIZE) == pytest.approx(3004.6, abs=0.5)


@pytest.mark.parametrize("eye", [FRONTAL, AT_35, at_angle(-50.0), at_angle(20.0, up=300.0)])
def test_exact_marks_give_the_camera_back(eye: Eye) -> None:
    made = posed(FLAT, eye.sees(FLAT), 3000.0, SIZE)
    assert made.at == pytest.approx(np.array(eye.at), abs=1e-3) and made.rms < 1e-6
    assert made.turn == pytest.approx(eye.turn, abs=1e-7)
    assert seen(made, PROUD) == pytest.approx(eye.sees(PROUD), abs=1e-5)


def trials(eye: Eye, points: Any, count: int = 250) -> tuple[Any, Any]:
    """Place of the camera and of a point 400 mm proud, with 1 px on every mark: errors [mm], [px]."""
    rng = np.random.default_rng(8)
    exact, there = eye.sees(points), eye.sees(PROUD)
    made = [posed(points, exact + rng.normal(0, 1, exact.shape), 3000.0, SIZE) for _ in range(count)]
    off = np.array([np.linalg.norm(one.at - np.array(eye.at)) for one in made])
    return off, np.array([np.linalg.norm(seen(one, PROUD) - there) for one in made])


@pytest.mark.parametrize(("eye", "mm", "px"), [
    (FRONTAL, 20.7, 3.96), (at_angle(20.0), 17.0, 2.71), (AT_35, 12.2, 2.12),
], ids=["square on", "20", "35"])  # fmt: skip
def test_the_refined_camera_against_computed_spreads(eye: Eye, mm: float, px: float) -> None:
    """95 % of places within mm, of a point 400 mm proud within px (computed by another program: solvePnP and refinement); 25 %."""
    off, overlay = trials(eye, FLAT)
    assert np.quantile(off, 0.95) == pytest.approx(mm, rel=0.25)
    assert np.quantile(overlay, 0.95) == pytest.approx(px, rel=0.25)


def test_points_on_the_floor_make_it_surer() -> None:
    """With skirting and floor, eight points: 5.4 mm, 1.04 px at 35° (computed); 40 %, for those floor points' places are not told."""
    off, overlay = trials(AT_35, MORE)
    assert np.quantile(off, 0.95) == pytest.approx(5.4, rel=0.4)
    assert np.quantile(overlay, 0.95) == pytest.approx(1.04, rel=0.4)


def test_the_spread_of_what_is_drawn_agrees_with_trials() -> None:
    _, overlay = trials(AT_35, MORE, 400)
    made = posed(MORE, AT_35.sees(MORE), 3000.0, SIZE)
    assert np.sqrt(np.trace(spread_of(made, PROUD))) == pytest.approx(np.sqrt((overlay**2).mean()), rel=0.1)


def test_a_wrong_focal_length_is_put_right_by_the_floor() -> None:
    """Told 26 mm (3005 px) with 15 % doubt, taken with 3600 px: found within 1 %."""
    eye = Eye(AT_35.at, AT_35.looks, 3600.0)
    made = posed(MORE, eye.sees(MORE), 3005.0, SIZE, 0.5, 0.15)
    assert made.focal == pytest.approx(3600.0, rel=0.01)
    assert made.at == pytest.approx(np.array(eye.at), abs=40)


def test_what_stands_off_the_wall_seems_shifted() -> None:
    """20 mm off the plane seen at 35°: 19.6 mm by similar triangles at the right place (computed: ray through the point to y = 0)."""
    made = posed(FLAT, AT_35.sees(FLAT), 3000.0, SIZE)
    at = np.array([(600.0, -20.0, 400.0)])
    ray = at[0] - np.array(AT_35.at)
    hit = np.array(AT_35.at) + ray * (-AT_35.at[1] / ray[1])
    shift = float(np.hypot(hit[0] - 600.0, hit[2] - 400.0))
    assert off_plane(made, (600.0, 400.0), 20.0) == pytest.approx(shift, rel=0.02)


def test_points_seen_from_behind_are_refused() -> None:
    with pytest.raises(ValueError, match="no camera in front"):
        posed(FLAT, AT_35.sees(FLAT) * (-1, 1) + (4000, 0), 3000.0, SIZE)


def test_each_formula_stands_in_where_the_other_fails() -> None:
    """Turned as far sideways as up, the second formula is 0/0 (its two vanishing points lie equally far): the first holds."""

    def unlike(up: float) -> float:
        h = np.linalg.inv(homography(at_angle(35.0, up=up).on_wall(WALL), WALL))
        return float(h[2, 0] ** 2 - h[2, 1] ** 2)

    low, high = 750.0, 6000.0
    assert unlike(low) > 0 > unlike(high)
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if unlike(middle) > 0 else (low, middle)
    eye = at_angle(35.0, up=low)
    assert focal_from_plane(homography(WALL, eye.on_wall(WALL)), SIZE) == pytest.approx(3000.0, rel=1e-6)
