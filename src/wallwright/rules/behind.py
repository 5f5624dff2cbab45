"""Rules of what is behind the screen: outlets clear of the mount's plate and arms, hidden however the screen moves, and room for one.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.limit import Limit
from wallwright.core.shape import outline_area, sides
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.services import hidden
from wallwright.services.points import behind_of
from wallwright.services.record import ServicePoint
from wallwright.services.region import holds, openings


def behind_screen(wall: Wall) -> list[ServicePoint]:
    """The points whose boxes lie behind the screen, at least in part."""
    frame = wall.sight.screen.frame
    return [point for point in wall.services.points if point.box.meets(frame) and point.kind != "switch"]


def hidden_limit(wall: Wall) -> Limit:
    """How far inside the screen's outline a hidden outlet lies: further behind a screen that tilts or pulls out."""
    fixed = wall.sight.screen.mount == "fixed"
    return wall.limits["services.hidden_margin" if fixed else "services.hidden_margin_tilt"]


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
    for point in behind_screen(wall):
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


@rule("services.box_fouls")
def box_fouls(wall: Wall) -> Iterator[Finding]:
    """No outlet box behind the screen lies behind the mount's arms, a port or a vent, on a stud, or where something stands."""
    for point in behind_screen(wall):
        met = next(
            (
                (what, shared)
                for what, box in wall.services.keep_outs
                if (shared := box.shared(point.box)) is not None and min(shared.width, shared.height) > 0.5
            ),
            None,
        )
        if met is None:
            continue
        cure, edits = _move(wall, point)
        yield Finding(
            "services.box_fouls",
            "fix",
            point.ref,
            f"outlet {point.ref} lies at {met[0]}",
            round(met[1].area / 100.0),
            0,
            "cm²",
            "geometry: what the screen, its mount and the wall keep free",
            "computed",
            cure,
            tuple(edits),
            at=point.box,
        )


@rule("services.box_shows")
def box_shows(wall: Wall) -> Iterator[Finding]:
    """An outlet meant to be hidden lies well inside the screen's outline, however its mount tilts and turns it."""
    limit, outline = hidden_limit(wall), wall.services.hidden
    moves = "" if wall.sight.screen.mount == "fixed" else ", at every tilt and turn of its mount"
    for point in behind_screen(wall):
        if holds(outline, point.box.grown(-0.5)):
            continue
        inset = limit.value + min(
            (most - nx * x - nz * z for nx, nz, most in sides(outline) for x, z in point.box.corners),
            default=-limit.value,
        )
        cure, edits = _move(wall, point)
        yield finding(
            "services.box_shows",
            "fix",
            point.ref,
            f"outlet {point.ref} shows at the edge of the screen ({inset:.0f} mm inside{moves})",
            measured=round(inset),
            limit=limit,
            cure=cure,
            edits=edits,
            at=point.box,
        )


@rule("services.no_region")
def no_region(wall: Wall) -> Iterator[Finding]:
    """There is at least one place behind the screen where an outlet box may sit; where not, the smallest change that makes one."""
    if wall.services.region_polygons:
        return
    screen, v = wall.sight.screen, wall.limits.value
    behind = behind_of(wall.job, screen, hidden.of_wall(wall.job, wall.face, wall.limits), wall.limits)
    size = v("services.box_twin_width"), v("services.box_height")
    drop = screen.plate.centre[1] - screen.holes.centre[1]
    found = openings(behind, size, v("services.box_single_width"), screen.centre, drop, wall.limits)
    yield finding(
        "services.no_region",
        "fix",
        "screen",
        "behind this screen no place is free for an outlet box",
        measured=round(sum(map(outline_area, wall.services.region_polygons)) / 100.0),
        limit=wall.limits["services.plate_clear"],
        at=screen.frame,
        cure="; or ".join(item.says for item in found[:3])
        or "bring the outlet out beside the screen, in the unit below it, or take a larger screen",
        edits=[found[0].edit] if found else [],
    )
