"""A shelf's hidden rods: each set with resin in a hole of its own in solid wall. They bend, and press on the sides of their holes.

What one construction asks: its diameter, its hole and its depth, its steel, and what the wall bears beside it.
"""

from __future__ import annotations

import math

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.library.load import Anchor
from wallwright.structure import group, hung
from wallwright.structure.record import FixingCheck
from wallwright.structure.rows import MOST_USED, Load, clear_of_cables, keeps
from wallwright.structure.wall import HALF_BRICK, NO_RODS, THIN, UNKNOWN, Wall

BEARS = {"brick": "masonry", HALF_BRICK: "masonry", "solid_block": "masonry", "concrete": "concrete"}
"""Walls that take a rod: the limit of what they bear beside it. Hollow and aerated block and boarding take none."""


def bearing(moment: float, shear: float, diameter: float, depth: float) -> float:
    """Pressure of a stiff rod on its hole's mouth [N/mm²]: (4·V·L + 6·M) / (d·L²), moment and shear at the wall's face.

    V/(d·L) spread evenly, and the moment about the middle of its depth, M + V·L/2, in a straight line over 6/(d·L²).
    """
    return (4 * shear * depth + 6 * moment) / (diameter * depth**2)


def check(  # noqa: PLR0913
    named: tuple[str, str], load: Load, strips: list[Box], height: float, over: tuple[float, float],
    wall: Wall, limits: Limits,
) -> FixingCheck:  # fmt: skip
    """The rods of a shelf: where they go, how far the worst is used by its own bending and by what the wall bears beside it.

    named : reference, and what it is · strips : where the wall is free behind it · over : x from where to where the load lies
    """
    value = limits.value
    depth, across = value("structure.rod_depth"), value("structure.rod_diameter")
    asked = (*named, load.mass, load.lean, load.moment, load.lever, load.pull, load.shear)
    bears = BEARS.get(wall.substrate)
    if bears is None or depth + wall.behind > wall.leaf:
        why = UNKNOWN if wall.substrate == "unknown" else NO_RODS if bears is None else THIN
        return FixingCheck(*asked, 0, 0, (), 0.0, 0.0, why, 0.0, 0.0, MOST_USED, rods=True)
    hole = across + value("structure.rod_resin")
    rod = Anchor(
        "rod", f"Steel rod Ø{across:g} set with resin in a hole Ø{hole:g}, {depth:g} deep", wall.substrate, 0.0, 0.0, hole, depth,
        depth, depth, "", "common practice", across,
    )  # fmt: skip
    places = [x for strip in strips for x in rod_places(strip, limits)]
    xs = clear_of_cables(places, height, rod, strips, wall, limits)
    holes = tuple((x, height) for x in xs)
    worst = min(MOST_USED, group.worst_share(xs, over)) if xs else MOST_USED
    kept = keeps(holes, rod, wall, limits)
    skin = 0.0 if wall.bare else value("structure.plaster")
    n = max(len(xs), 1)
    shear, moment = load.shear * worst / n, (load.moment + load.shear * skin) * worst / n
    most = value("structure.rod_stress")
    steel = hung.round_bending(moment, across)
    pressed = bearing(moment, shear, across, depth) / value(f"structure.rod_bearing_{bears}")
    used = max(steel / most, pressed / kept) if kept > 0 and worst < MOST_USED else MOST_USED
    holds = shear / used if used > 0 else 0.0
    return FixingCheck(
        *asked, len(xs), len(places), holes, hole, depth, rod.name, holds, holds, min(used, MOST_USED), kept, bending=steel,
        uneven=worst, length=skin + depth, bending_most=most, spacing=rod.spacing, rod=across, rods=True,
    )  # fmt: skip


def rod_places(strip: Box, limits: Limits) -> list[float]:
    """X of a shelf's rods along a strip: in from its ends, two at least, at most their pitch apart."""
    inset = min(limits.value("structure.rod_inset"), strip.width / 2 - 1)
    run = strip.width - 2 * inset
    count = max(2, math.ceil(run / limits.value("structure.rod_pitch")) + 1)
    return [strip.x + inset + k * run / (count - 1) for k in range(count)]
