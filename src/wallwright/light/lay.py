"""Where a strip lies: along a panel's edges, round the screen, under a console or shelf, or up a tower's side."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.job.design import Light
from wallwright.light.hide import seen
from wallwright.light.lines import facing, grazing

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, SetOut, UnitBox
    from wallwright.sight.record import Screen, SeatView

Edge = tuple[str, float]
"""A board's edge that hides a strip: which side (left, right, top, bottom, front) and where it is."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A strip in its place. plane : where the board it is fixed to has its face · gap : from the diodes to what they light ·
    straight : longest straight piece · lit : facing or grazing.
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
    closed: bool = False

    @property
    def length(self) -> float:
        """Along the path [mm]."""
        return sum(math.dist(a, b) for a, b in zip(self.path, self.path[1:], strict=False))

    @property
    def straight(self) -> float:
        """The longest straight piece [mm]."""
        return max(math.dist(a, b) for a, b in zip(self.path, self.path[1:], strict=False))


def lay(light: Light, screen: Screen, setout: SetOut, limits: Limits) -> Laid | str:
    """The strip in its place, or in words why it cannot be laid."""
    if light.along == "behind_screen":
        return _behind_screen(screen, limits)
    if light.along == "behind_panel":
        zone = next((zone for zone in setout.zones if light.of in (None, zone.ref)), None)
        return _behind_panel(zone, limits) if zone else _missing(light, "panel")
    kind = {"under_console": "console", "under_shelf": "shelf", "tower_side": "tower"}[light.along]
    unit = next((unit for unit in setout.units if unit.kind == kind and light.of in (None, unit.ref)), None)
    if unit is None:
        return _missing(light, kind)
    if kind == "tower":
        return _tower_side(unit, screen, limits)
    return _under(unit, kind == "shelf", limits)


def _missing(light: Light, what: str) -> str:
    return f"no {what} {light.of}" if light.of else f"there is no {what} on this wall"


def _behind_panel(zone: PanelZone, limits: Limits) -> Laid:
    """Up both sides and along the top, on the panel's back, looking at the wall."""
    back = limits.value("light.setback")
    inner = _inside(zone.box, back)
    path = ((inner.x, zone.box.z), (inner.x, inner.top), (inner.right, inner.top), (inner.right, zone.box.z))
    edges = (("left", zone.box.x), ("right", zone.box.right), ("top", zone.box.top))
    gap = max(zone.void - limits.value("light.profile"), 1.0)
    return Laid(zone.ref, path, -zone.void, back, 0.0, -zone.void, edges, gap, "facing")


def _behind_screen(screen: Screen, limits: Limits) -> Laid:
    """All round, on the screen's back, looking at the wall."""
    back = limits.value("light.setback")
    frame = screen.frame
    corners = _inside(frame, back).corners
    edges = (("left", frame.x), ("right", frame.right), ("top", frame.top), ("bottom", frame.z))
    gap = max(screen.stand_off - limits.value("light.profile"), 1.0)
    return Laid(
        "screen",
        (*corners, corners[0]),
        -screen.stand_off,
        back,
        0.0,
        -screen.stand_off,
        edges,
        gap,
        "facing",
        closed=True,
    )


def _under(unit: UnitBox, shelf: bool, limits: Limits) -> Laid:
    """Along the underside: a console's near the wall that it grazes, a shelf's behind a lip at its front."""
    end = limits.value("light.setback")
    inset = (
        limits.value("light.lip_setback") if shelf else max(unit.depth - limits.value("light.wall_gap"), 0.0)
    )
    y = -(unit.depth - inset)
    left, right = unit.box.x + end, unit.box.right - end
    path = ((min(left, right), unit.box.z), (max(left, right), unit.box.z))
    lip = limits.value("light.lip") if shelf else 0.0
    return Laid(unit.ref, path, y, inset, lip, unit.box.z, (("front", -unit.depth),), -y, "grazing")


def _tower_side(unit: UnitBox, screen: Screen, limits: Limits) -> Laid:
    """Up the side that looks at the screen, near the wall, behind a fin."""
    left_tower = unit.box.centre[0] < screen.centre[0]
    x = unit.box.right if left_tower else unit.box.x
    gap, back = limits.value("light.wall_gap"), limits.value("light.lip_setback")
    edges = (("fin right" if left_tower else "fin left", -(gap + back)),)
    path = ((x, unit.box.z), (x, unit.box.top))
    return Laid(unit.ref, path, -gap, back, limits.value("light.lip"), x, edges, gap, "grazing")


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


def seen_by(laid: Laid, seats: tuple[SeatView, ...], limits: Limits) -> tuple[str, ...]:
    """The seats whose eyes meet the strip."""
    proud = limits.value("light.profile")
    return tuple(
        seat.ref
        for seat in seats
        if any(seen(below, beyond, laid.setback, proud, laid.lip) for below, beyond in _past(laid, seat.eye))
    )


def lux_near(laid: Laid, lumens: float, limits: Limits) -> float:
    """The light on the wall a little way from the edge, at the middle of the longest straight piece."""
    at = limits.value("light.lux_at")
    ends = laid.straight / 2, laid.straight / 2
    if laid.lit == "facing":
        return facing(lumens, laid.gap, laid.setback + at, ends)
    return grazing(lumens, laid.gap, at, ends)
