"""Cures for a lamp mirrored after dark: hide its bright part from the screen, hang it elsewhere, or leave it off."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wallwright.core.finding import edit_call
from wallwright.core.limit import Limits
from wallwright.job.survey import Lamp
from wallwright.sight.cures import Cure, worst_share
from wallwright.sight.mirrored import lamp_source
from wallwright.sight.reflect import Glass, Point3

STEP = 100.0
"""Lamps are moved by this [mm]."""
FARTHEST = 1500.0
"""Further than this a lamp serves another place [mm]."""
SHARPEST = 25.0
"""No downlight hides its bright part nearer to straight down than this [deg]: common practice."""
LEVEL = 90
"""A ceiling lamp whose bright part is hidden beyond this shines at nothing above itself [deg from straight down]."""

PLACED: dict[str, tuple[str, str]] = {
    "pendant": ("hang", "its cable with it"),
    "downlight": ("set", "a new hole in the ceiling, and the old one made good"),
    "strip": ("fix", "its profile and feed with it"),
    "floor_lamp": ("stand", "its flex must still reach a socket"),
    "table_lamp": ("stand", "its table with it, and its flex must still reach a socket"),
    "wall_light": ("fix", "its outlet with it, and the old one made good"),
}
"""How a lamp of each kind is put in its place, and what goes with it when it is moved."""
BY_A_WALL = 200.0
"""A wall light nearer than this to a side wall hangs on it [mm]."""


def lamp_cures(
    lamp: Lamp,
    glass: Glass,
    eyes: Sequence[Point3],
    depth: float | None,
    width: float,
    ratio: float,
    limits: Limits,
) -> tuple[Cure, ...]:
    """All cures of one lamp, the least trouble first: a deeper lamp, another place, off while the screen is watched."""
    moved = _elsewhere(lamp, glass, eyes, depth, width, limits)
    return (*_deeper(lamp, glass), *moved, _off(lamp, ratio))


def _deeper(lamp: Lamp, glass: Glass) -> tuple[Cure, ...]:
    """A downlight whose bright part is set back so far that the nearest corner of the picture does not meet it."""
    if lamp.kind != "downlight":
        return ()
    steepest = min(
        math.degrees(math.atan2(math.hypot(x - lamp.x.mm, y + lamp.distance.mm), lamp.z.mm - z))
        for x, y, z in (
            glass.in_room((i * glass.width / 2, j * glass.height / 2, 0.0))
            for i in (-1, 0, 1)
            for j in (-1, 1)
        )
    )
    angle = min(LEVEL, math.floor(steepest) - 1)
    if angle < SHARPEST:
        return ()
    return (
        Cure(
            "cut_off", angle, "deg from straight down", 0.0, 0.0, True,
            f"choose for {lamp.ref} a lamp whose bright part is hidden beyond {angle}° from straight down",
            ("it lights a smaller circle of floor",), (edit_call("set_lamp", ref=lamp.ref, cut_off=angle),),
        ),
    )  # fmt: skip


def _elsewhere(
    lamp: Lamp, glass: Glass, eyes: Sequence[Point3], depth: float | None, width: float, limits: Limits
) -> tuple[Cure, ...]:
    """The nearest place at the same height where no eye sees it mirrored."""
    n = int(FARTHEST / STEP)
    steps = sorted(
        ((i, j) for i in range(-n, n + 1) for j in range(-n, n + 1) if (i, j) != (0, 0)),
        key=lambda s: (math.hypot(*s), s),
    )
    for i, j in steps:
        x, away = lamp.x.mm + i * STEP, lamp.distance.mm + j * STEP
        if (
            not 0 <= x <= width
            or away < 0
            or (depth is not None and away > depth)
            or math.hypot(i, j) * STEP > FARTHEST
            or not _stays_on_its_wall(lamp, i, j, width)
        ):
            continue
        if worst_share(glass, eyes, lamp_source(lamp, glass, limits, (x, -away)).corners) <= 0:
            put, with_it = PLACED[lamp.kind]
            return (
                Cure(
                    "move", f"{x:.0f}, {away:.0f}", "mm along and from the wall", 0.0, 0.0, True,
                    f"{put} {lamp.ref} at {x:.0f} mm along the wall and {away:.0f} mm from it: no seat sees it mirrored there",
                    (f"it moves {math.hypot(i, j) * STEP:.0f} mm: {with_it}",),
                    (edit_call("set_lamp", ref=lamp.ref, x=round(x), distance=round(away)),),
                ),
            )  # fmt: skip
    return ()


def _stays_on_its_wall(lamp: Lamp, along: int, away: int, width: float) -> bool:
    """A wall light moves along the wall that it is on; every other lamp goes where there is room."""
    if lamp.kind != "wall_light":
        return True
    beside = lamp.x.mm < BY_A_WALL or lamp.x.mm > width - BY_A_WALL
    return along == 0 if beside else away == 0


def _off(lamp: Lamp, ratio: float) -> Cure:
    return Cure(
        "off", 0.0, "", 0.0, ratio, True, f"put {lamp.ref} on its own switch and leave it off while the screen is watched",
        ("the room is darker then",), (edit_call("set_lamp", ref=lamp.ref, on_at_night=False),),
    )  # fmt: skip
