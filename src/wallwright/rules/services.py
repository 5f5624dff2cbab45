"""Rules of services: outlets clear of rails, enough of them, with room for their plugs.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass.record import Part
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.rules.behind import behind_screen
from wallwright.rules.registry import rule
from wallwright.services.record import ServicePoint
from wallwright.services.runs import boxes_on_surface


@rule("services.behind_rail")
def behind_rail(wall: Wall) -> Iterator[Finding]:
    """No outlet box lies where a cabinet's hanging rail is screwed to the wall."""
    rails = [
        part for part in wall.carcass.parts if part.role == "cleat" and part.block.y + part.block.dy > -40
    ]
    for point in wall.services.points:
        for rail in rails:
            shared = rail.block.face.shared(point.box)
            if shared is None or min(shared.width, shared.height) < 0.5:
                continue
            cure, edits = _clear_of_rail(wall, point, rail)
            yield Finding(
                "services.behind_rail",
                "fix",
                point.ref,
                f"outlet {point.ref} lies behind the {rail.name} of {rail.unit}",
                round(shared.height),
                0,
                "mm",
                "geometry",
                "computed",
                cure,
                edits,
                at=point.box,
            )
            break


def _clear_of_rail(wall: Wall, point: ServicePoint, rail: Part) -> tuple[str, tuple[EditCall, ...]]:
    """Where a placed outlet goes, or how high the cabinet must be for the automatic ones to find a place."""
    below = rail.block.z - 10 - point.box.height / 2
    if point.pinned:
        edit = edit_call("move_point", ref=point.ref, z=round(below))
        return f"move the middle of the box down to {below:.0f} mm above FFL", (edit,)
    least = wall.limits.value("carcass.body_low")
    if wall.setout.unit(rail.unit).box.height >= least:
        return (
            "bring this outlet out in another bay, or notch the cleat round it and add a fixing each side",
            (),
        )
    edit = edit_call("resize_unit", ref=rail.unit, height=round(least))
    return f"make {rail.unit} {least:.0f} mm high: boxes need wall between its rails", (edit,)


@rule("services.too_few_sockets")
def too_few_sockets(wall: Wall) -> Iterator[Finding]:
    """Every device has its socket and two are spare, so that no adaptor hangs on an adaptor."""
    limit = wall.limits["rule.spare_sockets"]
    outlets = {"twin_socket": 2, "socket": 1}
    there = sum(outlets.get(point.kind, 0) for point in wall.services.points)
    needed = 1 + sum(1 for device in wall.services.devices if device.watts > 0 and device.kind != "screen")
    spare = there - needed
    if spare >= limit.value:
        return
    yield finding(
        "services.too_few_sockets",
        "fix",
        "points",
        f"{there} socket outlets for {needed} plugs leaves {spare} spare",
        measured=spare,
        limit=limit,
        cure="add a twin socket in the cabinet",
    )


def panel_build_up(wall: Wall) -> float:
    """How deep the panels behind the screen build up before the wall's face [mm]."""
    frame = wall.sight.screen.frame
    return max((zone.build_up for zone in wall.setout.zones if zone.box.meets(frame)), default=0.0)


@rule("services.plug_depth")
def plug_depth(wall: Wall) -> Iterator[Finding]:
    """The screen stands far enough off the wall for a plug and its cord."""
    limit = wall.limits["rule.plug_flat"]
    screen = wall.sight.screen
    built = panel_build_up(wall)
    room = screen.stand_off - built
    if room >= limit.value or not behind_screen(wall):
        return
    yield finding(
        "services.plug_depth",
        "fix",
        "screen",
        f"the screen's back stands {max(room, 0):.0f} mm off what is behind it: plugs foul it",
        measured=round(room),
        limit=limit,
        at=screen.plate,
        cure=f"use a mount that holds the screen {built + limit.value:.0f} mm off the wall's face, or recessed boxes",
        edits=[edit_call("set_mount", stand_off=math.ceil(built + limit.value))],
    )


@rule("services.surface_box")
def surface_box(wall: Wall) -> Iterator[Finding]:
    """Where boxes stand on the wall, not in it, the screen stands off far enough for the box and a flat plug in it."""
    if not boxes_on_surface(wall.job):
        return
    limit = wall.limits["rule.plug_flat"]
    screen = wall.sight.screen
    tight: list[tuple[float, ServicePoint]] = []
    for point in behind_screen(wall):
        built = max((zone.build_up for zone in wall.setout.zones if zone.box.meets(point.box)), default=0.0)
        # a cut-out in a panel takes what is not deeper than the panel builds up
        proud = max(built, point.box_depth)
        if proud > built and point.kind != "conduit" and screen.stand_off - proud < limit.value:
            tight.append((proud, point))
    if not tight:
        return
    proud, point = max(tight, key=lambda pair: pair[0])
    need = math.ceil(proud + limit.value)
    yield finding(
        "services.surface_box",
        "fix",
        point.ref,
        f"surface box{'es' if len(tight) > 1 else ''} {', '.join(p.ref for _, p in tight)}, {point.box_depth:.0f} mm deep, "
        f"leave{'' if len(tight) > 1 else 's'} {max(screen.stand_off - proud, 0):.0f} mm behind the screen for a plug",
        measured=round(screen.stand_off - proud),
        limit=limit,
        at=point.box,
        cure=f"use a mount that holds the screen {need} mm off the wall's face; else boxes let into the wall where the owner allows "
        "that it is cut, or set beside the screen where a taller thing hides them",
        edits=[edit_call("set_mount", stand_off=need)],
    )
