"""What else moved with a change: the difference of two walls, less what the job itself was told."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from wallwright.derive import Wall
from wallwright.job.design import Unit
from wallwright.job.document import Job
from wallwright.studio.answers_wall import Moved

LEAST = 0.5
"""Smaller differences are not worth telling [mm]."""
Sizes = dict[str, tuple[str, float, str]]
"""Name of a size to what it is called, its value and its unit."""


def moved(before: Wall, after: Wall) -> tuple[Moved, ...]:
    """Sizes and places that differ although no one gave them, in the order screen, units, panels, outlets.

    A value that was given back to the program counts as moved where it went elsewhere.
    """
    return tuple(_moved(before, after))


def _moved(before: Wall, after: Wall) -> Iterator[Moved]:
    told = _told(before.job, after.job)
    yield from _differences("screen", "screen", _screen(before), _screen(after), told)
    for unit in after.setout.units:
        if any(old.ref == unit.ref for old in before.setout.units):
            yield from _differences("unit", unit.ref, _unit(before, unit.ref), _unit(after, unit.ref), told)
    zones = {zone.ref: zone.box for zone in before.setout.zones}
    for zone in after.setout.zones:
        if zone.ref in zones:
            old, new = _box(zone.ref, zones[zone.ref]), _box(zone.ref, zone.box)
            yield from _differences("panel", zone.ref, old, new, told)
    points = {point.ref: point for point in before.services.points}
    for point in after.services.points:
        if point.ref in points:
            was = points[point.ref]
            old = {
                "x": (f"{point.ref} from the left", was.x, "mm"),
                "z": (f"{point.ref} height", was.z, "mm"),
            }
            new = {
                "x": (f"{point.ref} from the left", point.x, "mm"),
                "z": (f"{point.ref} height", point.z, "mm"),
            }
            yield from _differences("outlet", point.ref, old, new, told)


def _differences(
    kind: Literal["screen", "unit", "panel", "outlet"],
    ref: str,
    old: Sizes,
    new: Sizes,
    told: set[tuple[str, str]],
) -> Iterator[Moved]:
    for name, (says, to, unit) in new.items():
        was = old[name][1]
        if (ref, name) in told or abs(to - was) < LEAST:
            continue
        yield Moved.model_validate(
            {
                "kind": kind,
                "ref": ref,
                "name": name,
                "says": says,
                "from": round(was, 2),
                "to": round(to, 2),
                "unit": unit,
            }
        )


def _screen(wall: Wall) -> Sizes:
    screen = wall.sight.screen
    return {
        "diagonal": ("Screen size", screen.diagonal, "″"),
        "centre_height": ("Screen centre, height", screen.centre[1], "mm"),
        "centre_x": ("Screen centre, from the left", screen.centre[0], "mm"),
    }


def _unit(wall: Wall, ref: str) -> Sizes:
    unit = wall.setout.unit(ref)
    bays = sum(bay.unit == ref for bay in wall.carcass.bays)
    return {
        **_box(ref, unit.box),
        "depth": (f"{ref} depth", unit.depth, "mm"),
        "bays": (f"{ref} bays", bays, ""),
    }


def _box(ref: str, box: Any) -> Sizes:
    return {
        "x": (f"{ref} left end", box.x, "mm"), "z": (f"{ref} underside", box.z, "mm"),
        "width": (f"{ref} width", box.width, "mm"), "height": (f"{ref} height", box.height, "mm"),
    }  # fmt: skip


def _told(before: Job, after: Job) -> set[tuple[str, str]]:
    """The sizes that the job was given between the two: they moved because someone said so."""
    told: set[tuple[str, str]] = set()
    for name in ("diagonal", "centre_height", "centre_x"):
        told |= _given("screen", name, before.design.screen, after.design.screen)
    for old, new in ((before.design.units, after.design.units), (before.design.panels, after.design.panels)):
        were: dict[str, Any] = {thing.ref: thing for thing in old}
        for thing in new:
            for name in ("x", "z", "width", "height", "depth"):
                told |= _given(thing.ref, name, were.get(thing.ref), thing)
            if (
                isinstance(thing, Unit)
                and thing.ref in were
                and thing.bays
                and were[thing.ref].bays != thing.bays
            ):
                told.add((thing.ref, "bays"))
    placed = {point.ref: point for point in before.design.points}
    told |= {(p.ref, name) for p in after.design.points for name in ("x", "z") if placed.get(p.ref) != p}
    return told


def _given(ref: str, name: str, old: Any, new: Any) -> set[tuple[str, str]]:
    now = getattr(new, name, None)
    return {(ref, name)} if now is not None and getattr(old, name, None) != now else set()
