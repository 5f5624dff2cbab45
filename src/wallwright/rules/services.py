"""Rules of services: outlets clear of the mount and hidden, enough of them, circuits, heat, remote control.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from math import dist

from wallwright.carcass.record import Part
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.limit import Limit
from wallwright.derive import Wall
from wallwright.rules.bays import bare_edit, front_edit
from wallwright.rules.registry import rule
from wallwright.services.record import ServicePoint


def _behind_screen(wall: Wall) -> list[ServicePoint]:
    frame = wall.sight.screen.frame
    return [point for point in wall.services.points if point.box.meets(frame) and point.kind != "switch"]


def _hidden(wall: Wall) -> Limit:
    """How far inside the frame a hidden outlet lies: further behind a screen that tilts or pulls out."""
    return wall.limits[
        "services.hidden_margin" if wall.sight.screen.mount == "fixed" else "services.hidden_margin_tilt"
    ]


def _place_in_region(wall: Wall, point: ServicePoint) -> tuple[int, int] | None:
    """The nearest allowed place for the middle of a point's box: the region holds the middles of twin boxes."""
    best: tuple[float, float] | None = None
    for box in wall.services.region:
        place = min(max(point.x, box.x), box.right), min(max(point.z, box.z), box.top)
        if best is None or dist(place, (point.x, point.z)) < dist(best, (point.x, point.z)):
            best = place
    return None if best is None else (round(best[0]), round(best[1]))


def _move(wall: Wall, point: ServicePoint) -> tuple[str, list[EditCall]]:
    to = _place_in_region(wall, point)
    if to is None:
        return "no place behind this screen is free for it; use a smaller plate or a recessed box", []
    return (
        f"move the middle of the box to x {to[0]} mm, {to[1]} mm above FFL",
        [edit_call("move_point", ref=point.ref, x=to[0], z=to[1])],
    )


@rule("services.behind_plate")
def behind_plate(wall: Wall) -> Iterator[Finding]:
    """No outlet box lies behind the mount's plate or closer to it than a plug needs."""
    limit = wall.limits["services.plate_clear"]
    plate = wall.sight.screen.plate
    for point in _behind_screen(wall):
        gap = plate.gap(point.box)
        if gap >= limit.value - 0.5:
            continue
        cure, edits = _move(wall, point)
        yield finding(
            "services.behind_plate",
            "fix",
            point.ref,
            f"outlet {point.ref} is {'behind the plate' if gap == 0 else f'{gap:.0f} mm from the plate'} of the mount",
            measured=round(gap),
            limit=limit,
            cure=cure,
            edits=edits,
            at=point.box,
        )


@rule("services.box_shows")
def box_shows(wall: Wall) -> Iterator[Finding]:
    """An outlet meant to be hidden lies well inside the screen's outline."""
    limit = _hidden(wall)
    inside = wall.sight.screen.frame.grown(-limit.value)
    for point in _behind_screen(wall):
        if inside.grown(0.5).holds(point.box):
            continue
        frame = wall.sight.screen.frame
        inset = min(
            point.box.x - frame.x,
            frame.right - point.box.right,
            point.box.z - frame.z,
            frame.top - point.box.top,
        )
        cure, edits = _move(wall, point)
        yield finding(
            "services.box_shows",
            "fix",
            point.ref,
            f"outlet {point.ref} shows at the edge of the screen ({inset:.0f} mm inside)",
            measured=round(inset),
            limit=limit,
            cure=cure,
            edits=edits,
            at=point.box,
        )


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


@rule("services.no_region")
def no_region(wall: Wall) -> Iterator[Finding]:
    """There is at least one place behind the screen where an outlet box may sit."""
    widest = max((box.area for box in wall.services.region), default=0.0)
    if widest > 0:
        return
    limit, small = wall.limits["services.plate_clear"], wall.limits.value("services.small_plate")
    plate = wall.sight.screen.plate
    yield finding(
        "services.no_region",
        "fix",
        "screen",
        "behind this screen no place is free for an outlet box",
        measured=0,
        limit=limit,
        at=wall.sight.screen.frame,
        cure=f"use a mount with a smaller plate ({small:.0f} × {small:.0f})",
        edits=[
            edit_call(
                "set_mount",
                plate_width=min(round(small), round(plate.width)),
                plate_height=min(round(small), round(plate.height)),
            )
        ],
    )


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
    if room >= limit.value or not _behind_screen(wall):
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


@rule("services.circuit_load")
def circuit_load(wall: Wall) -> Iterator[Finding]:
    """No circuit is asked for more current than its protective device lets through."""
    for circuit in wall.services.circuits:
        if circuit.current <= circuit.rating:
            continue
        heavy = max(wall.services.devices, key=lambda device: device.watts, default=None)
        yield Finding(
            "services.circuit_load",
            "danger",
            circuit.ref,
            f"circuit {circuit.ref} ({circuit.name}) is asked for {circuit.current:.1f} A on a {circuit.rating:.0f} A device",
            round(circuit.current, 1),
            circuit.rating,
            "A",
            "IEC 60364-4-43: design current at most the device's rating",
            "from memory",
            f"give {heavy.ref} ({heavy.name}, {heavy.watts:.0f} W) a circuit of its own"
            if heavy
            else "split the circuit",
        )


@rule("services.circuit_drop")
def circuit_drop(wall: Wall) -> Iterator[Finding]:
    """The voltage drop of each circuit stays within the installation limit."""
    limit = wall.limits["rule.drop_other"]
    for circuit in wall.services.circuits:
        if circuit.drop_percent > limit.value:
            yield finding(
                "services.circuit_drop",
                "fix",
                circuit.ref,
                f"circuit {circuit.ref} drops {circuit.drop_percent:.1f} % at its end",
                measured=round(circuit.drop_percent, 2),
                limit=limit,
                cure="use the next larger cable or a shorter way",
            )


@rule("services.leakage")
def leakage(wall: Wall) -> Iterator[Finding]:
    """The standing leakage of the electronics does not eat up the residual-current device."""
    limit = wall.limits["rule.leakage"]
    for circuit in wall.services.circuits:
        if circuit.leakage_ma > limit.value:
            yield finding(
                "services.leakage",
                "consider",
                circuit.ref,
                f"the boxes on circuit {circuit.ref} may leak {circuit.leakage_ma:.1f} mA together: nuisance tripping",
                measured=round(circuit.leakage_ma, 1),
                limit=limit,
                cure="ask the electrician for two residual-current devices, or put fewer electronic boxes on this circuit",
            )


@rule("services.remote_blocked")
def remote_blocked(wall: Wall) -> Iterator[Finding]:
    """A box with an infrared remote stands where the beam can reach it."""
    for device in wall.services.devices:
        if device.control != "ir" or device.place != "cabinet" or not device.unit:
            continue
        bays = [bay for bay in wall.carcass.bays if bay.unit == device.unit]
        if not bays or any(bay.ir_open for bay in bays):
            continue
        yield Finding(
            "services.remote_blocked",
            "fix",
            device.ref,
            f"{device.name} ({device.ref}) is worked by infrared, and every front of {device.unit} stops the beam",
            "no open path",
            "one bay open to infrared",
            "",
            "common practice: glass, cloth, slats or an open bay; or a repeater eye",
            "common practice",
            f"give {bays[0].ref} a cloth front",
            (front_edit(wall, bays[0].ref, "cloth"),),
            at=bays[0].box,
        )


@rule("services.device_depth")
def device_depth(wall: Wall) -> Iterator[Finding]:
    """Each box fits its unit in depth, with its plugs behind it."""
    limit = wall.limits["rule.plug_depth"]
    for device in wall.services.devices:
        depths = [bay.depth for bay in wall.carcass.bays if bay.unit == device.unit]
        if device.place not in ("cabinet", "tower") or not depths:
            continue
        spare = max(depths) - device.depth
        if spare >= limit.value:
            continue
        unit = wall.setout.unit(device.unit)
        to = unit.depth + limit.value - spare
        yield finding(
            "services.device_depth",
            "fix",
            device.ref,
            f"{device.name} is {device.depth:.0f} mm deep and leaves {spare:.0f} mm for plugs in {unit.ref}",
            measured=round(spare),
            limit=limit,
            at=unit.box,
            cure=f"make {unit.ref} {to:.0f} mm deep",
            edits=[edit_call("resize_unit", ref=unit.ref, depth=round(to) + 1)],
        )


@rule("services.hot_bay")
def hot_bay(wall: Wall) -> Iterator[Finding]:
    """No bay with devices gets much warmer than the room."""
    consider, fix = wall.limits["rule.rise_consider"], wall.limits["rule.rise_fix"]
    boxes = {bay.ref: bay.box for bay in wall.carcass.bays}
    inside = {bay.ref: "their compartment" for bay in wall.carcass.bays if bay.shelves}
    for bay in wall.cooling.bays:
        if bay.rise <= consider.value:
            continue
        hot = bay.rise > fix.value
        yield finding(
            "services.hot_bay",
            "fix" if hot else "consider",
            bay.bay,
            f"{bay.watts:.0f} W in {bay.bay} warm {inside.get(bay.bay, 'it')} {bay.rise:.1f} K above the room "
            f"(closed: {bay.rise_closed:.0f} K)",
            measured=round(bay.rise, 1),
            limit=fix if hot else consider,
            at=boxes.get(bay.bay),
            cure=_cooler(wall, bay.bay, bay.opening_needed),
            edits=[bare_edit(wall, bay.bay) if _bare(wall, bay.bay) else front_edit(wall, bay.bay, "open")],
        )


def _bare(wall: Wall, ref: str) -> bool:
    """Whether a warm bay is open already and only its shelves keep the air in."""
    return any(bay.ref == ref and bay.front == "open" and bay.shelves for bay in wall.carcass.bays)


def _cooler(wall: Wall, ref: str, needed: float) -> str:
    """What to do about a warm bay, in words."""
    if _bare(wall, ref):
        return f"take the shelves out of {ref}: the taller its compartment, the more air passes"
    return (
        f"leave the bay open at the front, or cut {needed:.0f} cm² low in front and the same high at the back"
    )
