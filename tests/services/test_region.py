from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box as polygon
from shapely.geometry import Point
from shapely.ops import unary_union

from wallwright.core.shape import Box, box_around
from wallwright.services.region import (
    behind_screen,
    clear_of_holes,
    gap_to_plate,
    least_offset,
    nearest,
    smallest_change,
    whole,
)

TWIN = (146.0, 86.0)
FRAME = box_around((2000, 1150), 1660, 950)  # an invented 75-inch screen
PLATE = box_around((2000, 1150), 460, 440)


def test_least_offset_from_the_plate() -> None:
    assert least_offset(460, 25, 146) == 328  # 460/2 + 25 + 146/2, by hand
    region = behind_screen(FRAME, 50, PLATE, 25, TWIN, ())
    spot = nearest(region, (2000, 1150), -1)
    assert spot == (2000 - 328, 1150)
    assert nearest(region, (2000, 1150), 1) == (2000 + 328, 1150)


def test_places_that_pass_and_fail() -> None:
    region = behind_screen(FRAME, 50, PLATE, 25, TWIN, ())

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
    region = behind_screen(frame, 50, plate, 25, TWIN, obstacles)
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
    region = behind_screen(frame, 50, plate, 25, TWIN, obstacles)
    spot = nearest(region, (x, z))
    if not region:
        assert spot is None
        return
    assert spot is not None
    shape = unary_union([polygon(b.x, b.z, b.right, b.top) for b in region])
    assert shape.distance(Point(spot)) < 1e-9
    assert abs(abs(spot[1] - z) - min(max(b.z - z, z - b.top, 0) for b in region)) < 1e-6


def test_an_empty_region_says_the_smallest_change() -> None:
    small = box_around(
        (2000, 1150), 700, 420
    )  # (700 - 460)/2 = 120 each side: 146 + 25 + 50 = 221 are needed
    assert behind_screen(small, 50, PLATE, 25, TWIN, ()) == ()
    change = smallest_change(small, 50, PLATE, 25, TWIN, ())
    assert (change.what, change.by) == ("plate", 101)
    moved = Box(PLATE.x + change.by + 0.01, PLATE.z, PLATE.width, PLATE.height)
    assert behind_screen(small, 50, moved, 25, TWIN, ())  # the change does open it
    almost = Box(PLATE.x + change.by - 1, PLATE.z, PLATE.width, PLATE.height)
    assert not behind_screen(small, 50, almost, 25, TWIN, ())  # and less does not


def test_an_obstacle_that_shuts_the_region_is_named() -> None:
    narrow = box_around((2000, 1150), 960, 500)
    tall = Box(1500, 800, 250, 700)
    right = Box(2250, 800, 250, 700)
    assert behind_screen(narrow, 50, PLATE, 25, TWIN, (tall, right)) == ()
    change = smallest_change(narrow, 50, PLATE, 25, TWIN, (tall, right))
    assert change.what == "obstacle" and "x 1625" in change.says


def test_whole_millimetres_where_they_are_in_the_region() -> None:
    assert whole((Box(0, 0, 10.4, 10),), (10.4, 3.7)) == (10, 4)
    assert whole((Box(0.2, 0, 0.5, 10),), (0.4, 3.7)) == (0.4, 3.7)
