"""Strips laid, fed, driven and looked at."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from wallwright.carcass.record import SetOut
from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.design import Design, Finishes
from wallwright.job.design import Light as Wish
from wallwright.job.document import Job
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall
from wallwright.light.plan import plan
from wallwright.light.record import Light, LightRun
from wallwright.sight.record import Screen, SeatView

Lay = Callable[..., LightRun]


def job(*lights: Wish, finishes: Finishes | None = None) -> Job:
    survey = Survey(
        Room(), SurveyedWall((Reading(Length(0), Length(4000)),), (Reading(Length(0), Length(2600)),))
    )
    return Job("light", survey, design=Design(lights=lights, finishes=finishes or Finishes()))


@pytest.fixture
def lay(screen: Screen, setout: SetOut, seat: SeatView, limits: Limits) -> Lay:
    def run(
        along: Any, seats: tuple[SeatView, ...] = (seat,), walls: SetOut = setout, **wish: Any
    ) -> LightRun:
        (only,) = plan(job(Wish("L1", along, **wish)), screen, walls, seats, limits).runs
        return only

    return run


@pytest.mark.parametrize(
    ("along", "of", "length"),
    [
        ("behind_panel", "W1", 2 * (2300 - 60) + 2200 - 120),  # up both sides and along the top, 60 in
        ("behind_screen", "screen", 2 * (1450 - 120 + 830 - 120)),  # all round, 60 in
        ("under_console", "C1", 2000 - 120),
        ("under_shelf", "S1", 1400 - 120),
        ("tower_side", "T1", 2300),
    ],
)
def test_where_it_lies(lay: Lay, along: str, of: str, length: float) -> None:
    run = lay(along)
    assert (run.of, run.length) == (of, pytest.approx(length))
    assert run.watts == pytest.approx(run.watts_per_m * length / 1000)
    assert run.amps == pytest.approx(run.watts / 24)
    assert run.driver_load <= 0.8 and run.driver_watts * 0.8 >= run.watts
    assert run.seen_by == ()


def test_tower_side_looks_at_the_screen(lay: Lay) -> None:
    assert lay("tower_side").path[0] == (400, 80)
    assert lay("tower_side", of="T2").path[0] == (3600, 80)


def test_asked_for_another_unit(screen: Screen, setout: SetOut, limits: Limits) -> None:
    light = plan(
        job(Wish("L1", "under_shelf", of="S9"), Wish("L2", "behind_panel")),
        screen,
        SetOut((), (), ()),
        (),
        limits,
    )
    assert light.runs == ()
    assert [(why.name, why.value) for why in light.whys] == [
        ("light L1", "not laid"),
        ("light L2", "not laid"),
    ]
    assert "S9" in light.whys[0].says


def test_long_run_is_fed_in_the_middle(lay: Lay, setout: SetOut) -> None:
    """14.4 W/m at 12 V over 6.56 m: r i L²/2 = 0.0985 · 1.2 · 43.0/2 = 2.54 V, 21 %: too much, so the middle: 5.3 %."""
    run = lay("behind_panel", volts=12, watts_per_m=14.4)
    assert run.feed == "centre"
    assert run.drop_percent == pytest.approx(100 * 0.0985 * 1.2 * 6.56**2 / 8 / 12, rel=1e-6)
    assert lay("behind_panel", volts=12, watts_per_m=14.4, feed="one_end").drop_percent == pytest.approx(
        4 * run.drop_percent
    )
    assert lay("behind_screen", volts=12, watts_per_m=30.0).feed == "both_ends"  # a ring: its ends meet
    assert lay("under_console").feed == "one_end"


def test_seen_from_below_and_from_aside(lay: Lay, lying: SeatView, seat: SeatView) -> None:
    """Whoever lies on the floor looks up at the console's underside; from a shallow angle a strip near its edge shows."""
    assert lay("under_console", (lying, seat)).seen_by == ("F",)
    low = replace(lying, eye=(2000, -1500, 300))  # above the underside: the board lies between
    assert lay("under_console", (low,)).seen_by == ()
    beside = replace(
        seat, ref="B", eye=(9000, -200, 1156)
    )  # almost in the wall's plane, far beyond the panel's edge
    assert lay("behind_panel", (seat, beside)).seen_by == ("B",)
    near = replace(seat, ref="N", eye=(2000, -700, 1000))  # 900 below the shelf, 480 before it: over the lip
    assert lay("under_shelf", (seat, near)).seen_by == ("N",)
    close = replace(seat, ref="C", eye=(3600, -700, 1156))  # looks across at the tower's side, over its fin
    assert lay("tower_side", (seat, close)).seen_by == ("C",)
    other = replace(seat, ref="D", eye=(400, -700, 1156))
    assert lay("tower_side", (close, other), of="T2").seen_by == ("D",)


def test_light_on_the_wall(lay: Lay, setout: SetOut) -> None:
    """Halo 100 beyond the panel's edge: strip 30 from the wall, 160 along it: F s²/2d³ = 450 · 0.03²/2/0.16279³ =
    46.9 lx endless.
    """
    run = lay("behind_panel")
    assert run.wall_lux == pytest.approx(46.9, rel=0.01)
    assert lay("behind_panel", lumens_per_m=900.0).wall_lux == pytest.approx(2 * run.wall_lux)
    deeper = replace(setout, zones=(replace(setout.zones[0], void=60),))
    assert lay("behind_panel", walls=deeper).wall_lux > run.wall_lux
    # under the console it grazes: s 50, h 100: F s h/2d³ = 450 · 0.05 · 0.1/2/0.1118³ = 805 lx endless
    assert lay("under_console").wall_lux == pytest.approx(805, rel=0.01)


def test_bias_light_is_dimmed(screen: Screen, setout: SetOut, limits: Limits) -> None:
    """White wall: a strip of 400 lm/m is several times too bright; a dark wall throws less back and wants more."""

    def bias(colour: str, zones: SetOut) -> LightRun:
        wish = job(Wish("L1", "behind_screen"), finishes=Finishes(wall_colour=colour))
        return plan(wish, screen, zones, (), limits).runs[0]

    bare = SetOut((), (), ())
    white, dark = bias("#FFFFFF", bare), bias("#404040", bare)
    # π · 12 / 1.0 · halo 3.2800 m² / 4.560 m / 0.65 used / 400 lm/m = 0.1043 (frame 1450 × 830, by hand)
    assert white.dim_to == pytest.approx(0.1043, rel=1e-3)
    assert white.dim_to < dark.dim_to <= 1
    assert bias("#FFFFFF", setout).dim_to > white.dim_to  # the grey panel stands behind
    assert white.colour == 6500


def test_only_a_light_round_the_screen_is_a_bias_light(lay: Lay) -> None:
    assert lay("behind_panel").dim_to == 0
    assert lay("behind_panel").colour == 2700
    assert lay("behind_panel", colour=4000.0).colour == 4000


def test_depth_and_pitch(lay: Lay) -> None:
    assert lay("behind_panel").depth == 30  # void 40 less the strip's own 10
    assert lay("behind_panel", depth=Length(12)).depth == 12
    assert lay("under_shelf", pitch=Length(20)).pitch == 20


def test_whys(screen: Screen, setout: SetOut, seat: SeatView, limits: Limits) -> None:
    light: Light = plan(
        job(Wish("L1", "behind_screen"), Wish("L2", "under_shelf")), screen, setout, (seat,), limits
    )
    whys = {why.name: why for why in light.whys}
    assert len(whys) == len(light.whys)
    for run in light.runs:
        assert whys[f"light {run.ref}.drop"].value == run.drop_percent
        assert whys[f"light {run.ref}.driver"].value == run.driver_watts
        assert {
            f"light {run.ref}.{name}"
            for name in ("length", "watts", "feed", "feed_drop", "wall_lux", "seen_by")
        } <= set(whys)
    assert "light L1.dim_to" in whys and "light L2.dim_to" not in whys
    assert all(why.says and why.source for why in light.whys)
