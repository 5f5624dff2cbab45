from __future__ import annotations

from dataclasses import replace

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.survey import Obstacle
from wallwright.services.existing import keep_clear, live_bands

SOCKET = Obstacle("EX", "socket", Length(1000.0), Length(300.0), Length(86.0), Length(86.0))
PIPE = Obstacle("PI", "pipe", Length(2000.0), Length(0.0), Length(30.0), Length(900.0))
SHELF = Obstacle("OT", "other", Length(500.0), Length(0.0), Length(30.0), Length(900.0))


def test_a_cable_may_run_straight_up_or_down_from_its_accessory() -> None:
    assert [(thing.ref, box) for thing, box in live_bands((SOCKET, PIPE, SHELF), 2700)] == [
        ("EX", Box(1000, 0, 86, 2700)), ("PI", Box(2000, 0, 30, 900)),
    ]  # fmt: skip
    assert keep_clear((SOCKET,), 2700, 50) == (Box(950, -50, 186, 2800),)


def test_taking_an_accessory_off_leaves_its_cable_in_the_wall() -> None:
    gone = replace(SOCKET, state="remove")
    assert live_bands((gone,), 2700)
    assert not live_bands((replace(gone, dead=True),), 2700)  # traced and made dead by the electrician
