"""A wall made by hand: screen, panel, console, shelf and two towers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.carcass.record import PanelZone, SetOut, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Box, box_around
from wallwright.library import load
from wallwright.sight.record import Screen, SeatView

BOX = Box(0, 0, 0, 0)


@pytest.fixture(scope="session")
def limits() -> Limits:
    return load.limits()


@pytest.fixture
def screen() -> Screen:
    """65 in, middle at (2000, 1150), back 60 before the wall."""
    return Screen(
        65.0, "unknown", 2160, box_around((2000, 1150), 1450, 830), box_around((2000, 1150), 1439, 809), BOX, BOX, 75, 60, 0.0,
        "tilt", 22, 140, 0.5, "typical", frozenset(),
    )  # fmt: skip


def unit(ref: str, kind: str, side: str, box: Box, depth: float) -> UnitBox:
    return UnitBox(ref, kind, side, box, depth, kind != "tower", True, "ply18", "laminate_oak", frozenset())


@pytest.fixture
def setout() -> SetOut:
    units = (
        unit("C1", "console", "centre", Box(1000, 250, 2000, 300), 400),
        unit("T1", "tower", "left", Box(0, 80, 400, 2300), 350),
        unit("T2", "tower", "right", Box(3600, 80, 400, 2300), 350),
        unit("S1", "shelf", "centre", Box(1300, 1900, 1400, 25), 220),
    )
    zone = PanelZone(
        "W1",
        "flat",
        Box(900, 0, 2200, 2300),
        "mdf18",
        "laminate_warm_grey",
        18,
        40,
        (2000,),
        0,
        0,
        15,
        frozenset(),
    )
    return SetOut(units, (zone,), ())


@pytest.fixture
def seat() -> SeatView:
    """Upright on a sofa: eye at 1156, 2800 before the wall, on the screen's axis."""
    return SeatView(
        "A",
        "sofa",
        "upright",
        (2000, -2800, 1156),
        False,
        0,
        7,
        1.0,
        2665,
        30.0,
        0,
        8,
        -8,
        0,
        0,
        0,
        15,
        120,
        1288,
        1156,
    )


@pytest.fixture
def lying(seat: SeatView) -> SeatView:
    """On the floor before the wall, well below everything."""
    return replace(seat, ref="F", kind="floor", eye=(2000, -1500, 150))
