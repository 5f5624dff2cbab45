"""Where the frame can hang: what it must stay clear of, and the nearest free place to the one that is wanted."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2, box_around
from wallwright.job.brief import Brief
from wallwright.job.design import Design
from wallwright.job.face import Face, obstacle_box
from wallwright.library import load

_FLAT = frozenset(
    {"socket", "switch", "data_point", "cable", "skirting"}
)  # lie in the wall: the screen may hang over them


def keep_clear(design: Design, brief: Brief, face: Face, limits: Limits) -> tuple[Box, ...]:
    """All that the frame must not meet, each with its own clear distance round it: obstacles, towers, and the console's room."""
    gap = limits.value("rule.side_gap")
    boxes = [obstacle_box(thing).grown(gap) for thing in face.obstacles if thing.kind not in _FLAT]
    boxes += _towers(design, face, gap, limits)
    lowest = lowest_edge(design, brief, limits)
    if lowest:
        boxes.append(Box(-face.width, -face.height, 3 * face.width, face.height + lowest))
    for unit in design.units:
        if (
            unit.kind in ("shelf", "ledge", "arched_niche", "desk", "loft")
            and unit.x
            and unit.z
            and unit.width
            and unit.height
        ):
            boxes.append(Box(unit.x.mm, unit.z.mm, unit.width.mm, unit.height.mm).grown(gap))
    return tuple(boxes)


def _towers(design: Design, face: Face, gap: float, limits: Limits) -> list[Box]:
    """The strips of wall that the towers take, from each end, before setting-out has placed them."""
    usual = limits.value("carcass.tower_width_low")
    boxes: list[Box] = []
    taken = {"left": 0.0, "right": 0.0}
    for unit in design.units:
        if unit.kind not in ("tower", "open_shelves"):
            continue
        width = unit.width.mm if unit.width else usual
        if unit.x is not None:
            boxes.append(Box(unit.x.mm - gap, 0.0, width + 2 * gap, face.height))
        elif unit.side != "centre":
            taken[unit.side] += width
    if taken["left"]:
        boxes.append(Box(-gap, 0.0, taken["left"] + 2 * gap, face.height))
    if taken["right"]:
        boxes.append(Box(face.width - taken["right"] - gap, 0.0, taken["right"] + 2 * gap, face.height))
    return boxes


def lowest_edge(design: Design, brief: Brief, limits: Limits) -> float:
    """The lowest that the frame's lower edge may hang for the consoles below it and the soundbar on them; 0 without a console.

    A console whose height and place are pinned gets the least gap that will do. One that is still automatic will be set out below
    the frame: it needs its lowest underside, its lowest body and the usual gap.
    """
    bar = bar_height(brief)
    least = max(limits.value("rule.console_gap"), bar + limits.value("rule.soundbar_gap") if bar else 0.0)
    usual = max(least, limits.value("carcass.soundbar_gap" if bar else "carcass.screen_gap"))
    lowest = 0.0
    for unit in design.units:
        if unit.kind != "console":
            continue
        under = unit.z.mm if unit.z else limits.value("carcass.underside_low")
        body = unit.height.mm if unit.height else limits.value("carcass.body_low")
        lowest = max(lowest, under + body + (least if unit.z and unit.height else usual))
    return lowest


def bar_height(brief: Brief) -> float:
    """The height of the soundbar that stands on the console; 0 without one."""
    tallest = 0.0
    for device in brief.devices:
        if device.kind == "soundbar" and device.place in ("auto", "on_console"):
            typical = load.devices().get("soundbar")
            tallest = max(tallest, device.height.mm if device.height else typical.height if typical else 0.0)
    return tallest


def room_for_centre(face: Face, width: float, height: float, limits: Limits) -> Box | None:
    """Where the frame's middle can be for the frame to stay on the wall, a hand's room from its ends; None where it cannot."""
    gap = limits.value("rule.side_gap")
    across, up = face.width - width - 2 * gap, face.height - height - gap
    return Box(gap + width / 2, height / 2, across, up) if across >= 0 and up >= 0 else None


def nearest_free(
    wanted: Point2,
    width: float,
    height: float,
    room: Box,
    clear_of: Sequence[Box],
    x_pinned: bool = False,
    z_pinned: bool = False,
) -> Point2 | None:
    """The centre nearest to `wanted` at which a frame of this size meets none of the boxes; None where there is none.

    Grown by half the frame, the boxes become forbidden places for its middle. The nearest free place is the wanted
    one, or lies on an edge of a forbidden box, or where two such edges cross: those are tried, nearest first.
    """
    x, z = wanted
    if not x_pinned:
        x = min(max(x, room.x), room.right)
    if not z_pinned:
        z = min(max(z, room.z), room.top)
    if _free((x, z), width, height, clear_of):
        return x, z
    half_width, half_height = width / 2, height / 2
    xs, zs = [x], [z]
    if not x_pinned:
        xs += [place for box in clear_of for place in (box.x - half_width, box.right + half_width)]
    if not z_pinned:
        zs += [place for box in clear_of for place in (box.z - half_height, box.top + half_height)]
    tries = [
        (math.hypot(cx - wanted[0], cz - wanted[1]), cx, cz)
        for cx in dict.fromkeys(xs)
        for cz in dict.fromkeys(zs)
        if (x_pinned or room.x <= cx <= room.right) and (z_pinned or room.z <= cz <= room.top)
    ]
    across, up = (width - 1e-6) / 2, (height - 1e-6) / 2
    above: dict[float, list[Box]] = {}  # what stands over or under a frame with its middle at that x
    for _, cx, cz in sorted(tries):
        if cx not in above:
            above[cx] = [box for box in clear_of if cx - across < box.right and box.x < cx + across]
        if not any(cz - up < box.top and box.z < cz + up for box in above[cx]):
            return cx, cz
    return None


def _free(centre: Point2, width: float, height: float, clear_of: Sequence[Box]) -> bool:
    frame = box_around(centre, width - 1e-6, height - 1e-6)
    return not any(frame.meets(box) for box in clear_of)


def can_hang(width: float, height: float, face: Face, clear_of: Sequence[Box], limits: Limits) -> bool:
    """Whether a frame of this size finds a free place anywhere on the wall: one of those that `nearest_free` would try."""
    room = room_for_centre(face, width, height, limits)
    if room is None:
        return False
    wanted, across, up = room.centre, (width - 1e-6) / 2, (height - 1e-6) / 2
    if _free(wanted, width, height, clear_of):
        return True
    xs = [wanted[0], *(x for box in clear_of for x in (box.x - width / 2, box.right + width / 2))]
    zs = [wanted[1], *(z for box in clear_of for z in (box.z - height / 2, box.top + height / 2))]
    levels = [z for z in dict.fromkeys(zs) if room.z <= z <= room.top]
    sides = [(box.x, box.right, box.z, box.top) for box in clear_of]
    full: set[frozenset[tuple[float, float]]] = set()  # what stands over and under, where it leaves no room
    for cx in dict.fromkeys(xs):
        if not room.x <= cx <= room.right:
            continue
        left, right = cx - across, cx + across
        above = frozenset([(low, top) for x, far, low, top in sides if left < far and x < right])
        if above in full:
            continue
        if any(not any(z - up < top and low < z + up for low, top in above) for z in levels):
            return True
        full.add(above)
    return False
