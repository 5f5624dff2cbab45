"""Strips laid, fed, driven and looked at."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from wallwright.carcass.arch import arch_over
from wallwright.carcass.record import SetOut
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Person
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


@pytest.mark.parametrize("rise", [1100.0, 300.0])
def test_behind_an_arched_panel_it_goes_round_the_arch(lay: Lay, setout: SetOut, rise: float) -> None:
    """60 in from a half round of 1100, or a segment: two sides and an arc about the same middle, 60 shorter in its radius."""
    (zone, *rest) = setout.zones
    assert zone.box.width == 2200
    arch = arch_over(zone.box, rise)
    run = lay("behind_panel", walls=replace(setout, zones=(replace(zone, arch=arch), *rest)))
    radius = (1100**2 + rise**2) / (2 * rise)
    cx, cz = zone.box.centre[0], zone.box.top - radius
    assert max(z for _, z in run.path) == pytest.approx(zone.box.top - 60)
    for x, z in run.path[1:-1]:
        assert math.hypot(x - cx, z - cz) == pytest.approx(radius - 60)
    turn = math.asin(1040 / (radius - 60))
    sides = 2 * (cz + (radius - 60) * math.cos(turn) - zone.box.z)
    assert run.length == pytest.approx(sides + 2 * turn * (radius - 60), rel=2e-3)
    assert run.length < lay("behind_panel").length
    assert run.curve == pytest.approx(radius - 60) and run.turn == pytest.approx(2 * turn)
    assert run.seen_by == () and run.wall_lux == pytest.approx(lay("behind_panel").wall_lux, rel=0.02)


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
    assert [(why.name, why.value) for why in light.whys[:2]] == [
        ("light L1", "not laid"),
        ("light L2", "not laid"),
    ]
    assert all(why.name.startswith("beside.") for why in light.whys[2:])
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
    assert lay("behind_panel", (seat, beside)).seen_by == ("B", "standing at B")
    near = replace(seat, ref="N", eye=(2000, -700, 1000))  # 900 below the shelf, 480 before it: over the lip
    assert lay("under_shelf", (seat, near)).seen_by == ("N",)
    close = replace(seat, ref="C", eye=(3600, -700, 1156))  # looks across at the tower's side, over its fin
    assert lay("tower_side", (seat, close)).seen_by == ("C", "standing at C")
    other = replace(seat, ref="D", eye=(400, -700, 1156))
    assert lay("tower_side", (close, other), of="T2").seen_by == ("D", "standing at D")


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
    # strip 50 from the wall, 60 behind the edge; by hand: F/2 · (210/215.87 − 60/78.10) = 200 · 0.20460 = 40.92 lm/m on
    # 0.15 m, 272.8 lx, / π = 86.8 cd/m²; the gap gives back 1/(1 − 0.1 · F), F = √(1 + (5/6)²) − 5/6 = 0.46838: 91.1; 12/91.1
    assert white.band_luminance == pytest.approx(91.1, rel=2e-3)
    assert white.dim_to == pytest.approx(12 / 91.1, rel=2e-3)
    # at the edge F s²/2d³ = 400 · 0.05²/2/0.0781³ = 1049.6 lx, 334.1 cd/m² · 1.0491 = 350.5: 12/350.5
    assert white.dim_low == pytest.approx(12 / 350.5, rel=2e-3)
    assert white.dim_to < dark.dim_to <= 1
    assert bias("#FFFFFF", setout).dim_to > white.dim_to  # the grey panel stands behind
    assert white.colour == 6500


def test_what_is_seen_round_the_screen(screen: Screen, limits: Limits) -> None:
    """White wall: 100 lx by day is 31.83 cd/m² (E ρ/π), 30 lx in the evening 9.549; the bias light at its level adds 12."""
    bare = SetOut((), (), ())
    white = Finishes(wall_colour="#FFFFFF")
    without = plan(job(finishes=white), screen, bare, (), limits).beside
    assert [state.when for state in without] == ["day", "evening", "dark"]
    assert [state.luminance for state in without] == pytest.approx([31.83, 9.549, 0], abs=0.01)
    assert without[0].share == pytest.approx(31.83 / 200, abs=1e-4)
    lit = plan(job(Wish("L1", "behind_screen"), finishes=white), screen, bare, (), limits).beside
    assert [state.bias for state in lit] == pytest.approx([0, 12, 12])
    assert lit[2].share == pytest.approx(0.10)  # SMPTE RP 166, as quoted: less than 10 % of reference white
    stuck = plan(job(Wish("L1", "behind_screen", dim_low=0.5), finishes=white), screen, bare, (), limits)
    assert stuck.beside[2].bias == pytest.approx(
        0.5 * stuck.runs[0].band_luminance
    )  # as low as its driver goes
    full = plan(job(Wish("L1", "behind_screen", dimmable=False), finishes=white), screen, bare, (), limits)
    assert full.beside[2].bias == pytest.approx(full.runs[0].band_luminance)


def test_what_hides_it(lay: Lay, lying: SeatView, seat: SeatView) -> None:
    """The setback and the lip that the stage names hide the strip, and a little less does not."""
    beside = replace(seat, ref="B", eye=(9000, -200, 1156))
    run = lay("behind_panel", (beside,))
    assert run.hide_setback is not None
    assert lay("behind_panel", (beside,), setback=Length(run.hide_setback + 0.1)).seen_by == ()
    assert lay("behind_panel", (beside,), setback=Length(run.hide_setback - 0.1)).seen_by != ()
    under = lay("under_console", (lying,))
    assert under.hide_setback is None and under.hide_lip is not None  # from below only a lip helps
    assert lay("under_console", (lying,), lip=Length(under.hide_lip + 0.1)).seen_by == ()
    assert lay("under_console", (lying,), lip=Length(under.hide_lip - 0.1)).seen_by == ("F",)


def test_a_child_on_the_floor_and_whoever_stands_there(
    screen: Screen, setout: SetOut, seat: SeatView, limits: Limits
) -> None:
    """Four years, 1020 tall: sits about 470 high at the eye, sees under a shelf at 700 but not under the console at 250."""
    low = replace(setout, units=(replace(setout.units[3], box=Box(1300, 700, 1400, 25)), setout.units[0]))
    with_child = replace(
        job(Wish("L1", "under_shelf", lip=Length(10)), Wish("L2", "under_console")),
        brief=Brief(
            people=(Person("child", stature=Length(1020), age=4), Person("big", stature=Length(1950)))
        ),
    )
    runs = plan(with_child, screen, low, (seat,), limits).runs
    assert runs[0].seen_by == ("a child on the floor",)
    assert runs[1].seen_by == ()
    standing = replace(seat, eye=(2000, -900, 400))  # close by; standing there, 1950 − 111 = 1839 high
    high = replace(setout, units=(replace(setout.units[3], box=Box(1300, 2400, 1400, 25)),))
    tall = plan(
        replace(with_child, design=Design(lights=(Wish("L1", "under_shelf", lip=Length(18)),))),
        screen,
        high,
        (standing,),
        limits,
    )
    # 561 below the shelf, 680 before it: 10 + 551 · 15/695 = 21.9 > 18
    assert "standing at A" in tall.runs[0].seen_by


@pytest.mark.parametrize(
    ("feed", "places"),
    [("one_end", [(960, 0)]), ("both_ends", [(960, 0), (3040, 0)]), ("centre", [(2000, 2240)])],
)
def test_where_the_feed_comes_in(lay: Lay, feed: str, places: list[tuple[float, float]]) -> None:
    """Panel 2200 wide and 2300 high from x 900: the strip runs 60 inside; its middle is the middle of the top."""
    run = lay("behind_panel", feed=feed)
    assert run.feed_points == tuple(places)
    ring = lay("behind_screen", feed="both_ends")
    assert len(ring.feed_points) == 1  # a ring: its ends meet


def test_the_feed_and_its_driver(lay: Lay) -> None:
    """Console from 1000 to 3000, middle 400 high: the driver stands at the feed's x, 400 up. Feed |Δx| + |Δz| + 500."""
    run = lay("behind_panel", feed="one_end")
    assert run.driver_at == (1000, 400)
    assert run.feed_length == pytest.approx(40 + 400 + 500)
    assert lay("behind_panel", driver_place="ceiling").driver_at == (960, 2600)


def test_light_in_figures(lay: Lay) -> None:
    """Wall of #F1ECE2, ρ 0.842: E ρ/π. Grazing at 50: brightest 0.19245 F/s = 0.19245 · 450/0.05 = 1732 lx at 35.4 mm."""
    under = lay("under_console")
    assert under.surface == "W1"  # the panel runs down behind it
    assert under.peak_at == pytest.approx(35.36, abs=0.01)
    assert under.peak_luminance == pytest.approx(1732 * under.reflectance / math.pi, rel=1e-3)
    assert under.wall_luminance == pytest.approx(under.wall_lux * under.reflectance / math.pi)
    assert under.visible_lumens == pytest.approx(
        450 / 2 * 1.88
    )  # half of a grazing strip's light lands on the wall
    halo = lay("behind_panel")
    assert halo.surface == "wall"
    # strip 30 from the wall, 60 behind the edge: ½ (1 − 60/67.08) = 5.28 % comes out to be seen
    assert halo.visible_lumens == pytest.approx(0.0528 * 450 * halo.length / 1000, rel=2e-3)
    assert halo.evenness == pytest.approx(0.5, abs=0.01)  # the end of a long strip has half of the light
    assert lay("behind_panel", setback=Length(20)).visible_lumens > 3 * halo.visible_lumens


def test_heat_and_profile(lay: Lay) -> None:
    """14.4 W/m, 65 % heat, 8 W/m²K over 60 mm: 9.36/(8 · 0.06) = 19.5 K (film and share from memory)."""
    strong = lay("under_console", watts_per_m=14.4)
    assert strong.rise == pytest.approx(19.5)
    assert strong.profile and not lay("under_console").profile  # above 10 W/m: common practice
    assert not lay("under_console", watts_per_m=14.4, profile=False).profile


def test_circuits(screen: Screen, setout: SetOut, limits: Limits) -> None:
    """Bias light and mood light are switched apart unless the designer says otherwise."""
    wishes = Wish("L1", "behind_screen"), Wish("L2", "under_console"), Wish("L3", "behind_panel")
    apart = plan(job(*wishes), screen, setout, (), limits)
    assert [(c.ref, c.runs) for c in apart.circuits] == [("bias", ("L1",)), ("mood", ("L2", "L3"))]
    assert apart.circuits[1].watts == pytest.approx(apart.runs[1].watts + apart.runs[2].watts)
    together = plan(job(*(replace(wish, circuit="all") for wish in wishes)), screen, setout, (), limits)
    assert [c.colours for c in together.circuits] == [(2700, 6500)]


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
    # 12 cd/m² on the panel's grey over 3.28 m² of halo, ½ (560/562.2 − 60/78.1) = 0.1139 of the light: by hand
    grey = light.runs[0].reflectance
    assert whys["light L1.budget"].value == pytest.approx(
        math.pi * 12 / grey * 3.28 / 4.56 / 0.1139, rel=3e-3
    )
    assert "light L1.dim_to" in whys and "light L2.dim_to" not in whys
    assert all(why.says and why.source for why in light.whys)
