"""Lines that one sees, by hand and against the union of lines with shapely."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import box as polygon
from shapely.ops import unary_union

from wallwright.core.shape import Box
from wallwright.look.edges import Line, left_to_see, outline, seen_length

FACE = Box(0, 0, 4000, 2600)


def test_one_box_and_one_before_it() -> None:
    """A panel 1000 × 1000 behind a screen 600 × 400 in its middle: 4000 + 2000. Half hidden: what sticks out counts."""
    panel, screen = Box(1000, 1000, 1000, 1000), Box(1200, 1300, 600, 400)
    assert seen_length([(screen, ()), (panel, ())], FACE) == pytest.approx(6000)
    beside = Box(1800, 1300, 600, 400)  # covers 400 of the panel's right edge
    assert seen_length([(beside, ()), (panel, ())], FACE) == pytest.approx(2000 + 3600)


def test_the_rim_of_the_wall_is_no_line_and_a_shared_edge_counts_once() -> None:
    tower = Box(0, 0, 400, 2600)
    assert seen_length([(tower, ())], FACE) == pytest.approx(2600)
    two = [(Box(1000, 500, 300, 300), ()), (Box(1300, 500, 300, 300), ())]
    assert seen_length(two, FACE) == pytest.approx(2 * 1200 - 300)


def test_inner_lines_are_hidden_too() -> None:
    joint = Line(True, 1500, 1000, 2000)
    assert left_to_see(joint, [Box(1200, 1300, 600, 400)]) == pytest.approx(600)
    panel = Box(1000, 1000, 1000, 1000)
    assert seen_length([(Box(1200, 1300, 600, 400), ()), (panel, (joint,))], FACE) == pytest.approx(6600)


@given(
    st.lists(
        st.builds(Box, st.integers(1, 30), st.integers(1, 20), st.integers(1, 9), st.integers(1, 9)),
        min_size=1,
        max_size=5,
    )
)
def test_against_shapely(boxes: list[Box]) -> None:
    """All outlines less what lies inside a nearer box, drawn once."""
    seen = []
    before = []
    for box in boxes:
        for line in outline(box):
            ends = (
                ((line.at, line.low), (line.at, line.high))
                if line.upright
                else ((line.low, line.at), (line.high, line.at))
            )
            rest = LineString(ends)
            for near in before:
                rest = rest.difference(near)
            seen.append(rest)
        before.append(polygon(box.x, box.z, box.right, box.top))
    drawn = unary_union([line for line in seen if not line.is_empty]).length
    far = Box(-100, -100, 300, 300)
    assert seen_length([(box, ()) for box in boxes], far) == pytest.approx(drawn)
