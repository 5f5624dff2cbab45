"""Doors, flaps and drawers against boxes: exact, against shapely turning the same leaf in small steps."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Point, Polygon, box

from wallwright.carcass.record import Drawn
from wallwright.carcass.sweep import Solid, clash, handle, overlap, reach, sector
from wallwright.core.shape import Block, Box

FACE = 400.0


def door(hand="left", proud=0.0, x=1000.0, width=450.0, kind="door", height=600.0, z=300.0):
    run = math.hypot(height if kind == "flap" else width, proud)
    return Drawn(
        "C1.1-F1",
        "C1",
        kind,
        Box(x, z, width, height),
        Block(x, -FACE - run, z, width, run, height),
        90.0,
        hand,
        proud,
        18.0,
    )


def drawer(proud=0.0, run=300.0):
    out = run + proud
    return Drawn(
        "C1.1-F1",
        "C1",
        "drawer",
        Box(1000, 300, 600, 200),
        Block(1000, -FACE - out, 300, 600, out, 200),
        0.0,
        "",
        proud,
        18.0,
    )


def at(x0, x1, out0, out1, z0=0.0, z1=2000.0):
    return Solid(x0, x1, out0, out1, z0, z1)


def quarter(radius):
    arc = [
        (radius * math.cos(math.radians(k / 4)), radius * math.sin(math.radians(k / 4))) for k in range(361)
    ]
    return Polygon([(0, 0), *arc])


@settings(max_examples=150, deadline=None)
@given(st.floats(-300, 600), st.floats(5, 400), st.floats(-300, 600), st.floats(5, 400), st.floats(150, 600))
def test_a_leaf_against_a_rectangle_as_shapely_has_it(u, du, v, dv, radius):
    found = sector((u, u + du, v, v + dv), radius, 90.0)
    shared = box(u, v, u + du, v + dv).intersection(quarter(radius))
    if found is None:
        wedge = box(u, v, u + du, v + dv).intersection(box(0, 0, 2000, 2000))
        assert shared.area < 2.0 or wedge.distance(Point(0, 0)) > radius - 0.6
        return
    assert shared.area > 0
    near = box(u, v, u + du, v + dv).intersection(box(0, 0, 2000, 2000)).distance(Point(0, 0))
    assert found.overlap == pytest.approx(radius - near, abs=0.01)
    first = min(
        math.degrees(math.atan2(y, x))
        for x, y in shared.exterior.coords
        if math.hypot(x, y) > 1e-6 or near < 1e-6
    )
    assert found.opens == pytest.approx(max(0.0, first), abs=0.6)


@settings(max_examples=100, deadline=None)
@given(st.floats(0, 90), st.floats(-100, 500), st.floats(-100, 500), st.floats(10, 200), st.floats(10, 200))
def test_overlap_is_nought_just_where_shapely_finds_none(angle, u, v, du, dv):
    turned = affinity.rotate(box(380, 0, 420, 35), angle, origin=(0, 0))
    outline = list(turned.exterior.coords)[:4]
    ours, theirs = (
        overlap(outline, (u, u + du, v, v + dv)),
        turned.intersection(box(u, v, u + du, v + dv)).area,
    )
    assert (ours > 1e-6) == (theirs > 1e-6) or ours < 0.01


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_door_clears_what_stands_outside_its_arc_though_inside_its_square(hand):
    """450 wide: a post 40 square at the far corner of the square is 530 off the hinge, outside the quarter round (arithmetic)."""
    mover = door(hand)
    far = 1000 + 390 if hand == "left" else 1000 + 20
    post = at(far, far + 40, FACE + 390, FACE + 430)
    assert reach(mover).meets(post) and clash(mover, post) is None


def test_how_far_a_door_opens_against_a_wall_across_its_way():
    """A wall 200 in front: the edge of a door of 450 meets it at asin(200/450) = 26.4° (arithmetic)."""
    found = clash(door(), at(0, 3000, FACE + 200, FACE + 900))
    assert found is not None
    assert found.opens == pytest.approx(math.degrees(math.asin(200 / 450)), abs=0.01)
    assert found.overlap == pytest.approx(250)


def test_both_hands_are_mirror_images():
    one = clash(door("left", 35.0), at(1100, 1300, FACE + 300, FACE + 500))
    other = clash(door("right", 35.0), at(1150, 1350, FACE + 300, FACE + 500))
    assert one == other and one is not None


def test_a_handle_meets_the_side_wall_though_the_door_does_not():
    """Hinge 10 from the wall, handle 35 proud: open at right angles it would stand 25 in the wall (arithmetic)."""
    wall = at(890, 990, 0, 4000)
    assert clash(door("left", 0.0), wall) is None
    found = clash(door("left", 35.0), wall)
    assert found is not None and found.by_handle
    assert found.overlap == pytest.approx(25, abs=0.01)
    assert 85 < found.opens < 90
    assert clash(door("right", 35.0), wall) is None  # hinged on its other side it turns away


def test_a_flap_comes_down_on_what_stands_before_it():
    flap = door(kind="flap", hand="", height=300.0)
    assert clash(flap, at(1100, 1200, FACE + 100, FACE + 500, 0, 250)) is None  # lower than its hinge
    found = clash(flap, at(1100, 1200, FACE + 100, FACE + 500, 0, 400))
    assert found is not None and found.overlap == pytest.approx(200)
    assert found.opens == pytest.approx(45.0, abs=0.01)  # the corner stands 100 up and 100 out
    handled = door(kind="flap", hand="", height=300.0, proud=35.0)
    hung = handle(handled)
    assert hung is not None
    under = clash(handled, at(1000, 1450, FACE + 200, FACE + 400, 0, 290))
    assert (
        under is not None and under.by_handle and under.overlap == pytest.approx(25, abs=0.05)
    )  # 35 − 10 below


def test_a_drawer_stops_at_what_is_before_it():
    found = clash(drawer(), at(900, 1100, FACE + 120, FACE + 800))
    assert found is not None and (found.opens, found.overlap) == (120, 180)
    assert clash(drawer(), at(900, 1100, FACE + 301, FACE + 800)) is None
    gripped = clash(drawer(35.0), at(1200, 1400, FACE + 310, FACE + 800))  # the handle alone
    assert gripped is not None and gripped.by_handle and gripped.opens == pytest.approx(275)
    assert clash(drawer(35.0), at(1000, 1100, FACE + 310, FACE + 800)) is None  # beside the handle
