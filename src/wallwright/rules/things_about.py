"""What stands about the fronts of a wall that they may meet when they open: surveyed, built, or open itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wallwright.carcass.record import Drawn
from wallwright.carcass.sweep import Solid, handle
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.job.survey import Obstacle

FAR = 10_000.0
"""As far as a wall or the floor reaches into the room for what opens on it [mm]."""
DEEP = 500.0
"""As much of what is behind a surface as counts [mm]."""


@dataclass(frozen=True, slots=True)
class About:
    """A thing about: its reference, what it is in words, where it is, and the obstacle that it is, if it is one."""

    ref: str
    name: str
    solid: Solid
    obstacle: Obstacle | None = None


def _solid(box: Box, out: float, near: float = 0.0) -> Solid:
    return Solid(box.x, box.right, near, out, box.z, box.top)


def fixed(wall: Wall) -> list[About]:
    """What stays where it is: things proud of the wall, units, the side walls with their skirting, the floor, the screen."""
    face = wall.face
    out = [
        About(
            thing.ref,
            f"the {thing.kind.replace('_', ' ')} {thing.ref}",
            _solid(obstacle_box(thing), thing.projection.mm),
            thing,
        )
        for thing in face.obstacles
        if thing.projection.mm > 0
    ]
    out += [About(unit.ref, unit.ref, _solid(unit.box, unit.depth)) for unit in wall.setout.units]
    skirting = max(
        (thing for thing in face.obstacles if thing.kind == "skirting"),
        key=lambda t: t.projection.mm,
        default=None,
    )
    for ref, low, high in (("left wall", -DEEP, 0.0), ("right wall", face.width, face.width + DEEP)):
        out.append(About(ref, f"the {ref}", Solid(low, high, 0.0, FAR, 0.0, face.height)))
        if skirting is not None:  # the other walls have the same
            by, top = skirting.projection.mm, skirting.z.mm + skirting.height.mm
            ends = (0.0, by) if low < 0 else (face.width - by, face.width)
            out.append(
                About(
                    f"{ref}'s skirting",
                    f"the skirting of the {ref}",
                    Solid(*ends, skirting.projection.mm, FAR, 0.0, top),
                )
            )
    out.append(About("floor", "the floor", Solid(-DEEP, face.width + DEEP, 0.0, FAR, -DEEP, 0.0)))
    out.append(
        About(
            "ceiling",
            "the ceiling",
            Solid(-DEEP, face.width + DEEP, 0.0, FAR, face.height, face.height + DEEP),
        )
    )
    screen = wall.sight.screen
    near = screen.stand_off + screen.pulled
    out.append(About("screen", "the screen", _solid(screen.frame, near + screen.depth, near)))
    return [*out, *_soundbars(wall)]


def _soundbars(wall: Wall) -> Iterator[About]:
    """Sound bars on a console: in the middle of its top, flush with its front."""
    for device in wall.services.devices:
        unit = next((unit for unit in wall.setout.units if unit.ref == device.unit), None)
        if device.place == "on_console" and unit is not None:
            box = Box(unit.box.centre[0] - device.width / 2, unit.box.top, device.width, device.height)
            near = max(0.0, unit.depth - device.depth)
            yield About(
                device.ref, f"the {device.name.lower()}", _solid(box, max(unit.depth, device.depth), near)
            )


def closed_handles(wall: Wall) -> list[tuple[str, About]]:
    """The handles of all closed fronts, each with the front that has it."""
    out: list[tuple[str, About]] = []
    for mover in wall.carcass.movers:
        solid = handle(mover)
        if solid is not None:
            out.append((mover.ref, About(mover.ref, f"the handle of {mover.ref}", solid)))
    return out


def furniture(wall: Wall) -> list[About]:
    """What may be moved, and who sits there: tables and the like, and the knees before each seat."""
    out = [
        About(
            thing.ref, f"the {thing.kind} {thing.ref}",
            Solid(thing.x.mm, thing.x.mm + thing.width.mm, thing.distance.mm, thing.distance.mm + thing.depth.mm, 0.0, thing.height.mm),
        )
        for thing in wall.job.survey.between
    ]  # fmt: skip
    ahead = wall.limits.value("joinery.knees_ahead")
    for seat in wall.job.survey.seats:
        if seat.kind in ("bed", "standing"):
            continue
        x, near = seat.x.mm, seat.distance.mm - ahead
        out.append(
            About(
                seat.ref,
                f"the knees at {seat.ref}",
                Solid(x - 300, x + 300, near, near + ahead, 0.0, seat.seat_height.mm + 150),
            )
        )
    return out


def opened(wall: Wall) -> list[About]:
    """What opens itself: room doors on this wall, windows of the side walls, and the screen drawn out on its arm."""
    out: list[About] = []
    for thing in wall.face.obstacles:
        if thing.kind == "door":
            box = obstacle_box(thing)
            out.append(
                About(thing.ref, f"the door {thing.ref}, if it opens into the room", _solid(box, box.width))
            )
    for window in wall.job.survey.windows:
        leaf = window.width.mm / 2
        near, far = window.along.mm, window.along.mm + window.width.mm
        z = (window.sill.mm, window.sill.mm + window.height.mm)
        if window.wall != "opposite":
            ends = (0.0, leaf) if window.wall == "left" else (wall.face.width - leaf, wall.face.width)
            out.append(
                About(
                    window.ref, f"the window {window.ref}, if it opens inwards", Solid(*ends, near, far, *z)
                )
            )
    mount = wall.job.design.mount
    screen = wall.sight.screen
    if mount.kind == "arm" and mount.reach is not None and mount.reach.mm > screen.stand_off:
        out.append(
            About(
                "screen",
                "the screen drawn out on its arm",
                _solid(screen.frame, mount.reach.mm + screen.depth),
            )
        )
    return out


def turned_open(mover: Drawn) -> Solid | None:
    """A door standing open at right angles, with its handle; None for what is drawn or comes down."""
    if mover.kind != "door":
        return None
    box, face = mover.box, -mover.swept.y - mover.swept.dy
    if mover.hand == "left":
        return Solid(box.x - mover.proud, box.x + mover.thick, face, face + box.width, box.z, box.top)
    return Solid(box.right - mover.thick, box.right + mover.proud, face, face + box.width, box.z, box.top)
