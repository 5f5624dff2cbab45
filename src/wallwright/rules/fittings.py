"""Rules of fittings past their tables: flaps too heavy for any stay, doors too heavy or high for the hinges that makers count."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass.fitted import flap_load, stay_kind
from wallwright.carcass.hardware import COUNTS
from wallwright.carcass.record import Drawn
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.library.fittings import of_kind
from wallwright.rules.bays import front_edit, split_edit
from wallwright.rules.registry import rule


@rule("fittings.flap_stay")
def flap_stay(wall: Wall) -> Iterator[Finding]:
    """The strongest pair of stays of its kind holds each flap."""
    parts = {part.id: part for part in wall.carcass.parts}
    kinds = {unit.ref: unit.kind for unit in wall.setout.units}
    for mover in wall.carcass.movers:
        if mover.kind != "flap" or mover.ref not in parts:
            continue
        kind, mass = kinds[mover.unit], parts[mover.ref].mass
        torque = flap_load(kind, mass, mover.box.height, wall.limits)
        strongest = max(of_kind(stay_kind(kind, lifts=mover.lifts)), key=lambda row: row.carries)
        if torque <= strongest.carries + 0.05:
            continue
        cure, edits = _held(wall, mover, kind, torque / strongest.carries)
        yield Finding(
            "fittings.flap_stay",
            "fix",
            mover.ref,
            f"flap {mover.ref} of {mass:.1f} kg, {mover.box.height:.0f} high, asks {torque:.1f} N·m of its pair of stays",
            round(torque, 1),
            strongest.carries,
            "N·m",
            strongest.source,
            strongest.certainty,
            cure,
            edits,
            at=mover.box,
        )


def _held(wall: Wall, mover: Drawn, kind: str, times: float) -> tuple[str, tuple[EditCall, ...]]:
    """A lower desk; doors in place of any other flap. times : what is asked over what the strongest stays hold."""
    if kind != "desk":
        bay = mover.ref.rpartition("-F")[0]
        return f"hang doors in {bay} instead", (front_edit(wall, bay, "shutter"),)
    unit = wall.setout.unit(mover.unit)
    # its own torque grows as the square of the height, the elbows' as the height: by the ratio it is low enough at any mix
    high = math.floor(unit.box.height - mover.box.height * (1 - 1 / times))
    return f"make {unit.ref} {high} mm high, or divide its flap in two", (
        edit_call("resize_unit", ref=unit.ref, height=high),
    )


@rule("fittings.door_hinges")
def door_hinges(wall: Wall) -> Iterator[Finding]:
    """No door is heavier or higher than the last row of the hinge table: beyond it nobody has said how many hold."""
    last = COUNTS[-1]
    heavy, high = wall.limits[f"carcass.hinge_mass_{last}"], wall.limits[f"carcass.hinge_height_{last}"]
    parts = {part.id: part for part in wall.carcass.parts}
    for mover in wall.carcass.movers:
        part = parts.get(mover.ref)
        if mover.kind != "door" or part is None:
            continue
        by_mass = part.mass > heavy.value + 0.05
        if not by_mass and mover.box.height <= high.value + 0.5:
            continue
        cure, edits = _lighter(wall, mover, part.mass / heavy.value, mover.box.height / high.value)
        yield finding(
            "fittings.door_hinges",
            "fix",
            mover.ref,
            f"door {mover.ref}, {mover.box.width:.0f} × {mover.box.height:.0f}, {part.mass:.1f} kg, is past the table of "
            f"{last} hinges by its {'weight' if by_mass else 'height'}",
            measured=round(part.mass, 1) if by_mass else round(mover.box.height),
            limit=heavy if by_mass else high,
            at=mover.box,
            cure=cure,
            edits=edits,
        )


def _lighter(wall: Wall, mover: Drawn, by_mass: float, by_height: float) -> tuple[str, list[EditCall]]:
    """A bay divided so that its doors are lighter, or stand one above another; open where it cannot be."""
    bay = mover.ref.rpartition("-F")[0]
    box = next(item.box for item in wall.carcass.bays if item.ref == bay)
    if wall.setout.unit(mover.unit).kind != "tower" and by_height <= 1:
        split = split_edit(wall, bay, box.width, box.width / by_mass)
        if split is not None:
            return f"divide {bay} by uprights, so that its doors are narrower", [split]
    return f"divide {bay} so that its doors stand one above another, or leave it open", [
        front_edit(wall, bay, "open")
    ]
