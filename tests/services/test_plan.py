from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from shapely import box as polygon
from shapely.geometry import LineString
from shapely.ops import unary_union

from wallwright.carcass.record import SetOut
from wallwright.core.shape import Box
from wallwright.job.brief import Device
from wallwright.job.design import Design, Light, Point
from wallwright.job.face import wall_face
from wallwright.job.survey import Obstacle, Place, Reading
from wallwright.library import load
from wallwright.light import plan as light_plan
from wallwright.services import chase, loads
from wallwright.services.board import MAINS
from wallwright.services.record import Services
from wallwright.services.runs import Ground, entry, voids_for
from wallwright.structure.lines import fixing_lines

Planner = Callable[..., Services]


@pytest.fixture
def services(make: SimpleNamespace) -> Planner:
    def planned(**changes: Any) -> Services:
        screen, setout = (
            changes.pop("screen", None) or make.screen(),
            changes.pop("setout", None) or make.setout(),
        )
        rules = changes.pop("rules", {})
        job = make.job(**changes)
        return make.plan(job, screen, setout, load.limits().overridden(rules))

    return planned


def test_every_mains_point_is_reached_and_mains_keeps_to_the_zones(services: Planner) -> None:
    found = services()
    mains = [run for run in found.runs if run.kind == "mains"]
    assert {run.end for run in mains} == {p.ref for p in found.points if p.kind in MAINS}
    zones = unary_union([polygon(z.x, z.z, z.right, z.top) for z in found.zones]).buffer(1e-6)
    for run in mains:
        assert run.legal and zones.covers(LineString(run.path))
    assert sum(run.start == "supply" for run in mains) == 2  # one for each circuit


def test_runs_join_their_points_and_their_length_is_that_of_the_path(services: Planner) -> None:
    found = services()
    at = {p.ref: (p.x, p.z) for p in found.points}
    for run in found.runs:
        assert run.length == pytest.approx(LineString(run.path).length)
        assert run.bends == len(run.path) - 2
        if run.end in at:
            assert run.path[-1] == at[run.end]
        if run.start in at:
            assert run.path[0] == at[run.start]
    assert len({run.ref for run in found.runs}) == len(found.runs)


def test_nothing_crosses_the_plate_or_what_is_solid(services: Planner, make: SimpleNamespace) -> None:
    niche = Obstacle("n", "niche", make.mm(500), make.mm(900), make.mm(250), make.mm(500))
    found = services(obstacles=(niche,))
    keep_out = [make.screen().plate, Box(500, 900, 250, 500)]
    for run in found.runs:
        for box in keep_out:
            inner = polygon(box.x + 1, box.z + 1, box.right - 1, box.top - 1)
            assert not LineString(run.path).intersects(inner), run.ref


def test_the_picture_conduit_takes_the_plug(services: Planner) -> None:
    (trunk,) = [run for run in services().runs if run.kind == "conduit"]
    assert trunk.outside_diameter == 40 and trunk.bore >= 26.9  # diagonal 24.2 of the plug / 0.9
    assert trunk.longest == 5000 and trunk.fill < 0.40


def test_signals_keep_off_the_mains(services: Planner) -> None:
    found = services()
    mains = [LineString(run.path) for run in found.runs if run.kind == "mains"]
    for run in found.runs:
        if run.kind in ("data", "rf", "conduit"):
            beside = sum(
                LineString(run.path).intersection(line.buffer(49, cap_style="flat")).length for line in mains
            )
            assert beside <= 4 * 98 + 1, run.ref  # square crossings of a 98 mm band only


def test_no_legal_path_is_marked(services: Planner, make: SimpleNamespace) -> None:
    door = Obstacle("d", "door", make.mm(0), make.mm(0), make.mm(860), make.mm(2699))
    window = Obstacle("w", "window", make.mm(3200), make.mm(0), make.mm(800), make.mm(2699))
    found = services(obstacles=(door, window))
    assert [run for run in found.runs if run.kind == "mains" and not run.legal]
    why = next(w for w in found.whys if w.says.endswith("of depth or a steel cover"))
    assert why.name.endswith(".length")


def test_the_supply_comes_in_under_a_beam(make: SimpleNamespace) -> None:
    face = wall_face(make.job().survey)
    beam = Box(-25, 2375, 4050, 350)
    assert entry(face, (beam,), (), load.limits(), right=False) == (75, 2375)
    assert entry(face, (), (), load.limits(), right=True) == (3925, 2625)


def test_the_supply_keeps_off_the_screws_of_a_tower_in_the_corner(make: SimpleNamespace) -> None:
    face = wall_face(make.job().survey)
    tower = make.unit("T1", "tower", 25, 0, 450, 2300)  # screwed at 25 + 40 = 65: a run at 75 would be hit
    assert entry(face, (), (tower,), load.limits(), right=False) == (120, 2625)
    assert entry(face, (), (tower,), load.limits(), right=True) == (3925, 2625)


def test_no_signal_runs_along_the_rail_of_a_hung_console(services: Planner, make: SimpleNamespace) -> None:
    console = make.unit("C1", "console", 900, 250, 2400, 420)
    tower = make.unit("T1", "tower", 100, 0, 500, 2200)
    found = services(
        setout=SetOut((console, tower), (), ()),
        devices=(Device("a", "av_receiver"), Device("s", "subwoofer")),
    )
    band = polygon(900, 670 - 23 - 160, 3300, 670 - 23)  # the hanging rail and its cleat, 80 each
    for run in found.runs:
        for a, b in zip(run.path, run.path[1:], strict=False):
            if a[1] == b[1] and run.kind != "mains":
                assert LineString([a, b]).intersection(band).length == 0, run.ref


def test_a_strip_that_is_not_laid_is_neither_fed_nor_reckoned(services: Planner) -> None:
    found = services(lights=(Light("LT1", "under_shelf", driver_place="ceiling"),))  # there is no shelf
    assert not [p for p in found.points if p.kind == "led_feed"] and len(found.circuits) == 1


def test_the_picture_conduit_drops_plumb_so_that_its_chase_is_upright(services: Planner) -> None:
    (trunk,) = [run for run in services().runs if run.kind == "conduit"]
    assert len(trunk.path) == 2 and trunk.path[0][0] == trunk.path[1][0]


@pytest.mark.parametrize(
    ("substrate", "leaf", "size", "prices"),
    [
        ("brick", 230, 20, (2.5, 2)),
        ("brick", 230, 40, (40, 2)),  # 52 deep: more than 230 / 6, less than 230 / 3
        ("brick", 115, 20, (40, 2)),  # 32 deep: more than 19.2, less than 38.3
        ("brick", 50, 20, (40, 40)),
        ("concrete", 200, 40, (2.5, 2.5)),
        ("metal_stud", 100, 40, (2.5, 1.0)),
    ],
)
def test_what_may_not_be_chased_costs_most(
    make: SimpleNamespace, substrate: str, leaf: float, size: float, prices: tuple[float, float]
) -> None:
    job = make.job()
    wall = replace(job.survey.wall, substrate=substrate, leaf=make.mm(leaf))
    ground = Ground(wall_face(job.survey), wall, (), (), (), load.limits())
    assert ground.prices(size) == prices


def test_a_signal_run_stays_in_the_void_where_it_can(make: SimpleNamespace) -> None:
    void = voids_for(make.setout(60).zones, 20, load.limits())
    found = make.plan(make.job(lights=()), setout=make.setout(panel_void=60))
    for run in found.runs:
        if run.kind == "data" and run.start != "entry":
            outside = chase.outside(run.path, void)
            assert not [1 for a, b in outside if a[1] == b[1]], run.ref


def test_mains_that_only_hidden_boxes_show_asks_for_cover(services: Planner) -> None:
    found = services()
    screen = next(p for p in found.points if p.zone == "behind_screen" and p.kind == "twin_socket")
    band = (Box(0, screen.box.z, 4000, screen.box.height), Box(screen.box.x, 0, screen.box.width, 2700))
    assert set(band) <= set(found.hidden_zones)
    assert all(run.protect for run in found.runs if run.end == screen.ref)
    assert not any(run.protect for run in found.runs if run.kind != "mains")
    data = next(p for p in found.points if p.kind == "data")
    assert (
        Box(0, data.box.z, 4000, data.box.height) not in found.zones or data.z == screen.z
    )  # data makes no zone


def test_a_run_from_corner_to_a_socket_in_view_needs_no_cover(
    services: Planner, make: SimpleNamespace
) -> None:
    seen = Point("P9", "twin_socket", make.mm(3950 - 73), make.mm(300))
    found = services(devices=(), lights=(), setout=SetOut((), (), ()), design=Design(points=(seen,)))
    run = next(run for run in found.runs if "P9" in (run.start, run.end) and "supply" in (run.start, run.end))
    assert run.legal and not run.protect


def test_concrete_is_not_cut(services: Planner, make: SimpleNamespace) -> None:
    job = make.job()
    survey = replace(job.survey, wall=replace(job.survey.wall, substrate="concrete"))
    assert {run.lies for run in make.plan(replace(job, survey=survey)).runs} == {"surface"}
    assert {run.lies for run in services().runs} == {"chase"}


def test_no_level_run_follows_a_row_of_holes(make: SimpleNamespace) -> None:
    limits = load.limits()
    setout = make.setout()
    rows = fixing_lines(setout.units, limits)
    assert [round(row.z) for row in rows] == [2140]  # the tower is 2200 high, screwed 60 below its top
    low = replace(make.job(), survey=replace(make.job().survey, wall=replace(
        make.job().survey.wall, heights=(Reading(make.mm(0), make.mm(2230)),))))  # fmt: skip
    found = make.plan(low, setout=setout)
    for run in found.runs:
        for a, b in zip(run.path, run.path[1:], strict=False):
            along = min(max(a[0], b[0]), 600) - max(min(a[0], b[0]), 100)
            assert not (a[1] == b[1] and along > 0 and abs(a[1] - 2140) < 25 + 10 + 10), run.ref


def test_a_point_off_the_wall_gets_no_run_and_breaks_nothing(
    services: Planner, make: SimpleNamespace
) -> None:
    beyond = (
        Point("P9", "twin_socket", make.mm(4300), make.mm(300)),
        Point("D9", "data", make.mm(-50), make.mm(300)),
    )
    found = services(design=Design(points=beyond))
    assert {"P9", "D9"} <= {p.ref for p in found.points}
    assert not {"P9", "D9"} & {end for run in found.runs for end in (run.start, run.end)}


def test_runs_in_a_deep_void_need_no_chase(services: Planner, make: SimpleNamespace) -> None:
    deep = {r.ref: r.in_void for r in services(setout=make.setout(panel_void=60)).runs}
    shallow = {r.ref: r.in_void for r in services(setout=make.setout(panel_void=20)).runs}
    assert deep["H1"] and not shallow["H1"]
    assert not deep["M1"]  # it comes from the corner, outside the panel


def test_circuits_add_up(services: Planner, make: SimpleNamespace) -> None:
    found = services()
    av, lighting = found.circuits
    # screen 180, box 20, console 200, bar 40, router 12; eight outlets, five used: three spare at 200 W
    assert av.connected == pytest.approx(180 + 20 + 200 + 40 + 12 + 3 * 200)
    assert av.diversified == pytest.approx(180 + 20 + 200 * 0.7 + 40 + 12 + 3 * 200 * 0.25)
    assert av.current == pytest.approx(av.diversified / (230 * 0.95))
    assert av.rating == 16 and av.cable_mm2 == 2.5 and lighting.cable_mm2 == 1.5
    assert av.drop_percent == pytest.approx(
        100 * 18 * 16 * av.length / 1e6 / 230
    )  # BS 7671 table 4D: 18 mV/A/m
    assert av.length > 12_000
    # the strips as the light stage lays them: one source for its schedule and for this circuit
    job = make.job()
    strips = light_plan.plan(job, make.screen(), make.setout(), (), load.limits()).runs
    assert len(strips) == 2 and lighting.connected == pytest.approx(sum(s.watts for s in strips) / 0.88)
    assert av.standby == pytest.approx(0.5 + 8 + 2 + 1 + 12)


def test_every_mains_point_has_its_circuit(services: Planner) -> None:
    for point in services().points:
        assert point.circuit == (
            "" if point.kind not in MAINS else "Q2" if point.kind == "led_feed" else "Q1"
        )


def test_a_fire_has_its_own_circuit_and_spur(services: Planner) -> None:
    found = services(devices=(Device("fire", "electric_fire"), Device("stb", "set_top_box")))
    own = found.circuits[-1]
    assert own.connected == 2000 and own.name.startswith("Electric fire")
    (spur,) = [p for p in found.points if p.circuit == own.ref]
    assert spur.kind == "switched_spur" and spur.serves == ("fire",)
    assert found.circuits[0].connected < 2000
    assert own.current == pytest.approx(loads.current(2000, 230, 0.95))


def test_us_rules_change_volts_cable_and_drop(services: Planner) -> None:
    us = services(place=Place(rules="US")).circuits[0]
    uk = services(place=Place(rules="UK")).circuits[0]
    assert (us.volts, uk.volts) == (120, 230)
    assert us.rating == 15 and us.drop_percent <= 3
    assert us.current == pytest.approx(uk.current * 230 / 120)


def test_own_limits_go_before_the_library(services: Planner) -> None:
    far = services(rules={"services.board_distance": 40_000}).circuits[0]
    assert far.cable_mm2 == 4  # 2.5 mm² reaches 39.93 m
    row = services(rules={"services.cabinet_rise": 160})
    assert {p.z for p in row.points if p.zone == "cabinet" and p.kind == "twin_socket"} == {410}


def test_an_insulated_wall_needs_the_thicker_cable(make: SimpleNamespace) -> None:
    limits = load.limits().overridden({"services.grouped": 2.0})
    sizes = {}
    for substrate in ("brick", "metal_stud"):
        job = make.job()
        job = replace(job, survey=replace(job.survey, wall=replace(job.survey.wall, substrate=substrate)))
        found = make.plan(job, limits=limits)
        sizes[substrate] = found.circuits[0].cable_mm2
    # IEC 60364-5-52 table B.52.2: in masonry B2 23 × 0.87 × 0.80 = 16.0 A carries 16; in studs A2 18.5 × … = 12.9 does not
    assert sizes == {"brick": 2.5, "metal_stud": 4.0}


def test_every_shown_value_has_its_why(services: Planner) -> None:
    found = services()
    names = {why.name: why for why in found.whys}
    for point in found.points:
        assert names[f"point {point.ref}.x"].value == point.x
        assert names[f"point {point.ref}.z"].value == point.z
    for run in found.runs:
        assert names[f"run {run.ref}.length"].value == run.length
        assert names[f"run {run.ref}.fill"].value == pytest.approx(100 * run.fill)
    for circuit in found.circuits:
        assert names[f"circuit {circuit.ref}.current"].value == circuit.current
        assert names[f"circuit {circuit.ref}.drop"].value == circuit.drop_percent
        assert names[f"circuit {circuit.ref}.cable"].value == circuit.cable_mm2
        assert "locally licensed electrician" in names[f"circuit {circuit.ref}.cable"].says
    for device in found.devices:
        assert f"device {device.ref}.place" in names
    assert len(names) == len(found.whys)


def test_same_job_same_services(services: Planner) -> None:
    assert services() == services()


def test_a_bare_wall_works(services: Planner) -> None:
    found = services(devices=(), lights=(), setout=SetOut((), (), ()), design=Design())
    assert found.points and found.circuits and all(run.legal for run in found.runs)


def test_many_lights(services: Planner) -> None:
    lights = tuple(Light(f"LT{n}", "under_console", driver_place="ceiling") for n in range(6))
    found = services(lights=lights)
    feeds = [p for p in found.points if p.kind == "led_feed"]
    assert len(feeds) == 6 and len({run.end for run in found.runs if run.kind == "elv"}) == 6
