from __future__ import annotations

from dataclasses import replace

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.survey import Obstacle
from wallwright.library import load
from wallwright.services.existing import keep_clear, kept_from, live_bands

SOCKET = Obstacle("EX", "socket", Length(1000.0), Length(300.0), Length(86.0), Length(86.0))
PIPE = Obstacle("PI", "pipe", Length(2000.0), Length(0.0), Length(30.0), Length(900.0))
SHELF = Obstacle("OT", "other", Length(500.0), Length(0.0), Length(30.0), Length(900.0))


FACE = Box(0, 0, 4000, 2700)


def test_a_cable_may_run_straight_up_down_or_across_from_its_accessory() -> None:
    """BS 7671 522.6.202: horizontally or vertically to the accessory."""
    assert [(thing.ref, box) for thing, box in live_bands((SOCKET, PIPE, SHELF), FACE)] == [
        ("EX", Box(1000, 0, 86, 2700)), ("EX", Box(0, 300, 4000, 86)), ("PI", Box(2000, 0, 30, 900)),
    ]  # fmt: skip
    limits = load.limits()
    assert keep_clear((SOCKET,), FACE, limits) == (Box(950, -50, 186, 2800), Box(-50, 250, 4100, 186))


def test_once_traced_only_the_way_of_the_cable_is_kept() -> None:
    for way, box in (("upright", Box(1000, 0, 86, 2700)), ("level", Box(0, 300, 4000, 86))):
        traced = replace(SOCKET, cable=way)
        assert live_bands((traced,), FACE) == ((traced, box),)


def test_a_pipe_has_a_distance_of_its_own() -> None:
    wide = load.limits().overridden({"services.drill_warn_pipe": 80})
    socket = replace(SOCKET, cable="upright")
    assert keep_clear((PIPE, socket), FACE, wide) == (Box(1920, -80, 190, 1060), Box(950, -50, 186, 2800))
    assert kept_from(PIPE, wide).value == 80 and kept_from(replace(PIPE, kind="cable"), wide).value == 50


def test_taking_an_accessory_off_leaves_its_cable_in_the_wall() -> None:
    gone = replace(SOCKET, state="remove")
    assert live_bands((gone,), FACE)
    assert not live_bands((replace(gone, dead=True),), FACE)  # traced and made dead by the electrician
