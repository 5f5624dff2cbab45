"""Fixings ask about the cables near them alone, so that they stay known while a cable elsewhere moves."""

from __future__ import annotations

from dataclasses import replace

from wallwright.core.shape import Box
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.structure import fixings
from wallwright.structure.fixings import loaded
from wallwright.structure.wall import NEAR, wall_of

JOB, LIMITS = read_job(demo_jobs()["living"]), load.limits()
STRIP = Box(1000.0, 1500.0, 900.0, 80.0)


def _holes(*cables: Box) -> tuple[tuple[float, float], ...]:
    load_ = loaded(((20.0, 150.0), (40.0, 150.0)), 0.0, 300.0, 300.0)
    wall = wall_of(JOB, LIMITS, cables)
    over = STRIP.x, STRIP.right
    return fixings._checked(  # pyright: ignore[reportPrivateUsage]
        "U1", "loft U1", load_, [STRIP], 1540.0, over, (), wall, LIMITS
    ).holes


def test_no_hole_of_the_library_is_so_wide_that_a_cable_left_out_would_bear_on_it() -> None:
    assert max(anchor.hole for anchor in load.anchors().values()) / 2 < NEAR


def test_a_cable_far_off_is_left_out_and_one_in_the_way_is_not() -> None:
    near, beside, far = (Box(x, 1000.0, 60.0, 1200.0) for x in (1020.0, 950.0, 2500.0))
    kept = wall_of(JOB, LIMITS, (near, far, beside)).near([STRIP]).keep_clear
    assert kept == (near, beside)


def test_the_holes_move_with_a_cable_in_the_way_and_with_no_other() -> None:
    free = _holes()
    assert free
    over = Box(free[0][0] - 20, 1000.0, 40.0, 1200.0)
    moved = _holes(over)
    assert moved != free
    assert all(not over.x < x < over.right for x, _ in moved)
    assert _holes(Box(3000.0, 0.0, 50.0, 2400.0)) == free
    assert _holes(over, Box(3000.0, 0.0, 50.0, 2400.0)) == moved
    shifted = replace(over, x=free[-1][0] - 20)
    assert _holes(shifted) not in (free, moved)


def test_a_wall_is_fixed_as_if_every_cable_were_asked_about() -> None:
    wall = derive(JOB)
    fixings._kept.cache_clear()  # pyright: ignore[reportPrivateUsage]
    again = derive(JOB)
    assert again.structure.fixings == wall.structure.fixings
