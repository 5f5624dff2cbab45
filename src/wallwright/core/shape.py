"""Boxes on the wall and in the room, and the few questions that the trade asks of them.

Axes: x right from the wall's left corner, z up from finished floor level, y into the wall (the room is y < 0). All mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

Point2 = tuple[float, float]
Outline = tuple[Point2, ...]
"""A convex outline on the wall: its corners counter-clockwise as seen from the room."""


@dataclass(frozen=True, slots=True, init=False)
class Box:
    """An upright rectangle on the wall: left x, bottom z, width, height [mm].

    Two boxes are compared some thousand times for a wall: what does so adds up the far edges itself instead of asking for them.
    """

    x: float
    z: float
    width: float
    height: float

    def __init__(self, x: float, z: float, width: float, height: float) -> None:
        # a wall is made of thousands: set by its slots' own descriptors it is made in half the time that the usual way takes
        _set_x(self, x)
        _set_z(self, z)
        _set_width(self, width)
        _set_height(self, height)

    @property
    def right(self) -> float:
        """The right edge's x."""
        return self.x + self.width

    @property
    def top(self) -> float:
        """The top edge's z."""
        return self.z + self.height

    @property
    def centre(self) -> Point2:
        """The middle (x, z)."""
        return self.x + self.width / 2, self.z + self.height / 2

    @property
    def area(self) -> float:
        """The area [mm²]."""
        return self.width * self.height

    @property
    def corners(self) -> tuple[Point2, Point2, Point2, Point2]:
        """The corners from bottom left, counter-clockwise seen from the room."""
        return (self.x, self.z), (self.right, self.z), (self.right, self.top), (self.x, self.top)

    def grown(self, by: float) -> Box:
        """The box larger by `by` on all four sides (smaller where negative, never below nothing)."""
        width, height = max(0.0, self.width + 2 * by), max(0.0, self.height + 2 * by)
        cx, cz = self.x + self.width / 2, self.z + self.height / 2
        return Box(cx - width / 2, cz - height / 2, width, height)

    def meets(self, other: Box) -> bool:
        """Whether the two overlap by more than a touch."""
        x, z, other_x, other_z = self.x, self.z, other.x, other.z
        return (
            x < other_x + other.width
            and other_x < x + self.width
            and z < other_z + other.height
            and other_z < z + self.height
        )

    def holds(self, other: Box) -> bool:
        """Whether `other` lies wholly inside."""
        return self.x <= other.x and self.z <= other.z and other.right <= self.right and other.top <= self.top

    def shared_span(self, other: Box) -> float:
        """How much of the two lies over one another along x [mm]; 0 where nothing does."""
        return max(0.0, min(self.right, other.right) - max(self.x, other.x))

    def shared(self, other: Box) -> Box | None:
        """The overlap of the two, or None."""
        left, low = max(self.x, other.x), max(self.z, other.z)
        right = min(self.x + self.width, other.x + other.width)
        top = min(self.z + self.height, other.z + other.height)
        return Box(left, low, right - left, top - low) if right > left and top > low else None

    def gap(self, other: Box) -> float:
        """The clear distance between the two [mm]; 0 where they touch or overlap."""
        dx = max(other.x - (self.x + self.width), self.x - (other.x + other.width), 0.0)
        dz = max(other.z - (self.z + self.height), self.z - (other.z + other.height), 0.0)
        return (dx * dx + dz * dz) ** 0.5


_set_x, _set_z, _set_width, _set_height = (
    Box.__dict__[name].__set__ for name in ("x", "z", "width", "height")
)


@dataclass(frozen=True, slots=True)
class Block:
    """An upright box in the room: its smallest corner (x, y, z) and its sizes along the three axes [mm]."""

    x: float
    y: float
    z: float
    dx: float
    dy: float
    dz: float

    @property
    def volume(self) -> float:
        """The volume [mm³]."""
        return self.dx * self.dy * self.dz

    @property
    def face(self) -> Box:
        """The block as seen on the elevation."""
        return Box(self.x, self.z, self.dx, self.dz)

    def overlap(self, other: Block) -> float:
        """The shared volume of the two [mm³]."""
        x = min(self.x + self.dx, other.x + other.dx) - max(self.x, other.x)
        y = min(self.y + self.dy, other.y + other.dy) - max(self.y, other.y)
        z = min(self.z + self.dz, other.z + other.dz) - max(self.z, other.z)
        return x * y * z if x > 0 and y > 0 and z > 0 else 0.0


def box_around(centre: Point2, width: float, height: float) -> Box:
    """The box of this size whose middle is `centre`."""
    return Box(centre[0] - width / 2, centre[1] - height / 2, width, height)


def around(points: Iterable[Point2]) -> Box:
    """The smallest upright box that holds all the points. ValueError where there are none."""
    xs, zs = zip(*points, strict=True)
    left, low = min(xs), min(zs)
    return Box(left, low, max(xs) - left, max(zs) - low)


def cut_out(region: tuple[Box, ...], hole: Box) -> tuple[Box, ...]:
    """What is left of a region of boxes when `hole` is taken out: boxes that do not overlap."""
    left: list[Box] = []
    x, z, right, top = hole.x, hole.z, hole.x + hole.width, hole.z + hole.height
    for box in region:
        if x >= box.x + box.width or right <= box.x or z >= box.z + box.height or top <= box.z:
            left.append(box)
            continue
        common = box.shared(hole)
        if common is None:
            left.append(box)
            continue
        pieces = (
            Box(box.x, box.z, common.x - box.x, box.height),
            Box(common.right, box.z, box.right - common.right, box.height),
            Box(common.x, box.z, common.width, common.z - box.z),
            Box(common.x, common.top, common.width, box.top - common.top),
        )
        left.extend(piece for piece in pieces if piece.width > 0 and piece.height > 0)
    return tuple(left)


def kept_side(
    points: list[tuple[float, ...]], axis: int, limit: float, sign: float
) -> list[tuple[float, ...]]:
    """The part of a convex polygon with sign · coordinate ≥ sign · limit (one side of the clip by Sutherland and Hodgman)."""
    kept: list[tuple[float, ...]] = []
    for i, here in enumerate(points):
        before = points[i - 1]
        inside, was = sign * (here[axis] - limit) >= 0, sign * (before[axis] - limit) >= 0
        if inside != was:
            t = (limit - before[axis]) / (here[axis] - before[axis])
            kept.append(tuple(a + t * (b - a) for a, b in zip(before, here, strict=True)))
        if inside:
            kept.append(here)
    return kept


def half_plane(outline: Outline, nx: float, nz: float, most: float) -> Outline:
    """The part of a convex outline where nx · x + nz · z ≤ most; empty where nothing or only an edge is left."""
    kept: list[Point2] = []
    for i, here in enumerate(outline):
        before = outline[i - 1]
        now, then = nx * here[0] + nz * here[1] - most, nx * before[0] + nz * before[1] - most
        if (now > 0) != (then > 0):
            t = then / (then - now)
            kept.append((before[0] + t * (here[0] - before[0]), before[1] + t * (here[1] - before[1])))
        if now <= 0:
            kept.append(here)
    return tuple(kept) if len(kept) > 2 and outline_area(kept) > _NOTHING else ()


_NOTHING = 1e-6  # mm²: less is an edge or a corner


def sides(outline: Outline) -> tuple[tuple[float, float, float], ...]:
    """The half-planes (nx, nz, most) whose common part is the convex outline; (nx, nz) points out and is one long."""
    out: list[tuple[float, float, float]] = []
    for i, (x, z) in enumerate(outline):
        before_x, before_z = outline[i - 1]
        dx, dz = x - before_x, z - before_z
        length = (dx * dx + dz * dz) ** 0.5
        if length > 0:
            out.append((dz / length, -dx / length, (dz * x - dx * z) / length))
    return tuple(out)


def shared_outline(one: Outline, other: Outline) -> Outline:
    """What two convex outlines have in common."""
    for side in sides(other):
        one = half_plane(one, *side)
    return one


def shrunk(outline: Outline, by: float, width: float = 0.0, height: float = 0.0) -> Outline:
    """Where the middle of a box of that size may lie so that it stays `by` inside every side of a convex outline."""
    inside = outline
    for nx, nz, most in sides(outline):
        inside = half_plane(inside, nx, nz, most - by - abs(nx) * width / 2 - abs(nz) * height / 2)
    return inside


def cut_box(pieces: Iterable[Outline], hole: Box) -> tuple[Outline, ...]:
    """What is left of convex pieces when a box is taken out of them: convex pieces that do not overlap."""
    left: list[Outline] = []
    for piece in pieces:
        if not around(piece).meets(hole) or not shared_outline(piece, hole.corners):
            left.append(piece)
            continue
        between = half_plane(half_plane(piece, -1, 0, -hole.x), 1, 0, hole.right)
        parts = (
            half_plane(piece, 1, 0, hole.x),
            half_plane(piece, -1, 0, -hole.right),
            half_plane(between, 0, 1, hole.z),
            half_plane(between, 0, -1, -hole.top),
        )
        left.extend(part for part in parts if part)
    return tuple(left)


def outline_area(outline: Iterable[Point2]) -> float:
    """The area of an outline [mm²]; below 0 where it goes clockwise."""
    at = tuple(outline)
    return sum(at[i - 1][0] * z - x * at[i - 1][1] for i, (x, z) in enumerate(at)) / 2


def hull(points: Iterable[Point2]) -> Outline:
    """The smallest convex outline round points (Andrew's monotone chain, 1979)."""
    at = sorted(set(points))
    halves: list[list[Point2]] = []
    for way in (at, at[::-1]):
        half: list[Point2] = []
        for x, z in way:
            while len(half) > 1 and _turn(half[-2], half[-1], (x, z)) <= 0:
                half.pop()
            half.append((x, z))
        halves.append(half[:-1])
    return (*halves[0], *halves[1])


def _turn(a: Point2, b: Point2, c: Point2) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
