"""The room that a door, flap, drawer or pull-out takes as it opens, exactly: leaf and handle turned about their edge, or drawn out.

A door turns in plan, a flap in section: both are looked at in a plane of their own, u along the closed leaf from its edge, v out into
the room. There the leaf is a line that turns from u to v. Plane geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wallwright.carcass.attached import handle_box
from wallwright.carcass.record import Drawn
from wallwright.core.shape import Point2, kept_side

TOUCH = 0.5
"""What is nearer than this is a touch, not a clash [mm]."""
Rect = tuple[float, float, float, float]
"""u0, u1, v0, v1 [mm]."""


@dataclass(frozen=True, slots=True)
class Solid:
    """A box in the room: x, out from the wall (towards the room), and z, each from low to high [mm]."""

    x0: float
    x1: float
    out0: float
    out1: float
    z0: float
    z1: float

    def meets(self, other: Solid) -> bool:
        """Whether the two share more than a touch."""
        return (
            min(self.x1, other.x1) - max(self.x0, other.x0) > TOUCH
            and min(self.out1, other.out1) - max(self.out0, other.out0) > TOUCH
            and min(self.z1, other.z1) - max(self.z0, other.z0) > TOUCH
        )

    def shared(self, other: Solid) -> float:
        """The least of the three sizes that two share [mm]; 0 where they do not meet."""
        return max(
            0.0,
            min(
                min(self.x1, other.x1) - max(self.x0, other.x0),
                min(self.out1, other.out1) - max(self.out0, other.out0),
                min(self.z1, other.z1) - max(self.z0, other.z0),
            ),
        )


@dataclass(frozen=True, slots=True)
class Clash:
    """How a mover meets something: by how much [mm], and how far it still opens: degrees of what turns, mm of what is drawn."""

    overlap: float
    opens: float
    by_handle: bool


def reach(mover: Drawn) -> Solid:
    """The box that holds all that a mover sweeps, its handle included."""
    box, face, proud = mover.box, -mover.swept.y - mover.swept.dy, mover.proud
    if mover.kind == "door":
        back = proud if proud else 0.0
        left, right = (box.x - back, box.right) if mover.hand == "left" else (box.x, box.right + back)
        return Solid(left, right, face, face + math.hypot(box.width, proud), box.z, box.top)
    if mover.kind == "flap":
        low, top = (box.z, box.top + proud) if mover.lifts else (box.z - proud, box.top)
        return Solid(box.x, box.right, face, face + math.hypot(box.height, proud), low, top)
    return Solid(box.x, box.right, face, face + mover.swept.dy, box.z, box.top)


def handle(mover: Drawn) -> Solid | None:
    """The handle of a closed front; None without one."""
    if mover.proud <= 0:
        return None
    box, face = handle_box(mover), -mover.swept.y - mover.swept.dy
    return Solid(box.x, box.right, face, face + mover.proud, box.z, box.top)


def clash(mover: Drawn, thing: Solid) -> Clash | None:
    """How a mover meets a thing on its way from closed to open; None where it passes clear."""
    if not reach(mover).meets(thing):
        return None
    return _drawn(mover, thing) if mover.kind in ("drawer", "pull_out") else _turned(mover, thing)


def _drawn(mover: Drawn, thing: Solid) -> Clash | None:
    """A drawer's front comes straight out, its handle before it."""
    box, face, run = mover.box, -mover.swept.y - mover.swept.dy, mover.swept.dy - mover.proud
    front = Solid(box.x, box.right, face, face + run, box.z, box.top)
    grip = handle(mover)
    ahead = (
        None if grip is None else Solid(grip.x0, grip.x1, face, face + run + mover.proud, grip.z0, grip.z1)
    )
    met = [
        (solid, out)
        for solid, out in ((front, 0.0), (ahead, mover.proud))
        if solid is not None and solid.meets(thing)
    ]
    if not met:
        return None
    opens = max(0.0, min(thing.out0 - face - out for _, out in met))
    return Clash(run - opens, opens, front not in [solid for solid, _ in met])


def _turned(mover: Drawn, thing: Solid) -> Clash | None:
    """What turns, looked at in its own plane: the leaf along its whole edge, the handle where it is."""
    rect, lies_in, grip = _plane(mover, thing)
    if not lies_in:
        return None
    long = mover.box.width if mover.kind == "door" else mover.box.height
    leaf = sector(rect, long, mover.open)
    by = _handle(mover, thing, rect, grip) if grip else None
    if leaf is None:
        return by
    return (
        leaf
        if by is None or leaf.opens <= by.opens
        else Clash(max(leaf.overlap, by.overlap), by.opens, by_handle=True)
    )


def _plane(mover: Drawn, thing: Solid) -> tuple[Rect, bool, tuple[float, float] | None]:
    """The thing in the mover's plane, whether it lies at the leaf's height, and from where to where the handle is along the leaf."""
    box, face = mover.box, -mover.swept.y - mover.swept.dy
    v = (thing.out0 - face, thing.out1 - face)
    grip = handle(mover)
    if mover.kind == "flap":
        inside = min(thing.x1, box.right) - max(thing.x0, box.x) > TOUCH
        if mover.lifts:
            along = (box.top - grip.z1, box.top - grip.z0) if grip else None
            return (box.top - thing.z1, box.top - thing.z0, *v), inside, along
        along = (grip.z0 - box.z, grip.z1 - box.z) if grip else None
        return (thing.z0 - box.z, thing.z1 - box.z, *v), inside, along
    inside = min(thing.z1, box.top) - max(thing.z0, box.z) > TOUCH
    if mover.hand == "right":
        along = (box.right - grip.x1, box.right - grip.x0) if grip else None
        return (box.right - thing.x1, box.right - thing.x0, *v), inside, along
    along = (grip.x0 - box.x, grip.x1 - box.x) if grip else None
    return (thing.x0 - box.x, thing.x1 - box.x, *v), inside, along


def sector(rect: Rect, radius: float, turn: float) -> Clash | None:
    """A leaf of this length turning from u towards v against a rectangle: how deep its edge runs in, and the angle at which they meet.

    The nearest point of what lies in the turned wedge says how deep; the first angle is at a corner inside the arc or where the arc
    crosses a side.
    """
    corners = [(rect[0], rect[2]), (rect[1], rect[2]), (rect[1], rect[3]), (rect[0], rect[3])]
    inside = _wedge(corners, turn)
    if len(inside) < 3:
        return None
    near = _nearest(inside)
    if radius - near <= TOUCH:
        return None
    angles = [math.degrees(math.atan2(v, u)) for u, v in _in_arc(inside, radius)]
    if not angles or max(angles) - min(angles) < 1e-9:
        return None
    return Clash(radius - near, max(0.0, min(angles)), by_handle=False)


def _wedge(corners: Sequence[Point2], turn: float) -> list[Point2]:
    """A convex outline, as much of it as lies between the closed leaf and the open one (at most 90°)."""
    points: list[tuple[float, ...]] = kept_side([tuple(p) for p in corners], 1, 0.0, 1.0)
    if not points:
        return []
    a = math.radians(90.0 - turn)
    turned = [(u * math.cos(a) - v * math.sin(a), u * math.sin(a) + v * math.cos(a)) for u, v in points]
    kept = kept_side([tuple(p) for p in turned], 0, 0.0, 1.0)
    return [(u * math.cos(a) + v * math.sin(a), -u * math.sin(a) + v * math.cos(a)) for u, v in kept]


def _sides(points: Sequence[Point2]) -> Iterator[tuple[Point2, Point2]]:
    return ((points[i - 1], points[i]) for i in range(len(points)))


def _nearest(points: Sequence[Point2]) -> float:
    """The distance of a convex outline from the hinge: 0 where it holds it."""
    best = math.inf
    for (u0, v0), (u1, v1) in _sides(points):
        du, dv = u1 - u0, v1 - v0
        size = du * du + dv * dv
        t = min(1.0, max(0.0, -(u0 * du + v0 * dv) / size)) if size > 0 else 0.0
        best = min(best, math.hypot(u0 + t * du, v0 + t * dv))
    return best


def _in_arc(points: Sequence[Point2], radius: float) -> list[Point2]:
    """The corners of an outline within the arc, and where its sides cross it."""
    out = [p for p in points if math.hypot(*p) <= radius]
    for (u0, v0), (u1, v1) in _sides(points):
        du, dv = u1 - u0, v1 - v0
        a, b, c = du * du + dv * dv, 2 * (u0 * du + v0 * dv), u0 * u0 + v0 * v0 - radius * radius
        root = b * b - 4 * a * c
        if a > 0 and root > 0:
            for t in ((-b - math.sqrt(root)) / (2 * a), (-b + math.sqrt(root)) / (2 * a)):
                if 0 <= t <= 1:
                    out.append((u0 + t * du, v0 + t * dv))
    return out


def _handle(mover: Drawn, thing: Solid, rect: Rect, along: tuple[float, float]) -> Clash | None:
    """The handle as the leaf turns: a rectangle in front of it, tried degree by degree, then halved to a hundredth."""
    grip = handle(mover)
    level = grip is not None and (
        min(thing.x1, grip.x1) - max(thing.x0, grip.x0) > TOUCH
        if mover.kind == "flap"
        else min(thing.z1, grip.z1) - max(thing.z0, grip.z0) > TOUCH
    )
    if not level:
        return None

    def deep(angle: float) -> float:
        return overlap(_turn((along[0], along[1], 0.0, mover.proud), angle), rect)

    first = next((k for k in range(int(mover.open) + 1) if deep(float(k)) > TOUCH), None)
    if first is None:
        return None
    low, high = float(max(first - 1, 0)), float(first)
    while high - low > 0.01:
        middle = (low + high) / 2
        low, high = (low, middle) if deep(middle) > TOUCH else (middle, high)
    return Clash(max(deep(float(k)) for k in range(first, int(mover.open) + 1)), high, by_handle=True)


def _turn(rect: Rect, angle: float) -> list[Point2]:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    corners = ((rect[0], rect[2]), (rect[1], rect[2]), (rect[1], rect[3]), (rect[0], rect[3]))
    return [(u * c - v * s, u * s + v * c) for u, v in corners]


def overlap(outline: Sequence[Point2], rect: Rect) -> float:
    """How far a turned rectangle and an upright one overlap: the least push that parts them [mm], 0 where they are apart."""
    corners = [(rect[0], rect[2]), (rect[1], rect[2]), (rect[1], rect[3]), (rect[0], rect[3])]
    least = math.inf
    for shape in (outline, corners):
        for (u0, v0), (u1, v1) in _sides(shape):
            size = math.hypot(u1 - u0, v1 - v0)
            if size < 1e-9:
                continue
            n = ((v1 - v0) / size, (u0 - u1) / size)
            a = [u * n[0] + v * n[1] for u, v in outline]
            b = [u * n[0] + v * n[1] for u, v in corners]
            least = min(least, max(a) - min(b), max(b) - min(a))
    return max(0.0, least)
