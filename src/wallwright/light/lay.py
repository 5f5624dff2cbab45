"""Where a strip lies: along a panel's edges, round the screen, under a console or shelf, or up a tower's side."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.core.units import Length
from wallwright.job.design import Light
from wallwright.light.eyes import Eye
from wallwright.light.hide import depth_at_edge, seen, setback_that_hides
from wallwright.light.lines import facing, grazing

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, SetOut, UnitBox
    from wallwright.sight.record import Screen

Edge = tuple[str, float]
"""A board's edge that hides a strip: which side (left, right, top, bottom, front) and where it is."""


STRAY = 50.0
"""Half way out to where the light beside a strip is told: a bow no higher lights that place as a straight strip does [mm]."""
STEPS = 24
"""Chords for an arch: at a radius of 1 m they fall short of it by less than 0.2 %."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A strip in its place. plane : where the board it is fixed to has its face · gap : from the diodes to what they light ·
    straight : longest straight piece · lit : facing or grazing · shows_from : from the strip's foot to where the lit face
    comes out from behind the board [mm] · room : the furthest setback there is · radius : of an arch that it follows, 0 without ·
    turn : through how much of it [rad].
    """

    of: str
    path: tuple[Point2, ...]
    y: float
    setback: float
    lip: float
    plane: float
    edges: tuple[Edge, ...]
    gap: float
    lit: str
    shows_from: float
    room: float
    closed: bool = False
    radius: float = 0.0
    turn: float = 0.0

    @property
    def length(self) -> float:
        """Along the path [mm]."""
        return sum(math.dist(a, b) for a, b in zip(self.path, self.path[1:], strict=False))

    @property
    def straight(self) -> float:
        """The longest straight piece, or of an arch what strays no further than `STRAY` from a straight line, if more [mm]."""
        pieces = max(math.dist(a, b) for a, b in zip(self.path, self.path[1:], strict=False))
        if not self.radius:
            return pieces
        rise = min(STRAY, self.radius)
        return max(pieces, 2 * math.sqrt(2 * self.radius * rise - rise * rise))


CARRIED_BY = {
    "under_console": ("console", "desk", "loft"), "under_shelf": ("shelf", "ledge"), "tower_side": ("tower", "open_shelves"),
}  # fmt: skip
"""What carries a strip that runs along it, the usual one first."""


def lay(light: Light, screen: Screen, setout: SetOut, limits: Limits) -> Laid | str:
    """The strip in its place, or in words why it cannot be laid."""
    if light.along == "behind_screen":
        return _behind_screen(light, screen, limits)
    if light.along == "behind_panel":
        zone = next((zone for zone in setout.zones if light.of in (None, zone.ref)), None)
        return _behind_panel(light, zone, limits) if zone else _missing(light, "panel")
    kinds = CARRIED_BY[light.along]
    fit = (unit for kind in kinds for unit in setout.units if unit.kind == kind)
    unit = next((unit for unit in fit if light.of in (None, unit.ref)), None)
    if unit is None:
        return _missing(light, kinds[0])
    if unit.tall:
        return _tower_side(light, unit, screen, limits)
    return _under(light, unit, unit.board_only, limits)


def _missing(light: Light, what: str) -> str:
    return f"no {what} {light.of}" if light.of else f"there is no {what} on this wall"


def _given(length: Length | None, limits: Limits, usual: str) -> float:
    """As decided, else usual."""
    return length.mm if length is not None else limits.value(usual)


def _behind_panel(light: Light, zone: PanelZone, limits: Limits) -> Laid:
    """Up both sides and along the top or round the arch, on the panel's back, looking at the wall."""
    back = _given(light.setback, limits, "light.setback")
    inner = _inside(zone.box, back)
    head = _round(zone, inner, back) if zone.arch else ((inner.x, inner.top), (inner.right, inner.top))
    path = tuple(dict.fromkeys(((inner.x, zone.box.z), *head, (inner.right, zone.box.z))))
    edges = (("left", zone.box.x), ("right", zone.box.right), ("top", zone.box.top))
    gap = max(zone.void - limits.value("light.profile"), 1.0)
    lip, room = light.lip.mm if light.lip else 0.0, min(zone.box.width, zone.box.height) / 2
    radius = max(zone.arch.radius - back, 0.0) if zone.arch else 0.0
    turn = 2 * math.asin(min((inner.right - inner.x) / 2 / max(radius, 1.0), 1.0)) if zone.arch else 0.0
    return Laid(
        zone.ref, path, -zone.void, back, lip, -zone.void, edges, gap, "facing", back, room, radius=radius, turn=turn
    )  # fmt: skip


def _round(zone: PanelZone, inner: Box, back: float) -> tuple[Point2, ...]:
    """The arch as far inside its edge as the strip lies, from where it leaves the left side to where it meets the right one."""
    arch = zone.arch
    assert arch is not None
    (cx, cz), radius = arch.centre, max(arch.radius - back, 1.0)
    half = min((inner.right - inner.x) / 2 / radius, 1.0)
    turn = math.asin(half)
    angles = (-turn + 2 * turn * k / STEPS for k in range(STEPS + 1))
    low = zone.box.z
    return tuple((cx + radius * math.sin(a), max(cz + radius * math.cos(a), low)) for a in angles)


def _behind_screen(light: Light, screen: Screen, limits: Limits) -> Laid:
    """All round, on the screen's back, looking at the wall."""
    back = _given(light.setback, limits, "light.setback")
    frame = screen.frame
    corners = _inside(frame, back).corners
    edges = (("left", frame.x), ("right", frame.right), ("top", frame.top), ("bottom", frame.z))
    gap = max(screen.stand_off - limits.value("light.profile"), 1.0)
    return Laid(
        "screen",
        (*corners, corners[0]),
        -screen.stand_off,
        back,
        light.lip.mm if light.lip else 0.0,
        -screen.stand_off,
        edges,
        gap,
        "facing",
        back,
        min(frame.width, frame.height) / 2,
        closed=True,
    )


def _under(light: Light, unit: UnitBox, shelf: bool, limits: Limits) -> Laid:
    """Along the underside: a console's near the wall that it grazes, a shelf's behind a lip at its front."""
    end = limits.value("light.setback")
    furthest = max(unit.depth - limits.value("light.wall_gap"), 0.0)
    usual = limits.value("light.lip_setback") if shelf else furthest
    inset = min(light.setback.mm, furthest) if light.setback is not None else usual
    y = -(unit.depth - inset)
    left, right = unit.box.x + end, unit.box.right - end
    path = ((min(left, right), unit.box.z), (max(left, right), unit.box.z))
    lip = light.lip.mm if light.lip is not None else limits.value("light.lip") if shelf else 0.0
    edges = (("front", -unit.depth),)
    return Laid(unit.ref, path, y, inset, lip, unit.box.z, edges, -y, "grazing", 0.0, furthest)


def _tower_side(light: Light, unit: UnitBox, screen: Screen, limits: Limits) -> Laid:
    """Up the side that looks at the screen, near the wall, behind a fin."""
    left_tower = unit.box.centre[0] < screen.centre[0]
    x = unit.box.right if left_tower else unit.box.x
    gap, back = limits.value("light.wall_gap"), _given(light.setback, limits, "light.lip_setback")
    edges = (("fin right" if left_tower else "fin left", -(gap + back)),)
    path = ((x, unit.box.z), (x, unit.box.top))
    lip, room = _given(light.lip, limits, "light.lip"), max(unit.depth - gap, 0.0)
    return Laid(unit.ref, path, -gap, back, lip, x, edges, gap, "grazing", 0.0, room)


def _inside(box: Box, by: float) -> Box:
    """The box smaller by `by` on all sides, at least a line."""
    return box.grown(-min(by, box.width / 2, box.height / 2))


def _past(laid: Laid, eye: tuple[float, float, float]) -> Iterator[tuple[float, float]]:
    """For each edge that hides the strip: how far the eye is on the strip's side of the board, and how far beyond the edge."""
    x, y, z = eye
    for side, at in laid.edges:
        if side == "front":
            yield laid.plane - z, at - y
        elif side == "fin right":
            yield x - laid.plane, at - y
        elif side == "fin left":
            yield laid.plane - x, at - y
        else:
            beyond = {"left": at - x, "right": x - at, "top": z - at, "bottom": at - z}[side]
            yield y - laid.plane, beyond


def seen_by(laid: Laid, eyes: tuple[Eye, ...], limits: Limits) -> tuple[str, ...]:
    """Whose eyes meet the strip."""
    proud = limits.value("light.profile")
    return tuple(
        whose
        for whose, eye in eyes
        if any(seen(below, beyond, laid.setback, proud, laid.lip) for below, beyond in _past(laid, eye))
    )


def hiding(laid: Laid, eyes: tuple[Eye, ...], limits: Limits) -> tuple[float | None, float | None]:
    """What hides the strip from all of them: the least setback with the lip as it is, and the least lip with the setback as
    it is [mm]. None where no setback, or no lip that still lets light out, would do.
    """
    proud = limits.value("light.profile")
    sights = [past for _, eye in eyes for past in _past(laid, eye)]
    backs = [setback_that_hides(below, beyond, proud, laid.lip) for below, beyond in sights]
    back = None if None in backs else max((need for need in backs if need is not None), default=0.0)
    inside = any(
        beyond <= 0 < below for below, beyond in sights
    )  # already past the edge: nothing there hides it
    lip = max((depth_at_edge(low, out, laid.setback, proud) for low, out in sights if out > 0), default=0.0)
    most = laid.gap - limits.value("light.slot") if laid.lit == "facing" else limits.value("light.lip_most")
    return (
        back if back is not None and back <= laid.room else None,
        None if inside or lip > most else max(0.0, lip),
    )


def lux_near(laid: Laid, lumens: float, limits: Limits) -> float:
    """The light on the wall a little way from the edge, at the middle of the longest straight piece."""
    at = laid.shows_from + limits.value("light.lux_at")
    ends = laid.straight / 2, laid.straight / 2
    return (facing if laid.lit == "facing" else grazing)(lumens, laid.gap, at, ends)


def feed_points(laid: Laid, feed: str) -> tuple[Point2, ...]:
    """Where along the strip its feed comes in: its start, both ends (one place, where they meet), or the middle."""
    if feed == "centre":
        return (_along(laid.path, laid.length / 2),)
    if feed == "both_ends" and not laid.closed:
        return laid.path[0], laid.path[-1]
    return (laid.path[0],)


def _along(path: tuple[Point2, ...], far: float) -> Point2:
    """The point so far along a path [mm]."""
    for (x0, z0), (x1, z1) in pairwise(path):
        piece = math.dist((x0, z0), (x1, z1))
        if far <= piece and piece > 0:
            share = far / piece
            return x0 + share * (x1 - x0), z0 + share * (z1 - z0)
        far -= piece
    return path[-1]


def lit_at(laid: Laid) -> Point2:
    """A point of the face that the strip lights, in front of the middle of its path and out where one sees it."""
    (x0, z0), (x1, z1) = laid.path[0], laid.path[1]
    side, _ = laid.edges[0]
    out = laid.setback + 50.0
    if side == "front":
        return (x0 + x1) / 2, laid.plane - 50.0
    if side.startswith("fin"):
        return laid.plane + (50.0 if side == "fin right" else -50.0), (z0 + z1) / 2
    return x0 - out, (z0 + z1) / 2
