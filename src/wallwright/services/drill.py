"""Whether a hole meets a cable or a zone where one may be expected.

The cover over a cable is never relied on alone: scan both ways with a detector, isolate and prove dead before drilling.
Source: common practice (warn within 25 mm, or twice the survey's error where that is more; 50 mm at pipes).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Outline, Point2
from wallwright.job.survey import Obstacle
from wallwright.services.existing import kept_from
from wallwright.services.record import Services

Verdict = Literal["ok", "warn", "hit"]


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole to drill: its middle, its diameter and its depth [mm]."""

    x: float
    z: float
    diameter: float
    depth: float


def distance_to_path(point: Point2, path: Sequence[Point2]) -> float:
    """From a point to the nearest point of a path [mm]."""
    if len(path) == 1:
        return math.dist(point, path[0])
    return min(_to_segment(point, a, b) for a, b in pairwise(path))


def _to_segment(point: Point2, start: Point2, end: Point2) -> float:
    dx, dz = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dz * dz
    along = 0.0 if length == 0 else ((point[0] - start[0]) * dx + (point[1] - start[1]) * dz) / length
    along = min(1.0, max(0.0, along))
    return math.hypot(point[0] - start[0] - along * dx, point[1] - start[1] - along * dz)


def edge_distance(hole: Hole, path: Sequence[Point2], outside_diameter: float) -> float:
    """From the hole's edge to the cable's or conduit's edge [mm]; negative where they overlap."""
    return distance_to_path((hole.x, hole.z), path) - outside_diameter / 2 - hole.diameter / 2


def verdict(edge: float, warn: float) -> Verdict:
    """Hit where the edges overlap, warn where they are nearer than `warn` [mm]."""
    return "hit" if edge < 0 else "warn" if edge < warn else "ok"


def in_zones(hole: Hole, zones: Iterable[Box]) -> tuple[Box, ...]:
    """The zones that the hole's edge reaches into: warn there even where no cable is recorded."""
    around = Box(hole.x - hole.diameter / 2, hole.z - hole.diameter / 2, hole.diameter, hole.diameter)
    return tuple(zone for zone in zones if zone.meets(around))


def reaches(hole: Hole, cover: float, margin: float) -> bool:
    """Whether the hole goes deep enough to meet something under that cover [mm], with a margin."""
    return hole.depth > cover - margin


@dataclass(frozen=True, slots=True)
class NoDrill:
    """A part of the wall where nobody drills: its convex outline, what lies there by its ref, and why in words.

    sort : run (a cable as planned), box (an outlet), existing (what is in the wall already), zone (where a cable may be expected)
    """

    ref: str
    sort: str
    says: str
    outline: Outline


def no_drill(
    services: Services, there: Iterable[tuple[Obstacle, Box]], face: Box, limits: Limits, zones: bool = False
) -> tuple[NoDrill, ...]:
    """The map of where nobody drills, for paper and for a template at full size: round every run and box as planned, round what is
    there already, and, if asked, the zones in which a cable may be expected. Cut off at the edges of the wall.

    there : what may be live, with its band, as `existing.live_bands` gives it
    """
    warn = limits.value("services.drill_warn")
    found = [
        (run.ref, "run", f"{run.cable}, as planned: {warn:.0f} mm from its conduit", box)
        for run in services.runs
        for box in keep_clear(((run.path, run.outside_diameter),), warn)
    ]
    found += [(p.ref, "box", f"outlet {p.ref}", p.box.grown(warn)) for p in services.points]
    found += [
        (
            thing.ref,
            "existing",
            f"the {thing.kind.replace('_', ' ')} {thing.ref}, not traced: {band:.0f} mm",
            box.grown(band),
        )
        for thing, box in there
        for band in (kept_from(thing, limits).value,)
    ]
    if zones:
        found += [("", "zone", "a cable may be expected here", zone) for zone in services.zones]
    return tuple(
        NoDrill(ref, sort, says, shared.corners)
        for ref, sort, says, box in found
        if (shared := box.shared(face)) is not None
    )


def keep_clear(paths: Iterable[tuple[Sequence[Point2], float]], clear: float) -> tuple[Box, ...]:
    """Where no hole's edge may come: around every segment of every path. paths : (points, outside diameter); clear [mm]."""
    return tuple(
        Box(min(a[0], b[0]), min(a[1], b[1]), abs(a[0] - b[0]), abs(a[1] - b[1])).grown(diameter / 2 + clear)
        for path, diameter in paths
        for a, b in pairwise(path)
    )
