"""Small invented jobs for the joinery tests."""

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
from wallwright.job.brief import Brief
from wallwright.job.design import Design, Finishes, Panel, Unit
from wallwright.job.document import Job
from wallwright.job.face import Face, wall_face
from wallwright.job.survey import Obstacle, Reading, Room, Survey, SurveyedWall
from wallwright.library import load


@dataclass(frozen=True)
class Made:
    job: Job
    face: Face
    frame: Box
    limits: Limits
    setout: SetOut

    @property
    def carcass(self) -> Carcass:
        return carcass_plan.plan(self.job, self.face, self.setout, self.limits)


def make(
    *units: Unit,
    panels: tuple[Panel, ...] = (),
    width: float = 4200.0,
    height: float = 2700.0,
    frame: Box | None = None,
    obstacles: tuple[Obstacle, ...] = (),
    brief: Brief = Brief(),
    finishes: Finishes = Finishes(),
    rules: dict[str, float] | None = None,
) -> Made:
    """A wall with a 65 in screen (1450 × 830) at 1150, its middle at the wall's middle."""
    wall = SurveyedWall(
        (Reading(Length(0), Length(width)),), (Reading(Length(0), Length(height)),), substrate="brick"
    )
    job = Job(
        "wall",
        Survey(Room(), wall, obstacles=obstacles),
        brief,
        Design(units=units, panels=panels, finishes=finishes),
    )
    face = wall_face(job.survey)
    frame = frame or Box(width / 2 - 725, 1150 - 415, 1450, 830)
    limits = load.limits().overridden(rules or {})
    return Made(job, face, frame, limits, carcass_setout.plan(job, face, frame, limits))


@pytest.fixture(scope="session")
def wall() -> Callable[..., Made]:
    return make


@pytest.fixture(scope="session")
def whole() -> Made:
    """A console, two towers, a shelf and a fluted panel."""
    return make(
        Unit("C1", "console"), Unit("T1", "tower", "left"), Unit("T2", "tower", "right"), Unit("S1", "shelf"),
        panels=(Panel("W1", "fluted"),),
    )  # fmt: skip
