"""A wall painted with crosses at known places, photographed by a known camera and laid straight again."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.photo.eye import AT_35, SIZE, bent, photographed
from wallwright.core.shape import Box
from wallwright.export.photo_straight import straightened
from wallwright.photo.fit import Doubt, Fit, Marked, fitted, sure_at
from wallwright.photo.straight import bent_px, maps, marked_area, step_for, sure_over

cv2: Any = pytest.importorskip("cv2")

CROSSES = [(600, 400), (1800, 1100), (1200, 750), (2100, 300)]
AT = [(0, 0), (2400, 0), (2400, 1500), (0, 1500), (1200, 0), (1200, 1500)]
FACE = Box(0, 0, 2400, 1500)


def fit(k1: float = 0.0) -> Fit:
    px = AT_35.on_wall(AT)
    px = bent(px, k1, AT_35) if k1 else px
    marked = [Marked(f"P{i}", (u, v), (x, z)) for i, ((u, v), (x, z)) in enumerate(zip(px, AT, strict=True))]
    return fitted(marked, Doubt(1.0, 0.05 if k1 else 0.0, SIZE))


def wall() -> Any:
    """White, 2 mm a pixel, with a black square of 24 mm at each place."""
    out = np.full((750, 1200, 3), 255, np.uint8)
    for x, z in CROSSES:
        out[(1500 - z) // 2 - 6 : (1500 - z) // 2 + 6, x // 2 - 6 : x // 2 + 6] = 0
    return out


def test_places_come_back_to_scale() -> None:
    """Middles of the dark squares in the straight picture, in mm, within 1 mm: half a pixel of the photo."""
    photo = photographed(AT_35, wall(), 2400, 1500)
    across, down = maps(fit(), FACE, 2.0)
    flat = cv2.remap(photo, across, down, cv2.INTER_LINEAR)
    assert flat.shape[:2] == (750, 1200)
    for x, z in CROSSES:
        part = 255.0 - flat[(1500 - z) // 2 - 15 : (1500 - z) // 2 + 15, x // 2 - 15 : x // 2 + 15, 0]
        rows, columns = np.mgrid[0:30, 0:30]
        mid = (columns * part).sum() / part.sum(), (rows * part).sum() / part.sum()
        assert x - 30 + 2 * (mid[0] + 0.5) == pytest.approx(x, abs=1.2)
        assert z + 30 - 2 * (mid[1] + 0.5) == pytest.approx(z, abs=1.2)


def test_the_map_is_opencvs_own_where_nothing_is_bent() -> None:
    made = fit()
    places = np.array([(100.0, 50.0), (2300.0, 1400.0)])
    theirs = cv2.perspectiveTransform(places.reshape(-1, 1, 2), made.to_px).reshape(-1, 2)
    assert bent_px(made, places) == pytest.approx(theirs, abs=1e-6)


def test_a_bent_photo_is_looked_up_where_it_is_bent() -> None:
    made = fit(-0.05)
    there = bent(AT_35.on_wall(CROSSES), -0.05, AT_35)
    assert bent_px(made, np.array(CROSSES, float)) == pytest.approx(there, abs=0.5)
    assert np.abs(bent_px(fit(), np.array(CROSSES, float)) - there).max() > 2.5


def test_places_behind_the_camera_show_nothing() -> None:
    """At 35° the wall's plane meets the camera's own plane some 3.8 m further right: beyond it there is no picture."""
    assert bent_px(fit(), np.array([(20000.0, 750.0)])).max() < 0
    assert bent_px(fit(), np.array([(-20000.0, 750.0)])).max() > 0


def test_step_and_extent() -> None:
    made = fit()
    assert marked_area(made) == FACE
    assert step_for(FACE, made) == 1.5  # a pixel of the photo is 1.17 to 1.43 mm at the middle
    assert step_for(Box(0, 0, 40_000, 15_000), made) == 5.0  # 24 million pixels at most


def test_how_sure_over_the_wall() -> None:
    found = sure_over(fit(), FACE)
    assert {(one.x, one.z) for one in found} >= {(0, 0), (2400, 1500), (1200, 1500)}
    assert all(one.sure == pytest.approx(sure_at(fit(), (one.x, one.z))) for one in found[::4])
    assert max(one.sure for one in found) < 8


def test_the_picture_greys_what_it_does_not_measure() -> None:
    """Far outside the points ± grows: there the picture loses its colour, at the points it keeps it."""
    photo = np.zeros((SIZE[1], SIZE[0], 3), np.uint8)
    photo[:] = (40, 80, 200)
    made = straightened(fit(), photo, Box(-600, 0, 3000, 1500), 6.0, "wall", 4.0)
    foot = made.pixels.shape[0] - made.pixels.shape[0] // 5
    colour = np.ptp(made.pixels[:foot].astype(int), axis=2)
    pad = (made.pixels.shape[1] - 750) // 2
    assert (made.step, made.pixels.shape[1] - 2 * pad) == (4.0, 750)
    assert np.median(colour[100:300, pad + 400 : pad + 500]) > 100
    assert np.median(colour[100:300, pad + 5 : pad + 60]) == 0
