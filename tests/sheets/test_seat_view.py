"""The view from a seat: points by hand, the cones' angles, the screen where it hangs."""

from __future__ import annotations

from dataclasses import replace
from math import acos, degrees, hypot
from typing import Any

import pytest

from wallwright.core.drawing import Circle, Hatch, Line, Text
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.job.survey import Between
from wallwright.sheets.crossed import inside
from wallwright.sheets.seat_names import cone, inside_of
from wallwright.sheets.seat_scene import BLACK
from wallwright.sheets.seat_view import seat_view, sheets, view_window


@pytest.fixture(scope="module", params=("living", "bedroom", "living_faults"))
def demo_wall(request: pytest.FixtureRequest) -> Wall:
    return derive(read_job(demo_jobs()[request.param]))


def of(marks: Any, ref: str) -> list[Line]:
    return [m for m in marks if isinstance(m, Line) and m.ref == ref and m.closed]


def test_a_console_front_by_hand(demo_wall: Wall) -> None:
    """Its front stands `depth` before the wall: about the eye's axis it is larger by D / (D - depth)."""
    unit = next(u for u in demo_wall.setout.units if u.kind == "console")
    for seat in demo_wall.sight.seats:
        x, y, z = seat.eye
        larger = -y / (-y - unit.depth)
        want = {
            (round(x + (px - x) * larger, 3), round(z + (pz - z) * larger, 3)) for px, pz in unit.box.corners
        }
        fronts = [
            {(round(a, 3), round(b, 3)) for a, b in m.points}
            for m in of(seat_view(demo_wall, seat.ref).marks, unit.ref)
        ]
        assert want in fronts


def test_the_wall_itself_is_to_scale(demo_wall: Wall) -> None:
    for seat in demo_wall.sight.seats:
        assert of(seat_view(demo_wall, seat.ref).marks, "wall")[0].points == demo_wall.face.box.corners


def test_the_untilted_screen_by_hand() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    assert wall.sight.screen.tilt == 0
    seat, screen = wall.sight.seats[0], wall.sight.screen
    out = screen.stand_off + screen.depth
    larger = -seat.eye[1] / (-seat.eye[1] - out)
    (front,) = (m for m in of(seat_view(wall, seat.ref).marks, "screen") if m.fill == BLACK)
    corner = (
        seat.eye[0] + (screen.frame.x - seat.eye[0]) * larger,
        seat.eye[2] + (screen.frame.z - seat.eye[2]) * larger,
    )
    assert min(hypot(p[0] - corner[0], p[1] - corner[1]) for p in front.points) < 1e-6


def test_a_tilted_screen_is_wider_at_its_top() -> None:
    """Its upper edge hangs nearer to the eye."""
    wall = derive(apply(read_job(demo_jobs()["living_faults"]), "set_tilt", {"tilt": 10}))
    assert wall.sight.screen.tilt > 5
    (front,) = (m for m in of(seat_view(wall, "B").marks, "screen") if m.fill == BLACK)
    by_height = sorted(front.points, key=lambda p: p[1])
    low, high = by_height[:2], by_height[2:]
    assert abs(high[0][0] - high[1][0]) > abs(low[0][0] - low[1][0]) + 20


@pytest.mark.parametrize("angle", [30.0, 40.0])
def test_every_point_of_a_cone_is_half_its_angle_off_the_axis(demo_wall: Wall, angle: float) -> None:
    aim = (*demo_wall.sight.screen.centre, 0.0)
    target = (aim[0], -100.0, aim[1])
    for seat in demo_wall.sight.seats:
        eye = seat.eye
        axis = [target[i] - eye[i] for i in range(3)]
        for x, z in cone(eye, target, angle):
            ray = (x - eye[0], -eye[1], z - eye[2])
            cosine = sum(a * b for a, b in zip(axis, ray, strict=True)) / (hypot(*axis) * hypot(*ray))
            assert degrees(acos(cosine)) == pytest.approx(angle / 2, abs=1e-6)


def test_a_ring_across_the_window_falls_into_whole_pieces() -> None:
    ring = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    assert inside_of(ring, Box(-1, -1, 12, 12)) == [
        ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0), (0.0, 0.0))
    ]
    assert inside_of(ring, Box(-1, -1, 12, 6)) == [((0.0, 5.0), (0.0, 0.0), (10.0, 0.0), (10.0, 5.0))]


def test_black_shows_what_is_mirrored_and_on_shows_a_picture() -> None:
    wall = derive(read_job(demo_jobs()["living_faults"]))
    black, lit = seat_view(wall, "A").marks, seat_view(wall, "A", on=True).marks
    shapes = [m.points for m in black if isinstance(m, Hatch) and m.layer == "mirrored"]
    hits = [hit for hit in wall.sight.reflections if hit.seat == "A"]
    assert (
        len(shapes) == len(hits) == 1
    )  # the window; strips look at the wall and are not seen in the picture
    shape, hit = shapes[0], hits[0]
    eye, screen = wall.sight.seats[0].eye, wall.sight.screen
    larger = -eye[1] / (
        -eye[1] - screen.stand_off - screen.depth
    )  # in the middle of the screen, whatever its tilt
    for axis, at in ((0, eye[0]), (1, eye[2])):
        mean = sum(p[axis] for p in hit.polygon) / len(hit.polygon)
        drawn = sum(p[axis] for p in shape) / len(shape)
        assert drawn == pytest.approx(at + (mean - at) * larger, abs=25)
    assert not any(m.layer == "mirrored" for m in lit)
    assert of(lit, "picture")
    assert not of(black, "picture")


def test_nothing_leaves_the_window(demo_wall: Wall) -> None:
    for seat in demo_wall.sight.seats:
        window = view_window(demo_wall, seat).grown(0.01)
        for mark in seat_view(demo_wall, seat.ref, on=True).marks:
            if isinstance(mark, (Line, Hatch)) and mark.layer != "text":
                assert all(window.holds(Box(x, z, 0, 0)) for x, z in mark.points), mark


def test_names_stand_outside_and_lead_to_what_they_name(demo_wall: Wall) -> None:
    for seat in demo_wall.sight.seats:
        window = view_window(demo_wall, seat)
        marks = seat_view(demo_wall, seat.ref).marks
        named = {m.text: m for m in marks if isinstance(m, Text)}
        assert {"30°", "40°"} <= set(named)
        assert not any(window.holds(Box(*text.at, 0, 0)) for text in named.values())
        dots = {m.ref: m.centre for m in marks if isinstance(m, Circle) and m.layer == "text"}
        assert set(dots) == {m.ref for m in named.values()}
        for unit in demo_wall.setout.units:
            if unit.ref in dots:
                assert any(inside(dots[unit.ref], front.points) for front in of(marks, unit.ref))


def test_no_name_where_a_thing_is_hidden() -> None:
    job = read_job(demo_jobs()["living"])
    chest = Between("TB", "table", Length(0), Length(800), Length(4201), Length(600), Length(900))
    wall = derive(replace(job, survey=replace(job.survey, between=(chest,))))
    assert "C1" not in {m.text for m in seat_view(wall, "A").marks if isinstance(m, Text)}


def test_the_legend_lists_the_hatches_that_are_drawn(demo_wall: Wall) -> None:
    for sheet in sheets(demo_wall):
        drawn = {m.pattern for view in sheet.views for m in view.drawing.marks if isinstance(m, Hatch)}
        assert {m.pattern for m in sheet.marks if isinstance(m, Hatch)} == drawn


def test_a_table_between_hides_the_console_behind_it() -> None:
    job = read_job(demo_jobs()["living"])
    table = Between("TB", "table", Length(1500), Length(1500), Length(1200), Length(600), Length(450))
    wall = derive(replace(job, survey=replace(job.survey, between=(table,))))
    refs = [m.ref for m in seat_view(wall, "A").marks if isinstance(m, Line) and m.fill == "#fff"]
    console = next(u.ref for u in wall.setout.units if u.kind == "console")
    assert refs.index("TB") > max(i for i, ref in enumerate(refs) if ref == console)


def test_an_unknown_seat_names_those_there_are() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    with pytest.raises(KeyError, match="A, B, C"):
        seat_view(wall, "Z")
