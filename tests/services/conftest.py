"""Hand-made records for the services' tests: an invented wall, so that no other stage is needed."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from wallwright.carcass.bays import cells_of
from wallwright.carcass.record import PanelZone, SetOut, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Box, box_around
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Device
from wallwright.job.design import Bay, Design, Light, Unit
from wallwright.job.document import Job
from wallwright.job.face import wall_face
from wallwright.job.survey import Obstacle, Place, Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.light import plan as light_plan
from wallwright.services.plan import plan
from wallwright.services.record import Services
from wallwright.sight.record import Screen
from wallwright.structure.lines import fixing_lines


def mm(value: float) -> Length:
    return Length(float(value))


def a_screen(
    frame: tuple[float, float] = (1460, 830),
    centre: tuple[float, float] = (2000, 1100),
    plate: tuple[float, float] = (460, 420),
    stand_off: float = 60,
    mount: str = "fixed",
) -> Screen:
    around = box_around(centre, *frame)
    return Screen(
        diagonal=65, panel="va", lines=2160, frame=around, picture=around.grown(-10), plate=box_around(centre, *plate),
        holes=box_around(centre, 400, 400), depth=60, stand_off=stand_off, tilt=0, mount=mount, mass=22, watts=180,
        standby_watts=0.5, source="typical", pinned=frozenset(),
    )  # fmt: skip


def a_unit(
    ref: str, kind: str, x: float, z: float, width: float, height: float, depth: float = 380
) -> UnitBox:
    return UnitBox(
        ref,
        kind,
        "centre",
        Box(x, z, width, height),
        depth,
        kind == "console",
        True,
        "ply18",
        "matt",
        frozenset(),
    )


def a_setout(panel_void: float = 0.0) -> SetOut:
    zones = (
        (
            PanelZone(
                "W1",
                "flat",
                Box(900, 0, 2200, 2600),
                "ply18",
                "matt",
                18,
                panel_void,
                (),
                0,
                0,
                12,
                frozenset(),
            ),
        )
        if panel_void
        else ()
    )
    units = (a_unit("C1", "console", 900, 250, 2200, 420), a_unit("T1", "tower", 100, 0, 500, 2200, 400))
    return SetOut(units, zones, ())


DEVICES = (
    Device("stb", "set_top_box"),
    Device("games", "games_console"),
    Device("bar", "soundbar"),
    Device("net", "router"),
)


def a_job(
    devices: tuple[Device, ...] = DEVICES,
    obstacles: tuple[Obstacle, ...] = (),
    lights: tuple[Light, ...] = (
        Light("LT1", "under_console"),
        Light("LT2", "behind_screen", driver_place="ceiling"),
    ),
    place: Place = Place(),
    design: Design | None = None,
) -> Job:
    wall = SurveyedWall(
        (Reading(mm(100), mm(4000)),), (Reading(mm(0), mm(2700)),), substrate="brick", leaf=mm(230)
    )
    bays = (Bay("drawers"), Bay("open"), Bay("drawers"))
    units = (Unit("C1", "console", bays=bays), Unit("T1", "tower", side="left"))
    return Job(
        title="Sample wall, invented",
        survey=Survey(Room(), wall, place=place, obstacles=obstacles),
        brief=Brief(devices=devices),
        design=design or Design(units=units, lights=lights),
    )


def a_plan(
    job: Job, screen: Screen | None = None, setout: SetOut | None = None, limits: Limits | None = None
) -> Services:
    """The services of the invented wall, with its strips laid, its bays divided and its rows of holes known."""
    screen, setout, limits = screen or a_screen(), setout or a_setout(), limits or load.limits()
    asked = {unit.ref for unit in job.design.units}
    known = [unit for unit in setout.units if unit.ref in asked]
    return plan(
        job, wall_face(job.survey), screen, setout, limits, cells=cells_of(known, job, limits),
        strips=light_plan.plan(job, screen, setout, (), limits).runs, rows=fixing_lines(setout.units, limits),
    )  # fmt: skip


@pytest.fixture
def make() -> SimpleNamespace:
    """`make.job()`, `make.screen()`, `make.setout()`, `make.plan(job, ...)`: the invented wall, changed by their arguments."""
    return SimpleNamespace(job=a_job, screen=a_screen, setout=a_setout, unit=a_unit, mm=mm, plan=a_plan)
