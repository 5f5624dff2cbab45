"""Parts of a unit pulled apart along the three axes, and how blocks are seen then: the picture's geometry alone.

Cavalier: across level, up upright, depth at 30 degrees, all three to scale.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.shape import Block, Point2, around

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox

AWAY = (cos(radians(30)), sin(radians(30)))
"""Where a step into the wall goes on paper: right and up."""


def pulled(unit: UnitBox, part: Part, gap: float, order: Sequence[Part]) -> Block:
    """The part's block moved out along the axes. gap : real mm between what is pulled apart."""
    b, d = part.block, unit.depth
    left = b.x + b.dx / 2 < unit.box.centre[0]
    low = b.z + b.dz / 2 < unit.box.centre[1]
    dx = dy = dz = 0.0
    match part.role:
        case "side":
            dx = -2.5 * gap if left else 2.5 * gap
        case "filler":
            if b.dx > b.dz:
                dz = d + 3 * gap
            else:
                dx = (-1 if left else 1) * (5 * gap + b.dx)
        case "top":
            dz = d * AWAY[1] + gap
        case "bottom":
            dz = -(d * AWAY[1] + gap)
        case "plinth":
            dz = -(2 * d * AWAY[1] + 2 * gap)
            dy = -gap if b.y + b.dy / 2 < -d / 2 and b.dx > b.dy else gap if b.dx > b.dy else 0.0
        case "back":
            dy = d + 2 * gap
        case "rail":
            dy = 1.3 * d + 2.5 * gap
        case "cleat":
            dy = 1.3 * d + 3.5 * gap + 4 * b.dz  # clear of the rail, which hangs above it
        case "front":
            dy = -(1.65 * d + 2.5 * gap)
        case "face":
            dy = -(d + 4 * gap)
        case "shelf":
            dy = -(0.35 * d + gap)
        case "lip":
            dy = -(0.7 * d + 2 * gap)
        case "gap_rail":
            dy = -(0.4 * d + gap)
        case "wall_shelf":
            dz = (-1 if low else 1) * gap if any(other.role == "rib" for other in order) else 0.0
        case "drawer_side" | "drawer_end" | "drawer_bottom" | "frame":
            dx, dy, dz = _of_box(unit, part, gap, order)
        case _:
            pass
    return replace(b, x=b.x + dx, y=b.y + dy, z=b.z + dz)


def _of_box(unit: UnitBox, part: Part, gap: float, order: Sequence[Part]) -> tuple[float, float, float]:
    """How far a part of a drawer's box goes: the box comes out of the case, and its boards a little apart."""
    stem = part.id[: part.id.rindex("-") + 2] if part.role == "frame" else part.id[:-1]
    own = [other.block for other in order if other.id.startswith(stem) and other.role == part.role]
    b, out = part.block, -(0.95 * unit.depth + 2 * gap)
    if part.role == "drawer_side":
        middle = sum(o.x + o.dx / 2 for o in own) / len(own)
        return (-0.6 if b.x + b.dx / 2 < middle else 0.6) * gap, out, 0.0
    if part.role == "drawer_end" or (part.role == "frame" and b.dz > b.dy):
        middle = sum(o.y + o.dy / 2 for o in own) / len(own)
        return 0.0, out + (-0.8 if b.y + b.dy / 2 < middle else 0.8) * gap, 0.0
    return 0.0, out, -0.8 * gap if part.role == "drawer_bottom" else 0.0


def on_paper(x: float, y: float, z: float) -> Point2:
    """A point of the room on the drawing: y into the wall goes right and up."""
    return x + y * AWAY[0], z + y * AWAY[1]


def faces(block: Block) -> tuple[tuple[Point2, ...], tuple[Point2, ...], tuple[Point2, ...]]:
    """The three faces of a block that one sees: its top, its right side, its front."""
    x, y, z = block.x, block.y, block.z
    x1, y1, z1 = x + block.dx, y + block.dy, z + block.dz
    p = on_paper
    return (
        (p(x, y, z1), p(x1, y, z1), p(x1, y1, z1), p(x, y1, z1)),
        (p(x1, y, z), p(x1, y1, z), p(x1, y1, z1), p(x1, y, z1)),
        (p(x, y, z), p(x1, y, z), p(x1, y, z1), p(x, y, z1)),
    )


def painted(blocks: Sequence[Block]) -> list[int]:
    """The order in which blocks are painted so that what is nearer hides what is farther: by which of two stands to the left of,
    behind or below the other. Blocks that do not overlap never tie in a ring but by three or more; such a ring is cut.
    """
    outlines = [around([point for face in faces(block) for point in face]) for block in blocks]
    behind: list[set[int]] = [set() for _ in blocks]
    for i, a in enumerate(blocks):
        for k, b in enumerate(blocks):
            if i != k and outlines[i].meets(outlines[k]) and _farther(b, a):
                behind[i].add(k)
    out: list[int] = []
    left = set(range(len(blocks)))
    while left:
        first = min(left, key=lambda i: (len(behind[i] & left), -blocks[i].y, blocks[i].x, blocks[i].z))
        left.remove(first)
        out.append(first)
    return out


def _farther(a: Block, b: Block) -> bool:
    """Whether a must be painted before b: one sees fronts (small y), right sides (large x) and tops (large z)."""
    near = 0.05
    if a.y >= b.y + b.dy - near:
        return True
    if b.y >= a.y + a.dy - near:
        return False
    if a.x + a.dx <= b.x + near:
        return True
    if b.x + b.dx <= a.x + near:
        return False
    return a.z + a.dz <= b.z + near
