"""Windows, lamps and LED lines in the picture: a hand case of each, tilt and swivel against rays, veiling and words."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.face import wall_face
from wallwright.job.survey import Lamp, Window
from wallwright.sight.angles import picture_size
from wallwright.sight.mirrored import (
    Line,
    Source,
    glass_of,
    lamp_luminance,
    lamp_source,
    lamps,
    mirrored,
    of_lines,
    strip_luminance,
    windows,
)
from wallwright.sight.record import Sight
from wallwright.sight.reflect import Glass, Point3, area, image, share
from wallwright.sight.veil import front, picture

PICTURE = picture_size(65)
EYE = (0.0, -3600.0, 1080.0)


def lit(tilt: float = 0.0, swivel: float = 0.0) -> Glass:
    return Glass((0.0, 0.0, 1080.0), *PICTURE, tilt, swivel)


def lamp(kind: str, x: float, distance: float, z: float, **more: object) -> Lamp:
    return Lamp("L1", kind, Length(x), Length(distance), Length(z), **more)  # pyright: ignore


def with_lamps(job: Job, *more: Lamp) -> Job:
    return replace(job, survey=replace(job.survey, lamps=more))


def test_the_living_room_of_the_hand_case(living: Job, see: Callable[..., Sight]) -> None:
    """Window x −600…1200, sill 900, 5200 before a 65 in picture, eye at 3600: 30 % of it, at 0.50 of its luminance. By hand."""
    (hit,) = see(living).reflections
    assert hit.kind == "window"
    assert hit.share == pytest.approx(0.302, abs=1e-3)
    assert hit.ratio == pytest.approx(0.50, abs=0.005)
    assert hit.contrast == pytest.approx(
        (200 + 60.3) / (0.05 + 60.3), rel=0.01
    )  # 60 cd/m² of image and 0.3 of grey
    assert hit.verdict == "washes the picture out"
    xs, zs = [x - 2100 for x, _ in hit.polygon], [z for _, z in hit.polygon]
    assert (min(xs), max(xs), min(zs), max(zs)) == pytest.approx((-245.5, 490.9, 1006.4, 1484.7), abs=0.1)


def test_a_blind_takes_the_veil_not_the_area(living: Job, see: Callable[..., Sight]) -> None:
    """A blind that lets 5 % through: ratio 0.025, still 30 % of the picture. By hand."""
    drawn = replace(living.survey, windows=(replace(living.survey.windows[0], blind=0.05),))
    (hit,) = see(replace(living, survey=drawn)).reflections
    assert hit.share == pytest.approx(0.302, abs=1e-3)
    assert hit.ratio == pytest.approx(0.025, abs=0.001)
    assert hit.verdict == "seen, too faint to disturb"


def test_a_glossy_front_mirrors_twice_a_semi_gloss_one(living: Job, see: Callable[..., Sight]) -> None:
    glossy = replace(
        living, design=replace(living.design, screen=replace(living.design.screen, surface="glossy"))
    )
    assert see(glossy).reflections[0].ratio == pytest.approx(2 * see(living).reflections[0].ratio)


@pytest.mark.parametrize(("tilt", "swivel"), [(0, 15), (0, -25), (6, 0), (7, 20), (12, -10)])
def test_tilt_and_swivel_against_rays(tilt: float, swivel: float) -> None:
    """Shots at an even grid of the turned picture, each thrown back by its plane: the share that leaves by the window.

    The plane is turned here by rotation matrices, not by the axes of the code.
    """
    t, s = math.radians(tilt), math.radians(swivel)

    def turned(v: Point3) -> Point3:
        x, y, z = v  # tip about x so that the face looks down, then turn about z so that it looks to larger x
        y, z = y * math.cos(t) - z * math.sin(t), y * math.sin(t) + z * math.cos(t)
        return x * math.cos(s) - y * math.sin(s), x * math.sin(s) + y * math.cos(s), z

    normal, eye = turned((0.0, -1.0, 0.0)), (300.0, -3200.0, 1150.0)
    assert normal[2] <= 0 and normal[0] * swivel >= 0  # it faces down, and towards larger x
    hits, across, high = 0, 300, 170
    for i in range(across * high):
        u, v = (
            ((i % across + 0.5) / across - 0.5) * PICTURE[0],
            ((i // across + 0.5) / high - 0.5) * PICTURE[1],
        )
        dx, dy, dz = turned((u, 0.0, v))
        p = (dx, dy, 1080 + dz)
        d = tuple(p[k] - eye[k] for k in range(3))
        along = sum(d[k] * normal[k] for k in range(3))
        out = tuple(d[k] - 2 * along * normal[k] for k in range(3))
        if out[1] >= 0:
            continue
        away = (-5000 - p[1]) / out[1]
        hits += -2500 <= p[0] + away * out[0] <= 2800 and 0 <= p[2] + away * out[2] <= 2600
    pane = (
        (-2500.0, -5000.0, 0.0),
        (2800.0, -5000.0, 0.0),
        (2800.0, -5000.0, 2600.0),
        (-2500.0, -5000.0, 2600.0),
    )
    assert share(lit(tilt, swivel), eye, pane) == pytest.approx(hits / across / high, abs=0.005)


def test_a_swivelled_picture_on_the_elevation() -> None:
    """Turned by 60° the picture looks half as wide from the front; its edge nearer the room is the left one."""
    glass = lit(0, 60)
    assert glass.on_wall((100, 50)) == pytest.approx((50, 1130))
    assert glass.in_room((-100, 0, 0))[1] < 0 < glass.in_room((100, 0, 0))[1]
    assert glass.local(glass.in_room((12.0, -34.0, 56.0))) == pytest.approx((12.0, -34.0, 56.0))


def test_a_downlight_by_hand() -> None:
    """Ceiling lamp 2500 up and 1800 out, eye 3600 out and 1080 up: where the straight line to its image meets the picture.

    z = (1080 · 1800 + 2500 · 3600)/5400 = 2026.7: above a picture that ends at 1484.7.
    A lamp 3000 out at 1500 up is: z = (1080 · 3000 + 1500 · 3600)/6600 = 1309.1.
    """
    tall = Glass((0.0, 0.0, 1080.0), 9000, 9000, 0.0)
    disc = [(100 * math.cos(a), -1800 + 100 * math.sin(a), 2500.0) for a in (0, 2, 4)]
    zs = [z + 1080 for _, z in image(tall, EYE, disc)]
    assert min(zs) < 2026.7 < max(zs)
    assert share(lit(), EYE, disc) == 0
    point = [(x, -3000.0, z) for x, z in ((-1, 1499), (1, 1499), (1, 1501), (-1, 1501))]
    assert [z + 1080 for _, z in image(lit(), EYE, point)] == pytest.approx([1309.1] * 4, abs=1)


def test_shapes_and_brightness(limits: Limits) -> None:
    """A pendant's disc is 12-sided (3 r²), a shade is its rectangle, a strip its length times its face."""
    glass = lit()

    def size(source: Source) -> float:
        (x0, y0, z0), *rest = source.corners
        flat = [
            (math.copysign(math.hypot(x - x0, y - y0), (x - x0) or (y - y0)), z - z0)
            for x, y, z in ((x0, y0, z0), *rest)
        ]
        return area(flat)

    pendant = lamp_source(lamp("pendant", 0, 3000, 1700, diameter=Length(400)), glass, limits)
    assert size(pendant) == pytest.approx(3 * 200**2)
    shade = lamp_source(
        lamp("floor_lamp", 900, 2500, 1500, width=Length(400), height=Length(250)), glass, limits
    )
    assert size(shade) == pytest.approx(400 * 250)
    strip = lamp_source(lamp("strip", 0, 2000, 2600, width=Length(3000)), glass, limits)
    assert size(strip) == pytest.approx(3000 * 20)
    assert lamp_luminance(lamp("floor_lamp", 0, 1, 1), limits) == limits.value("sight.glow_shaded")
    assert lamp_luminance(lamp("floor_lamp", 0, 1, 1, glow="bare"), limits) == limits.value("sight.glow_bare")
    assert lamp_luminance(lamp("floor_lamp", 0, 1, 1, glow="bare", luminance=777.0), limits) == 777
    assert limits.value("sight.glow_shaded") == pytest.approx(
        800 / (math.pi * math.pi * 0.35 * 0.25), rel=0.1
    )  # 800 lm, by hand
    assert strip_luminance(1000, 20) == pytest.approx(
        15915, rel=1e-3
    )  # 1000 lm/m over a 20 mm face: 1000/(π · 0.02)


def test_a_pendant_in_the_picture(living: Job, see: Callable[..., Sight]) -> None:
    """A 300 mm pendant straight behind the eye: mirrored, bright, small; not when it is off at night."""
    behind = lamp("pendant", 2100, 4500, 1300, diameter=Length(300))
    hits = [hit for hit in see(with_lamps(living, behind)).reflections if hit.window == "L1"]
    assert [hit.night for hit in hits] == [True]
    scale = 3600 / (3600 + 4400)  # the image in the picture's plane is smaller by e/(e + w)
    assert hits[0].share == pytest.approx(3 * (150 * scale) ** 2 / (PICTURE[0] * PICTURE[1]), rel=0.01)
    assert hits[0].ratio == pytest.approx(3000 * 0.02 / 60, rel=0.01)
    assert hits[0].verdict == "shines in the picture"
    off = replace(behind, on_at_night=False)
    assert not [hit for hit in see(with_lamps(living, off)).reflections if hit.window == "L1"]


def test_a_cut_off_hides_a_downlight(living: Job, see: Callable[..., Sight]) -> None:
    """Under a low slope, 1650 up and 2500 before the picture, it is mirrored at 1416: 85° from straight down, atan(2500/234)."""
    low = lamp("downlight", 2100, 2600, 1650, diameter=Length(150))
    assert any(hit.window == "L1" for hit in see(with_lamps(living, low)).reflections)
    deep = replace(low, cut_off=84.0)
    assert not any(hit.window == "L1" for hit in see(with_lamps(living, deep)).reflections)
    shallow = replace(low, cut_off=86.0)
    assert any(hit.window == "L1" for hit in see(with_lamps(living, shallow)).reflections)


def test_lines(living: Job, see: Callable[..., Sight], limits: Limits) -> None:
    """A lit line on the wall opposite is mirrored; one on the screen's own wall lies behind the picture's plane."""
    sight = see(living)
    glass = glass_of(sight.screen)
    across = Line("G1", (1500, -5300, 1500), (2700, -5300, 1500), 20, 5000)
    (hit,) = of_lines([across], None, sight.seats, glass, limits)
    scale = 3600 / (3600 + 5200)
    assert hit.kind == "line"
    assert hit.share * PICTURE[0] * PICTURE[1] == pytest.approx(1200 * 20 * scale**2, rel=1e-3)
    own = Line("G2", (1500, -20, 500), (2700, -20, 500), 20, 5000)
    assert of_lines([own], None, sight.seats, glass, limits) == ()


def test_nothing_is_placed_without_the_room_s_depth(living: Job, limits: Limits) -> None:
    survey = replace(living.survey, room=replace(living.survey.room, depth=None))
    assert windows(survey, wall_face(survey), limits) == ()
    side = Window("W2", "left", Length(1000), Length(900), Length(1200), Length(1200))
    assert len(windows(replace(survey, windows=(side,)), wall_face(survey), limits)) == 1
    assert lamps(survey, lit(), limits) == ()


def test_incidence_makes_a_side_seat_s_window_brighter(
    living: Job, see: Callable[..., Sight], limits: Limits
) -> None:
    """Seen at 60° the front mirrors 2.23 times as much as straight on: 0.0892/0.0400 (Fresnel, n 1.5)."""
    seat = replace(see(living).seats[0], eye=(3600 * math.tan(math.radians(60)), -3600.0, 1080.0))
    glass = Glass((0.0, 0.0, 1080.0), 200, 200, 0.0)
    far = -2000 * math.tan(math.radians(60))
    pane = tuple((far + dx, -2000.0, 1080.0 + dz) for dx, dz in ((-50, -50), (50, -50), (50, 50), (-50, 50)))
    day, night = picture(False, limits), picture(True, limits)
    (hit,) = mirrored(
        [Source("W", "window", pane, 3000)], [seat], glass, front("glossy", limits), day, night, limits
    )
    assert hit.angle == pytest.approx(60, abs=0.5)
    assert hit.ratio == pytest.approx(3000 * 0.0892 / 120, rel=0.02)
