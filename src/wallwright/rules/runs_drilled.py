"""Rules of what is drilled: no planned hole near a cable or pipe, planned or already there.

All of it is a design aid: the locally licensed electrician checks, sizes, installs and tests.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from wallwright.core.counted import counted
from wallwright.core.finding import Finding, finding
from wallwright.core.limit import Limit
from wallwright.core.shape import Box, Point2, around
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.rules.runs import Piece
from wallwright.services.drill import Hole, distance_to_path, in_zones
from wallwright.services.existing import PIPES, kept_from, live_bands
from wallwright.services.record import Run
from wallwright.services.runs import voids_for
from wallwright.structure.record import FixingCheck, HoleRow


@rule("services.drill_clash")
def drill_clash(wall: Wall) -> Iterator[Finding]:
    """No planned hole comes near a cable or pipe, planned or already there."""
    clear = wall.limits["services.drill_warn"]
    live = live_bands(wall.job.survey.obstacles, wall.face.box)
    ways = [(run, around(run.path), _pieces(run.path)) for run in wall.services.runs]
    for fixing in (*wall.structure.fixings, *wall.structure.batten_rows, *wall.structure.panel_rows):
        if not fixing.holes:
            continue
        bored = around(fixing.holes)
        short = isinstance(fixing, HoleRow) and fixing.into == "batten"
        for run, whole, pieces in ways:
            radius = fixing.hole_diameter / 2 + run.outside_diameter / 2
            if _apart(bored, whole, radius + clear.value):  # far off, whatever its path
                continue
            near = [piece for piece, box in pieces if not _apart(bored, box, radius + clear.value)]
            if not near or (short and not _in_the_void(wall, fixing.ref, run)):
                continue  # a clip's screw ends before the wall
            gaps = [min(distance_to_path(hole, piece) for piece in near) - radius for hole in fixing.holes]
            if min(gaps) < clear.value - 0.5:
                yield _clash(
                    fixing, fixing.holes, gaps, clear.value - 0.5, clear, run.ref,
                    "drill elsewhere on the plate or rail, or move the run; scan before drilling",
                )  # fmt: skip
        for thing, box in () if short else live:
            band = kept_from(thing, wall.limits)
            if bored.gap(box) > band.value:
                continue
            gaps = [box.gap(Box(x, z, 0.0, 0.0)) for x, z in fixing.holes]
            if min(gaps) < band.value - 0.5:
                pipe = thing.kind in PIPES
                yield _clash(
                    fixing, fixing.holes, gaps, band.value - 0.5, band, thing.ref if pipe else f"the likely cable of {thing.ref}",
                    f"move the fixing, or have {thing.ref} traced and enter which way its cable runs, or have it "
                    f"{_MADE_DEAD[thing.kind == 'pipe']} and enter that it is dead in the survey; scan before drilling",
                )  # fmt: skip


def _pieces(path: Sequence[Point2]) -> list[tuple[Piece, Box]]:
    """Each straight piece of a path, and the box about it."""
    ways = pairwise(path) if len(path) > 1 else ((path[0], path[0]),)
    return [
        ((a, b), Box(min(a[0], b[0]), min(a[1], b[1]), abs(a[0] - b[0]), abs(a[1] - b[1]))) for a, b in ways
    ]


def _apart(one: Box, other: Box, by: float) -> bool:
    """Whether two boxes lie further apart than that along x or along z."""
    return (
        one.x - other.x > other.width + by
        or other.x - one.x > one.width + by
        or one.z - other.z > other.height + by
        or other.z - one.z > one.height + by
    )


def _in_the_void(wall: Wall, ref: str, run: Run) -> bool:
    """Whether a run has room in the void behind that panel, so that it lies before the wall there."""
    there = [zone for zone in wall.setout.zones if zone.ref == ref]
    return bool(voids_for(there, run.outside_diameter, wall.limits))


@rule("services.hole_in_zone")
def hole_in_zone(wall: Wall) -> Iterator[Finding]:
    """Holes that stand where a cable may be expected are told, even where none is recorded."""
    zones = wall.services.zones
    met: dict[str, int] = {}
    bored = [row for row in wall.structure.panel_rows if row.into == "wall"]
    for fixing in (*wall.structure.fixings, *wall.structure.batten_rows, *bored):
        if not fixing.holes:
            continue
        field = around(fixing.holes).grown(fixing.hole_diameter)
        near = [zone for zone in zones if zone.meets(field)]
        holes = [Hole(x, z, fixing.hole_diameter, fixing.hole_depth) for x, z in fixing.holes] if near else []
        inside = sum(bool(in_zones(hole, near)) for hole in holes)
        if inside:
            met[fixing.ref] = met.get(fixing.ref, 0) + inside
    if not met:
        return
    band = wall.limits["services.zone_band"]
    yield Finding(
        "services.hole_in_zone",
        "note",
        "holes",
        f"{counted(sum(met.values()), 'hole')} {'stands' if sum(met.values()) == 1 else 'stand'} where a cable may be expected: "
        + ", ".join(f"{count} of {ref}" for ref, count in met.items()),
        sum(met.values()),
        0,
        "holes",
        band.source,
        band.certainty,
        "scan both ways with a detector, isolate and prove dead before drilling; stop where it shows anything",
    )


_MADE_DEAD = "made dead by the electrician", "shut off by the plumber"


def _clash(
    fixing: FixingCheck | HoleRow,
    holes: Sequence[Point2],
    gaps: Sequence[float],
    least: float,
    limit: Limit,
    what: str,
    cure: str,
) -> Finding:
    """One finding for a fixing and what its holes come near: the nearest hole is shown."""
    near = [(gap, hole) for gap, hole in zip(gaps, holes, strict=True) if gap < least]
    gap, (x, z) = min(near)
    count = "a hole" if len(near) == 1 else f"{len(near)} holes, the nearest"
    return finding(
        "services.drill_clash",
        "danger",
        fixing.ref,
        f"{count} for {fixing.what} at x {x:.0f}, {z:.0f} above FFL, {'comes' if len(near) == 1 else 'come'} within "
        f"{max(gap, 0):.0f} mm of {what}",
        measured=round(gap),
        limit=limit,
        at=Box(x - 25, z - 25, 50, 50),
        cure=cure,
    )
