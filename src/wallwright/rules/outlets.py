"""Rules of outlets: on the wall, at a height that can be reached, not covered, not behind a drawer; a place for each device.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass.record import BayBox
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.limit import Limit
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.rules.bays import front_edit
from wallwright.rules.registry import rule
from wallwright.services.board import OUTLETS
from wallwright.services.existing import ACCESSORIES
from wallwright.services.record import ServicePoint
from wallwright.services.region import holds
from wallwright.services.spacing import wall_is_served
from wallwright.services.zones import in_view

REACHED = frozenset({"led_feed", "switched_spur", "switch"})
"""What a hand must get at: switches, and drivers, which fail first."""


@rule("services.existing_outlet")
def existing_outlet(wall: Wall) -> Iterator[Finding]:
    """An outlet already in the wall does not end behind the plate or half out of the screen."""
    screen = wall.sight.screen
    limit = wall.limits["services.plate_clear"]
    for thing in wall.face.obstacles:
        if thing.kind not in ACCESSORIES or thing.state != "keep":
            continue
        box = obstacle_box(thing)
        if not box.meets(screen.frame) or (
            holds(wall.services.hidden, box) and screen.plate.gap(box) >= limit.value
        ):
            continue
        behind = screen.plate.gap(box) < limit.value
        yield finding(
            "services.existing_outlet",
            "fix",
            thing.ref,
            f"the existing {thing.kind.replace('_', ' ')} {thing.ref} "
            + ("lies behind the mount's plate" if behind else "shows at the edge of the screen"),
            measured=round(screen.plate.gap(box)),
            limit=limit,
            at=box,
            cure="have the electrician take it out (blank plate and record) or move it into the allowed region; "
            "its cable stays a keep-out until it was traced and made dead",
            edits=[edit_call("set_obstacle_state", ref=thing.ref, state="remove")],
        )


@rule("services.accessory_covered")
def accessory_covered(wall: Wall) -> Iterator[Finding]:
    """No socket or switch that stays is buried: behind a panel, a board or a drawer. One inside a bay with a door is reached."""
    for thing in wall.face.obstacles:
        if thing.kind not in ACCESSORIES or thing.state not in ("keep", "new"):
            continue
        box = obstacle_box(thing)
        cover = _cover(wall, box, thing.kind == "switch")
        if cover is None:
            continue
        name = thing.kind.replace("_", " ")
        yield Finding(
            "services.accessory_covered",
            "fix",
            thing.ref,
            f"the existing {name} {thing.ref} is covered by {cover}",
            cover,
            "free, or inside a bay that opens",
            "",
            "common practice: an accessory stays where a hand reaches it",
            "common practice",
            f"have the electrician bring {thing.ref} out at the panel's face or beside the unit, or move what covers it",
            (edit_call("set_obstacle_state", ref=thing.ref, state="move"),),
            at=box,
        )


def _cover(wall: Wall, box: Box, switch: bool) -> str | None:
    """What covers an accessory, in words; None where a hand reaches it."""
    for zone in wall.setout.zones:
        if zone.box.meets(box):
            return f"panel {zone.ref}"
    for unit in wall.setout.units:
        if not unit.box.meets(box):
            continue
        bay = next((bay for bay in wall.carcass.bays if bay.unit == unit.ref and bay.box.holds(box)), None)
        if switch or bay is None:
            return (
                f"{unit.kind} {unit.ref}"
                if bay is None
                else f"{unit.kind} {unit.ref}: a switch is used every day"
            )
        if bay.front == "drawers":
            return f"the drawers of {bay.ref}"
    return None


@rule("services.behind_drawer")
def behind_drawer(wall: Wall) -> Iterator[Finding]:
    """Behind a drawer there is room for each plug, and nothing that a hand must reach."""
    drawers = [bay for bay in wall.carcass.bays if bay.front == "drawers"]
    for point in wall.services.points:
        bay = next((bay for bay in drawers if bay.box.meets(point.box)), None)
        if bay is None:
            continue
        need = _needs(wall, point)
        free = _free(wall, bay)
        if point.kind not in REACHED and free >= need.value:
            continue
        reached = "no hand reaches it" if point.kind in REACHED else f"{free:.0f} mm is left for its plug"
        to = _beside(wall, point)
        yield finding(
            "services.behind_drawer",
            "fix",
            point.ref,
            f"{point.kind.replace('_', ' ')} {point.ref} lies behind the drawers of {bay.ref}: {reached}",
            measured=round(free),
            limit=need,
            at=point.box,
            cure=f"move {point.ref} behind a bay without drawers"
            if to
            else f"give {bay.ref} a flap instead of drawers",
            edits=[to or front_edit(wall, bay.ref, "flap")],
        )


def _needs(wall: Wall, point: ServicePoint) -> Limit:
    signal = point.kind in ("data", "rf")
    return wall.limits["services.behind_drawer_signal" if signal else "services.behind_drawer_plug"]


def _free(wall: Wall, bay: BayBox) -> float:
    """Between an outlet's plate and the back of the drawers of a bay [mm]."""
    backs = [
        -(part.block.y + part.block.dy)
        for part in wall.carcass.parts
        if part.role == "drawer_side" and part.block.face.meets(bay.box)
    ]
    return min(backs, default=0.0) - wall.limits.value("services.plate_proud")


def _beside(wall: Wall, point: ServicePoint) -> EditCall | None:
    """The edit that moves a placed point behind the nearest bay of its unit without drawers."""
    inset = wall.limits.value("services.cabinet_inset") + point.box.width / 2
    others = [
        min(max(point.x, bay.box.x + inset), bay.box.right - inset)
        for bay in wall.carcass.bays
        if bay.front != "drawers" and bay.box.width >= 2 * inset and bay.box.z <= point.z <= bay.box.top
    ]
    if not point.pinned or not others:
        return None
    return edit_call("move_point", ref=point.ref, x=round(min(others, key=lambda x: abs(x - point.x))))


@rule("services.point_outside")
def point_outside(wall: Wall) -> Iterator[Finding]:
    """Every outlet box lies wholly on the wall."""
    face = wall.face.box
    for point in wall.services.points:
        box = point.box
        if face.grown(0.5).holds(box):
            continue
        over = max(-box.x, box.right - face.right, box.top - face.top, -box.z)
        x = min(max(point.x, box.width / 2), face.width - box.width / 2)
        z = min(max(point.z, box.height / 2), face.height - box.height / 2)
        yield Finding(
            "services.point_outside",
            "fix",
            point.ref,
            f"the box of {point.ref} lies {over:.0f} mm beyond the wall; it has no run",
            round(over),
            0,
            "mm",
            "geometry: the smallest width and height surveyed",
            "computed",
            f"move its middle to x {x:.0f} mm, {z:.0f} mm above FFL"
            if point.pinned
            else "let the program place the screen or the unit it belongs to",
            (edit_call("move_point", ref=point.ref, x=round(x), z=round(z)),) if point.pinned else (),
            at=box,
        )


@rule("services.socket_height")
def socket_height(wall: Wall) -> Iterator[Finding]:
    """Outlets and switches on the open wall are as high, and as far from a corner, as the rules of the place ask."""
    place = wall.job.survey.place.rules.lower()
    rows = {limit.name: limit for limit in wall.limits}
    low, high, corner = (rows.get(f"services.{place}_socket_{side}") for side in ("low", "high", "corner"))
    width = wall.face.width
    for point in wall.services.points:
        if point.kind in ("conduit", "led_feed") or not in_view(point, wall.sight.screen.frame, wall.setout):
            continue
        inset = min(point.x, width - point.x)
        to_x = point.x if corner is None or inset >= corner.value else _off(corner.value, point.x, width)
        broken = next(
            (
                (limit, round(got), f"{got:.0f} mm {what}")
                for limit, got, bad, what in (
                    (low, point.z, low is not None and point.z < low.value - 0.5, "above FFL"),
                    (high, point.z, high is not None and point.z > high.value + 0.5, "above FFL"),
                    (corner, inset, corner is not None and inset < corner.value - 0.5, "from the corner"),
                )
                if limit is not None and bad
            ),
            None,
        )
        if broken is None:
            continue
        limit, got, said = broken
        to_z = max(point.z, low.value) if low else point.z
        to_z = min(to_z, high.value) if high else to_z
        yield finding(
            "services.socket_height",
            "consider",
            point.ref,
            f"{point.kind.replace('_', ' ')} {point.ref} stands {said}",
            measured=got,
            limit=limit,
            at=point.box,
            cure=f"move its middle to x {to_x:.0f} mm, {to_z:.0f} mm above FFL, where new work must keep this rule",
            edits=[edit_call("move_point", ref=point.ref, x=round(to_x), z=round(to_z))]
            if point.pinned
            else [],
        )


def _off(corner: float, x: float, width: float) -> float:
    """The x at that distance from the nearer corner, on the same side."""
    return corner if x < width / 2 else width - corner


@rule("services.wall_outlets")
def wall_outlets(wall: Wall) -> Iterator[Finding]:
    """Under NEC no point of the floor line of a free stretch of wall is further from an outlet than a lead reaches."""
    if wall.job.survey.place.rules != "US":
        return
    limit, v = wall.limits["services.us_spacing"], wall.limits.value
    high = v("services.us_highest")
    xs = [p.x for p in wall.services.points if p.kind in OUTLETS and p.z <= high]
    there = [
        obstacle_box(thing) for thing in wall.face.obstacles if thing.kind == "socket" and not thing.dead
    ]
    xs += [box.centre[0] for box in there if box.z <= high]
    bare = [
        (left, right)
        for left, right in _floor_line(wall)
        if right - left >= v("services.us_wall_space")
        and not wall_is_served(right - left, [x - left for x in xs if left <= x <= right], limit.value)
    ]
    if not bare:
        return
    taken = {p.ref for p in wall.services.points}
    free = (f"P{n}" for n in range(1, 1000) if f"P{n}" not in taken)
    middles: list[float] = []
    for left, right in bare:
        count = math.ceil((right - left) / (2 * limit.value))
        middles += [left + (k + 0.5) * (right - left) / count for k in range(count)]
    yield finding(
        "services.wall_outlets",
        "consider",
        "wall",
        f"{' and '.join(f'x {left:.0f} to {right:.0f} mm' for left, right in bare)}: a free stretch of wall with points further than "
        "a lead from any outlet",
        measured=round(max(right - left for left, right in bare)),
        limit=limit,
        cure=f"add an outlet at x {', '.join(f'{x:.0f}' for x in middles)} mm",
        edits=[
            edit_call(
                "add_point",
                ref=next(free),
                kind="twin_socket",
                x=round(x),
                z=round(v("services.wall_point_height")),
            )
            for x in middles
        ],
    )


def _floor_line(wall: Wall) -> list[tuple[float, float]]:
    """The stretches of the wall's foot that neither a doorway nor a unit fixed there breaks [mm]."""
    shut = [(obstacle_box(t).x, obstacle_box(t).right) for t in wall.face.obstacles if t.kind == "door"]
    shut += [(unit.box.x, unit.box.right) for unit in wall.setout.units if unit.cabinet and unit.box.z <= 0]
    out: list[tuple[float, float]] = []
    at = 0.0
    for left, right in sorted(shut):
        if left > at:
            out.append((at, left))
        at = max(at, right)
    return [*out, (at, wall.face.width)] if at < wall.face.width else out


@rule("services.no_place")
def no_place(wall: Wall) -> Iterator[Finding]:
    """Every device has a unit to stand in or on."""
    taken = {unit.ref for unit in wall.setout.units}
    free = next(ref for n in range(1, 1000) if (ref := f"C{n}") not in taken)
    for device in wall.services.devices:
        if device.place != "nowhere":
            continue
        yield Finding(
            "services.no_place",
            "fix",
            device.ref,
            f"{device.name} ({device.ref}) has no place to stand: there is no unit for it",
            "no unit",
            "a console or a tower",
            "",
            "common practice: every box has its place before the wall is wired",
            "common practice",
            f"add a console ({free}), or say that {device.ref} is fixed at the screen",
            (edit_call("add_unit", ref=free, kind="console"),)
            if device.ref == next(d.ref for d in wall.services.devices if d.place == "nowhere")
            else (),
        )
