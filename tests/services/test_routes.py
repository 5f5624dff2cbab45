"""Routes: worked cases whose lengths are known, and random walls against networkx and shapely."""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box as polygon
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from wallwright.core.shape import Box, Point2, box_around
from wallwright.services.routes import Grid, Route, grid, kept_apart, kept_off, priced, segments, shortest
from wallwright.services.zones import prescribed

FACE = Box(0, 0, 4000, 2700)
SUPPLY, A, C = (75.0, 2700.0), (2000.0, 1150.0), (1500.0, 350.0)
NICHE, DUCT = Box(600, 900, 300, 500), Box(1000, 2500, 200, 200)
ZONES = prescribed(FACE, [box_around(A, 86, 86), box_around(C, 86, 86)], 150)


def find(start: Point2, end: Point2, blocked: tuple[Box, ...] = ()) -> Route | None:
    lines = grid(FACE, [SUPPLY, A, C], ZONES, blocked, ((75, 3925), (2625,)))
    return shortest(lines, start, end, 200)


@pytest.mark.parametrize(
    ("start", "end", "blocked", "length", "bends"),
    [
        (SUPPLY, A, (), 3475, 1),  # 1925 across and 1550 down
        (SUPPLY, A, (NICHE,), 3475, 1),  # the way along the row is shut, the way along the top is not
        (SUPPLY, A, (NICHE, DUCT), 5075, 2),  # both are shut: down to the lower row, across, and up
        (SUPPLY, C, (), 3775, 1),
        (A, C, (), 1300, 1),
    ],
)
def test_worked_cases(
    start: Point2, end: Point2, blocked: tuple[Box, ...], length: float, bends: int
) -> None:
    route = find(start, end, blocked)  # lengths added up by hand along BS 7671 522.6.202 zones
    assert route is not None
    assert (route.length, route.bends) == (length, bends)


def test_the_detour_goes_by_the_lower_row() -> None:
    route = find(SUPPLY, A, (NICHE, DUCT))
    assert route is not None
    assert route.path == ((75, 2700), (75, 350), (2000, 350), (2000, 1150))


def test_no_path_is_said() -> None:
    above, below = Box(1900, 1300, 200, 100), Box(1900, 900, 200, 100)
    left, right = Box(1700, 1000, 100, 300), Box(2200, 1000, 100, 300)
    assert find(SUPPLY, A, (above, below, left, right)) is None
    assert find(SUPPLY, A, (above, below, left)) is not None


def test_a_run_does_not_slip_between_two_obstacles_that_touch() -> None:
    two = (Box(1000, 0, 500, 1350), Box(1000, 1350, 500, 1350))
    lines = grid(FACE, [(100, 1350), (3000, 1350)], (FACE,), two)
    assert shortest(lines, (100, 1350), (3000, 1350), 200) is None


def test_a_place_off_the_grid_is_an_error() -> None:
    with pytest.raises(KeyError, match="not on the grid"):
        find((1.0, 1.0), A)


def test_what_runs_alongside_the_mains_goes_round() -> None:
    lines = grid(FACE, [(500, 1000), (3000, 1000)], (FACE,), (), ((), (1060,)))
    straight = shortest(lines, (500, 1000), (3000, 1000), 200)
    mains = segments(((0.0, 1000.0), (4000.0, 1000.0)))
    apart = shortest(kept_apart(lines, mains, 50), (500, 1000), (3000, 1000), 200)
    assert straight is not None and straight.length == 2500
    assert apart is not None and apart.path == ((500, 1000), (500, 1060), (3000, 1060), (3000, 1000))
    crossing = segments(((1500.0, 0.0), (1500.0, 2700.0)))
    assert (
        shortest(kept_apart(lines, crossing, 50), (500, 1000), (3000, 1000), 200) == straight
    )  # square: no matter


@st.composite
def cluttered(draw: st.DrawFn) -> tuple[list[Point2], list[Box]]:
    tens = st.integers(0, 40).map(lambda n: 100.0 * n)
    points = draw(
        st.lists(
            st.tuples(tens, st.integers(0, 27).map(lambda n: 100.0 * n)), min_size=2, max_size=5, unique=True
        )
    )
    boxes = draw(
        st.lists(
            st.builds(
                Box, tens, st.integers(0, 26).map(lambda n: 100.0 * n), st.integers(1, 12).map(lambda n: 100.0 * n),
                st.integers(1, 12).map(lambda n: 100.0 * n),
            ),
            max_size=5,
        )
    )  # fmt: skip
    return points, boxes


def oracle(lines: Grid, free: BaseGeometry, start: Point2, end: Point2, price: float) -> float | None:
    """The same question by networkx on a graph whose edges shapely lets through."""
    graph = nx.Graph()
    for j, z in enumerate(lines.zs):
        for i, x in enumerate(lines.xs):
            graph.add_edge((x, z, "level"), (x, z, "upright"), weight=price)
            for to, way in (((lines.xs[i + 1], z), "level") if i + 1 < len(lines.xs) else (None, ""),
                            ((x, lines.zs[j + 1]), "upright") if j + 1 < len(lines.zs) else (None, "")):  # fmt: skip
                if to is not None and free.covers(LineString([(x, z), to])):
                    graph.add_edge((x, z, way), (*to, way), weight=abs(to[0] - x) + abs(to[1] - z))
    for way in ("level", "upright"):
        graph.add_edge("start", (*start, way), weight=0)
        graph.add_edge("end", (*end, way), weight=0)
    try:
        return float(nx.shortest_path_length(graph, "start", "end", weight="weight"))
    except nx.NetworkXNoPath:
        return None


@settings(max_examples=80, deadline=None)
@given(cluttered(), st.booleans())
def test_random_walls_against_networkx_and_shapely(wall: tuple[list[Point2], list[Box]], zoned: bool) -> None:
    points, blocked = wall
    zones = prescribed(FACE, [box_around(p, 86, 86) for p in points], 150) if zoned else (FACE,)
    lines = grid(FACE, points, zones, blocked, ((75, 3925), (2625,)))
    free = unary_union([polygon(z.x, z.z, z.right, z.top) for z in zones]) & polygon(0, 0, 4000, 2700)
    free = free - unary_union([polygon(b.x, b.z, b.right, b.top) for b in blocked]) if blocked else free
    start, end = points[0], points[1]
    if any(b.x < p[0] < b.right and b.z < p[1] < b.top for b in blocked for p in (start, end)):
        assert shortest(lines, start, end, 200) is None
        return
    route = shortest(lines, start, end, 200)
    expected = oracle(lines, free, start, end, 200)
    if route is None:
        assert expected is None
        return
    assert route.price == pytest.approx(expected)
    assert free.buffer(1e-6).covers(LineString(route.path))
    assert route.price == pytest.approx(route.length + 200 * route.bends)
    for a, b in segments(route.path):
        assert a[0] == b[0] or a[1] == b[1]


def test_a_run_takes_the_void_where_a_chase_costs_more() -> None:
    lines = grid(FACE, [A, (3500.0, 350.0)], (FACE,), (), ((), (350.0, 800.0)))
    void = (Box(1500, 700, 2500, 1500),)
    plain = shortest(lines, A, (3500.0, 350.0), 200)
    cheap = shortest(priced(lines, void, level=2.0, upright=1.0), A, (3500.0, 350.0), 200)
    assert plain is not None and cheap is not None
    assert cheap.length == plain.length == 1500 + 800
    assert cheap.price == 1500 + 800 + 200  # level at 1150, in the void
    dear = shortest(priced(lines, (), level=2.0, upright=1.0), A, (3500.0, 350.0), 200)
    assert dear is not None and dear.price == 2 * 1500 + 800 + 200


def test_half_a_step_in_the_void_costs_half_more() -> None:
    lines = grid(FACE, [(0.0, 1000.0), (2000.0, 1000.0)], (FACE,), ())
    half = priced(lines, (Box(1000, 900, 1000, 200),), level=3.0, upright=1.0)
    assert half.across[half.zs.index(1000.0)][0] == 1000 + 3 * 1000


def test_level_runs_keep_off_a_row_of_holes_and_upright_ones_cross_it() -> None:
    lines = grid(FACE, [(500.0, 1000.0), (2000.0, 1000.0)], (FACE,), (), ((), (1060.0, 940.0, 400.0)))
    off = kept_off(lines, (Box(400, 1000, 800, 0),), 55)
    assert off.across[off.zs.index(1000.0)][off.xs.index(500.0)] == float("inf")
    assert off.across[off.zs.index(940.0)][off.xs.index(500.0)] == 1500  # 60 below it
    first, middle = (off.up[off.xs.index(x)] for x in (500.0, 2000.0))
    assert (
        middle == lines.up[lines.xs.index(2000.0)] == first
    )  # neither stands beside the first or the last hole
    ends = kept_off(lines, (Box(540, 1000, 700, 0),), 55)
    assert ends.up[ends.xs.index(500.0)] != lines.up[lines.xs.index(500.0)]
