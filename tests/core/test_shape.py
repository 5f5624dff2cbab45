"""Boxes against shapely, an independent geometry library."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box as polygon
from shapely.ops import unary_union

from wallwright.core.shape import Block, Box, box_around, cut_out

mm = st.integers(-50, 50)
boxes = st.builds(Box, mm, mm, st.integers(1, 60), st.integers(1, 60))


def shape(box: Box):
    return polygon(box.x, box.z, box.right, box.top)


@given(boxes, boxes)
def test_overlap_and_gap(a: Box, b: Box) -> None:
    common = a.shared(b)
    area = shape(a).intersection(shape(b)).area
    assert (common.area if common else 0) == pytest.approx(area)
    assert a.meets(b) == b.meets(a) == (area > 0)
    assert a.gap(b) == pytest.approx(shape(a).distance(shape(b)))
    assert a.holds(b) == shape(a).covers(shape(b))


@given(st.lists(boxes, max_size=5), st.lists(boxes, max_size=4))
def test_cutting_out_leaves_what_is_left_and_no_overlap(region: list[Box], holes: list[Box]) -> None:
    apart: tuple[Box, ...] = ()
    for box in region:  # a region is of boxes that do not overlap
        fresh = (box,)
        for old in apart:
            fresh = cut_out(fresh, old)
        apart += fresh
    left = apart
    for hole in holes:
        left = cut_out(left, hole)
    wanted = unary_union([shape(box) for box in region]).difference(
        unary_union([shape(hole) for hole in holes])
    )
    got = unary_union([shape(box) for box in left])
    assert got.symmetric_difference(wanted).area == pytest.approx(0)
    assert sum(box.area for box in left) == pytest.approx(wanted.area)


@given(boxes, st.integers(0, 30))
def test_grown_keeps_the_middle(box: Box, by: int) -> None:
    grown = box.grown(by)
    assert grown.centre == pytest.approx(box.centre)
    assert (grown.width, grown.height) == (box.width + 2 * by, box.height + 2 * by)
    assert box.grown(-1000).area == 0


def test_corners_run_round_from_the_lower_left() -> None:
    box = Box(10, 20, 30, 40)
    assert box.corners == ((10, 20), (40, 20), (40, 60), (10, 60))
    assert box_around((25, 40), 30, 40) == box


def test_boxes_that_touch_do_not_meet() -> None:
    assert not Box(0, 0, 10, 10).meets(Box(10, 0, 10, 10))
    assert Box(0, 0, 10, 10).shared(Box(10, 0, 10, 10)) is None
    assert Box(0, 0, 10, 10).gap(Box(13, 14, 1, 1)) == 5  # 3-4-5


def test_blocks_share_a_volume() -> None:
    a = Block(0, -300, 0, 100, 300, 400)
    assert a.volume == 12e6
    assert a.face == Box(0, 0, 100, 400)
    assert a.overlap(Block(50, -100, 350, 100, 100, 100)) == 50 * 100 * 50
    assert a.overlap(Block(100, -300, 0, 10, 10, 10)) == 0
