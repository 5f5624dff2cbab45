"""A wall made by hand for the tests of the look: screen, seat, console, two towers, a panel."""

from __future__ import annotations

from wallwright.carcass.record import PanelZone, SetOut, UnitBox
from wallwright.core.shape import Box, box_around
from wallwright.job.face import Face
from wallwright.library import load
from wallwright.light.record import Light
from wallwright.sight.record import Screen, SeatView

LIMITS = load.limits()
FACE = Face(4000.0, 2600.0, 0.0, 0.0, (), ())
SCREEN = Screen(
    65.0, "unknown", 2160, box_around((2000, 1200), 1450, 830), box_around((2000, 1200), 1439, 809), Box(0, 0, 0, 0),
    Box(0, 0, 0, 0),
    75, 60, 0.0, "tilt", 22, 140, 0.5, "typical", frozenset(),
)  # fmt: skip
SEAT = SeatView(
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


def unit(ref: str, kind: str, box: Box, finish: str = "laminate_oak", depth: float = 350) -> UnitBox:
    return UnitBox(ref, kind, "centre", box, depth, False, True, "ply18", finish, frozenset())


DARK = Light((), ())
CONSOLE = unit("C1", "console", Box(1000, 250, 2000, 300))
LEFT, RIGHT = unit("T1", "tower", Box(0, 0, 400, 2300)), unit("T2", "tower", Box(3600, 0, 400, 2300))
ZONE = PanelZone(
    "W1",
    "flat",
    Box(900, 0, 2200, 2300),
    "mdf18",
    "laminate_warm_grey",
    18,
    25,
    (1300, 2700),
    0,
    0,
    15,
    frozenset(),
)
WHOLE = SetOut((CONSOLE, LEFT, RIGHT), (ZONE,), ())
