"""A small invented wall for the structure tests."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from wallwright.carcass import plan as carcass_plan
from wallwright.carcass import setout as carcass_setout
from wallwright.carcass.record import Carcass, SetOut
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Design, Mount, Panel, Unit
from wallwright.job.document import Job
from wallwright.job.face import wall_face
from wallwright.job.survey import Backer, Obstacle, Place, Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.sight.record import Screen
from wallwright.storage.record import Storage
from wallwright.structure import plan as structure_plan
from wallwright.structure.record import FixingCheck, Structure

EMPTY = Storage((), (), (), 0.0, 0.0, "moderate", ())


@dataclass(frozen=True)
class Checked:
    job: Job
    setout: SetOut
    carcass: Carcass
    structure: Structure
    limits: Limits
    screen: Screen

    def fixing(self, ref: str) -> FixingCheck:
        return next(check for check in self.structure.fixings if check.ref == ref)


def make(
    *units: Unit,
    panels: tuple[Panel, ...] = (),
    substrate: str = "brick",
    finish: str = "plaster",
    studs: tuple[float, ...] = (),
    mount: Mount = Mount(),
    mass: float = 24.0,
    storage: Storage = EMPTY,
    rules: dict[str, float] | None = None,
    backers: tuple[Backer, ...] = (),
    obstacles: tuple[Obstacle, ...] = (),
    plate: Box = Box(1800, 1115, 600, 400),
    leaf: float | None = None,
    humid: bool = False,
) -> Checked:
    wall = SurveyedWall(
        (Reading(Length(0), Length(4200)),), (Reading(Length(0), Length(2700)),), substrate=substrate, finish=finish,
        studs=tuple(Length(x) for x in studs), backers=backers, leaf=Length(leaf) if leaf else None,
    )  # fmt: skip
    job = Job(
        "wall",
        Survey(Room(), wall, obstacles=obstacles, place=Place(hot_humid=humid)),
        design=Design(units=units, panels=panels, mount=mount),
    )
    frame = Box(1375, 900, 1450, 830)
    holes = Box(1900, 1165, 400, 300)
    screen = Screen(
        65,
        "ips",
        2160,
        frame,
        frame.grown(-10),
        plate,
        holes,
        60,
        50,
        0,
        mount.kind,
        mass,
        150,
        0.5,
        "typical",
        frozenset(),
    )
    limits = load.limits().overridden(rules or {})
    face = wall_face(job.survey)
    setout = carcass_setout.plan(job, face, frame, limits)
    carcass = carcass_plan.plan(job, face, setout, limits, plate=plate)
    return Checked(
        job,
        setout,
        carcass,
        structure_plan.plan(job, face, screen, setout, carcass, storage, limits),
        limits,
        screen,
    )


@pytest.fixture(scope="session")
def wall() -> Callable[..., Checked]:
    return make
