from __future__ import annotations

import math
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box as polygon
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from wallwright.core.shape import Box, box_around
from wallwright.job.survey import Obstacle
from wallwright.library import load
from wallwright.services.drill import (
    Hole,
    distance_to_path,
    edge_distance,
    in_zones,
    no_drill,
    reaches,
    verdict,
)
from wallwright.services.existing import live_bands
from wallwright.services.zones import prescribed

ALONG = ((75.0, 1150.0), (2000.0, 1150.0))
DOWN = ((75.0, 2700.0), (75.0, 1150.0))
ZONES = prescribed(Box(0, 0, 4000, 2700), [box_around((2000, 1150), 86, 86)], 150)


@pytest.mark.parametrize(
    ("x", "z", "path", "edge", "says"),
    [
        (1850, 1350, ALONG, 185, "ok"),
        (1850, 1165, ALONG, 0, "warn"),
        (1850, 1180, ALONG, 15, "warn"),
        (1850, 1160, ALONG, -5, "hit"),
        (1990, 1900, ALONG, 735, "ok"),
        (60, 2000, DOWN, 0, "warn"),
    ],
)
def test_hole_of_10_mm_beside_a_20_mm_conduit(
    x: float, z: float, path: tuple[tuple[float, float], ...], edge: float, says: str
) -> None:
    hole = Hole(x, z, 10, 60)
    assert edge_distance(hole, path, 20) == pytest.approx(edge)  # distance - 10 - 5, by hand
    assert verdict(edge_distance(hole, path, 20), 25) == says


def test_a_zone_warns_where_no_cable_is_recorded() -> None:
    assert in_zones(Hole(1990, 1900, 10, 60), ZONES)  # straight above the accessory
    assert not in_zones(Hole(1850, 1350, 10, 60), ZONES)
    assert in_zones(Hole(1950, 1900, 16, 60), ZONES)  # its edge reaches in: the band begins at 1957
    assert not in_zones(Hole(1950, 1900, 10, 60), ZONES)


def test_depth() -> None:
    assert not reaches(Hole(0, 0, 10, 8), 15, 5)
    assert reaches(Hole(0, 0, 10, 12), 15, 5)


def test_the_map_of_where_nobody_drills(make: SimpleNamespace) -> None:
    """Every hole that comes within 25 mm of a run, or within the band of what is there, lies in the map; others do not."""
    socket = Obstacle("EX", "socket", make.mm(3600), make.mm(300), make.mm(86), make.mm(86))
    job = make.job(obstacles=(socket,))
    found, limits, face = make.plan(job), load.limits(), Box(0, 0, 4000, 2700)
    there = live_bands(job.survey.obstacles, face)
    shut = no_drill(found, there, face, limits)
    field = unary_union([Polygon(part.outline) for part in shut])
    assert polygon(0, 0, 4000, 2700).buffer(1e-6).covers(field)
    paths = [(LineString(run.path), run.outside_diameter) for run in found.runs]
    for x in range(20, 4000, 90):
        for z in range(20, 2700, 90):
            near = any(line.distance(Point(x, z)) - size / 2 < 25 - 1e-6 for line, size in paths)
            assert not near or field.covers(Point(x, z)), (x, z)
            far = all(line.distance(Point(x, z)) - size / 2 > 25 * 2**0.5 for line, size in paths)
            box = any(p.box.grown(25).gap(Box(x, z, 0, 0)) == 0 for p in found.points)
            if far and not box and not 3550 <= x <= 3736 and not 250 <= z <= 436:
                assert not field.contains(Point(x, z)), (x, z)
    assert {part.sort for part in shut} == {"run", "box", "existing"}
    assert {part.sort for part in no_drill(found, there, face, limits, zones=True)} >= {"zone"}


tenths = st.integers(0, 40_000).map(lambda n: n / 10)
coordinates = st.tuples(tenths, tenths)


@given(coordinates, st.lists(coordinates, min_size=1, max_size=5))
def test_distance_against_shapely(point: tuple[float, float], path: list[tuple[float, float]]) -> None:
    line = LineString(path) if len(path) > 1 else Point(path[0])
    assert math.isclose(distance_to_path(point, path), Point(point).distance(line), abs_tol=1e-6)
