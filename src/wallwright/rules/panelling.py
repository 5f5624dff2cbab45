"""Rules of the panelled zones: strips behind the screen's edge, plates on flutes, tight arches, room to move."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.carcass import flutes
from wallwright.core.finding import Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.derive import Wall
from wallwright.job.design import Panel
from wallwright.rules.places import zone_given_back
from wallwright.rules.registry import rule

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone


def _asked(wall: Wall, zone: PanelZone) -> Panel:
    """What the design says of a zone; nothing where the zone is not the design's."""
    return next((panel for panel in wall.job.design.panels if panel.ref == zone.ref), Panel(zone.ref))


@rule("panel.strip_at_screen")
def strip_at_screen(wall: Wall) -> Iterator[Finding]:
    """No strip or moulding shows half covered at the screen's edge."""
    limit = wall.limits["carcass.field_screen_margin"]
    screen = wall.sight.screen.frame
    for zone in wall.setout.zones:
        if not zone.fields or not zone.box.meets(screen) or zone.columns < 2:
            continue
        low, high = zone.fields[0], zone.fields[zone.columns - 1]
        edges = sorted({e for field in zone.fields[: zone.columns] for e in (field.x, field.right)})
        near = [
            (abs(e - s), e) for e in edges for s in (screen.x, screen.right)
            if low.x < e < high.right or zone.kind == "framed"
        ]  # fmt: skip
        gap, at = min(near)
        inside = any(field.x <= screen.x - limit.value + 0.5 and screen.right + limit.value - 0.5 <= field.right
                     for field in zone.fields)  # fmt: skip
        if inside or gap >= limit.value:
            continue
        yield finding(
            "panel.strip_at_screen", "consider", zone.ref,
            f"a strip of {zone.ref} stands {gap:.0f} mm from the screen's edge, half covered as one looks from the side",
            measured=round(gap), limit=limit, at=Box(at - 20, zone.box.z, 40, zone.box.height),
            cure=f"let the program divide {zone.ref} so that one field holds the screen",
            edits=tuple(zone_given_back(zone, "columns")),
        )  # fmt: skip


@rule("panel.plate_on_flutes")
def plate_on_flutes(wall: Wall) -> Iterator[Finding]:
    """A plate in view lies flat: flutes stop round it."""
    limit = wall.limits["carcass.flute_depth"]
    cover = [wall.sight.screen.frame, *(unit.box for unit in wall.setout.units)]
    for zone in wall.setout.zones:
        if not zone.flutes:
            continue
        rib = zone.flute_pitch * wall.limits.value("carcass.flute_rib")
        for point in wall.services.points:
            box = point.box
            if not zone.box.meets(box) or any(one.holds(box) for one in cover) or point.kind == "led_feed":
                continue
            low, high = flutes.patch(
                box.x - zone.box.x, box.right - zone.box.x, zone.flutes, zone.flute_pitch, rib
            )
            yield finding(
                "panel.plate_on_flutes", "consider", point.ref,
                f"the plate of {point.ref} lies on the flutes of {zone.ref}, which are {limit.value:g} mm deep",
                measured=limit.value, limit=limit, at=box,
                cure=f"leave {zone.ref} flat from {show_mm(zone.box.x + low)} to {show_mm(zone.box.x + high)} round it, or move "
                f"{point.ref} behind the screen or into a unit",
            )  # fmt: skip


@rule("panel.arch_tight")
def arch_tight(wall: Wall) -> Iterator[Finding]:
    """The edge of an arch is bent no tighter than bending ply goes round."""
    limit = wall.limits["carcass.flexible_radius"]
    for zone in wall.setout.zones:
        panel = _asked(wall, zone)
        if zone.arch is None or panel.bend == "kerf" or zone.arch.radius >= limit.value:
            continue
        yield finding(
            "panel.arch_tight", "fix", zone.ref,
            f"the head of {zone.ref} has a radius of {zone.arch.radius:.0f} mm, tighter than bending ply goes round",
            measured=round(zone.arch.radius), limit=limit, at=zone.box,
            cure="line it with kerfed board",
            edits=(edit_call("set_panel_head", ref=zone.ref, head=panel.head or "round", bend="kerf"),),
        )  # fmt: skip


@rule("panel.room_to_move")
def room_to_move(wall: Wall) -> Iterator[Finding]:
    """A boarded zone from wall to wall is made short of both, and so goes in and can move."""
    limit = wall.limits["carcass.panel_edge_gap"]
    for zone in wall.setout.zones:
        left, right = zone.box.x, wall.face.width - zone.box.right
        if not zone.boarded or max(left, right) > limit.value - 1e-6 or "width" not in zone.pinned:
            continue
        width = float(int(wall.face.width - 2 * limit.value))
        yield finding(
            "panel.room_to_move", "fix", zone.ref,
            f"{zone.ref} goes from wall to wall with {left:.0f} and {right:.0f} mm to spare: it will not go in, nor can it swell",
            measured=round(max(left, right), 1), limit=limit, at=zone.box,
            cure=f"make it {show_mm(width)} wide and cover the gaps with a trim",
            edits=(
                edit_call("resize_panel", ref=zone.ref, width=width),
                edit_call("move_panel", ref=zone.ref, x=limit.value),
            ),
        )  # fmt: skip
