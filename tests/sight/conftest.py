"""Rooms made by hand: a bedroom watched from bed, and a living room with a window opposite the screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.design import Design, Mount, Screen, Unit
from wallwright.job.document import Job
from wallwright.job.face import wall_face
from wallwright.job.survey import Obstacle, Reading, Room, Seat, Survey, SurveyedWall, Window
from wallwright.library import load
from wallwright.sight.plan import plan
from wallwright.sight.record import Sight


def wall(width: float, height: float) -> SurveyedWall:
    return SurveyedWall((Reading(Length(0), Length(width)),), (Reading(Length(0), Length(height)),))


@pytest.fixture(scope="session")
def limits() -> Limits:
    return load.limits()


@pytest.fixture(scope="session")
def see(limits: Limits) -> Callable[..., Sight]:
    """`see(job)` is the sight stage of a job; further values are limits by name with `_` for the dot."""

    def run(job: Job, **own: float) -> Sight:
        rules = {name.replace("_", ".", 1): value for name, value in own.items()}
        return plan(job, wall_face(job.survey), limits.overridden(rules))

    return run


@pytest.fixture
def bedroom() -> Job:
    """3300 × 2700, bed opposite; A lies back at 35° for 60 % of the hours, B sits up at 15°."""
    seats = (
        Seat("A", "bed", Length(1650), Length(3655), Length(550), "reclined", 35.0, 6.0),
        Seat("B", "bed", Length(1650), Length(3655), Length(550), "upright", 15.0, 4.0),
    )
    survey = Survey(
        Room("Bedroom", "bedroom", Length(3900)),
        wall(3300, 2700),
        seats=seats,
        obstacles=(Obstacle("AC", "ac", Length(1200), Length(2250), Length(900), Length(300)),),
    )
    return Job("bedroom", survey, design=Design(units=(Unit("C1", "console"),)))


@pytest.fixture
def living() -> Job:
    """4200 × 2600, sofa 3600 before the picture, window 1800 × 1200 in the wall opposite, 5200 before the picture."""
    out = 100.0  # stand-off and depth of the screen
    survey = Survey(
        Room(depth=Length(5200 + out)),
        wall(4200, 2600),
        seats=(Seat("A", "sofa", Length(2100), Length(3600 + out), eye_height=Length(1080)),),
        windows=(Window("W1", "opposite", Length(1500), Length(900), Length(1800), Length(1200)),),
    )
    screen = Screen(diagonal=65, centre_height=Length(1080), centre_x=Length(2100), frame_depth=Length(40))
    return Job("living", survey, design=Design(screen, Mount("tilt", tilt=0.0, stand_off=Length(60))))


def with_design(job: Job, **changes: Any) -> Job:
    return replace(job, design=replace(job.design, **changes))
