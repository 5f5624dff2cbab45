"""The rows of holes 32 mm apart: where their lines lie on a side, and the pins of loose shelves in them.

First row 37 mm behind the front edge, the rear row a whole number of steps behind it; levels count from the middle of the bottom
board, so that one setting of the boring machine does a whole side. Common practice.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from wallwright.carcass.bored import Bench, clear_heights, front_depth
from wallwright.carcass.record import BayBox, Part


def rear_row(front: float, rear: float, setback: float, pitch: float) -> float:
    """The last row, whole steps behind the front one, that stays `setback` in front of what is at the rear [mm]."""
    return front + pitch * max(0, math.floor((rear - setback - front) / pitch + 1e-9))


def nearest(value: float, origin: float, pitch: float) -> float:
    """The line of a grid that is nearest to a value [mm]."""
    return origin + pitch * round((value - origin) / pitch)


def base(bench: Bench, bay: BayBox) -> float:
    """The height in the room from which a bay's levels count: the middle of the bottom of its box [mm]."""
    x = bay.box.centre[0]
    under = [
        part
        for part in bench.of_role("bottom")
        if part.block.x <= x <= part.block.x + part.block.dx and part.block.z <= bay.box.z
    ]
    if not under:
        return bay.box.z
    bottom = max(under, key=lambda part: part.block.z)
    return bottom.block.z + bottom.block.dz / 2


def shelves(bench: Bench, bay: BayBox) -> list[tuple[Part, float, float]]:
    """The loose shelves of a bay: the board that things stand on, its underside (of two glued, of the lower) and its upper face."""
    found: dict[str, list[Part]] = {}
    for part in bench.of_role("shelf"):
        named = re.fullmatch(rf"{re.escape(bay.ref)}-S(\d+)D?", part.id)
        if named:
            found.setdefault(named[1], []).append(part)
    return [
        (own[0], min(part.block.z for part in own), max(part.block.z + part.block.dz for part in own))
        for own in found.values()
    ]


def pin_level(bench: Bench, bay: BayBox, underside: float) -> float:
    """The level of the pins that carry a shelf whose underside is drawn there [mm]: a line of the grid."""
    return nearest(underside - bench.value("pin_hole") / 2, base(bench, bay), bench.value("row_pitch"))


def pins(bench: Bench, bay: BayBox, taken: Iterable[float]) -> None:
    """The rows for a bay's loose shelves in the boards at its left and right. taken : heights where a hinge's plate is."""
    pitch, spare, hole = bench.value("row_pitch"), round(bench.value("pin_spare")), bench.value("pin_hole")
    left, right = bench.board(bay, "left"), bench.board(bay, "right")
    if left is None or right is None:
        return
    plates = list(taken)
    low, high = clear_heights(bench, bay)
    lines: dict[tuple[float, float], float] = {}
    for part, underside, _ in shelves(bench, bay):
        level = pin_level(bench, bay, underside)
        front = left.block.y + front_depth(bench, bay) + bench.value("row_setback")
        rear = rear_row(front, part.block.y + part.block.dy, bench.value("row_setback"), pitch)
        for step in range(-spare, spare + 1):
            z = level + step * pitch
            clear = low + pitch <= z <= high - pitch
            if (clear or step == 0) and all(abs(z - plate) >= pitch for plate in plates):
                lines[round(front, 3), round(z, 3)] = z
                lines[round(rear, 3), round(z, 3)] = z
    for row, z in lines:
        y = _beside_screws(bench, (left.id, right.id), row, z)
        for board, way in ((left, "-x"), (right, "+x")):
            x = bay.box.x if board is left else bay.box.right
            bench.bore(board, (x, y, z), way, hole, bench.value("pin_deep"), "shelf pin")


def _beside_screws(bench: Bench, boards: tuple[str, str], y: float, z: float) -> float:
    """A pin's line, half a step further to the front as often as a screw or dowel in the end of its board would meet the pin [mm]."""
    apart = bench.value("pin_hole") / 2 + bench.value("dowel") / 2 + bench.value("skin")
    near = [end.y for end in bench.ends if end.part in boards and abs(z - end.z) < end.deep + apart]
    while any(abs(y - screw) < apart for screw in near):
        y -= bench.value("row_pitch") / 2
    return y
