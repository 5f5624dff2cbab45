"""Convex outlines of `core.shape` against shapely."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box as polygon
from shapely import symmetric_difference
from shapely.geometry import MultiPoint, Polygon
from shapely.ops import unary_union

from wallwright.core.shape import (
    Box,
    Outline,
    cut_box,
    half_plane,
    hull,
    outline_area,
    shared_outline,
    shrunk,
    sides,
)

places = st.tuples(st.integers(-500, 500), st.integers(-500, 500)).map(lambda p: (float(p[0]), float(p[1])))
clouds = st.lists(places, min_size=3, max_size=9, unique=True).filter(
    lambda p: MultiPoint(p).convex_hull.area > 500
)
sizes = st.integers(5, 600).map(float)


def near(mine: list[Outline], theirs: object, within: float = 0.05) -> bool:
    """The same field, within so many mm²."""
    drawn = unary_union([Polygon(piece) for piece in mine if piece])
    # on a fine grid: edges that nearly coincide are the oracle's weak point
    return symmetric_difference(drawn, theirs, grid_size=1e-6).area < within


@settings(max_examples=100, deadline=None)
@given(clouds)
def test_a_hull_is_convex_and_counter_clockwise(cloud: list[tuple[float, float]]) -> None:
    found = hull(cloud)
    assert near([found], MultiPoint(cloud).convex_hull)
    assert outline_area(found) > 0
    assert all(nx * x + nz * z <= most + 1e-6 for nx, nz, most in sides(found) for x, z in cloud)


@settings(max_examples=100, deadline=None)
@given(clouds, clouds)
def test_what_two_outlines_share(one: list[tuple[float, float]], other: list[tuple[float, float]]) -> None:
    expected = MultiPoint(one).convex_hull.intersection(MultiPoint(other).convex_hull)
    assert near([shared_outline(hull(one), hull(other))], expected)


@settings(max_examples=100, deadline=None)
@given(clouds, st.lists(st.tuples(places, sizes, sizes), max_size=4))
def test_boxes_cut_out_of_an_outline(
    cloud: list[tuple[float, float]], holes: list[tuple[tuple[float, float], float, float]]
) -> None:
    pieces: tuple[Outline, ...] = (hull(cloud),)
    expected = MultiPoint(cloud).convex_hull
    for (x, z), width, height in holes:
        pieces = cut_box(pieces, Box(x, z, width, height))
        expected = expected - polygon(x, z, x + width, z + height)
    assert near(list(pieces), expected)
    assert abs(sum(map(outline_area, pieces)) - expected.area) < 0.05  # so they do not overlap
    assert all(outline_area(piece) > 0 for piece in pieces)


@settings(max_examples=100, deadline=None)
@given(clouds, st.integers(0, 60))
def test_an_outline_shrunk(cloud: list[tuple[float, float]], by: int) -> None:
    expected = MultiPoint(cloud).convex_hull.buffer(-by, join_style="mitre", mitre_limit=1e6)
    assert near(
        [shrunk(hull(cloud), by)], expected, 1.0
    )  # shapely's own offset is good to a thousandth of a millimetre


def test_a_box_inside_an_outline_by_hand() -> None:
    square = Box(0, 0, 1000, 500).corners
    assert sorted(shrunk(square, 50, 146, 86)) == [(123, 93), (123, 407), (877, 93), (877, 407)]
    assert shrunk(square, 250) == () and half_plane(square, 1, 0, 0) == ()
    assert (
        half_plane(square, 1, 0, 400) == ((400, 0), (400, 500), (0, 500), (0, 0))
        or outline_area(half_plane(square, 1, 0, 400)) == 400 * 500
    )
