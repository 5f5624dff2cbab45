"""Mirror images of windows: hand geometry, another way of computing them, and symmetry."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from wallwright.sight.angles import picture_size
from wallwright.sight.reflect import Glass, Point3, area, image, share

PICTURE = picture_size(65)


def upright_window(x0: float, x1: float, z0: float, z1: float, y: float) -> tuple[Point3, ...]:
    return (x0, y, z0), (x1, y, z0), (x1, y, z1), (x0, y, z1)


def lit(tilt: float = 0.0, centre: float = 1080, x: float = 0.0) -> Glass:
    return Glass((x, 0.0, centre), *PICTURE, tilt)


SOUTH = upright_window(-600, 1200, 900, 2100, -5200)
EYE = (0.0, -3600.0, 1080.0)


def test_points_of_the_mirror_image() -> None:
    """Window 4.5 m off, eye at 3 m and 1.1 m: P = (e·w_out + w·e_out)/(e_out + w_out), by hand."""
    wide = Glass((0.0, 0.0, 1100.0), 9000, 9000, 0.0)
    seen = image(wide, (0.0, -3000.0, 1100.0), upright_window(-1000, 1000, 900, 2100, -4500))
    assert sorted((round(x), round(z + 1100)) for x, z in seen) == [
        (-400, 1020),
        (-400, 1500),
        (400, 1020),
        (400, 1500),
    ]
    assert share(
        lit(centre=1100), (0.0, -3000.0, 1100.0), upright_window(-1000, 1000, 900, 2100, -4500)
    ) == pytest.approx(0.3297, abs=1e-3)


def test_side_wall_window() -> None:
    """Eye (−1.2, 3, 1.1), corners (2, 2.2, 2.1) and (2, 1, 0.9): mirrored at x 0.6462 and 1.2, by hand."""
    wide = Glass((0.0, 0.0, 1100.0), 9000, 9000, 0.0)
    corners = (
        (2000.0, -2200.0, 900.0),
        (2000.0, -1000.0, 900.0),
        (2000.0, -1000.0, 2100.0),
        (2000.0, -2200.0, 2100.0),
    )
    xs = {round(x, 1) for x, _ in image(wide, (-1200.0, -3000.0, 1100.0), corners)}
    assert xs == {646.2, 1200.0}


def test_window_opposite_the_screen() -> None:
    """Covers x −245…491 and z 1006…1485 (cut by the picture's top): 0.352 m², 30 % of the picture, by hand."""
    seen = image(lit(), EYE, SOUTH)
    xs, zs = [x for x, _ in seen], [z + 1080 for _, z in seen]
    assert (min(xs), max(xs), min(zs), max(zs)) == pytest.approx((-245.5, 490.9, 1006.4, 1484.7), abs=0.1)
    assert area(seen) / 1e6 == pytest.approx(0.352, abs=0.001)
    assert share(lit(), EYE, SOUTH) == pytest.approx(0.302, abs=0.001)  # 0.3523 m² of 1.1647 m²


@pytest.mark.parametrize(
    ("tilt", "expected"), [(3.0, 0.16), (5.0, 0.07), (6.5, 0.0)]
)  # hand figures to two places
def test_tilt_takes_the_window_away(tilt: float, expected: float) -> None:
    assert share(lit(tilt), EYE, SOUTH) == pytest.approx(expected, abs=0.01)


def test_behind_the_picture_nothing_is_mirrored() -> None:
    assert image(lit(), (0.0, 100.0, 1080.0), SOUTH) == ()
    assert image(lit(), EYE, upright_window(-600, 1200, 900, 2100, 500)) == ()


@pytest.mark.parametrize("tilt", [0.0, 4.0, 9.0])
@pytest.mark.parametrize("eye", [EYE, (900.0, -2500.0, 1900.0), (-700.0, -2200.0, 600.0)])
def test_against_rays(tilt: float, eye: Point3) -> None:
    """Shots at the picture on an even grid, each thrown back by its plane: the share that leaves by the window."""
    glass = lit(tilt)
    a = math.radians(tilt)
    normal, upward = (0.0, -math.cos(a), -math.sin(a)), (0.0, -math.sin(a), math.cos(a))
    hits, across, high = 0, 320, 180
    for i in range(across * high):
        u, v = (
            ((i % across + 0.5) / across - 0.5) * PICTURE[0],
            ((i // across + 0.5) / high - 0.5) * PICTURE[1],
        )
        p = (u, v * upward[1], 1080 + v * upward[2])
        d = tuple(p[k] - eye[k] for k in range(3))
        along = sum(d[k] * normal[k] for k in range(3))
        out = tuple(d[k] - 2 * along * normal[k] for k in range(3))
        t = (-5200 - p[1]) / out[1]
        x, z = p[0] + t * out[0], p[2] + t * out[2]
        hits += t > 0 and -2500 <= x <= 1200 and 200 <= z <= 2500
    pane = upright_window(-2500, 1200, 200, 2500, -5200)
    assert share(glass, eye, pane) == pytest.approx(hits / across / high, abs=0.004)


def test_the_tilted_picture_faces_down() -> None:
    """Its axes keep every length; its top edge comes towards the room (y < 0)."""
    glass = lit(10)
    assert math.hypot(*glass.local((300.0, -500.0, 1800.0))) == pytest.approx(math.hypot(300, 500, 720))
    top = (0.0, -100 * math.sin(math.radians(10)), 1080 + 100 * math.cos(math.radians(10)))
    assert glass.local(top) == pytest.approx((0, 100, 0))
    assert glass.on_wall((50, 100)) == pytest.approx((50, top[2]))


def test_a_window_running_past_the_picture_is_cut_at_its_plane() -> None:
    eye = (-500.0, -2500.0, 1100.0)
    past = ((900.0, -1800.0, 700.0), (900.0, 900.0, 700.0), (900.0, 900.0, 1900.0), (900.0, -1800.0, 1900.0))
    cut = tuple((x, min(y, -1e-7), z) for x, y, z in past)
    assert share(lit(), eye, past) == pytest.approx(share(lit(), eye, cut), abs=1e-6)
    wide = Glass((0.0, 0.0, 1080.0), 9000, 9000, 0.0)
    assert area(image(wide, eye, past)) == pytest.approx(area(image(wide, eye, cut)), rel=1e-6)


places = st.tuples(st.floats(-3000, 3000), st.floats(-6000, -800), st.floats(500, 2000))
panes = st.tuples(
    st.floats(-4000, 3000),
    st.floats(200, 3000),
    st.floats(0, 1500),
    st.floats(200, 1500),
    st.floats(-7000, -900),
)


@given(places, panes, st.floats(0, 15))
def test_clip_against_shapely_and_mirror_symmetry(eye: Point3, pane: tuple[float, ...], tilt: float) -> None:
    x, width, sill, height, y = pane
    window = upright_window(x, x + width, sill, sill + height, y)
    wide = Glass((0.0, 0.0, 1100.0), 1e6, 1e6, tilt)
    whole = image(wide, eye, window)
    here = share(lit(tilt, 1100), eye, window)
    assert 0 <= here <= 1 + 1e-9
    if len(whole) >= 3:
        half_w, half_h = PICTURE[0] / 2, PICTURE[1] / 2
        frame = Polygon([(-half_w, -half_h), (half_w, -half_h), (half_w, half_h), (-half_w, half_h)])
        expected = Polygon(whole).buffer(0).intersection(frame).area / (PICTURE[0] * PICTURE[1])
        assert here == pytest.approx(expected, abs=1e-5)
    mirrored = tuple((-px, py, pz) for px, py, pz in window)
    assert share(lit(tilt, 1100), (-eye[0], eye[1], eye[2]), mirrored) == pytest.approx(here, abs=1e-9)
