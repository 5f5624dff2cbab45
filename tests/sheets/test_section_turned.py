"""A screen on a turned arm: drawn where it is watched, double-dashed where it folds back to, and measured out there."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import radians, sin, tan

import pytest

from wallwright.core.drawing import Dim, Line
from wallwright.core.shape import around
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import section
from wallwright.sheets.crossed import crossed


@lru_cache(maxsize=3)
def on_arm(swivel: float) -> Wall:
    job = read_job(demo_jobs()["living_faults"])
    mount = replace(job.design.mount, kind="arm", reach=Length(600), swivel_most=40.0, swivel=swivel)
    return derive(replace(job, design=replace(job.design, mount=mount)))


def test_it_stands_where_it_is_watched() -> None:
    wall = on_arm(25.0)
    screen = wall.sight.screen
    assert screen.pulled > 100  # an arm must come out before a wide screen turns
    _, _, top, bottom = section.watched_section(wall)
    assert (top[0] + bottom[0]) / 2 == pytest.approx(-screen.middle[1])
    assert (top[0] - bottom[0]) / (top[1] - bottom[1]) == pytest.approx(-tan(radians(screen.tilt)), rel=1e-6)
    lines = {
        m.ref: m
        for m in section.drawing(wall, 20.0).marks
        if isinstance(m, Line) and m.closed and m.layer == "screen"
    }
    assert lines["screen"].pen == "medium" and lines["screen"].points == section.watched_section(wall)
    assert lines["screen folded"].pen == "phantom" and lines[
        "screen folded"
    ].points == section.screen_section(wall)
    near = screen.middle[1] + screen.frame.width / 2 * sin(radians(25.0))
    assert around(lines["screen beyond"].points).x == pytest.approx(-near)


def test_eyes_look_at_it_there_and_its_depths_are_measured_there() -> None:
    wall = on_arm(25.0)
    marks = section.drawing(wall, 20.0).marks
    corners = set(section.watched_section(wall))
    rays = [m for m in marks if isinstance(m, Line) and m.layer == "sight" and m.pen == "thin"]
    assert rays and all(ray.points[1] in corners for ray in rays)
    depths = [m for m in marks if isinstance(m, Dim) and m.ref == "screen depths"]
    assert min(d.start[0] for d in depths) == pytest.approx(min(x for x, _ in corners))


def test_both_hands_alike_and_nothing_runs_through_a_text() -> None:
    for swivel in (25.0, -25.0):
        wall = on_arm(swivel)
        assert section.turned(wall)
        assert crossed(section.sheet(wall)) == ()
    assert section.turned_reach(on_arm(-25.0)) > on_arm(-25.0).sight.screen.middle[1]


def test_a_screen_that_is_not_turned_is_drawn_once() -> None:
    wall = on_arm(0.0)
    assert not section.turned(wall)
    assert section.watched_section(wall) == section.screen_section(wall)
    refs = [m.ref for m in section.drawing(wall, 20.0).marks if isinstance(m, Line) and m.layer == "screen"]
    assert "screen folded" not in refs and "screen beyond" not in refs
