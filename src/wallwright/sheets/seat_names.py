"""What is written on the view from a seat: the cones of sight, and the names of what is seen, in rows clear of the picture."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from math import cos, hypot, pi, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import Line, Mark, Pen
from wallwright.core.shape import Box, Point2
from wallwright.job.face import obstacle_box
from wallwright.sheets.crossed import inside
from wallwright.sheets.label_row import Named, label_row
from wallwright.sheets.perspective import outline
from wallwright.sheets.seat_scene import BLACK, front
from wallwright.sheets.tiles import cut_to
from wallwright.sight.mirrored import glass_of, window_corners
from wallwright.sight.reflect import Point3

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.sight.record import SeatView

CONES: tuple[tuple[float, Pen, float], ...] = ((30.0, "chain", 142.0), (40.0, "dashed", 55.0))
"""Full angles of the picture cones that are marked [deg], their lines, and whereabouts on the ring each is named [deg]."""
ROW = 2.6  # paper mm from the picture's edge to the leaders' ends


def rings(wall: Wall, seat: SeatView, window: Box) -> Iterator[Line]:
    """The cones about the line of sight to the picture's middle, where they cut the wall's plane."""
    aim = glass_of(wall.sight.screen).middle
    for angle, pen, _ in CONES:
        for piece in inside_of(cone(seat.eye, aim, angle), window):
            yield Line(piece, pen, layer="sight", ref=f"cone {angle:g}")


def names(wall: Wall, seat: SeatView, window: Box, drawn: Sequence[Mark], scale: float) -> list[Mark]:
    """Two rows of names: above the picture of what is seen high up, below it of the rest, each with a leader to its thing.

    drawn : the picture, in the order in which it is painted, so that no leader ends on what stands before its thing
    """
    grounds = [mark for mark in drawn if isinstance(mark, Line) and mark.closed and mark.fill]
    panels = {zone.ref for zone in wall.setout.zones}
    rows: dict[bool, list[Named]] = {True: [], False: []}
    for ref, shape in _shapes(wall, seat, window):
        up = ref in panels or sum(p[1] for p in shape) / len(shape) > wall.sight.screen.centre[1]
        spot = _spot(ref, shape, grounds, up=up)
        if spot is not None:
            rows[up].append(Named(ref, (spot,), ref))
    aim = glass_of(wall.sight.screen).middle
    for angle, _, way in CONES:
        spot = _on_ring(cone(seat.eye, aim, angle), way, window.grown(-2.0 * scale), grounds)
        if spot is not None:
            rows[True].append(Named(f"{angle:g}°", (spot,), f"cone {angle:g}"))
    marks: list[Mark] = []
    for up, row in rows.items():
        level = window.top + ROW * scale if up else window.z - ROW * scale
        marks += label_row(row, level, scale, up=up, low=window.x, high=window.right)
    return marks


def _shapes(wall: Wall, seat: SeatView, window: Box) -> Iterator[tuple[str, tuple[Point2, ...]]]:
    """The ref and the seen front of everything that has a name on the elevation, and of the windows in the side walls."""
    fronts = [(unit.ref, front(unit.box, -unit.depth)) for unit in wall.setout.units]
    fronts += [(zone.ref, front(zone.box, -zone.build_up)) for zone in wall.setout.zones]
    fronts += [
        (thing.ref, front(obstacle_box(thing), -thing.projection.mm))
        for thing in wall.face.obstacles
        if thing.kind != "skirting"
    ]
    depth = wall.job.survey.room.depth
    for opening in wall.job.survey.windows:
        corners = window_corners(opening, depth.mm if depth else None, wall.face.width)
        if corners is not None and opening.wall != "opposite":
            fronts.append((opening.ref, tuple(corners)))
    for ref, corners in fronts:
        shape = outline(seat.eye, corners, window)
        if shape:
            yield ref, shape


SPREAD = (0.4, 0.55, 0.25, 0.7, 0.12, 0.88)
"""Shares of a front's width at which its leader may end, the best first."""


def _spot(ref: str, shape: tuple[Point2, ...], grounds: Sequence[Line], *, up: bool) -> Point2 | None:
    """A point of the front near its upper or lower edge that nothing hides; None where all of it is hidden."""
    xs, zs = [p[0] for p in shape], [p[1] for p in shape]
    left, low, wide, high = min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs)
    for rise in (0.12, 0.3, 0.5, 0.7, 0.88):
        for share in SPREAD:
            spot = left + share * wide, low + (1 - rise if up else rise) * high
            if not inside(spot, shape):
                continue
            over = next((ground for ground in reversed(grounds) if inside(spot, ground.points)), None)
            if over is None or over.ref in ("wall", ref) or re.split(r"[.-]", over.ref)[0] == ref:
                return spot
    return None


def _on_ring(ring: tuple[Point2, ...], way: float, window: Box, grounds: Sequence[Line]) -> Point2 | None:
    """The point of a ring inside the window nearest to that way round it [deg], best one where no black screen hides it."""
    seen = [(k * 360 / len(ring), p) for k, p in enumerate(ring) if window.holds(Box(*p, 0, 0))]

    def worse(at: tuple[float, Point2]) -> tuple[bool, float]:
        over = next((ground for ground in reversed(grounds) if inside(at[1], ground.points)), None)
        return over is not None and over.fill == BLACK, abs((at[0] - way + 180) % 360 - 180)

    return min(seen, key=worse)[1] if seen else None


def cone(eye: Point3, aim: Point3, angle: float, count: int = 72) -> tuple[Point2, ...]:
    """Where a cone of that full angle [deg] about the line from the eye to `aim` cuts the wall's plane; () where it misses it."""
    dx, dy, dz = aim[0] - eye[0], aim[1] - eye[1], aim[2] - eye[2]
    far, level = hypot(dx, dy, dz), hypot(dx, dy)
    axis = (dx / far, dy / far, dz / far)
    side = (dy / level, -dx / level, 0.0)
    up = (-dz * dx / (far * level), -dz * dy / (far * level), level / far)
    a = radians(angle / 2)
    points: list[Point2] = []
    for k in range(count):
        c, s = cos(2 * pi * k / count), sin(2 * pi * k / count)
        ray = [axis[i] * cos(a) + (side[i] * c + up[i] * s) * sin(a) for i in range(3)]
        if ray[1] < 0.05:
            return ()
        t = -eye[1] / ray[1]
        points.append((eye[0] + t * ray[0], eye[2] + t * ray[2]))
    return tuple(points)


def inside_of(ring: Sequence[Point2], window: Box) -> list[tuple[Point2, ...]]:
    """The pieces of a closed curve inside the window, each as long as it can be, so that dashes run on."""
    pieces: list[list[Point2]] = []
    for a, b in itertools.pairwise((*ring, *ring[:1])):
        piece = cut_to(a, b, window)
        if piece is None:
            continue
        if pieces and pieces[-1][-1] == piece[0]:
            pieces[-1].append(piece[1])
        else:
            pieces.append(list(piece))
    if len(pieces) > 1 and pieces[-1][-1] == pieces[0][0]:
        pieces[0] = pieces.pop() + pieces[0][1:]
    return [tuple(piece) for piece in pieces]
