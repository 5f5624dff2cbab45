"""The plan: what is drawn makes the angles that the record has; north and sun stand where they should."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import atan2, degrees, dist, hypot
from typing import Any

import pytest

from wallwright.core.drawing import PEN_DASH, Circle, Dim, Leader, Line, Symbol, Text
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.rules.screen_room import turning
from wallwright.sheets import seat_plan
from wallwright.sheets.ink import text_box
from wallwright.sheets.room_plan import ARC
from wallwright.sheets.sun_clock import CLOCK, DAYS, on_clock, sun_clock, sun_path
from wallwright.sheets.taken import strokes

DEMOS = ("living", "bedroom", "living_faults")


def job(name: str) -> Job:
    return read_job(demo_jobs()[name])


@pytest.fixture(params=DEMOS)
def demo_wall(request: pytest.FixtureRequest) -> Wall:
    return derive(job(request.param))


def on_arm(swivel: float) -> Wall:
    living = job("living_faults")
    mount = replace(
        living.design.mount, kind="arm", reach=Length(600), swivel_most=40.0, swivel=swivel or None
    )
    return derive(replace(living, design=replace(living.design, mount=mount)))


def between(a: Any, b: Any) -> float:
    """The angle between two lines from one point on paper [deg]."""
    one, two = (degrees(atan2(p[1][1] - p[0][1], p[1][0] - p[0][0])) for p in (a, b))
    return abs((one - two + 180) % 360 - 180)


@pytest.mark.parametrize("wall", [*DEMOS, 0.0, 15.0], indirect=False)
def test_wedges_and_axes_make_the_angles_of_the_record(wall: Any) -> None:
    made = derive(job(wall)) if isinstance(wall, str) else on_arm(wall)
    marks = [m for m in seat_plan.drawing(made, 25.0).marks if isinstance(m, Line)]
    turned = made.sight.screen.swivel
    for seat in made.sight.seats:
        rays = [m.points for m in marks if m.ref == f"wedge {seat.ref}"]
        assert len(rays) == 2
        assert between(*rays) == pytest.approx(seat.picture_angle, abs=1e-6)
        (axis,) = (m.points for m in marks if m.ref == f"axis {seat.ref}")
        aside = degrees(
            atan2(axis[0][0] - axis[1][0], -(axis[0][1] - axis[1][1]))
        )  # from straight out of the wall
        assert abs(aside - turned) == pytest.approx(seat.sideways, abs=1e-6)


def test_the_limit_lines_make_the_panels_angle(demo_wall: Wall) -> None:
    limit = demo_wall.limits.value(f"rule.sideways_{demo_wall.sight.screen.panel}")
    lines = [
        m.points
        for m in seat_plan.drawing(demo_wall, 25.0).marks
        if isinstance(m, Line) and m.layer == "limit"
    ]
    assert between(*lines) == pytest.approx(2 * limit)


def test_eyes_stand_where_they_were_surveyed(demo_wall: Wall) -> None:
    eyes = {m.ref: m for m in seat_plan.drawing(demo_wall, 25.0).marks if isinstance(m, Symbol)}
    said = [m.text for m in seat_plan.sheet(demo_wall).marks if isinstance(m, Text)]
    for seat in demo_wall.sight.seats:
        assert eyes[seat.ref].at == seat.eye[:2]
        assert eyes[seat.ref].label == seat.ref
        row = said.index(seat.ref)  # the table beside it: hours, distance, picture, aside
        assert said[row + 1] == f"{seat.hours:.1f}"
        assert said[row + 3 : row + 5] == [f"{seat.picture_angle:.1f}", f"{seat.sideways:.1f}"]


def test_the_figure_of_a_picture_angle_is_led_to_its_arc(demo_wall: Wall) -> None:
    leaders = {m.ref: m for m in seat_plan.drawing(demo_wall, 25.0).marks if isinstance(m, Leader)}
    for seat in demo_wall.sight.seats:
        leader = leaders[f"angle {seat.ref}"]
        assert leader.text == f"{seat.picture_angle:.1f}°"
        x, y = leader.points[0]
        assert hypot(x - seat.eye[0], y - seat.eye[1]) == pytest.approx(ARC * 25.0)


@pytest.mark.parametrize("made", [*DEMOS, "arm"])
def test_every_broken_line_means_one_thing_and_the_legend_says_it(made: str) -> None:
    wall = on_arm(0.0) if made == "arm" else derive(job(made))
    meanings: dict[str, set[str]] = {}
    for mark in seat_plan.drawing(wall, 25.0).marks:
        if isinstance(mark, (Line, Circle)) and mark.pen in PEN_DASH:
            meanings.setdefault(mark.pen, set()).add(mark.layer)
    assert {pen: kinds for pen, kinds in meanings.items() if len(kinds) > 1} == {}
    plain = seat_plan._legends(wall)[0]  # pyright: ignore[reportPrivateUsage]
    keys = [key for key, _ in plain.rows]
    assert len(keys) == len(set(keys))
    assert set(meanings) == {key[4:] for key in keys if key[:4] == "pen:" and key[4:] in PEN_DASH}


def test_an_unmeasured_room_is_broken_off_and_not_dimensioned_to_its_end() -> None:
    living = job("living")
    room = replace(living.survey.room, depth=None)
    wall = derive(replace(living, survey=replace(living.survey, room=room)))
    marks = seat_plan.drawing(wall, 25.0).marks
    ends = [m for m in marks if isinstance(m, Line) and m.ref in ("opposite", "broken off")]
    assert [m.ref for m in ends] == ["broken off"]
    assert len(ends[0].points) > 4
    depths = [m for m in marks if isinstance(m, Dim) and m.ref == "distances"]
    assert sum(m.value for m in depths) == pytest.approx(max(-s.eye[1] for s in wall.sight.seats))


def test_the_screen_keeps_its_size_as_it_turns() -> None:
    wall = on_arm(0.0)
    assert [angle for angle, _ in turning(wall)] == [-40.0, 40.0]
    outlines = {
        m.ref: m.points
        for m in seat_plan.drawing(wall, 25.0).marks
        if isinstance(m, Line) and m.ref.startswith("swivel")
    }
    assert set(outlines) == {"swivel -40", "swivel 40"}
    for ref, (a, b, c, _) in outlines.items():
        assert hypot(b[0] - a[0], b[1] - a[1]) == pytest.approx(wall.sight.screen.frame.width)
        assert hypot(c[0] - b[0], c[1] - b[1]) == pytest.approx(wall.sight.screen.depth)
        lean = degrees(atan2(b[1] - a[1], b[0] - a[0]))
        assert lean == pytest.approx(
            float(ref.split()[1])
        )  # towards larger x: its right end goes back to the wall


def test_up_on_the_clock_is_the_way_one_faces() -> None:
    assert on_clock(95.0, 0.0, 95.0) == pytest.approx((0.0, CLOCK))  # the bearing itself: up
    assert on_clock(185.0, 0.0, 95.0) == pytest.approx((CLOCK, 0.0))  # 90° clockwise of it: right
    assert on_clock(0.0, 0.0, 90.0) == pytest.approx((-CLOCK, 0.0))  # facing east, north is left
    assert on_clock(123.0, 90.0, 95.0) == pytest.approx((0.0, 0.0))


def test_the_sun_of_the_equinox_goes_from_east_over_south_to_west() -> None:
    """At 18.5° north the noon sun of the equinox stands about 71.5° up in the south; it rises due east."""
    living = job("living")
    place = replace(living.survey.place, bearing=0.0)  # facing north: up is north, right is east
    wall = replace(derive(living), job=replace(living, survey=replace(living.survey, place=place)))
    path = dict(sun_path(wall, 3, 21))
    noon, morning, evening = path[12], path[7], path[17]
    assert noon[1] == pytest.approx(-CLOCK * 18.5 / 90, abs=0.3)
    assert noon[0] == pytest.approx(0.0, abs=1.3)  # a dial runs up to a quarter of an hour off a clock
    assert morning[0] > 0.7 * CLOCK
    assert evening[0] < -0.7 * CLOCK


@pytest.mark.parametrize("latitude", [18.5, 52.0])
@pytest.mark.parametrize("bearing", [0.0, 10.0, 95.0, 180.0, 270.0])
def test_texts_of_the_clock_stand_where_they_belong(latitude: float, bearing: float) -> None:
    """No two over one another, and each hour's figure nearer to a dot of that hour than to any other, a few mm from it."""
    living = job("living")
    place = replace(living.survey.place, bearing=bearing, latitude=latitude)
    wall = replace(derive(living), job=replace(living, survey=replace(living.survey, place=place)))
    clock = sun_clock(wall)
    assert clock is not None
    texts = [m for m in clock.marks if isinstance(m, Text)]
    boxes = [text_box(text, 1.0) for text in texts]
    assert not [(a, b) for a, b in combinations(boxes, 2) if a.meets(b)]
    arrow = [m for m in clock.marks if isinstance(m, Line) and m.ref in ("north", "wall")]
    for stroke in strokes(arrow, 1.0):
        words = [
            t.text for t, box in zip(texts, boxes, strict=True) if box.meets(stroke) and not t.text.isdigit()
        ]
        assert words == []
    dots = [dot for month, day in DAYS for dot in sun_path(wall, month, day)]
    figures = [text for text in texts if text.text.isdigit()]
    assert len(figures) == sum(hour % 3 == 0 for hour, _ in dots)
    for text in figures:
        middle = text.at[0], text.at[1] + text.height / 2
        hour, at = min(dots, key=lambda dot: dist(middle, dot[1]))
        assert f"{hour}" == text.text
        assert dist(middle, at) < 6.0


def test_the_angle_that_the_panel_is_good_to_heads_its_column(demo_wall: Wall) -> None:
    said = " ".join(m.text for m in seat_plan.sheet(demo_wall).marks if isinstance(m, Text))
    assert "Panel good to" in said
    assert "Bears" not in said


def test_without_a_bearing_there_is_no_clock_and_it_is_said() -> None:
    living = job("living")
    survey = replace(living.survey, place=replace(living.survey.place, bearing=None))
    wall = derive(replace(living, survey=survey))
    assert sun_clock(wall) is None
    said = " ".join(m.text for m in seat_plan.sheet(wall).marks if hasattr(m, "text"))
    assert "Bearing not surveyed" in said
