"""What shuts a strip in, against areas by another library."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.light.blocked import in_void, stretches
from wallwright.light.record import LightRun


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


@pytest.fixture(scope="module")
def run(wall: Wall) -> LightRun:
    """Up the left side, along the top and down the right side of a panel of 1000 × 800, 60 inside its edge."""
    (run,) = [run for run in wall.light.runs if run.along == "behind_panel"]
    return replace(run, path=((60, 0), (60, 740), (940, 740), (940, 0)), setback=60.0)


def shut(run: LightRun, *solids: Box) -> list[tuple[object, object]]:
    return [(one.a, one.b) for one in stretches(run, solids, 20.0) if not one.clear]


def test_by_hand(run: LightRun) -> None:
    across = Box(30, 300, 940, 50)  # a batten across both sides
    assert shut(run, across) == [((60, 300), (60, 350)), ((940, 350), (940, 300))]
    assert shut(run, Box(100, 750, 500, 50)) == [((100, 740), (600, 740))]  # above the top leg
    assert shut(run, Box(71, 0, 858, 729)) == []  # all that lies inside the profile, 10 mm to its middle
    assert shut(run, Box(69, 100, 10, 50)) == [((60, 100), (60, 150))]  # in the profile itself
    assert shut(run, Box(0, 100, 20, 50), Box(10, 120, 60, 80)) == [
        ((60, 100), (60, 150)),
        ((60, 150), (60, 200)),
    ]
    assert [one.clear for one in stretches(run, (), 20.0)] == [True] * 3


boxes = st.builds(
    Box, st.integers(-50, 1000), st.integers(-50, 800), st.integers(1, 400), st.integers(1, 400)
)


@settings(deadline=None, max_examples=80)
@given(st.lists(boxes, max_size=5))
def test_against_areas_of_another_library(run: LightRun, solids: list[Box]) -> None:
    """The whole strip is told, piece after piece; shut is what the shadow of the solids in each leg's way takes of the leg."""
    from shapely import box, union_all
    from shapely.geometry import LineString

    told = list(stretches(run, solids, 20.0))
    assert told[0].a == run.path[0] and told[-1].b == run.path[-1]
    assert all(math.dist(one.b, other.a) < 1e-9 for one, other in pairwise(told))
    dark = 0.0
    for x0, z0, x1, z1, upright in (
        (0, 0, 70, 740, True),
        (60, 730, 940, 800, False),
        (930, 0, 1000, 740, True),
    ):
        way = box(x0, z0, x1, z1)
        cut = [way.intersection(box(s.x, s.z, s.right, s.top)).bounds for s in solids
               if way.intersection(box(s.x, s.z, s.right, s.top)).area > 0]  # fmt: skip
        lines = [LineString([(b[1], 0), (b[3], 0)] if upright else [(b[0], 0), (b[2], 0)]) for b in cut]
        dark += union_all(lines).length
    assert sum(one.length for one in told if not one.clear) == pytest.approx(dark)


def test_round_an_arch(run: LightRun) -> None:
    """A strip round a half circle of radius 440, 60 inside the edge: shut where a plank at the crown covers the ring between."""
    turns = [math.pi * k / 24 for k in range(25)]
    arch = replace(run, path=tuple((500 - 440 * math.cos(t), 440 * math.sin(t)) for t in turns))
    plank = Box(400, 450, 200, 40)
    dark = [one for one in stretches(arch, [plank], 20.0) if not one.clear]
    assert dark and all(400 < (one.a[0] + one.b[0]) / 2 < 600 for one in dark)
    assert sum(one.length for one in dark) == pytest.approx(
        2 * 440 * math.asin(100 / 470), abs=2 * 440 * math.pi / 24
    )
    assert shut(arch, Box(200, 100, 600, 200)) == []  # well inside


def test_what_lies_in_the_void(wall: Wall) -> None:
    run = next(run for run in wall.light.runs if run.along == "behind_panel")
    parts = in_void(run, wall.carcass.parts)
    assert {part.role for part in parts} == {"batten", "backer"}
    assert not shut(run, *(part.block.face for part in parts))
    assert in_void(replace(run, along="behind_screen"), wall.carcass.parts) == ()
    assert in_void(replace(run, of="W9"), wall.carcass.parts) == ()
