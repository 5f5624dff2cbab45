"""A living room with a window opposite the screen: 4200 × 5200, sofa 3600 before the picture, 65 in at 1080. The wall as derived.

Invented; worked by hand beforehand. The formulas alone are tried in tests/sight (rays, clipping, cures, veil); here the wall and what
its rules say. The window is x −600 to 1200 from the screen's middle, sill 900, 1800 × 1200, 5200 before the picture.
"""

from __future__ import annotations

import math

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.sight.compare import compare
from wallwright.sight.record import Reflection

OUT = 100  # stand-off 60 and frame 40: the picture is so far before the wall
JOB = f"""wallwright-job = 1
title = "Window opposite"
[survey]
date = "2026-02-16"
finish_complete = true
[survey.place]
latitude = 51.5
longitude = 0.0
bearing = 0.0
[survey.room]
kind = "living"
depth = {5200 + OUT}
floor_finished = true
[survey.wall]
widths = [{{ at = 1000, value = {{ value = 4200, state = "verified" }} }}]
heights = [{{ at = 1400, value = {{ value = 2600, state = "verified" }} }}]
substrate = "brick"
leaf = 230
damp = "dry"
[[survey.windows]]
ref = "S"
wall = "opposite"
along = 1500
sill = 900
width = 1800
height = 1200
[[survey.seats]]
ref = "A"
kind = "sofa"
x = 2100
distance = {3600 + OUT}
eye_height = 1080
[[brief.devices]]
ref = "bar"
kind = "soundbar"
[design.screen]
diagonal = 65
centre_x = 2100
centre_height = 1080
frame_width = 1450
frame_height = 830
frame_depth = 40
mass = 22
source = "measured"
[design.mount]
kind = "tilt"
stand_off = 60
tilt = 0
[[design.units]]
ref = "C1"
kind = "console"
"""


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(JOB)


def hit(wall: Wall) -> Reflection | None:
    return next((one for one in wall.sight.reflections if one.window == "S"), None)


def test_upright_a_third_of_the_picture_mirrors_the_window(job: Job) -> None:
    """Covers x −245…+491, z 1006…1485: 0.352 m², 30 % of the picture (by rays 0.301)."""
    wall = derive(job)
    one = hit(wall)
    assert one is not None
    xs, zs = zip(*one.polygon, strict=True)
    assert (min(xs) - 2100, max(xs) - 2100) == pytest.approx((-245, 491), abs=1)
    assert (min(zs), max(zs)) == pytest.approx((1006, 1485), abs=1)
    assert one.share == pytest.approx(0.301, abs=0.0015)
    (item,) = [item for item in check(wall) if item.rule == "sight.reflection"]
    assert item.severity == "fix" and item.measured == pytest.approx(0.302, abs=0.001)


@pytest.mark.parametrize(("tilt", "share"), [(3.0, 0.16), (5.0, 0.07), (6.5, 0.0)])
def test_tilt_takes_it_away_and_its_top_comes_forward(job: Job, tilt: float, share: float) -> None:
    """Hand figures to two places; at 6.5° the top is 830 · sin 6.5° = 94 mm further from the wall."""
    wall = derive(apply(job, "set_tilt", {"tilt": tilt}))
    one = hit(wall)
    assert (one.share if one else 0.0) == pytest.approx(share, abs=0.01)
    if tilt == 6.5:
        assert 830 * math.sin(math.radians(tilt)) == pytest.approx(94, abs=0.1)
        assert not [item for item in check(wall) if item.rule == "sight.reflection"]


def test_moved_aside_it_still_mirrors_half_as_much(job: Job) -> None:
    """Screen and sofa moved 1500 from where they are: still 15 %. Here the window is moved, which is the same. (1500 from its middle to
    the screen's, as the scenario may be read too, is 1200 more than now: 19 %.)"""
    one = hit(derive(read_job(JOB.replace("along = 1500", "along = 3000"))))
    assert one is not None and one.share == pytest.approx(0.15, abs=0.01)


def test_the_blind_takes_the_veil_and_tilt_the_area(job: Job) -> None:
    """Overcast pane 3000 cd/m² · 2 % = 60 over a mean of 120: 0.50; behind 5 % of openness 0.025. Both: 7 % at 0.025."""
    bare = hit(derive(job))
    assert bare is not None and bare.ratio == pytest.approx(0.50, abs=0.005)
    drawn = read_job(JOB.replace("sill = 900", "sill = 900\nblind = 0.05"))
    both = hit(derive(apply(drawn, "set_tilt", {"tilt": 5.0})))
    assert both is not None
    assert (both.share, both.ratio) == (pytest.approx(0.07, abs=0.01), pytest.approx(0.025, abs=0.001))
    assert not [i for i in check(derive(drawn)) if i.rule == "sight.reflection" and i.severity == "fix"]


def test_the_cure_is_named_and_cures(job: Job) -> None:
    """Ranked: tilt first, then the blind, then aside, then another wall."""
    wall = derive(job)
    (item,) = [item for item in check(wall) if item.rule == "sight.reflection"]
    at = [item.cure.find(word) for word in ("tilt", "blind")]
    assert -1 < at[0] < at[1]
    cured = job
    for call in item.edits:
        cured = apply(cured, call.edit, dict(call.values))
    assert not [one for one in check(derive(cured)) if one.rule == "sight.reflection"]


def test_a_larger_screen_is_better_watched_and_mirrors_more(job: Job) -> None:
    """65 in 22.6°, 75 in 26.0°: the mirrored area grows with the size. The library's 75 in frame is deeper: its picture is nearer."""
    rows = {row.diagonal: row for row in compare(job)}
    assert rows[65].seats[0].picture_angle == pytest.approx(22.6, abs=0.1)
    assert rows[75].seats[0].picture_angle == pytest.approx(26.0, abs=0.4)
    larger = hit(
        derive(
            read_job(
                JOB.replace("diagonal = 65", "diagonal = 75")
                .replace("1450\n", "1673\n")
                .replace("830\n", "960\n")
            )
        )
    )
    small = hit(derive(job))
    assert larger is not None and small is not None

    def size(one: Reflection) -> float:
        turned = zip(one.polygon, (*one.polygon[1:], one.polygon[0]), strict=True)
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in turned)) / 2

    assert size(larger) > size(small)


def test_the_low_winter_sun_lies_on_the_wall_and_its_hours_are_told(job: Job) -> None:
    """A window to the south, straight opposite: the low sun comes in and reaches the picture; without a place nobody can say."""
    (item,) = [item for item in check(derive(job)) if item.rule == "sight.sun_on_screen"]
    assert isinstance(item.measured, int) and item.measured > 20
    assert any(month in item.says for month in ("Nov", "Dec", "Jan")), item.says
    nowhere = read_job(JOB.replace("bearing = 0.0\n", ""))
    assert not [one for one in check(derive(nowhere)) if one.rule == "sight.sun_on_screen"]
