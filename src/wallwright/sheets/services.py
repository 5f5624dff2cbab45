"""The services elevation: the bare wall with boxes, runs and feeds, where outlets may sit and where nobody may drill."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    Dim,
    Drawing,
    Hatch,
    Leader,
    Line,
    Mark,
    Symbol,
    SymbolKind,
    Text,
    rectangle,
)
from wallwright.core.shape import Box, Point2, cut_out
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.services.existing import ACCESSORIES
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.figures import DATUM, ROW, bare_wall
from wallwright.sheets.ink import extent_of
from wallwright.sheets.paper import Fields, Sheet, raised
from wallwright.sheets.place import chain, chains, settle
from wallwright.sheets.room import about, layout
from wallwright.sheets.words import obstacle_words, point_words

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.survey import Obstacle
    from wallwright.services.record import Run, ServicePoint

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
DRAW_WIDTH = 60.0  # a no-drill zone that is narrower is drawn this wide at least [mm]


def drawing(wall: Wall, scale: float) -> Drawing:
    """The services elevation at 1:`scale`: no furniture shading, outlines of what will stand there in thin dashes."""
    still = (
        *zone_marks(wall),
        *_regions(wall),
        *bare_wall(wall, scale),
        *_outlines(wall),
        *_obstacles(wall),
        *_runs(wall),
        *_comes_in(wall, scale),
        *_boxes(wall),
    )
    labels = (
        *_signs(wall),
        *_in_labels(wall, scale),
        *_run_labels(wall, scale),
        *_outline_labels(wall, scale),
        *_dimensions(wall),
    )
    boxes = [point.box for point in wall.services.points]
    marks = (*still, *settle(labels, scale, about(wall.face.box, scale), boxes, lines=still))
    return Drawing("services", "Services elevation", scale, marks, extent_of(marks, scale))


def sheet(wall: Wall) -> Sheet:
    """The services elevation on its sheet, with the point schedule."""
    on = layout(wall.face.width, wall.face.height)
    view, rooms = raised(drawing(wall, on.scale), on.view, on.beside)
    return Sheet(
        "services",
        "Services elevation, bare wall",
        "Electrical",
        (view,),
        column(_beside(wall), rooms),
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


_CAUTIONS = (
    "Design aid: to be checked, sized, installed and tested by the locally licensed electrician, to the local code.",
    "Isolate, lock off and prove dead. Detect cables and pipes before any hole. Shuttered outlets where children reach.",
    "Chasing: dust extraction and a mask; never chase beams, columns, lintels. Photograph runs with a tape before closing.",
)


def zone_marks(wall: Wall) -> list[Mark]:
    """Where a drill may meet a cable."""
    face = wall.face.box
    seen: tuple[Box, ...] = ()
    marks: list[Mark] = []
    for zone in wall.services.zones:
        wide = zone.grown(0)
        if wide.width < DRAW_WIDTH and wide.height > wide.width:
            wide = Box(wide.centre[0] - DRAW_WIDTH / 2, wide.z, DRAW_WIDTH, wide.height)
        elif wide.height < DRAW_WIDTH and wide.width > wide.height:
            wide = Box(wide.x, wide.centre[1] - DRAW_WIDTH / 2, wide.width, DRAW_WIDTH)
        inside = wide.shared(face)
        if inside is None:
            continue
        pieces: tuple[Box, ...] = (inside,)
        for other in seen:  # zones cross: hatch each place once
            pieces = cut_out(pieces, other)
        marks += [Hatch(piece.corners, "no_drill", layer="zones", ref="no_drill") for piece in pieces]
        seen = (*seen, *pieces)
    return marks


def _regions(wall: Wall) -> list[Mark]:
    """Where an outlet's box centre may sit behind the screen."""
    marks: list[Mark] = []
    for box in wall.services.region:
        marks.append(Hatch(box.corners, "allowed", layer="zones", ref="allowed"))
        marks.append(rectangle(box, "thin", layer="zones", ref="allowed"))
    return marks


def _outlines(wall: Wall) -> list[Mark]:
    """Screen, mount plate, and the units to come, as outlines only: their fixings have a sheet of their own."""
    screen = wall.sight.screen
    marks: list[Mark] = [
        Line(unit.box.corners, "phantom", closed=True, layer="outlines", ref=unit.ref)
        for unit in wall.setout.units
    ]
    marks.append(Line(screen.frame.corners, "phantom", closed=True, layer="screen", ref="screen"))
    marks.append(rectangle(screen.plate, "medium", layer="screen", ref="plate"))
    return marks


def _obstacles(wall: Wall) -> list[Mark]:
    return [
        rectangle(obstacle_box(thing), "thin", layer="obstacles", ref=thing.ref)
        for thing in wall.face.obstacles
        if thing.kind != "skirting"
    ]


def _runs(wall: Wall) -> list[Mark]:
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


def _comes_in(wall: Wall, scale: float) -> list[Mark]:
    """A filled arrowhead where supply or signals come in, pointing along the first run."""
    marks: list[Mark] = []
    w, h = 1.4 * scale, 3.0 * scale
    for name, (x, z) in incoming(wall):
        tip = -h if z > wall.face.height / 2 else h
        marks.append(
            Line(((x - w, z), (x + w, z), (x, z + tip)), "medium", True, "#000", layer="runs", ref=name)
        )
    return marks


def _in_labels(wall: Wall, scale: float) -> list[Mark]:
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


def _boxes(wall: Wall) -> list[Mark]:
    return [
        rectangle(point.box, "wide", fill="#fff", layer="points", ref=point.ref)
        for point in wall.services.points
    ]


def _signs(wall: Wall) -> list[Mark]:
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


def _run_labels(wall: Wall, scale: float) -> list[Mark]:
    """Each run's reference and bore, led from the middle of its longest leg."""
    marks: list[Mark] = []
    for run in wall.services.runs:
        at = _middle(run)
        if at is not None:
            bore = f" Ø{run.bore:.0f}" if run.bore else ""
            marks.append(
                Leader(
                    (at, (at[0] + 7 * scale, at[1] + 4 * scale)),
                    f"{run.ref}{bore}",
                    layer="runs",
                    ref=run.ref,
                )
            )
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


def _middle(run: Run) -> tuple[float, float] | None:
    legs = list(zip(run.path, run.path[1:], strict=False))
    if not legs:
        return None
    (x0, z0), (x1, z1) = max(legs, key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]))
    return x0 * 0.6 + x1 * 0.4, z0 * 0.6 + z1 * 0.4


def _outline_labels(wall: Wall, scale: float) -> list[Mark]:
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
                    f"{thing.ref} {obstacle_words(thing.kind)}{_fate(thing, wall)}",
                    layer="text",
                    ref=thing.ref,
                )
            )
    return marks


def _dimensions(wall: Wall) -> list[Mark]:
    """From the left corner and from FFL to box centres: one chain for the screen's points, one for the cabinet's."""
    face = wall.face.box
    high, low = _split(wall)
    marks: list[Dim] = []
    there = [obstacle_box(thing).centre for thing in wall.face.obstacles if thing.kind in ACCESSORIES]
    come = [at for _, at in incoming(wall)]
    edge = wall.sight.screen.frame.z
    over, under = [x for x, z in (*there, *come) if z >= edge], [x for x, z in (*there, *come) if z < edge]
    inside = [x for x in over if 0 < x < face.width], [x for x in under if 0 < x < face.width]
    marks += chain([0.0, *(p.x for p in high), *inside[0], face.width], "x", face.height, ROW, "points above")
    marks += chains([0.0, *(p.x for p in low), *inside[1], face.width], "x", 0.0, -ROW, ref="points below")
    marks += chains([0.0, *(p.z for p in wall.services.points), face.height], "z", 0.0, -ROW, ref="points up")
    plate = wall.sight.screen.plate
    right = [plate.z, plate.centre[1], plate.top, *(z for _, z in (*there, *come) if 0 < z < face.height)]
    marks += chain([0.0, *right, face.height], "z", face.right, ROW, "plate up")
    return list(marks)


def _split(wall: Wall) -> tuple[list[ServicePoint], list[ServicePoint]]:
    """Points from the screen's lower edge up, and those below it: their chains stand above and below the wall."""
    edge = wall.sight.screen.frame.z
    points = wall.services.points
    return [p for p in points if p.z >= edge], [p for p in points if p.z < edge]


def _beside(wall: Wall) -> list[Block]:
    kinds: list[SymbolKind] = list(
        dict.fromkeys(SIGN.get(point.kind, "socket") for point in wall.services.points)
    )
    rows = [(f"sign:{kind}", SIGN_WORDS[kind]) for kind in kinds]
    rows += [
        ("hatch:allowed", "an outlet's box centre may sit here"),
        ("hatch:no_drill", "a cable may lie here: do not drill"),
        ("pen:dashed", "conduit or cable"),
        ("pen:chain", f"LED strip; datum FFL {DATUM:+.0f}"),
        ("pen:phantom", "screen and units to come"),
    ]
    return [Legend(tuple(rows)), Notes("Notes", _notes(wall)), point_table(wall)]


_NOTES = (
    "Heights are from FFL to the CENTRE of the box, x from the left corner to the centre of the box.",
    "Keep the draw wire in every conduit; no elbows, swept bends only.",
)
FATE = {"keep": ", stays", "move": ", to be moved", "remove": ", comes out", "new": ", new"}
_FATES = {
    "keep": "stays where it is and feeds nothing of this wall",
    "move": "is moved: agree its new place before first fix",
    "remove": "comes out: blank it off or make good",
    "new": "comes new, by others",
}
_HIDDEN = "Only hidden boxes tell of {refs}: lay {them} {depth:.0f} mm deep or under earthed steel, with 30 mA protection."
_SURFACE = (
    "Structural concrete is not chased: {refs} {lie} on the surface in trunking where no panel covers {them}."
)


def _notes(wall: Wall) -> tuple[str, ...]:
    """The notes of the sheet, with the runs that need cover, and those on the surface."""
    out: list[str] = [*_NOTES]
    depth = wall.limits.value("services.zone_depth")
    for said, refs in (
        (_HIDDEN, [run.ref for run in wall.services.runs if run.protect]),
        (_SURFACE, [run.ref for run in wall.services.runs if run.lies == "surface"]),
    ):
        if refs:
            many = len(refs) > 1
            them, lie = ("them", "lie") if many else ("it", "lies")
            out.append(said.format(refs=", ".join(refs), them=them, lie=lie, depth=depth))
    out += _existing_notes(wall)
    if wall.structure.fixings:
        out.append(
            "Dots: do not drill. Fixings that stand in them are on the sheet Wall fixings, with what must be proved first."
        )
    return tuple(out)


def _taken_over(thing: Obstacle, wall: Wall) -> list[str]:
    """The points that stand where the outlet is."""
    return [p.ref for p in wall.services.points if p.box.meets(obstacle_box(thing))]


def _fate(thing: Obstacle, wall: Wall) -> str:
    """What becomes of an outlet that is there, as said beside it."""
    if thing.kind not in ACCESSORIES:
        return ""
    return ", taken over" if thing.state == "keep" and _taken_over(thing, wall) else FATE[thing.state]


def _existing_notes(wall: Wall) -> list[str]:
    """What becomes of each outlet that is there already, and what that means for whoever drills."""
    out: list[str] = []
    for thing in wall.job.survey.obstacles:
        if thing.kind in ACCESSORIES:
            x, z = obstacle_box(thing).centre
            fate = _FATES[thing.state]
            used = _taken_over(thing, wall)
            if used and thing.state == "keep":
                fate = f"is taken over by {', '.join(used)}"
            cable = (
                "its cable is traced and dead"
                if thing.dead
                else "its cable is live and taken to run straight up and down until it is traced"
            )
            out.append(
                f"{thing.ref} {obstacle_words(thing.kind)} at x {show_mm(x)}, z {show_mm(z)}: {fate}; {cable}."
            )
    return out


def point_table(wall: Wall) -> Table:
    """The points, short enough for the sheet; reasons and loads stand in the schedules."""
    cols = (
        Column("Ref"),
        Column("Kind"),
        Column("x", "", 0, "right"),
        Column("z", "", 0, "right"),
        Column("Box"),
        Column("Circ."),
        Column("Feeds"),
    )
    rows = tuple(
        (
            p.ref,
            point_words(p.kind),
            p.x,
            p.z,
            f"{show_mm(p.box.width)}×{show_mm(p.box.height)}×{show_mm(p.box_depth)}",
            p.circuit or "-",
            ", ".join(p.serves),
        )
        for p in wall.services.points
    )
    return Table("points_on_sheet", "Points", cols, rows)
