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
PULL_STEP = 5.0
"""A pull-out is found to this [mm]."""


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

    def picture(self, pivot: Point2, swivel: float) -> Point2:
        """The middle of the picture (x, out): midway between the two front corners."""
        _, _, right, left = self.corners(pivot, swivel)
        return (left[0] + right[0]) / 2, (left[1] + right[1]) / 2


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
    x, out = body.picture((centre + body.axis, reach - body.head), swivel)
    return [math.degrees(math.atan2(eye - x, away - out)) for _, eye, away in eyes]


def pulled_out(body: Body, centre: float, swivel: float, clear: float, folded: float) -> tuple[float, Point2]:
    """Where a screen turned by `swivel` stands: the pull-out [wall face to the back of the unturned screen] and its picture's
    middle (x, out). It comes out no further than keeps its back corner `clear` of the wall; unturned it stays folded.
    """
    if swivel == 0:
        return folded, (centre, folded + body.depth)
    pull = max(folded, reach_for(swivel, body, clear))
    return pull, body.picture((centre + body.axis, pull - body.head), swivel)


def clearance(corners: Corners, things: Sequence[Thing]) -> tuple[float, str]:
    """The least distance from the frame to the wall and to the things; below 0 how far it is through the wall."""
    xs, outs = [x for x, _ in corners], [out for _, out in corners]
    left, right, nearest = min(xs), max(xs), min(outs)
    best, name = nearest, "wall"
    for thing in things:
        # never nearer than the boxes round the two: most things are passed over by that
        if (
            math.hypot(max(thing.left - right, left - thing.right, 0.0), max(nearest - thing.out, 0.0))
            >= best
        ):
            continue
        apart = distance(corners, thing.corners)
        if apart < best:
            best, name = apart, thing.name
    return best, name


def sweep(body: Body, pivot: Point2, swivel: float, things: Sequence[Thing]) -> Swept:
    """The nearest that the frame comes to anything while it turns from straight to `swivel`.

    Exact at each angle; the angle is stepped by 1° and the nearest place is then closed in on by golden section, to
    some hundredths of a degree. Steps at which no corner can have come as far as the nearest yet found are passed over.
    """
    angles = _steps(swivel)
    i, _ = _nearest_step(body, pivot, angles, things, -math.inf)
    return _closed_in(body, pivot, angles, things, i)


def _steps(swivel: float) -> list[float]:
    """The angles from straight to `swivel`, about 1° apart."""
    steps = max(1, math.ceil(abs(swivel)))
    return [swivel * i / steps for i in range(steps + 1)]


def _closed_in(body: Body, pivot: Point2, angles: Sequence[float], things: Sequence[Thing], i: int) -> Swept:
    """The nearest place between the steps beside step `i`: by golden section."""

    def clear(angle: float) -> float:
        return clearance(body.corners(pivot, angle), things)[0]

    low, high = angles[max(0, i - 1)], angles[min(len(angles) - 1, i + 1)]
    shrink = (math.sqrt(5) - 1) / 2
    one, two = high - shrink * (high - low), low + shrink * (high - low)
    first, second = clear(one), clear(two)
    for _ in range(12):
        if first < second:
            high, two, second = two, one, first
            one = high - shrink * (high - low)
            first = clear(one)
        else:
            low, one, first = one, two, second
            two = low + shrink * (high - low)
            second = clear(two)
    near = min((angles[i], (low + high) / 2), key=clear)
    return Swept(*clearance(body.corners(pivot, near), things), near)


def _nearest_step(
    body: Body, pivot: Point2, angles: Sequence[float], things: Sequence[Thing], enough: float
) -> tuple[int, float]:
    """The step at which the frame comes nearest to anything, and how near; the first found that is nearer than `enough` will do.

    No corner moves further from one step to the next than its distance from the pivot times the angle between them: what is so
    far from the nearest yet found cannot be nearer within that many steps. From the end, where it is mostly nearest.
    """
    last = len(angles) - 1
    far = max(math.dist(pivot, corner) for corner in body.corners(pivot, 0.0))
    step = far * math.radians(abs(angles[-1] - angles[0]) / last)
    best, nearest = last, math.inf
    i = last
    while i >= 0:
        apart, _ = clearance(body.corners(pivot, angles[i]), things)
        if apart < nearest:
            best, nearest = i, apart
            if nearest < enough:
                break
        i -= max(1, math.floor((apart - nearest) / step)) if step else 1
    return best, nearest


def pull_needed(
    body: Body, x: float, swivel: float, things: Sequence[Thing], clear: float, most: float
) -> float | None:
    """The pull-out, to 5 mm, at which the screen turns to `swivel` and stays `clear` of all; None where none up to `most` does.

    All that it may meet stands against the wall: further out it is never nearer to any of it, so the answer is halved in on.
    """

    def turns(reach: float) -> bool:
        return _free(body, (x, reach - body.head), swivel, things, clear - 1e-6)

    least = reach_for(swivel, body, clear)
    low, high = -1, math.floor((most - least) / PULL_STEP)
    if high < 0 or not turns(least + high * PULL_STEP):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if turns(least + middle * PULL_STEP) else (middle, high)
    return least + high * PULL_STEP


def _free(body: Body, pivot: Point2, swivel: float, things: Sequence[Thing], clear: float) -> bool:
    """Whether it stays `clear` of all on its way."""
    angles = _steps(swivel)
    i, nearest = _nearest_step(body, pivot, angles, things, clear)
    return nearest >= clear and _closed_in(body, pivot, angles, things, i).clear >= clear


def swivel_within(body: Body, pivot: Point2, swivel: float, things: Sequence[Thing], clear: float) -> float:
    """The furthest turn towards `swivel`, in whole degrees, that stays `clear` of all on its way."""
    sign = 1 if swivel >= 0 else -1
    low, high = 0, int(abs(swivel)) + 1
    while high - low > 1:
        middle = (low + high) // 2
        free = _free(body, pivot, sign * middle, things, clear)
        low, high = (middle, high) if free else (low, middle)
    return float(sign * low)


def distance(one: Corners, two: Corners) -> float:
    """The distance between two convex polygons in plan; 0 where they meet."""
    if not _parted(one, two) and not _parted(two, one):
        return 0.0
    return math.sqrt(min(_between(one, two), _between(two, one)))


def _between(points: Corners, polygon: Corners) -> float:
    """The square of the least distance from the points to the edges of the polygon."""
    best = math.inf
    x0, y0 = polygon[-1]
    for x1, y1 in polygon:
        dx, dy = x1 - x0, y1 - y0
        along = dx * dx + dy * dy or 1.0
        for x, y in points:
            px, py = x - x0, y - y0
            t = (px * dx + py * dy) / along
            t = 0.0 if t < 0.0 else 1.0 if t > 1.0 else t
            away = (px - t * dx) ** 2 + (py - t * dy) ** 2
            if away < best:
                best = away
        x0, y0 = x1, y1
    return best


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
