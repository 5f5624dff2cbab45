"""One-point perspective from an eye on to the wall's face, and the order in which boxes are painted.

The picture plane is the wall's face (y = 0): what lies in it is to scale, what stands before it comes out larger.
Axes of the wall: x right, y into the wall (the room is y < 0), z up; mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.drawing import Mark
from wallwright.core.shape import Block, Box, Point2, kept_side
from wallwright.sight.reflect import Point3

NEAR = 450.0
"""What is nearer to the eye than this along y is cut away [mm]: it would fill the view."""
TOUCH = 0.5
"""Boxes that meet by less than this only touch [mm]."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something to paint: the box that holds it, and its marks in the drawing."""

    block: Block
    marks: tuple[Mark, ...]


def project(eye: Point3, point: Point3) -> Point2:
    """Where the ray from the eye through a point meets the wall's face (x, z). ZeroDivisionError level with the eye."""
    s = eye[1] / (eye[1] - point[1])
    return eye[0] + s * (point[0] - eye[0]), eye[2] + s * (point[2] - eye[2])


def outline(eye: Point3, corners: Sequence[Point3], window: Box) -> tuple[Point2, ...]:
    """A flat convex face as the eye sees it, cut at the near plane and at the window; () where nothing is left."""
    kept: list[tuple[float, ...]] = kept_side([tuple(corner) for corner in corners], 1, eye[1] + NEAR, 1.0)
    flat: list[tuple[float, ...]] = [project(eye, (p[0], p[1], p[2])) for p in kept]
    for axis, low, high in ((0, window.x, window.right), (1, window.z, window.top)):
        flat = kept_side(kept_side(flat, axis, low, 1.0), axis, high, -1.0)
    return tuple((p[0], p[1]) for p in flat) if len(flat) > 2 else ()


def segment(eye: Point3, start: Point3, end: Point3) -> tuple[Point2, Point2] | None:
    """A straight edge as the eye sees it, cut at the near plane; None where all of it is too near."""
    limit = eye[1] + NEAR
    if start[1] < limit and end[1] < limit:
        return None
    if start[1] < limit:
        start = _at(start, end, limit)
    elif end[1] < limit:
        end = _at(end, start, limit)
    return project(eye, start), project(eye, end)


def _at(out: Point3, far: Point3, y: float) -> Point3:
    t = (y - out[1]) / (far[1] - out[1])
    return out[0] + t * (far[0] - out[0]), y, out[2] + t * (far[2] - out[2])


def faces(block: Block, eye: Point3) -> list[tuple[Point3, ...]]:
    """The faces of an upright box that the eye sees: its sides, top and underside first, the one towards the room last."""
    x, y, z = block.x, block.y, block.z
    right, back, top = x + block.dx, y + block.dy, z + block.dz
    found: list[tuple[Point3, ...]] = []
    for at, seen in ((x, eye[0] < x), (right, eye[0] > right)):
        if seen:
            found.append(((at, back, z), (at, y, z), (at, y, top), (at, back, top)))
    for at, seen in ((z, eye[2] < z), (top, eye[2] > top)):
        if seen:
            found.append(((x, back, at), (right, back, at), (right, y, at), (x, y, at)))
    if eye[1] < y:
        found.append(((x, y, z), (right, y, z), (right, y, top), (x, y, top)))
    return found


def hides(one: Block, other: Block, eye: Point3) -> bool:
    """Whether the first may hide the second from the eye: some plane parts them and the eye is on the first one's side of it.

    Boxes that run into one another are taken by how far they stand out.
    """
    parted = False
    for low, size, other_low, other_size, at in (
        (one.y, one.dy, other.y, other.dy, eye[1]),
        (one.x, one.dx, other.x, other.dx, eye[0]),
        (one.z, one.dz, other.z, other.dz, eye[2]),
    ):
        high, other_high = low + size, other_low + other_size
        if high <= other_low + TOUCH:
            parted = True
            if at > high:
                return False
        elif other_high <= low + TOUCH:
            parted = True
            if at < low:
                return False
    return parted or (one.y, one.x, one.z) < (other.y, other.x, other.z)


def painted(things: Sequence[Thing], eye: Point3) -> list[Thing]:
    """The things from the farthest to the nearest: none comes before one that it may hide.

    Where three hide one another in a ring, the one that stands out least from the wall is painted first.
    """
    waiting = sorted(things, key=lambda thing: -thing.block.y)
    shadows = {id(thing): _shadow(thing.block, eye) for thing in waiting}
    out: list[Thing] = []
    while waiting:
        free = next(
            (
                thing
                for thing in waiting
                if not any(
                    other is not thing
                    and shadows[id(thing)].meets(shadows[id(other)])
                    and hides(thing.block, other.block, eye)
                    for other in waiting
                )
            ),
            waiting[0],
        )
        waiting.remove(free)
        out.append(free)
    return out


def _shadow(block: Block, eye: Point3) -> Box:
    """The upright rectangle that holds the box as the eye sees it."""
    ends: list[Point2] = []
    for y in (block.y, block.y + block.dy):
        y = max(y, eye[1] + NEAR)
        ends += [
            project(eye, (x, y, z))
            for x in (block.x, block.x + block.dx)
            for z in (block.z, block.z + block.dz)
        ]
    xs, zs = [x for x, _ in ends], [z for _, z in ends]
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs))
