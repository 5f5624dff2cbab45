"""The mount's plate lies flat: on the wall as it was read, or on a flat place left in a ribbed panel."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass import relief
from wallwright.core.finding import Finding, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.rules.registry import rule


@rule("structure.plate_rocks")
def plate_rocks(wall: Wall) -> Iterator[Finding]:
    """The four corners of the mount's plate lie in one plane, so that it neither rocks nor is bent by its screws."""
    limit, plate = wall.limits["rule.plate_flat"], wall.sight.screen.plate
    behind = [zone for zone in wall.setout.zones if zone.box.meets(plate) and zone.boarded]
    ribbed = next((zone for zone in behind if zone.flutes), None)
    if ribbed is not None:
        depth = wall.limits.value("carcass.flute_depth")
        if depth > limit.value:
            yield finding(
                "structure.plate_rocks", "note", ribbed.ref,
                f"the mount's plate lies on the ribs of {ribbed.ref}, {depth:g} mm over its grooves", measured=depth, limit=limit, at=plate,
                cure=f"leave {ribbed.ref} flat behind the plate, or hold the plate off the structure behind by sleeves",
            )  # fmt: skip
    elif not behind and (off := _twist(wall, plate)) > limit.value:
        yield finding(
            "structure.plate_rocks", "consider", "screen",
            f"the wall behind the mount's plate is twisted: one corner stands {off:.1f} mm off the plane of the other three",
            measured=round(off, 1), limit=limit, at=plate,
            cure=f"pack the plate solidly at its low corners, {off:.1f} mm at most, or have the plaster made good there",
        )  # fmt: skip


def _twist(wall: Wall, plate: Box) -> float:
    """How far one corner of the plate lies off the plane of the other three, by the wall's readings [mm]."""
    readings = [(r.x.mm, r.z.mm, r.out.mm) for r in wall.job.survey.wall.relief]
    if len(readings) < 4:
        return 0.0
    a, b, c, d = (relief.stands_out(readings, x, z) for x, z in plate.corners)
    return abs(a - b + c - d)
