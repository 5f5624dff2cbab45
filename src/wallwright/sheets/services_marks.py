"""What the drawings of a wall's services share: zones, regions, boxes, runs and where they come in, and their labels."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    Hatch,
    Leader,
    Line,
    Mark,
    Pattern,
    Symbol,
    SymbolKind,
    Text,
    rectangle,
)
from wallwright.core.shape import Box, Point2, cut_out
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.services import trunking
from wallwright.services.existing import ACCESSORIES
from wallwright.sheets.words import obstacle_words

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.survey import Obstacle
    from wallwright.services.record import Run

SIGN: dict[str, SymbolKind] = {
    "twin_socket": "twin_socket",
    "socket": "socket",
    "switched_spur": "switched_spur",
    "data": "data",
    "rf": "rf",
    "conduit": "conduit",
    "switch": "switch",
    "led_feed": "led_feed",
}
SIGN_WORDS: dict[SymbolKind, str] = {
    "twin_socket": "twin socket outlet",
    "socket": "socket outlet",
    "switched_spur": "switched spur",
    "data": "data outlet (network)",
    "rf": "aerial outlet",
    "conduit": "end of an empty conduit, with draw wire",
    "switch": "switch",
    "led_feed": "feed of an LED strip",
    "driver": "LED driver",
    "anchor": "wall fixing",
    "eye": "eye",
    "datum": "datum",
}
CROWDED = 150
"""So many places are tried for a label among boxes and runs that stand close."""
DRAW_WIDTH = 60.0  # a no-drill zone that is narrower is drawn this wide at least [mm]


def zone_marks(wall: Wall) -> list[Mark]:
    """Where a drill may meet a cable: dots where an accessory in view tells of it, dashes where only a hidden box does."""
    hidden = set(wall.services.hidden_zones)
    seen = [zone for zone in wall.services.zones if zone not in hidden]
    marks, taken = _hatched(wall, seen, "no_drill", ())
    more, _ = _hatched(wall, wall.services.hidden_zones, "hidden", taken)
    return marks + more


def _hatched(
    wall: Wall, zones: Iterable[Box], pattern: Pattern, taken: tuple[Box, ...]
) -> tuple[list[Mark], tuple[Box, ...]]:
    """The zones hatched, each place once, and all that is hatched by then."""
    face = wall.face.box
    marks: list[Mark] = []
    for zone in zones:
        wide = zone
        if wide.width < DRAW_WIDTH and wide.height > wide.width:
            wide = Box(wide.centre[0] - DRAW_WIDTH / 2, wide.z, DRAW_WIDTH, wide.height)
        elif wide.height < DRAW_WIDTH and wide.width > wide.height:
            wide = Box(wide.x, wide.centre[1] - DRAW_WIDTH / 2, wide.width, DRAW_WIDTH)
        inside = wide.shared(face)
        if inside is None:
            continue
        pieces: tuple[Box, ...] = (inside,)
        for other in taken:
            pieces = cut_out(pieces, other)
        marks += [Hatch(piece.corners, pattern, layer="zones", ref=pattern) for piece in pieces]
        taken = (*taken, *pieces)
    return marks, taken


def region_marks(wall: Wall) -> list[Mark]:
    """Where the middle of an outlet's box may sit behind the screen, exactly; crossed where it still may behind the next plate."""
    outlines = wall.services.region_polygons or tuple(box.corners for box in wall.services.region)
    marks: list[Mark] = [Hatch(outline, "allowed", layer="zones", ref="allowed") for outline in outlines]
    marks += [Hatch(outline, "later", layer="zones", ref="later") for outline in wall.services.region_later]
    return marks + [
        Line(outline, "thin", closed=True, layer="zones", ref=ref)
        for ref, pieces in (("allowed", outlines), ("later", wall.services.region_later))
        for outline in pieces
    ]


def outlines(wall: Wall) -> list[Mark]:
    """Screen, mount plate, and the units to come, as outlines only: their fixings have a sheet of their own."""
    screen = wall.sight.screen
    marks: list[Mark] = [
        Line(unit.box.corners, "phantom", closed=True, layer="outlines", ref=unit.ref)
        for unit in wall.setout.units
    ]
    marks.append(Line(screen.frame.corners, "phantom", closed=True, layer="screen", ref="screen"))
    marks.append(rectangle(screen.plate, "medium", layer="screen", ref="plate"))
    return marks


def obstacle_marks(wall: Wall) -> list[Mark]:
    """What is on the wall already."""
    return [
        rectangle(obstacle_box(thing), "thin", layer="obstacles", ref=thing.ref)
        for thing in wall.face.obstacles
        if thing.kind != "skirting"
    ]


def run_lines(wall: Wall) -> list[Mark]:
    """Conduits dashed, LED feeds and strips in chain lines."""
    marks: list[Mark] = [
        Line(run.path, "dashed", layer="runs", ref=run.ref) for run in wall.services.runs if len(run.path) > 1
    ]
    return marks + [
        Line(run.path, "chain", layer="lights", ref=run.ref) for run in wall.light.runs if len(run.path) > 1
    ]


def incoming(wall: Wall) -> dict[tuple[str, Point2], list[str]]:
    """Where supply and signals come in, with the runs that begin there."""
    out: dict[tuple[str, Point2], list[str]] = {}
    for run in wall.services.runs:
        for end, at in ((run.start, run.path[:1]), (run.end, run.path[-1:])):
            if end in ("supply", "entry") and at:
                out.setdefault((end, at[0]), []).append(run.ref)
    return out


def come_in_marks(wall: Wall, scale: float) -> list[Mark]:
    """A filled arrowhead where supply or signals come in, pointing along the first run."""
    marks: list[Mark] = []
    w, h = 1.4 * scale, 3.0 * scale
    for name, (x, z) in incoming(wall):
        tip = -h if z > wall.face.height / 2 else h
        marks.append(
            Line(((x - w, z), (x + w, z), (x, z + tip)), "medium", True, "#000", layer="runs", ref=name)
        )
    return marks


def in_labels(wall: Wall, scale: float) -> list[Mark]:
    """What comes in, with the runs that begin there."""
    return [
        Leader(
            ((x, z), (x + (6 if x < wall.face.width / 2 else -6) * scale, z - 6 * scale)),
            f"{IN_WORDS[name]}: {', '.join(refs)}",
            layer="runs",
            ref=name,
        )
        for (name, (x, z)), refs in incoming(wall).items()
    ]


IN_WORDS = {"supply": "SUPPLY comes in", "entry": "SIGNALS come in"}


def box_marks(wall: Wall) -> list[Mark]:
    """The boxes, on white."""
    return [
        rectangle(point.box, "wide", fill="#fff", layer="points", ref=point.ref)
        for point in wall.services.points
    ]


def signs(wall: Wall) -> list[Mark]:
    """The sign and reference of each point; the label above its box."""
    return [
        Symbol(
            SIGN.get(point.kind, "socket"),
            (point.x, point.z),
            f"{point.ref} {point.circuit}".strip(),
            layer="points",
            ref=point.ref,
            aside=(0.0, 4.6),
        )
        for point in wall.services.points
    ]


def run_labels(wall: Wall, scale: float) -> list[Mark]:
    """Each run's reference and the name size of its conduit or trunking, led from its longest leg; runs side by side share a label."""
    marks: list[Mark] = []
    for at, runs in grouped(wall.services.runs):
        by_size: dict[str, list[str]] = {}
        for run in runs:
            by_size.setdefault(size_words(run), []).append(run.ref)
        said = "; ".join(f"{', '.join(refs)}: {size}" for size, refs in by_size.items())
        marks.append(
            Leader((at, (at[0] + 7 * scale, at[1] + 4 * scale)), said, layer="runs", ref=runs[0].ref)
        )
    return marks


def size_words(run: Run) -> str:
    """What a run is asked for over the counter: the conduit's name size, the trunking's width and height, or both."""
    sizes = [f"{run.outside_diameter:.0f}"] if run.on_surface < run.length else []
    sizes += [trunking.words(run.channel)] if run.on_surface > 0 else []
    return " and ".join(sizes)


def strip_labels(wall: Wall, scale: float) -> list[Mark]:
    """Each LED strip's reference and length, led from near its start."""
    marks: list[Mark] = []
    for run in wall.light.runs:
        if len(run.path) > 1:
            (x0, z0), (x1, z1) = run.path[0], run.path[1]
            at = (x0 * 0.9 + x1 * 0.1, z0 * 0.9 + z1 * 0.1)
            marks.append(
                Leader(
                    (at, (at[0] - 6 * scale, at[1] - 5 * scale)),
                    f"{run.ref} LED {show_mm(run.length)}",
                    layer="lights",
                    ref=run.ref,
                )
            )
    return marks


SIDE_BY_SIDE = 60.0
"""Runs whose longest legs lie this near one another are labelled together [mm]."""


def grouped(runs: Iterable[Run]) -> list[tuple[Point2, list[Run]]]:
    """The runs by where their longest legs lie side by side, each group with the place its label is led from."""
    out: list[tuple[tuple[Point2, Point2], list[Run]]] = []
    for run in runs:
        leg = longest(run)
        if leg is None:
            continue
        near = next((i for i, (other, _) in enumerate(out) if _beside(leg, other)), None)
        if near is None:
            out.append((leg, [run]))
        else:
            out[near] = (_shared(out[near][0], leg), [*out[near][1], run])
    return [((a[0] * 0.6 + b[0] * 0.4, a[1] * 0.6 + b[1] * 0.4), members) for (a, b), members in out]


def longest(run: Run) -> tuple[Point2, Point2] | None:
    """The longest leg of a run, its lower or left end first; None where it has none."""
    legs = [(min(a, b), max(a, b)) for a, b in pairwise(run.path)]
    return max(legs, key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]), default=None)


def _across(leg: tuple[Point2, Point2]) -> int:
    """0 for a level leg, 1 for an upright one: the axis it runs along."""
    (x0, z0), (x1, z1) = leg
    return 0 if abs(x1 - x0) >= abs(z1 - z0) else 1


def _beside(one: tuple[Point2, Point2], other: tuple[Point2, Point2]) -> bool:
    along = _across(one)
    if along != _across(other) or abs(one[0][1 - along] - other[0][1 - along]) > SIDE_BY_SIDE:
        return False
    return min(one[1][along], other[1][along]) - max(one[0][along], other[0][along]) > 2 * SIDE_BY_SIDE


def _shared(one: tuple[Point2, Point2], other: tuple[Point2, Point2]) -> tuple[Point2, Point2]:
    """The part of a leg beside which the other lies too."""
    along = _across(one)
    low, high = max(one[0][along], other[0][along]), min(one[1][along], other[1][along])
    at = one[0][1 - along]
    return ((low, at), (high, at)) if along == 0 else ((at, low), (at, high))


def outline_labels(wall: Wall, scale: float) -> list[Mark]:
    """The names of the screen, its plate, the units and what is on the wall already."""
    screen = wall.sight.screen
    marks: list[Mark] = [
        Text(
            (screen.frame.x + 2 * scale, screen.frame.top - 4.5 * scale),
            f"screen {screen.diagonal:g} in",
            layer="text",
            ref="screen",
        ),
        Leader(
            (
                (screen.plate.x + 15, screen.plate.z + 15),
                (screen.plate.x - 5 * scale, screen.plate.z - 8 * scale),
            ),
            "mount plate",
            layer="text",
            ref="plate",
        ),
    ]
    for unit in wall.setout.units:
        if unit.box.height / scale > 6:
            marks.append(
                Text(
                    (unit.box.x + 2 * scale, unit.box.top - 4.5 * scale),
                    unit.ref,
                    bold=True,
                    layer="text",
                    ref=unit.ref,
                )
            )
        else:
            marks.append(
                Leader(
                    (
                        (unit.box.right - 40, unit.box.top),
                        (unit.box.right - 40 + 4 * scale, unit.box.top + 4 * scale),
                    ),
                    unit.ref,
                    layer="text",
                    ref=unit.ref,
                )
            )
    for thing in wall.face.obstacles:
        if thing.kind != "skirting":
            box = obstacle_box(thing)
            marks.append(
                Leader(
                    (box.centre, (box.centre[0] - 8 * scale, box.centre[1] + 8 * scale)),
                    f"{thing.ref} {obstacle_words(thing.kind)}{fate(thing, wall)}",
                    layer="text",
                    ref=thing.ref,
                )
            )
    return marks


FATE = {"keep": ", stays", "move": ", to be moved", "remove": ", comes out", "new": ", new"}


def taken_over(thing: Obstacle, wall: Wall) -> list[str]:
    """The points that stand where the outlet is."""
    return [p.ref for p in wall.services.points if p.box.meets(obstacle_box(thing))]


def fate(thing: Obstacle, wall: Wall) -> str:
    """What becomes of an outlet that is there, as said beside it."""
    if thing.kind not in ACCESSORIES:
        return ""
    return ", taken over" if thing.state == "keep" and taken_over(thing, wall) else FATE[thing.state]
