"""The sun over a year: a table of hours computed by other code, hand cases of the patch, the reveal and the mirror image."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from wallwright.core.why import Why
from wallwright.job.document import Job
from wallwright.job.face import wall_face
from wallwright.job.survey import Place, Window
from wallwright.sight.angles import picture_size
from wallwright.sight.reflect import Glass, Point3
from wallwright.sight.season import Pane, SunHours, SunQuestion, SunYear, ask, missing, pane_of
from wallwright.sight.year import clipped_area, daylight, year

PANE = Pane("W", (-1000.0, -4500.0, 900.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), 2000.0, 1200.0)
SCREEN = Glass((0.0, 0.0, 1100.0), *picture_size(65), 0.0)
WALL = Glass((0.0, 0.0, 1500.0), 4000.0, 3000.0, 0.0)
EYE = (0.0, -3000.0, 1100.0)
LONDON, MADRID, DELHI = (51.5, -0.13), (40.0, 0.0), (28.6, 77.2)
FACES = {"S": 180, "SW": 225, "W": 270}

# Hours of 2025 with the sun on a 65 in picture at 1100, on the TV wall 4 × 3 m, and mirrored for a seat 3 m off; window
# 2.0 × 1.2 m, sill 0.9 m, 4.5 m opposite, facing S, SW or W. Computed (pvlib 0.16.1, 5-minute steps) by other code.
HOURS = [
    (LONDON, "S", 155.2, 516.8, 0.0), (LONDON, "SW", 325.2, 626.5, 74.8), (LONDON, "W", 300.9, 657.1, 42.2),
    (MADRID, "S", 0.0, 53.7, 0.0), (MADRID, "SW", 212.7, 468.6, 3.9), (MADRID, "W", 305.1, 650.6, 42.2),
    (DELHI, "S", 0.0, 0.0, 0.0), (DELHI, "SW", 131.9, 340.0, 0.0), (DELHI, "W", 309.5, 646.9, 42.3),
]  # fmt: skip


def question(
    place: tuple[float, float] = LONDON, faces: float = 225.0, glass: Glass = SCREEN, **more: object
) -> SunQuestion:
    fresh: dict[str, object] = {"panes": (PANE,), "seats": (("A", EYE),), "step": 5.0, **more}
    return SunQuestion(*place, faces - 180, 0.0, glass, **fresh)  # pyright: ignore


def total(hours: SunYear, seat: str = "") -> float:
    return sum(item.total for item in hours.mirrored if item.seat == seat) if seat else hours.on().total


@pytest.mark.parametrize(("place", "faces", "screen", "wall", "seen"), HOURS)
def test_hours_of_the_year(
    place: tuple[float, float], faces: str, screen: float, wall: float, seen: float
) -> None:
    """Each to 2 % or an hour."""
    on_screen = year(question(place, FACES[faces]))
    on_wall = year(question(place, FACES[faces], WALL, seats=()))
    assert total(on_screen) == pytest.approx(screen, rel=0.02, abs=1)
    assert total(on_wall) == pytest.approx(wall, rel=0.02, abs=1)
    assert total(on_screen, "A") == pytest.approx(seen, rel=0.02, abs=1)


def test_coarser_steps_and_few_days_come_near() -> None:
    """Quarter hours over all days within 3 %; two days a month by half hours within 15 %: enough to say whether it matters."""
    fine = total(year(question()))
    assert total(year(question(step=15.0))) == pytest.approx(fine, rel=0.03)
    assert total(year(question(step=30.0, days=(8, 23)))) == pytest.approx(fine, rel=0.15)


def test_the_table_adds_up_and_tells_the_season() -> None:
    hours = year(question())
    on = hours.on()
    assert sum(map(sum, on.table)) == pytest.approx(on.total)
    assert hours.on("W").table == on.table
    assert on.table[6] == (0.0,) * 24  # a high July sun does not reach across the room
    assert on.table[11][14] > 10  # a low December afternoon does
    assert on.says == "Sep to Mar, 13 to 17 h"
    assert on.most == pytest.approx(1.0)
    assert len(on.table) == 12 and all(len(row) == 24 for row in on.table)
    with pytest.raises(StopIteration):
        hours.on("no such window")


def sun_of(moment: int, bearing: float) -> tuple[Point3, float, float]:
    moments = daylight(*LONDON, 0.0, 2025, 60.0, ())
    a, e = math.radians(moments.azimuth[moment] - bearing), math.radians(moments.elevation[moment])
    return (math.cos(e) * math.sin(a), math.cos(e) * math.cos(a), math.sin(e)), a, e


@pytest.mark.parametrize(
    ("tilt", "swivel", "reveal", "overhang"), [(0, 0, 0, 0), (0, 0, 300, 400), (8, 0, 0, 0), (5, -20, 150, 0)]
)
def test_the_share_lit_against_rays(tilt: float, swivel: float, reveal: float, overhang: float) -> None:
    """From even points of the picture a ray is shot at the sun: it must pass the room's face of the opening, its outside face,
    and clear of the slab over its head. The hours in which any does are those of the code; so is the largest share."""
    pane, glass = replace(PANE, reveal=reveal, overhang=overhang), replace(SCREEN, tilt=tilt, swivel=swivel)
    asked = question(LONDON, 215, glass, panes=(pane,), seats=(), step=60.0)
    moments = daylight(*LONDON, 0.0, 2025, 60.0, ())
    lit_hours, most = 0.0, 0.0
    for i in range(len(moments.hour)):
        s, _, _ = sun_of(i, asked.bearing)
        if s[1] >= 0 or sum(a * b for a, b in zip(glass.axes()[2], s, strict=True)) <= 0:
            continue
        hits = 0
        for k in range(24 * 14):
            u, v = ((k % 24 + 0.5) / 24 - 0.5) * glass.width, ((k // 24 + 0.5) / 14 - 0.5) * glass.height
            p = glass.in_room((u, v, 0.0))

            def at(y: float, p: Point3 = p, s: Point3 = s) -> tuple[float, float]:
                away = (y - p[1]) / s[1]
                return p[0] + away * s[0], p[2] + away * s[2]

            inside = all(
                -1000 <= x <= 1000 and 900 <= z <= 2100 for x, z in (at(-4500.0), at(-4500.0 - reveal))
            )
            hits += inside and at(-4500.0 - reveal - overhang)[1] <= 2100
        lit_hours += float(moments.stands_for[i]) * (hits > 0)
        most = max(most, hits / (24 * 14))
    hours = year(asked).on()
    assert hours.total == pytest.approx(
        lit_hours, rel=0.06
    )  # a sliver between the points is missed by the rays
    assert hours.total >= lit_hours
    assert hours.most == pytest.approx(most, abs=0.04)


def test_patch_of_a_sun_square_on() -> None:
    """30° high and square on, an opening 900 to 2100 throws a patch 1.559 to 3.637 m out on the floor: z/tan 30°. By hand.

    45° aside the profile angle is atan(tan 30°/cos 45°) = 39.23°: a reveal of t lowers the lit part by t tan 39.23°.
    """
    assert [z / math.tan(math.radians(30)) / 1000 for z in (900, 2100)] == pytest.approx(
        [1.559, 3.637], abs=2e-3
    )
    from wallwright.sight.year import _opening  # pyright: ignore[reportPrivateUsage]

    deep = replace(PANE, reveal=200.0)
    e, a = math.radians(30), math.radians(45)
    sun = np.array(
        [
            [0.0, -math.cos(e), math.sin(e)],
            [math.cos(e) * math.sin(a), -math.cos(e) * math.cos(a), math.sin(e)],
        ]
    )
    ahead, left, right, low, top = _opening(deep, sun, np.array([30.0, 30.0]))
    assert ahead.all()
    assert (right - left) == pytest.approx([2000, 2000 - 200], abs=1e-6)  # tan 45° = 1
    assert (top - low) == pytest.approx(
        [1200 - 200 * math.tan(e), 1200 - 200 * math.tan(math.radians(39.23))], abs=0.1
    )


def test_the_mirrored_sun_against_rays() -> None:
    """For each hour the eye's image behind the picture looks at the sun through the picture and through the window."""
    glass, eye = replace(SCREEN, tilt=1.0, swivel=5.0), (500.0, -2600.0, 1050.0)
    pane = replace(PANE, reveal=120.0, horizon=3.0)
    asked = question(LONDON, 230, glass, panes=(pane,), seats=(("A", eye),), step=60.0)
    moments = daylight(*LONDON, 0.0, 2025, 60.0, ())
    out = glass.axes()[2]
    behind = glass.local(eye)
    image = glass.in_room((behind[0], behind[1], -behind[2]))
    seen = 0.0
    for i in range(len(moments.hour)):
        s, _, e = sun_of(i, asked.bearing)
        facing = sum(a * b for a, b in zip(out, s, strict=True))
        if s[1] >= 0 or facing <= 0 or math.degrees(e) <= 3:
            continue
        way = behind[2] / facing
        p = tuple(image[k] + way * s[k] for k in range(3))
        u, v, _ = glass.local((p[0], p[1], p[2]))
        if abs(u) > glass.width / 2 or abs(v) > glass.height / 2:
            continue
        through = [
            (p[0] + t * s[0], p[2] + t * s[2]) for t in ((y - p[1]) / s[1] for y in (-4500.0, -4620.0))
        ]
        seen += float(moments.stands_for[i]) * all(
            -1000 <= x <= 1000 and 900 <= z <= 2100 for x, z in through
        )
    assert total(year(asked), "A") == pytest.approx(seen)
    assert seen > 5


def test_shading_takes_hours_away() -> None:
    plain = total(year(question()))
    for shade in ({"reveal": 300.0}, {"overhang": 500.0}, {"horizon": 12.0}):
        assert total(year(question(panes=(replace(PANE, **shade),)))) < plain - 5  # pyright: ignore
    assert total(year(question(panes=(replace(PANE, horizon=60.0),)))) == 0


def test_a_side_window_beside_the_screen() -> None:
    """In the left wall, from behind the picture's plane to 2 m before it: the same hours as its part before the plane."""
    glass = replace(SCREEN, middle=(1500.0, -300.0, 1100.0))
    whole = Pane("S", (0.0, 0.0, 900.0), (0.0, -1.0, 0.0), (-1.0, 0.0, 0.0), 2000.0, 1200.0)
    part = replace(whole, corner=(0.0, -300.0, 900.0), width=1700.0)
    hours = [total(year(question(LONDON, 0, glass, panes=(pane,), seats=()))) for pane in (whole, part)]
    assert hours[0] == pytest.approx(hours[1], abs=0.1)
    assert hours[0] > 20


def test_left_and_right_are_mirror_images() -> None:
    """The day folds over at noon: a right window that faces one way has the hours of a left one that faces the other."""
    window = Window("W", "left", *(_mm(v) for v in (1000, 900, 1500, 1200)))
    glass = replace(SCREEN, middle=(2100.0, -60.0, 1100.0))
    left = pane_of(window, 5000, 4200)
    right = pane_of(replace(window, wall="right"), 5000, 4200)
    south = question(
        LONDON, 0, glass, panes=(left,), seats=(), step=10.0
    )  # the wall itself stands to the south
    assert left.out == (-1.0, 0.0, 0.0) and right.out == (1.0, 0.0, 0.0)
    other = replace(south, panes=(right,))
    assert total(year(south)) == pytest.approx(total(year(other)), rel=0.04)
    assert pane_of(replace(window, wall="opposite"), 5000, 4200).corner == (1000.0, -5000.0, 900.0)


def _mm(value: float):
    from wallwright.core.units import Length

    return Length(value)


quads = st.tuples(
    st.floats(-900, 900), st.floats(-700, 700), st.floats(50, 1500), st.floats(50, 1200), st.floats(-600, 600)
)


@given(quads)
def test_clipped_area_against_shapely(quad: tuple[float, ...]) -> None:
    x, z, width, height, lean = quad
    corners = [(x, z), (x + width, z), (x + width + lean, z + height), (x + lean, z + height)]
    xs, zs = np.array([[c[0] for c in corners]]), np.array([[c[1] for c in corners]])
    expected = Polygon(corners).intersection(box(-500, -300, 500, 300)).area
    assert clipped_area(xs, zs, 500, 300)[0] == pytest.approx(expected, rel=1e-9, abs=2e-3)


def test_what_is_missing_is_said(living: Job) -> None:
    survey = living.survey
    face = wall_face(survey)
    assert missing(survey) == ("survey.place.latitude", "survey.place.longitude", "survey.place.bearing")
    said = ask(survey, face, SCREEN, ())
    assert isinstance(said, Why)
    assert said.value == "not known"
    assert "survey.place.bearing" in said.says
    placed = replace(survey, place=Place(latitude=51.5, longitude=-0.13, bearing=0.0))
    asked = ask(placed, face, SCREEN, ())
    assert isinstance(asked, SunQuestion)
    assert asked.panes[0].corner == (1500.0, -5300.0, 900.0)
    shallow = replace(placed, room=replace(placed.room, depth=None))
    said = ask(shallow, face, SCREEN, ())
    assert isinstance(said, Why)
    assert said.inputs[0].name == "survey.room.depth"
    no_window = ask(replace(placed, windows=()), face, SCREEN, ())
    assert isinstance(no_window, Why) and no_window.value == "not asked"


def test_the_clock() -> None:
    """Five and a half hours ahead of universal time at 77.2° E the clock is 21 minutes ahead of the mean sun."""
    sun, clock = (year(replace(question(DELHI, 270), utc_offset=offset)) for offset in (None, 5.5))
    assert total(sun) == pytest.approx(total(clock), rel=0.02)

    def middle(hours: SunHours) -> float:
        return sum((h + 0.5) * row[h] for row in hours.table for h in range(24)) / hours.total

    assert middle(clock.on()) - middle(sun.on()) == pytest.approx(0.353, abs=0.1)
    assert "UTC+5.5" in clock.clock
    assert "mean time" in sun.clock


def test_the_answer_is_kept() -> None:
    asked = question(DELHI, 271)
    assert year.known(asked) is None
    assert year(asked) is year(asked)
