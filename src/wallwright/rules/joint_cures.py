"""Where a panel goes, or how wide it is, so that each of its joints stands on an edge or clearly away from every one."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from wallwright.carcass.record import PanelZone, SetOut
from wallwright.core.finding import edit_call
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.rules.places import Cure, boards_of, changed, faults, set_out, zone_given_back

ON = 2.0
"""A joint within this of an edge stands on it [mm]."""
TRIES = 6
"""So many moves and as many widths are tried on the wall, the smallest first."""


def beside_edge(gap: float, near: float) -> bool:
    """Whether a joint that far from the nearest edge stands just beside it."""
    return ON <= gap <= near


def joint_cure(wall: Wall, zone: PanelZone, near: float) -> Cure:
    """The first way after which no joint of the panel stands just beside an edge, tried on the wall. near : the limit [mm]."""
    before = {item.key for item in faults(wall)}
    for way in _ways(wall, zone, near):
        job = changed(wall.job, way.edits)
        setout = set_out(job, wall) if job else None
        if job is None or setout is None or not _stands_well(setout, zone.ref, wall, near):
            continue
        after = boards_of(job)
        if after and all(item.key in before for item in faults(after)):
            return way
    return Cure(
        f"no place or width of {zone.ref} near this one puts its joints on an edge or clear of it: choose other pieces, or accept it",
        (),
    )


def _stands_well(setout: SetOut, ref: str, wall: Wall, near: float) -> bool:
    zone = next(zone for zone in setout.zones if zone.ref == ref)
    return _well(zone.joints, _edges(setout, wall.sight.screen.frame, zone), near)


def _ways(wall: Wall, zone: PanelZone, near: float) -> Iterator[Cure]:
    back = zone_given_back(zone, "x", "width")
    if back:
        yield Cure(f"let the program place and joint {zone.ref}", tuple(back))
    box, edges = zone.box, _edges(wall.setout, wall.sight.screen.frame, zone)
    for shift in _shifts(zone, edges, near)[:TRIES]:
        if box.x + shift >= 0 and box.right + shift <= wall.face.width:
            calls = (
                edit_call("resize_panel", ref=zone.ref, width=round(box.width, 1)),
                edit_call("move_panel", ref=zone.ref, x=round(box.x + shift, 1)),
            )
            yield Cure(
                f"move {zone.ref} {abs(shift):.0f} mm to the {'right' if shift > 0 else 'left'}, where its joints stand on an edge "
                "or clear of it", calls)  # fmt: skip
    for x, width in _widths(zone, edges, near)[:TRIES]:
        if x >= 0 and x + width <= wall.face.width:
            calls = (
                edit_call("resize_panel", ref=zone.ref, width=width),
                edit_call("move_panel", ref=zone.ref, x=x),
            )
            yield Cure(
                f"make {zone.ref} {width:.0f} mm wide from x {x:.0f}: its joints then stand on an edge or clear of it",
                calls,
            )


def _edges(setout: SetOut, frame: Box, zone: PanelZone) -> list[float]:
    """The upright edges of the screen and of units beside the panel."""
    boxes = [frame] if zone.box.meets(frame) else []
    boxes += [unit.box for unit in setout.units if unit.box.z <= zone.box.top and zone.box.z <= unit.box.top]
    return [x for box in boxes for x in (box.x, box.right)]


def _well(joints: Iterable[float], edges: Iterable[float], near: float) -> bool:
    at = tuple(edges)
    return not any(beside_edge(min((abs(x - edge) for edge in at), default=math.inf), near) for x in joints)


def _shifts(zone: PanelZone, edges: list[float], near: float) -> list[float]:
    """How far the panel may move so that all its joints stand well, the smallest first [mm]."""
    wanted = [edge - x + off for edge in edges for x in zone.joints for off in (0.0, near + 1, -near - 1)]
    well = [shift for shift in wanted if _well([x + shift for x in zone.joints], edges, near)]
    return sorted(set(well), key=abs)


def _widths(zone: PanelZone, edges: list[float], near: float) -> list[tuple[float, float]]:
    """Left edge and width of a panel in as many equal pieces, about its own middle or from its own left edge, nearest first."""
    pieces, middle, left = len(zone.joints) + 1, zone.box.centre[0], zone.box.x
    out: list[tuple[float, float]] = []
    for edge in edges:
        for k in range(1, pieces):
            for on in (edge, edge + near + 1, edge - near - 1):
                share = k / pieces
                widths = [(on - left) / share] + (
                    [(on - middle) / (share - 0.5)] if abs(share - 0.5) > 1e-9 else []
                )
                for width, x in zip(widths, (left, math.nan), strict=False):
                    start = x if x == left else middle - width / 2
                    joints = [start + width * n / pieces for n in range(1, pieces)]
                    if 0.5 * zone.box.width < width < 1.5 * zone.box.width and _well(joints, edges, near):
                        out.append((round(start, 1), round(width, 1)))
    return sorted(set(out), key=lambda item: abs(item[1] - zone.box.width))
