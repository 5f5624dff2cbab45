"""The elevation that the page shows: what stands on the wall, without dimension chains, since the rods beside it carry the sizes.

Every thing carries its reference, so that the page can tell what the pointer is on.
"""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass.panel_lines import edge, face_lines
from wallwright.core.drawing import Drawing, Hatch, Line, Mark, Symbol, SymbolKind, rectangle
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.job.survey import Obstacle
from wallwright.sheets.fronts import bay_marks

SEEN_INTO = ("open", "glass")
DATUM = 1000.0
EDGE = 60.0
"""Wall shown beyond its own edges [mm]."""
STRIP = 45.0
"""Breadth of the hatched strip along an edge that nobody measured [mm]."""


def elevation(wall: Wall, scale: float) -> Drawing:
    """The wall as the page draws it, at 1:`scale`."""
    marks: tuple[Mark, ...] = (
        *_wall(wall), *_panels(wall, scale), *_obstacles(wall), *_units(wall, scale), *_screen(wall, scale), *_services(wall),
        *_lights(wall),
    )  # fmt: skip
    return Drawing("page", f"Elevation of {wall.job.title}", scale, marks, shown(wall))


def shown(wall: Wall) -> Box:
    """The part of the wall that the page shows: always the same for one wall, so that nothing jumps while one drags."""
    return wall.face.box.grown(EDGE)


def _wall(wall: Wall) -> Iterator[Mark]:
    face = wall.face.box
    yield rectangle(face, "wide", fill="#fff", layer="wall", ref="wall")
    if any(name.startswith("survey.wall.widths") for name in wall.face.assumed):
        yield Hatch(
            Box(face.right - STRIP, 0, STRIP, face.height).corners, "assumed", layer="assumed", ref="wall"
        )
    if any(name.startswith("survey.wall.heights") for name in wall.face.assumed):
        yield Hatch(
            Box(0, face.top - STRIP, face.width, STRIP).corners, "assumed", layer="assumed", ref="wall"
        )
    yield Line(((0, DATUM), (face.right, DATUM)), "chain", layer="levels", ref="datum")
    yield Line(((-EDGE, 0), (face.right + EDGE, 0)), "extra", layer="wall", ref="ffl")


def _panels(wall: Wall, scale: float) -> Iterator[Mark]:
    for zone in wall.setout.zones:
        yield Line(edge(zone), "medium", closed=True, fill="#fff", layer="panels", ref=zone.ref)
        close = zone.flute_pitch / scale < 0.9 or zone.flutes > 400
        if zone.kind in ("stone_veneer", "slab"):
            yield Hatch(edge(zone), "stone", layer="panels", ref=zone.ref)
        elif zone.flutes and close:
            yield Hatch(edge(zone), "fluted", layer="panels", ref=zone.ref)
        for line in face_lines(zone, flutes=not close):
            yield Line((line.a, line.b), line.weight, layer="panels", ref=zone.ref)


def _units(wall: Wall, scale: float) -> Iterator[Mark]:
    """Each unit with its bays and the sign of each bay's front."""
    for unit in wall.setout.units:
        yield rectangle(unit.box, "wide", fill="#fff", layer="units", ref=unit.ref)
        bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
        boards = [part.block for part in wall.carcass.parts if part.unit == unit.ref and part.role == "shelf"]
        for bay in bays:
            yield from bay_marks(wall, bay, unit, bays, scale)
            if bay.front in SEEN_INTO:
                for board in boards:
                    box = Box(board.x, board.z, board.dx, board.dz)
                    if bay.box.meets(box):
                        yield rectangle(box, "medium", fill="#fff", layer="shelves", ref=unit.ref)


def _screen(wall: Wall, scale: float) -> Iterator[Mark]:
    screen = wall.sight.screen
    (x, z), arm = screen.centre, 4.0 * scale
    yield rectangle(screen.frame, "wide", fill="#fff", layer="screen", ref="screen")
    yield Hatch(screen.frame.corners, "screen", layer="screen", ref="screen")
    yield rectangle(screen.picture, "thin", layer="screen", ref="screen")
    for box in wall.services.region:
        yield Hatch(box.corners, "allowed", layer="allowed", ref="allowed")
    yield rectangle(screen.plate, "dashed", layer="plate", ref="plate")
    yield Line(((x - arm, z), (x + arm, z)), "chain", layer="screen", ref="screen")
    yield Line(((x, z - arm), (x, z + arm)), "chain", layer="screen", ref="screen")


def _obstacles(wall: Wall) -> Iterator[Mark]:
    """What is on the wall already; hatched where nobody measured it."""
    for thing in wall.face.obstacles:
        box = obstacle_box(thing)
        yield rectangle(
            box,
            "thin" if thing.kind == "skirting" else "medium",
            fill="#fff",
            layer="obstacles",
            ref=thing.ref,
        )
        if _assumed(thing) and thing.kind != "skirting":
            yield Hatch(box.corners, "assumed", layer="assumed", ref=thing.ref)


def _assumed(thing: Obstacle) -> bool:
    return any(not length.taped for length in (thing.x, thing.z, thing.width, thing.height))


_SIGN: dict[str, SymbolKind] = {
    "twin_socket": "twin_socket", "socket": "socket", "switched_spur": "switched_spur", "data": "data", "rf": "rf",
    "conduit": "conduit", "switch": "switch", "led_feed": "led_feed",
}  # fmt: skip


def _services(wall: Wall) -> Iterator[Mark]:
    for point in wall.services.points:
        if point.kind in _SIGN:
            yield Symbol(_SIGN[point.kind], (point.x, point.z), layer="services", ref=point.ref)


def _lights(wall: Wall) -> Iterator[Mark]:
    for run in wall.light.runs:
        if len(run.path) > 1:
            yield Line(run.path, "dashed", layer="lights", ref=run.ref)
