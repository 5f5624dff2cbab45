"""What the screen hides of the wall, whichever way it tilts and turns, and what an outlet behind it keeps off.

Seen square to the wall. A tilted screen is lower by the cosine of its tilt, a turned one narrower; on an arm that does both, its
outline leans, so that what stays hidden at every position is no rectangle.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import product
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Outline, Point2, hull, shared_outline
from wallwright.job.document import Job
from wallwright.job.face import Face, obstacle_box
from wallwright.services.board import NO_BOX

if TYPE_CHECKING:
    from wallwright.sight.record import Screen


@dataclass(frozen=True, slots=True)
class Play:
    """How far a screen moves: its tilts and its swivels [deg], the axis it tilts on above its middle, the axis it turns on right of
    its middle and behind its back [mm].
    """

    tilts: tuple[float, ...] = (0.0,)
    swivels: tuple[float, ...] = (0.0,)
    tilt_axis: float = 0.0
    turn_axis: float = 0.0
    head: float = 0.0

    def seen(self, right: float, up: float, ahead: float, tilt: float, swivel: float) -> Point2:
        """Where a point of the screen is seen on the wall: right of and above its middle, ahead of its back [mm]."""
        lean, turn = math.radians(tilt), math.radians(swivel)
        rise = up - self.tilt_axis
        z = self.tilt_axis + rise * math.cos(lean) - ahead * math.sin(lean)
        out = self.head + rise * math.sin(lean) + ahead * math.cos(lean)
        return self.turn_axis + (right - self.turn_axis) * math.cos(turn) + out * math.sin(turn), z


def play_of(job: Job, screen: Screen, limits: Limits) -> Play:
    """How far this mount lets the screen move: one that is fixed stays; a tilting one leans; an arm turns to both sides besides.

    Only the ends of the ranges count: between them every edge of the outline lies further out (a sine or cosine of less than a
    quarter turn is concave).
    """
    mount = job.design.mount
    if screen.mount == "fixed":
        return Play((screen.tilt,))
    most = limits.value("sight.tilt_most")
    tilts = tuple(sorted({0.0, most, screen.tilt}))
    offset = job.design.screen.hole_offset
    axis = offset.mm if offset is not None else 0.0
    if screen.mount == "tilt":
        return Play(tilts, tilt_axis=axis)
    far = abs(mount.swivel_most) if mount.swivel_most is not None else limits.value("sight.swivel_furthest")
    far = min(89.0, max(far, abs(screen.swivel)))
    head = mount.head.mm if mount.head is not None else limits.value("sight.head_pivot")
    return Play(tilts, (-far, 0.0, far), axis, mount.pivot_x.mm if mount.pivot_x is not None else 0.0, head)


def hidden_outline(frame: Box, depth: float, play: Play) -> Outline:
    """What the screen's body hides at every tilt and swivel of its mount."""
    cx, cz = frame.centre
    if play.swivels == (0.0,):  # what only tilts stays upright
        return _tilted(frame, depth, play)
    edges = tuple(
        product((-frame.width / 2, frame.width / 2), (-frame.height / 2, frame.height / 2), (0.0, depth))
    )
    seen = (
        hull(_moved((cx, cz), play.seen(*edge, tilt, swivel)) for edge in edges)
        for tilt in play.tilts
        for swivel in play.swivels
    )
    return reduce(shared_outline, seen)


def _tilted(frame: Box, depth: float, play: Play) -> Outline:
    """The same for a screen that does not turn: its lowest top and its highest foot."""
    cz, half = frame.centre[1], frame.height / 2
    tops = (max(play.seen(0.0, half, out, tilt, 0.0)[1] for out in (0.0, depth)) for tilt in play.tilts)
    feet = (min(play.seen(0.0, -half, out, tilt, 0.0)[1] for out in (0.0, depth)) for tilt in play.tilts)
    top, foot = cz + min(tops), cz + max(feet)
    return Box(frame.x, foot, frame.width, max(0.0, top - foot)).corners


def _moved(middle: Point2, by: Point2) -> Point2:
    return round(middle[0] + by[0], 9), round(middle[1] + by[1], 9)


@dataclass(frozen=True, slots=True)
class KeepOut:
    """Where no outlet box may lie: what stands there, in words, its ref on the wall or "", and whether it moves with the screen."""

    what: str
    box: Box
    ref: str = ""
    moves: bool = False


def of_screen(job: Job, screen: Screen, play: Play, limits: Limits) -> tuple[KeepOut, ...]:
    """What the screen itself keeps free: its mount's arms, its ports and vents, each over all it sweeps as the screen moves.

    The plate is told apart, for it grows with the next larger mount.
    """
    v = limits.value
    cx, cz = screen.centre
    half, over = v("sight.arm_width") / 2, v("sight.arm_over")
    kept = [
        KeepOut(
            "the mount's arms",
            _swept(Box(x - half - cx, screen.holes.z - over - cz, 2 * half, screen.holes.height + 2 * over), play, cx, cz),
            moves=True,
        )
        for x in (screen.holes.x, screen.holes.right)
    ]  # fmt: skip
    if screen.mount == "arm":
        kept.append(KeepOut("the folded arm", _folded(job, screen, limits), moves=True))
    want = job.design.screen
    for patches, what in ((want.ports, "port"), (want.vents, "vent")):
        kept += [
            KeepOut(
                f"{what} {p.ref}",
                _swept(Box(p.x.mm, p.z.mm, p.width.mm, p.height.mm), play, cx, cz),
                p.ref,
                True,
            )
            for p in patches
        ]
    return tuple(kept)


def _swept(box: Box, play: Play, cx: float, cz: float) -> Box:
    """The upright box round all the places where a rectangle of the screen's back is seen, tilted but not turned away."""
    seen = [play.seen(x, z, 0.0, tilt, 0.0) for x, z in box.corners for tilt in play.tilts]
    xs, zs = [cx + x for x, _ in seen], [cz + z for _, z in seen]
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs))


def _folded(job: Job, screen: Screen, limits: Limits) -> Box:
    """The band in which an arm's links lie when folded, and swing as it is pulled out: half its reach to each side of the plate's
    middle, for nobody knows to which side it folds.
    """
    reach = job.design.mount.reach
    out = max(0.0, (reach.mm if reach is not None else limits.value("services.arm_reach")) - screen.stand_off)
    x, z = screen.plate.centre
    high = limits.value("services.arm_band")
    return Box(x - out / 2, z - high / 2, out, high)


def of_wall(job: Job, face: Face, limits: Limits) -> tuple[KeepOut, ...]:
    """What the wall keeps free of boxes: what stands on it, pipes with their clearance, the studs found, and the drip of an air
    conditioner.
    """
    v = limits.value
    kept: list[KeepOut] = []
    for thing in face.obstacles:
        box, name = obstacle_box(thing), thing.kind.replace("_", " ")
        if thing.kind in NO_BOX:
            kept.append(
                KeepOut(
                    f"the {name} {thing.ref}",
                    box.grown(v("services.pipe_clear")) if thing.kind == "pipe" else box,
                    thing.ref,
                )
            )
        if thing.kind == "ac":
            drip = v("rule.ac_clear")
            kept.append(
                KeepOut(
                    f"the drip of {thing.ref}",
                    Box(box.x - drip, 0.0, box.width + 2 * drip, max(box.z, 1.0)),
                    thing.ref,
                )
            )
    half = v("services.stud_width") / 2
    kept += [
        KeepOut(f"the stud at x {x.mm:.0f}", Box(x.mm - half, 0.0, 2 * half, face.height))
        for x in job.survey.wall.studs
    ]
    return tuple(kept)


def boxes(kept: Iterable[KeepOut]) -> list[Box]:
    """Only the boxes."""
    return [one.box for one in kept]


def inner_box(outline: Outline) -> Box | None:
    """The upright rectangle of the outline's full height that lies within it; the outline itself where that is upright."""
    if not outline:
        return None
    low, high = min(z for _, z in outline), max(z for _, z in outline)
    (foot_left, foot_right), (head_left, head_right) = ends(outline, low), ends(outline, high)
    x, right = max(foot_left[0], head_left[0]), min(foot_right[0], head_right[0])
    return Box(x, low, right - x, high - low) if right > x else None


def ends(outline: Sequence[Point2], z: float) -> tuple[Point2, Point2]:
    """The leftmost and the rightmost place of a convex outline at height z. ValueError where it does not reach that height."""
    xs: list[float] = []
    for i, (bx, bz) in enumerate(outline):
        ax, az = outline[i - 1]
        if min(az, bz) - 1e-9 <= z <= max(az, bz) + 1e-9:
            xs += [ax, bx] if abs(az - bz) < 1e-9 else [ax + (z - az) / (bz - az) * (bx - ax)]
    if not xs:
        raise ValueError(f"the outline does not reach {z:g}")
    return (min(xs), z), (max(xs), z)
