"""The room round the screen, measured on the whole wall: sight lines, hands, turning, and the largest later screen.

Sight knows seats and screen before anything is set out; only here are console, soundbar, towers and panels there too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.sight import mount, sightlines
from wallwright.sight import swivel as swivels
from wallwright.sight.angles import edge_of_tilted
from wallwright.sight.eyes import CROWN
from wallwright.sight.later import Bounds, Later, largest_later
from wallwright.sight.plan import swivel_body


def sight_lines(wall: Wall) -> tuple[sightlines.SightLine, ...]:
    """Every sight line to the picture's foot, and to the infrared eye, over what stands before it; the tightest first."""
    found: list[sightlines.SightLine] = []
    edges = feet(wall)
    for seat in wall.sight.seats:
        eye = sightlines.Eyes(seat.ref, seat.eye[0], -seat.eye[1], seat.eye[2])
        found += sightlines.lines((eye,), edges, (*people(wall, eye), *furniture(wall)))
    return tuple(sorted(found, key=lambda seen: seen.clear - seen.wants))


def rise_needed(wall: Wall, seen: sightlines.SightLine) -> float:
    """How much higher the screen must hang for a sight line to pass as it should."""
    away = next(-seat.eye[1] for seat in wall.sight.seats if seat.ref == seen.seat)
    return (seen.wants - seen.clear) * (away - feet(wall)[0].out) / max(away - seen.out, 1.0)


def feet(wall: Wall) -> list[sightlines.Foot]:
    """The picture's lower edge, tilt and all, and the infrared eye's."""
    screen, eye = wall.sight.screen, wall.job.design.screen.ir_eye
    rise, forward = edge_of_tilted(screen.picture.height / 2, screen.tilt)
    (x, out), z = screen.middle, screen.picture.centre[1]
    half = screen.picture.width / 2 * math.cos(math.radians(screen.swivel))
    found = [sightlines.Foot(x - half, x + half, z - rise, out - forward)]
    if eye is not None:
        box = mount.on_wall(eye, screen.centre)
        up, ahead = edge_of_tilted(box.z - z, screen.tilt)
        found.append(sightlines.Foot(box.x, box.right, z + up, out + ahead, "infrared eye"))
    return found


def people(wall: Wall, eye: sightlines.Eyes) -> Iterator[sightlines.Ahead]:
    """The foot of one's own bed, and the heads and backs of nearer seats."""
    value = wall.limits.value
    clear, half_head, half_seat = (
        value("sight.sight_line_clear"),
        value("sight.head_width") / 2,
        value("sight.seat_width") / 2,
    )
    for surveyed, seat in zip(wall.job.survey.seats, wall.sight.seats, strict=True):
        x, out, z = seat.eye[0], -seat.eye[1], seat.eye[2]
        if seat.ref == eye.seat and seat.kind == "bed":
            foot = eye.out - value("sight.bed_foot")
            top = surveyed.seat_height.mm + value("sight.blanket")
            top = surveyed.foot_height.mm if surveyed.foot_height else top
            yield sightlines.Ahead("the foot of the bed", -math.inf, math.inf, foot, foot, top, clear)
        if out > eye.out - value("sight.row_apart"):
            continue
        yield sightlines.Ahead(
            f"the head in seat {seat.ref}", x - half_head, x + half_head, out, out, z + CROWN, 0.0
        )
        if surveyed.back_height:
            back, top = out + value("sight.back_behind"), surveyed.back_height.mm
            yield sightlines.Ahead(
                f"the back of seat {seat.ref}", x - half_seat, x + half_seat, back, back, top, clear
            )


def furniture(wall: Wall) -> Iterator[sightlines.Ahead]:
    """Tables and the like, the consoles, and the soundbar."""
    clear, over = wall.limits.value("sight.sight_line_clear"), wall.limits.value("sight.bar_clear")
    for thing in wall.job.survey.between:
        left, near = thing.x.mm, thing.distance.mm
        right, far = left + thing.width.mm, near + thing.depth.mm
        yield sightlines.Ahead(
            f"the {thing.kind} {thing.ref}", left, right, near, far, thing.height.mm, clear
        )
    for unit in wall.setout.units:
        if unit.kind == "console":
            yield sightlines.Ahead(unit.ref, unit.box.x, unit.box.right, 0.0, unit.depth, unit.box.top, over)
    bar = soundbar(wall)
    if bar is not None:
        box, near, far = bar
        yield sightlines.Ahead("the soundbar", box.x, box.right, near, far, box.top, over)


def soundbar(wall: Wall) -> tuple[Box, float, float] | None:
    """The soundbar on its console, taken at its front edge, where it hides most: outline, near and far from the wall."""
    bars = [
        device
        for device in wall.services.devices
        if device.kind == "soundbar" and device.place == "on_console"
    ]
    below = [unit for unit in wall.setout.units if unit.kind == "console"]
    if not bars or not below:
        return None
    tallest, unit = max(bars, key=lambda device: device.height), below[0]
    x = wall.sight.screen.centre[0] - tallest.width / 2
    box = Box(x, unit.box.top, tallest.width, tallest.height)
    return box, max(0.0, unit.depth - tallest.depth), unit.depth


def hand_access(wall: Wall) -> tuple[tuple[str, float], tuple[str, float], float]:
    """The room for a hand left and right of the frame and what bounds it, and how far the mount pulls out [mm]."""
    frame, niche = wall.sight.screen.frame, wall.job.design.screen.niche_width
    sides = list(_beside(wall))
    if niche is not None:
        x, half = frame.centre[0], niche.mm / 2
        sides += [("the niche", Box(cheek, 0.0, 0.0, wall.face.height)) for cheek in (x - half, x + half)]
    left, right = mount.hand_room(frame, sides, wall.face.width)
    arm = wall.sight.screen.mount == "arm"
    return left, right, reach(wall) - wall.sight.screen.stand_off if arm else 0.0


def reach(wall: Wall) -> float:
    """How far the arm pulls the screen out: the wall's face to its back [mm]."""
    given = wall.job.design.mount.reach
    return max(given.mm if given is not None else 0.0, wall.sight.screen.stand_off)


def _beside(wall: Wall) -> Iterator[tuple[str, Box]]:
    """What stands proud of the wall: units and obstacles."""
    for unit in wall.setout.units:
        if not unit.round_screen:
            yield unit.ref, unit.box
    for thing in wall.face.obstacles:
        if thing.projection.mm > 0 and thing.kind != "skirting":
            yield f"the {thing.kind.replace('_', ' ')} {thing.ref}", obstacle_box(thing)


def later(wall: Wall) -> Later:
    """The largest screen that the wall, as it is now set out, still takes later, and what stops the next one."""
    value, want, sight = wall.limits.value, wall.job.design.screen, wall.sight
    gap, carries = value("rule.side_gap"), wall.job.design.mount.carries
    bar = soundbar(wall)
    above = max(value("rule.console_gap"), bar[0].height + value("rule.soundbar_gap") if bar else 0.0)
    consoles = {unit.ref for unit in wall.setout.units if unit.kind == "console"}
    things = tuple(
        (name, Box(box.x, 0.0, box.width, box.top + above) if name in consoles else box.grown(gap))
        for name, box in _beside(wall)
    )
    niche = (
        want.niche_width.mm if want.niche_width else None,
        want.niche_height.mm if want.niche_height else None,
    )
    whole = Box(0.0, 0.0, wall.face.width, wall.face.height)
    bounds = Bounds(whole, gap, things, niche, value("sight.niche_gap"), carries, value("sight.plate_slack"))
    return largest_later(sight.screen.diagonal, sight.candidates, sight.screen.centre, bounds)


def turning(wall: Wall) -> tuple[tuple[float, swivels.Swept], ...]:
    """How near the screen comes to wall, panels and units as its arm turns it: to its set swivel, else as far as it goes."""
    arm, screen = wall.job.design.mount, wall.sight.screen
    if arm.kind != "arm":
        return ()
    most, _ = furthest(wall)
    angles = (arm.swivel,) if arm.swivel else (-most, most) if most else ()
    body = swivel_body(wall.job, screen, wall.limits)
    pivot = screen.centre[0] + body.axis, reach(wall) - body.head
    things = plan_things(wall)
    return tuple((angle, swivels.sweep(body, pivot, angle, things)) for angle in angles)


def furthest(wall: Wall) -> tuple[float, bool]:
    """How far the arm turns to either side [deg], and whether that is assumed because nobody entered it."""
    most = wall.job.design.mount.swivel_most
    return (wall.limits.value("sight.swivel_furthest"), True) if most is None else (abs(most), False)


def plan_things(wall: Wall) -> tuple[swivels.Thing, ...]:
    """What stands in plan at the screen's own height: units, panels, obstacles proud of the wall, side walls, niche cheeks."""
    frame = wall.sight.screen.frame
    boxes = [(unit.ref, unit.box, unit.depth) for unit in wall.setout.units if not unit.round_screen]
    boxes += [
        (part.unit, part.block.face, -part.block.y)
        for part in wall.carcass.parts
        if part.role == "side"
        and any(unit.ref == part.unit and unit.round_screen for unit in wall.setout.units)
    ]
    boxes += [(zone.ref, zone.box, zone.build_up) for zone in wall.setout.zones]
    boxes += [(thing.ref, obstacle_box(thing), thing.projection.mm) for thing in wall.face.obstacles]
    proud = tuple(
        swivels.Thing(name, box.x, box.right, out)
        for name, box, out in boxes
        if out > 0 and box.z < frame.top and frame.z < box.top
    )
    return (*proud, *_cheeks(wall), *_side_walls(wall))


def _cheeks(wall: Wall) -> Iterator[swivels.Thing]:
    """The two cheeks of the niche round the screen; of a niche of unknown depth, as deep as the folded screen stands out."""
    want, screen = wall.job.design.screen, wall.sight.screen
    if want.niche_width is None:
        return
    x, half, board = screen.centre[0], want.niche_width.mm / 2, wall.limits.value("sight.panel_board")
    out = want.niche_depth.mm if want.niche_depth else screen.stand_off + screen.depth
    yield swivels.Thing("the niche's left cheek", x - half - board, x - half, out)
    yield swivels.Thing("the niche's right cheek", x + half, x + half + board, out)


def _side_walls(wall: Wall) -> Iterator[swivels.Thing]:
    """The room's side walls, further out than any arm reaches."""
    frame, width = wall.sight.screen.frame, wall.face.width
    out = reach(wall) + wall.limits.value("sight.arm_furthest") + frame.width
    yield swivels.Thing("the left side wall", -frame.width, 0.0, out)
    yield swivels.Thing("the right side wall", width, width + frame.width, out)
