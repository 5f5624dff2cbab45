from __future__ import annotations

from collections.abc import Iterable
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box as polygon
from shapely import symmetric_difference
from shapely.affinity import translate
from shapely.geometry import LineString, MultiPoint, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Outline, around, box_around
from wallwright.library import load
from wallwright.services import hidden
from wallwright.services.hidden import KeepOut
from wallwright.services.region import (
    Behind,
    behind_screen,
    clear_of_holes,
    edges,
    gap_to_plate,
    holds,
    least_offset,
    nearest,
    openings,
    upright,
    whole,
)

TWIN = (146.0, 86.0)
FRAME = box_around((2000, 1150), 1660, 950)  # an invented 75-inch screen
PLATE = box_around((2000, 1150), 460, 440)


def fields(frame: Box, plate: Box, obstacles: Iterable[Box] = ()) -> tuple[Box, ...]:
    """The region behind a screen that does not move, as boxes."""
    kept = tuple(KeepOut("what stands there", box) for box in obstacles)
    return Behind(frame.corners, 50, plate, 25, kept).fields(TWIN)


def test_least_offset_from_the_plate() -> None:
    assert least_offset(460, 25, 146) == 328  # 460/2 + 25 + 146/2, by hand
    region = fields(FRAME, PLATE)
    spot = nearest(region, (2000, 1150), -1)
    assert spot == (2000 - 328, 1150)
    assert nearest(region, (2000, 1150), 1) == (2000 + 328, 1150)


def test_places_that_pass_and_fail() -> None:
    region = fields(FRAME, PLATE)

    def allowed(x: float, z: float) -> bool:
        return any(box.holds(Box(x, z, 0, 0)) for box in region)

    # gaps reckoned by hand: 350 left 47, 350 up 87, at the middle an overlap, 490 up out of the frame's margin
    assert not allowed(2000, 1150)
    assert allowed(1650, 1150) and gap_to_plate((1650, 1150), TWIN, PLATE) == 47
    assert allowed(2000, 1500) and gap_to_plate((2000, 1500), TWIN, PLATE) == 87
    assert not allowed(2000, 1640)
    overlap = box_around((2000, 1150), *TWIN).shared(PLATE)
    assert overlap is not None and overlap.area == 12_556


def test_fixing_holes() -> None:
    assert clear_of_holes((1650, 1150), TWIN, [(1800, 1150)], 25)  # 150 - 73 = 77
    assert not clear_of_holes((1650, 1150), TWIN, [(1740, 1150)], 25)  # 17 left


@st.composite
def walls(draw: st.DrawFn) -> tuple[Box, Box, list[Box]]:
    numbers = st.integers(0, 3000)
    sizes = st.integers(20, 900)
    frame = Box(draw(numbers), draw(numbers), draw(st.integers(600, 2000)), draw(st.integers(400, 1200)))
    cx, cz = frame.centre
    plate = box_around((cx + draw(st.integers(-200, 200)), cz), draw(sizes), draw(sizes))
    obstacles = [
        Box(
            frame.x + draw(st.integers(-200, 1800)),
            frame.z + draw(st.integers(-200, 1000)),
            draw(sizes),
            draw(sizes),
        )
        for _ in range(draw(st.integers(0, 5)))
    ]
    return frame, plate, obstacles


@settings(max_examples=150, deadline=None)
@given(walls())
def test_region_against_polygons(wall: tuple[Box, Box, list[Box]]) -> None:
    frame, plate, obstacles = wall
    region = fields(frame, plate, obstacles)
    # shapely: the frame shrunk and every keep-out grown by half the box (its Minkowski sum with the box)
    w, h = TWIN[0] / 2, TWIN[1] / 2
    inside = polygon(frame.x + 50 + w, frame.z + 50 + h, frame.right - 50 - w, frame.top - 50 - h)
    holes = [plate.grown(25), *obstacles]
    expected = inside - unary_union([polygon(o.x - w, o.z - h, o.right + w, o.top + h) for o in holes])
    mine = [polygon(b.x, b.z, b.right, b.top) for b in region]
    assert sum(b.area for b in region) == sum(p.area for p in mine)
    assert abs(sum(b.area for b in region) - expected.area) < 1e-6  # so they do not overlap either
    assert unary_union(mine).symmetric_difference(expected).area < 1e-6
    assert [b.area for b in region] == sorted((b.area for b in region), reverse=True)


@settings(max_examples=100, deadline=None)
@given(walls(), st.integers(0, 4000), st.integers(0, 3500))
def test_nearest_is_in_the_region_at_the_height_nearest_to_the_wanted(
    wall: tuple[Box, Box, list[Box]], x: int, z: int
) -> None:
    frame, plate, obstacles = wall
    region = fields(frame, plate, obstacles)
    spot = nearest(region, (x, z))
    if not region:
        assert spot is None
        return
    assert spot is not None
    shape = unary_union([polygon(b.x, b.z, b.right, b.top) for b in region])
    assert shape.distance(Point(spot)) < 1e-9
    assert abs(abs(spot[1] - z) - min(max(b.z - z, z - b.top, 0) for b in region)) < 1e-6


def polygon_of(outline: Outline) -> Polygon:
    return Polygon(outline)


def expected_region(outline: Polygon, margin: float, kept: Iterable[Box]) -> BaseGeometry:
    """By shapely: the outline shrunk by the margin and by half the box, every keep-out grown by half the box."""
    w, h = TWIN[0] / 2, TWIN[1] / 2
    inside = outline.buffer(-margin, join_style="mitre", mitre_limit=100)
    corners = [(w, h), (w, -h), (-w, h), (-w, -h)]
    for dx, dz in corners:  # the box is inside where all four of its corners are
        inside = inside.intersection(
            translate(outline.buffer(-margin, join_style="mitre", mitre_limit=100), dx, dz)
        )
    return inside - unary_union([polygon(o.x - w, o.z - h, o.right + w, o.top + h) for o in kept])


@settings(max_examples=60, deadline=None)
@given(walls(), st.floats(0, 15), st.floats(1, 60), st.floats(-60, 60), st.floats(0, 120))
def test_region_behind_an_arm_against_polygons(
    wall: tuple[Box, Box, list[Box]], tilt: float, swivel: float, axis: float, head: float
) -> None:
    """Tilted and turned outlines lean: the pieces are convex, do not overlap, and are what shapely finds."""
    frame, plate, obstacles = wall
    play = hidden.Play((0.0, tilt), (-swivel, 0.0, swivel), 20.0, axis, head)
    outline = hidden.hidden_outline(frame, 60, play)
    kept = [plate.grown(25), *obstacles]
    region = behind_screen(outline, 75, TWIN, kept)
    # shapely's own offset is good to a thousandth of a millimetre, on outlines some 4000 round
    expected = expected_region(polygon_of(outline), 75, kept)
    assert abs(sum(polygon_of(piece).area for piece in region) - expected.area) < 2.0
    assert (
        symmetric_difference(unary_union([polygon_of(p) for p in region]), expected, grid_size=1e-6).area
        < 2.0
    )
    for piece in region:
        assert polygon_of(piece).convex_hull.area - polygon_of(piece).area < 1e-6
    drawn = sum(LineString(edge).length for edge in edges(region))
    assert (
        abs(drawn - unary_union([polygon_of(p).buffer(1e-7, join_style="mitre") for p in region]).length)
        < 0.1
    )


@settings(max_examples=25, deadline=None)
@given(st.floats(0, 15), st.floats(0, 60), st.floats(-60, 60), st.floats(0, 120), st.floats(-100, 100))
def test_what_is_hidden_at_the_ends_is_hidden_between_them(
    tilt: float, swivel: float, axis: float, head: float, hole_offset: float
) -> None:
    """The screen's body turned in space by matrices, seen square to the wall, at 17 × 9 positions: shapely's common part."""
    play = hidden.Play((0.0, tilt), (-swivel, 0.0, swivel), hole_offset, axis, head)
    outline = polygon_of(hidden.hidden_outline(FRAME, 60, play))
    common: BaseGeometry = polygon(FRAME.x - 2000, FRAME.z - 2000, FRAME.right + 2000, FRAME.top + 2000)
    body = np.array([[u, v, w] for u in (-830, 830) for v in (-475, 475) for w in (0, 60)], float)
    for lean in np.radians(np.linspace(0, tilt, 9)):
        for turn in np.radians(np.linspace(-swivel, swivel, 17)):
            tip = np.array([[1, 0, 0], [0, np.cos(lean), -np.sin(lean)], [0, np.sin(lean), np.cos(lean)]])
            swing = np.array([[np.cos(turn), 0, np.sin(turn)], [0, 1, 0], [-np.sin(turn), 0, np.cos(turn)]])
            tipped = (body - [0, hole_offset, 0]) @ tip.T + [0, hole_offset, 0]
            placed = (tipped - [axis, 0, -head]) @ swing.T + [axis, 0, -head]
            seen = MultiPoint([(2000 + x, 1150 + z) for x, z, _ in placed]).convex_hull
            common = common.intersection(seen)
    assert symmetric_difference(outline, common, grid_size=1e-6).area < 1e-3 * common.area
    assert common.buffer(0.6).covers(outline)  # never more than half a millimetre that shows at some position


def test_a_tilted_screen_hides_less_at_its_top_by_the_cosine(make: SimpleNamespace) -> None:
    outline = hidden.hidden_outline(FRAME, 60, hidden.Play((0.0, 15.0)))
    box = around(outline)
    assert upright(outline)
    # 475 × cos 15° = 458.8 above the middle; below, 475 × cos 15° + 60 × sin 15° = 474.3
    assert box.top - 1150 == pytest.approx(458.8, abs=0.05) and 1150 - box.z == pytest.approx(
        474.34, abs=0.01
    )


def test_an_arm_hides_less_at_its_sides(make: SimpleNamespace) -> None:
    """Half of 1460 × cos 30° = 632.2, less (head 40 + rise × sin 15° …) × sin 30° as it turns: by hand for the head alone."""
    play = hidden.Play((0.0,), (-30.0, 0.0, 30.0), head=40.0)
    box = around(hidden.hidden_outline(box_around((2000, 1150), 1460, 830), 0.0, play))
    assert box.right - 2000 == pytest.approx(632.2 - 40 * 0.5, abs=0.05)


def behind(frame: Box, plate: Box = PLATE, *kept: KeepOut) -> Behind:
    return Behind(frame.corners, 50, plate, 25, kept)


def change(one: Behind, limits: Limits | None = None):
    return openings(one, TWIN, 86, one.plate.centre, 0.0, limits or load.limits())


def test_an_empty_region_says_the_smallest_change_of_each_kind() -> None:
    # (700 - 460)/2 = 120 each side, 146 + 25 + 50 = 221 are needed: by 101 each side too little; upright 420 - 440 < 0
    small = box_around((2000, 1150), 700, 420)
    assert behind(small).region(TWIN) == ()
    found = change(behind(small))
    (plate, *_) = found
    # a plate 202 narrower leaves just nothing: a millimetre less opens it, and it is the least that does
    assert plate.what == "plate" and dict(plate.edit.values) == {"plate_width": 257}
    assert behind(small, box_around(PLATE.centre, 257, 440)).region(TWIN)
    assert not behind(small, box_around(PLATE.centre, 258, 440)).region(TWIN)
    assert [item.by for item in found] == sorted(item.by for item in found)


def test_a_smaller_box_is_the_smaller_change() -> None:
    tight = box_around((2000, 1150), 830, 420)  # (830 - 460)/2 = 185: 221 for a twin, 161 for a single
    (first, *_) = change(behind(tight))
    assert first.what == "box" and first.edit.edit == "set_limit" and first.by == 60
    assert behind(tight).region((86, 86)) and not behind(tight).region(TWIN)


def test_an_outlet_that_shuts_the_region_is_taken_out_or_the_screen_moved() -> None:
    narrow = box_around((2000, 1150), 910, 500)  # 225 beside the plate: 4 mm to spare for a twin
    left, right = Box(1500, 700, 240, 900), Box(2262, 900, 40, 500)
    shut = behind(narrow, PLATE, KeepOut("the column A", left, "A"), KeepOut("the socket EX1", right, "EX1"))
    assert shut.region(TWIN) == ()
    found = {item.what: item for item in change(shut)}
    assert dict(found["obstacle"].edit.values) == {"ref": "EX1", "state": "remove"}
    moved = found["screen"]
    by = dict(moved.edit.values)
    assert shut.moved(by.get("centre_x", 2000) - 2000, by.get("centre_height", 1150) - 1150).region(TWIN)


def test_a_box_is_held_by_the_outline_or_shows() -> None:
    leaning = ((0.0, 0.0), (1000.0, 0.0), (900.0, 500.0), (0.0, 500.0))
    assert holds(leaning, Box(700, 400, 200, 100)) and not holds(leaning, Box(720, 400, 200, 100))
    assert not holds((), Box(0, 0, 1, 1))


def test_whole_millimetres_where_they_are_in_the_region() -> None:
    assert whole((Box(0, 0, 10.4, 10),), (10.4, 3.7)) == (10, 4)
    assert whole((Box(0.2, 0, 0.5, 10),), (0.4, 3.7)) == (0.4, 3.7)
