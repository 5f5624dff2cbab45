"""A screen on an arm: how far it turns to be fair to all seats, how far the arm must reach for that, and what the turning
screen comes near to.

Plan axes: x along the wall, out from the wall into the room; all mm. A positive swivel turns the picture towards larger x.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.shape import Point2

Corners = tuple[Point2, Point2, Point2, Point2]


@dataclass(frozen=True, slots=True)
class Body:
    """The screen in plan: frame width and depth, head (turning axis to its back), and the axis right of its middle."""

    width: float
    depth: float
    head: float
    axis: float = 0.0

    def corners(self, pivot: Point2, swivel: float) -> Corners:
        """The frame's four corners about a pivot (x, out): back left, back right, front right, front left."""
        sine, cosine = math.sin(math.radians(swivel)), math.cos(math.radians(swivel))

        def at(right: float, ahead: float) -> Point2:
            return pivot[0] + right * cosine + ahead * sine, pivot[1] - right * sine + ahead * cosine

        left, right = -self.width / 2 - self.axis, self.width / 2 - self.axis
        back, front = self.head, self.head + self.depth
        return at(left, back), at(right, back), at(right, front), at(left, front)


@dataclass(frozen=True, slots=True)
class Thing:
    """Something the turning screen may come near to, in plan: from left to right, standing `out` from the wall."""

    name: str
    left: float
    right: float
    out: float
    near: float = 0.0

    @property
    def corners(self) -> Corners:
        """Its four corners."""
        return (self.left, self.near), (self.right, self.near), (self.right, self.out), (self.left, self.out)


@dataclass(frozen=True, slots=True)
class Swept:
    """How near a turning screen comes: the clear distance, to what, and at which swivel. Below 0: how deep into the wall."""

    clear: float
    near: str
    swivel: float


@dataclass(frozen=True, slots=True)
class Turn:
    """One seat: how far the screen turns to face it, and the pull-out that needs, wall to the screen's back."""

    seat: str
    swivel: float
    reach: float


@dataclass(frozen=True, slots=True)
class Swivel:
    """Turning solved for all seats.

    fair : the swivel at which the worst seat is least aside · worst, unturned : how far aside it sees then, and unturned [deg] ·
    limit : what the panel's class bears · reach : pull-out that the fair swivel needs · turns : to face each seat alone
    """

    fair: float
    worst: float
    unturned: float
    limit: float
    reach: float
    turns: tuple[Turn, ...]

    @property
    def helps(self) -> bool:
        """Whether one fixed swivel brings every seat within what the panel bears, where unturned it would not."""
        return self.worst <= self.limit < self.unturned


def fair_swivel(angles: Sequence[float]) -> tuple[float, float]:
    """The swivel midway between the extreme seats, and how far aside the worst then sees: (φmax ± φmin)/2."""
    low, high = min(angles), max(angles)
    return (high + low) / 2, (high - low) / 2


def reach_for(swivel: float, body: Body, clear: float) -> float:
    """The pull-out [wall face to the back of the unturned screen] at which a turned screen's back corner stays clear of the wall.

    The corner on the side away from the seats comes back by (W/2 ± axis) sin ψ; the head carries it forward by h cos ψ.
    """
    angle = abs(math.radians(swivel))
    half = body.width / 2 + (body.axis if swivel < 0 else -body.axis)
    return clear + body.head + half * math.sin(angle) - body.head * math.cos(angle)


def solve(
    eyes: Sequence[tuple[str, float, float]],
    centre: float,
    body: Body,
    limit: float,
    clear: float,
    folded: float,
) -> Swivel:
    """Turning for seats (ref, x, distance from the wall) before a screen with its middle at `centre`. ValueError without seats.

    folded : the stand-off below which no arm goes. As the screen turns and comes out, its picture's middle moves with it: the
    angles are taken anew from there until they settle.
    """
    if not eyes:
        raise ValueError("a swivel needs at least one seat")
    plain = _aside(eyes, centre, body, 0.0, folded)
    fair, worst, reach = _settled(eyes, centre, body, clear, folded)
    turns = [Turn(eye[0], *_settled((eye,), centre, body, clear, folded)[::2]) for eye in eyes]
    return Swivel(fair, worst, max(abs(angle) for angle in plain), limit, reach, tuple(turns))


def _settled(
    eyes: Sequence[tuple[str, float, float]], centre: float, body: Body, clear: float, folded: float
) -> tuple[float, float, float]:
    """The fair swivel for these eyes, how far aside the worst then sees, and the pull-out it needs."""
    swivel, worst, reach = 0.0, 0.0, folded
    for _ in range(6):
        swivel, worst = fair_swivel(_aside(eyes, centre, body, swivel, reach))
        reach = max(folded, reach_for(swivel, body, clear))
    return swivel, worst, reach


def _aside(
    eyes: Sequence[tuple[str, float, float]], centre: float, body: Body, swivel: float, reach: float
) -> list[float]:
    """The angle of each eye, on plan, from the wall's normal through the middle of the turned picture."""
    left, right, front, other = body.corners((centre + body.axis, reach - body.head), swivel)
    x, out = (front[0] + other[0]) / 2, (left[1] + right[1] + front[1] + other[1]) / 4
    out += body.depth / 2 * math.cos(math.radians(swivel))
    return [math.degrees(math.atan2(eye - x, away - out)) for _, eye, away in eyes]


def clearance(corners: Corners, things: Sequence[Thing]) -> tuple[float, str]:
    """The least distance from the frame to the wall and to the things; below 0 how far it is through the wall."""
    wall = min(out for _, out in corners)
    best, name = wall, "wall"
    for thing in things:
        apart = distance(corners, thing.corners)
        if apart < best:
            best, name = apart, thing.name
    return best, name


def sweep(body: Body, pivot: Point2, swivel: float, things: Sequence[Thing]) -> Swept:
    """The nearest that the frame comes to anything while it turns from straight to `swivel`.

    Exact at each angle; the angle is stepped by 1° and the nearest place is then closed in on by golden section.
    """

    def clear(angle: float) -> tuple[float, str]:
        return clearance(body.corners(pivot, angle), things)

    steps = max(1, math.ceil(abs(swivel)))
    angles = [swivel * i / steps for i in range(steps + 1)]
    found = [clear(angle) for angle in angles]
    i = min(range(len(found)), key=lambda i: found[i][0])
    low, high = angles[max(0, i - 1)], angles[min(steps, i + 1)]
    shrink = (math.sqrt(5) - 1) / 2
    for _ in range(24):
        one, two = high - shrink * (high - low), low + shrink * (high - low)
        if clear(one)[0] < clear(two)[0]:
            high = two
        else:
            low = one
    near = min((angles[i], (low + high) / 2), key=lambda angle: clear(angle)[0])
    return Swept(*clear(near), near)


def pull_needed(
    body: Body, x: float, swivel: float, things: Sequence[Thing], clear: float, most: float
) -> float | None:
    """The least pull-out, to 5 mm, at which the whole turn stays `clear` of all; None where none up to `most` does."""
    reach = reach_for(swivel, body, clear)
    while reach <= most:
        if sweep(body, (x, reach - body.head), swivel, things).clear >= clear - 1e-6:
            return reach
        reach += 5.0
    return None


def swivel_within(body: Body, pivot: Point2, swivel: float, things: Sequence[Thing], clear: float) -> float:
    """The furthest turn towards `swivel`, in whole degrees, that stays `clear` of all."""
    sign = 1 if swivel >= 0 else -1
    for angle in range(int(abs(swivel)), 0, -1):
        if sweep(body, pivot, sign * angle, things).clear >= clear:
            return float(sign * angle)
    return 0.0


def distance(one: Corners, two: Corners) -> float:
    """The distance between two convex polygons in plan; 0 where they meet."""
    if not _parted(one, two) and not _parted(two, one):
        return 0.0
    return min(
        _to_edge(point, polygon[i - 1], polygon[i])
        for points, polygon in ((one, two), (two, one))
        for point in points
        for i in range(len(polygon))
    )


def _parted(one: Corners, two: Corners) -> bool:
    """Whether a line along an edge of the first has the two on its two sides."""
    for i, end in enumerate(one):
        start = one[i - 1]
        nx, ny = end[1] - start[1], start[0] - end[0]
        ones = [nx * x + ny * y for x, y in one]
        twos = [nx * x + ny * y for x, y in two]
        if max(ones) < min(twos) or max(twos) < min(ones):
            return True
    return False


def _to_edge(point: Point2, start: Point2, end: Point2) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    t = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy or 1.0)
    t = min(1.0, max(0.0, t))
    return math.hypot(point[0] - start[0] - t * dx, point[1] - start[1] - t * dy)
