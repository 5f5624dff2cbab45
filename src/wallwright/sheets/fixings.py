"""The fixings elevation: every hole that goes into the wall, dimensioned, over the runs and the zones where cables may lie."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing, Leader, Line, Mark, Symbol, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.services import drill, existing
from wallwright.sheets.beside import Block, Legend, Notes, column, height_of
from wallwright.sheets.chains import joined
from wallwright.sheets.figures import bare_wall
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of, text_box
from wallwright.sheets.long_table import beside_and_after
from wallwright.sheets.paper import Fields, Sheet, centred, raised
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout
from wallwright.sheets.running import running
from wallwright.sheets.services import zone_marks

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall
    from wallwright.structure.record import FixingCheck

_CAUTIONS = (
    "Detect cables and pipes both ways, isolate and prove dead before any hole. Unknown wall: stop and ask.",
    "Prove the fixings by a pull test on this wall. Drilling: eye protection, extraction and a mask.",
)


def hole_words(check: FixingCheck) -> str:
    """Diameter and depth of its holes; why there are none where no fixing could be chosen."""
    if check.hole_diameter > 0:
        return f"Ø{check.hole_diameter:g} × {check.hole_depth:g}"
    return f"fixing not chosen: {'wall unknown' if check.anchor == 'unknown' else check.anchor}"


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """What is fixed to the wall, where anything is; and the battens with their screws, where there are any."""
    battens = any(part.role == "batten" for part in wall.carcass.parts)
    return (
        *(_fixing_sheets(wall) if wall.structure.fixings else ()),
        *((batten_sheet(wall),) if battens else ()),
    )


def _fixing_sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The fixings elevation, its lists beside it or on the next sheet."""
    on = layout(wall.face.width, wall.face.height, alone=True)
    made, blocks = drawing(wall, on.scale), _beside(wall)
    view, rooms = centred(made, on.view), on.beside
    if sum(height_of(block, rooms[0].width) + 3.0 for block in blocks) > rooms[0].height:
        view, rooms = raised(made, on.view, on.beside)  # many backers: the rest of the words below the view
    first = Sheet(
        "fixings", "Wall fixings, bare wall", "Setting-out", (view,), (), Fields.of(wall.job), _CAUTIONS,
        job_title=wall.job.title,
    )  # fmt: skip
    return beside_and_after(first, blocks, rooms)


def drawing(wall: Wall, scale: float) -> Drawing:
    """The bare wall at 1:`scale` with every hole, the boxes and runs it must miss, and the outlines of what it holds."""
    screen = wall.sight.screen
    still: list[Mark] = [*zone_marks(wall), *bare_wall(wall, scale)]
    still += [
        Line(unit.box.corners, "phantom", closed=True, layer="outlines", ref=unit.ref)
        for unit in wall.setout.units
    ]
    still += [
        Line(screen.frame.corners, "phantom", closed=True, layer="screen", ref="screen"),
        rectangle(screen.plate, "medium", layer="screen", ref="plate"),
    ]
    still += [
        rectangle(obstacle_box(thing), "thin", layer="obstacles", ref=thing.ref)
        for thing in wall.face.obstacles
        if thing.kind != "skirting"
    ]
    still += [
        Line(run.path, "dashed", layer="runs", ref=run.ref) for run in wall.services.runs if len(run.path) > 1
    ]
    still += [
        rectangle(point.box, "thin", fill="#fff", layer="points", ref=point.ref)
        for point in wall.services.points
    ]
    labels: list[Mark] = [
        Symbol("anchor", hole, layer="fixings", ref=check.ref)
        for check in wall.structure.fixings
        for hole in check.holes
    ]
    for check in wall.structure.fixings:
        if check.holes:
            at = max(check.holes)
            end = (at[0] + 5 * scale, at[1] + 5 * scale)
            labels.append(Leader((at, end), f"{check.ref}: {hole_words(check)}", layer="text", ref=check.ref))
    grounds, names = _grounds(wall)
    still += grounds
    labels = [*_dimensions(wall, scale), *labels, *names]
    marks = grounded(still, settle(labels, scale, about(wall.face.box, scale), lines=still), scale)
    return Drawing("fixings", "Wall fixings", scale, marks, extent_of(marks, scale))


def _dimensions(wall: Wall, scale: float) -> list[Mark]:
    """Running from the left corner and from FFL to the middle of each hole: the mount's and what is high above, what is low below."""
    face, frame = wall.face.box, wall.sight.screen.frame
    above: list[float] = []
    below: list[float] = []
    up: list[float] = []
    for check in wall.structure.fixings:
        for x, z in check.holes:
            (below if z < frame.z else above).append(x)
            up.append(z)
    return [
        *running(_run(below, face.width), "x", 0.0, -6.0, scale, ref="holes below"),
        *(running(_run(above, face.width), "x", face.height, 6.0, scale, ref="holes above") if above else ()),
        *running(_run(up, face.height), "z", 0.0, -6.0, scale, ref="holes up"),
    ]


def _run(stops: list[float], end: float) -> list[tuple[float, float]]:
    """The datum, every stop once, and the far end, each with its own figure."""
    return [(at, at) for at in joined([0.0, *stops, end])]


LET_IN = ("backer",)
"""Boards that fixings go into: backers in a framed wall, packing behind mounts, cleats and shelves."""


def _grounds(wall: Wall) -> tuple[list[Mark], list[Mark]]:
    """Backers and packing with their edges and names, and the studs that noggings span, as they were found."""
    still: list[Mark] = []
    labels: list[Mark] = []
    for part in wall.carcass.parts:
        if part.role in LET_IN:
            still.append(rectangle(part.block.face, "long", layer="backers", ref=part.id))
    seen: set[tuple[float, float]] = set()
    for part in wall.carcass.parts:
        face = part.block.face
        if part.role in LET_IN and (round(face.x), round(face.z)) not in seen:
            seen.add((round(face.x), round(face.z)))
            at = (face.x + face.width * 0.15, face.z)
            labels.append(Leader((at, (at[0] - 30.0, at[1] - 90.0)), part.id, layer="text", ref=part.id))
    surveyed = wall.job.survey.wall
    for i, there in enumerate(surveyed.backers, 1):
        box = Box(there.x.mm, there.z.mm, there.width.mm, there.height.mm)
        still.append(rectangle(box, "long", layer="backers", ref=f"backer {i}"))
        at = (box.x + 20.0, box.z)
        labels.append(
            Leader((at, (at[0] - 30.0, at[1] - 90.0)), f"backer {i}, there", layer="text", ref=f"backer {i}")
        )
    for stud in surveyed.studs:
        still.append(Line(((stud.mm, 0.0), (stud.mm, wall.face.height)), "chain", layer="studs", ref="stud"))
    return still, labels


def backer_table(wall: Wall) -> Table:
    """Each backer and packing: where it lies and of what it is."""
    boxes: dict[tuple[float, ...], list[Part]] = {}
    for part in wall.carcass.parts:
        if part.role in LET_IN:
            f = part.block.face
            boxes.setdefault((f.x, f.z, f.width, f.height), []).append(part)
    rows = tuple(
        (
            own[0].id if len(own) == 1 else f"{own[0].id} … {own[-1].id.rpartition('-')[2]}",
            own[0].name,
            *(show_mm(v) for v in (x, z, wide, high)),
            " + ".join(f"{part.thickness:g}" for part in own),
        )
        for (x, z, wide, high), own in boxes.items()
    )
    cols = (
        Column("Ref"), Column("What"), Column("x", "", 0, "right"), Column("z", "", 0, "right"),
        Column("Wide", "", 0, "right"), Column("High", "", 0, "right"), Column("Thick", "", 0, "right"),
    )  # fmt: skip
    note = (
        "x of the left edge from the left corner, z of the lower edge from FFL. Layers from the wall outwards; the rest is shimmed.",
    )
    return Table("backers_on_sheet", "Backers and packing", cols, rows, note if rows else ())


def batten_sheet(wall: Wall) -> Sheet:
    """The battens with every screw, and packing let in between them."""
    on = layout(wall.face.width, wall.face.height, (46.0, 46.0))
    return Sheet(
        "battens",
        "Battens and their screws, bare wall",
        "Setting-out",
        (centred(batten_drawing(wall, on.scale), on.view),),
        column(_batten_notes(wall), on.beside),
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


def batten_drawing(wall: Wall, scale: float) -> Drawing:
    """Each batten with its reference and screws, running sizes from the left corner and FFL; what is let in; live zones dotted."""
    face = wall.face.box
    battens = [part for part in wall.carcass.parts if part.role == "batten"]
    grounds, labels = _grounds(wall)
    still: list[Mark] = [*zone_marks(wall), *bare_wall(wall, scale), *grounds]
    still += [
        rectangle(part.block.face, "medium", fill="#fff", layer="panels", ref=part.id) for part in battens
    ]
    for row in wall.structure.batten_rows:
        for x, z in row.holes:
            a = 0.9 * scale
            still += [
                Line(((x - a, z), (x + a, z)), "medium", layer="fixings", ref=row.what),
                Line(((x, z - a), (x, z + a)), "medium", layer="fixings", ref=row.what),
            ]
    xs = [x for row in wall.structure.batten_rows for x, _ in row.holes]
    zs = [part.block.face.centre[1] for part in battens if part.block.dx >= part.block.dz]
    ends = [e for part in battens for e in (part.block.x, part.block.x + part.block.dx)]
    still += running(_run(xs, face.width), "x", 0.0, -6.0, scale, ref="screws")
    still += running(_run(ends, face.width), "x", face.height, 6.0, scale, ref="batten ends")
    still += running(_run(zs, face.height), "z", 0.0, -6.0, scale, ref="batten middles")
    for part in battens:
        box = part.block.face
        at = (box.x + box.width * 0.42, box.top)
        labels.append(
            Leader((at, (at[0] + 3 * scale, at[1] + 4 * scale)), part.id, layer="text", ref=part.id)
        )
    written = [text_box(mark, scale) for mark in still if isinstance(mark, Text)]
    marks = grounded(still, settle(labels, scale, about(face, scale), written, still), scale)
    return Drawing("battens", "Battens", scale, marks, extent_of(marks, scale))


def _batten_notes(wall: Wall) -> list[Block]:
    kinds = dict.fromkeys(
        (row.anchor, row.hole_diameter, row.hole_depth) for row in wall.structure.batten_rows
    )
    notes = [
        "Below: screws, x from the left corner. Above: ends of the battens. Left: middles of the battens above FFL.",
        *(f"Screw: {anchor}; hole Ø{wide:g} × {deep:g}." for anchor, wide, deep in kinds),
        f"{sum(len(row.holes) for row in wall.structure.batten_rows)} screws in all. Packing behind each: pack-out map.",
    ]
    if not wall.structure.batten_rows:
        notes.append(
            "NO SCREWS DRAWN: the wall, or its studs, are not known. Do not fix anything; tell the designer."
        )
    legend = Legend(
        (
            ("pen:medium", "batten, and a cross at each screw"), ("pen:long", "backer or packing"),
            ("pen:chain", "datum line; stud"), ("hatch:no_drill", "a cable may lie here: do not drill"), *_only_hidden(wall),
        )
    )  # fmt: skip
    backers = backer_table(wall)
    return [Notes("Notes", tuple(notes)), *([backers] if backers.rows else []), legend]


@dataclass(frozen=True, slots=True)
class Judged:
    """The holes of one thing in a zone: how near the nearest planned run comes to an edge [mm], and what is untraced there."""

    ref: str
    near: float
    untraced: tuple[str, ...]


def judged(wall: Wall) -> tuple[Judged, ...]:
    """Of everything fixed with a hole in a zone where a cable may lie."""
    bands = existing.live_bands(wall.job.survey.obstacles, wall.face.box)
    paths = [(run.path, run.outside_diameter) for run in wall.services.runs if run.path]
    out: list[Judged] = []
    for check in wall.structure.fixings:
        holes = [drill.Hole(x, z, check.hole_diameter, check.hole_depth) for x, z in check.holes]
        inside = [hole for hole in holes if drill.in_zones(hole, wall.services.zones)]
        if inside:
            near = min(
                (drill.edge_distance(hole, *path) for hole in inside for path in paths), default=float("inf")
            )
            untraced = tuple(
                dict.fromkeys(
                    thing.ref for thing, band in bands for hole in inside if drill.in_zones(hole, (band,))
                )
            )
            out.append(Judged(check.ref, near, untraced))
    return tuple(out)


def zone_notes(wall: Wall) -> tuple[str, ...]:
    """What the dots mean for the holes drawn in them: clear of what was planned or traced, or not to be drilled."""
    warn = wall.limits.value("services.drill_warn")
    found = judged(wall)
    clear = [one for one in found if one.near >= warn and not one.untraced]
    bad = [one for one in found if one not in clear]
    out = ["Dots: a cable may lie there. The rule is: do not drill."]
    if clear:
        least = min(one.near for one in clear)
        gap = f"at least {show_mm(least)} mm" if least < 1e6 else "wholly"
        out.append(
            f"Holes of {', '.join(one.ref for one in clear)} stand in dots, {gap} clear of every run as planned. Drill them only "
            "where the runs were laid as drawn (photograph with a tape) and a detector finds nothing; else the rule holds: "
            "stop, tell the designer."
        )
    for one in bad:
        why = (
            f"the cable of {', '.join(one.untraced)} is not traced and dead"
            if one.untraced
            else f"a planned run is {show_mm(max(one.near, 0))} mm away, less than {warn:g}"
        )
        out.append(f"DO NOT DRILL for {one.ref} as drawn: {why}.")
    return tuple(out)


def fixing_table(wall: Wall) -> Table:
    """What is fixed, with what, and where its holes are."""
    cols = (
        Column("For"),
        Column("No", "", 0, "right"),
        Column("Hole", "mm"),
        Column("Fixing"),
        Column("z", "mm"),
    )
    rows = tuple(
        (
            check.ref,
            check.count,
            hole_words(check),
            check.anchor if check.hole_diameter > 0 else "-",
            ", ".join(dict.fromkeys(show_mm(z) for _, z in check.holes)),
        )
        for check in wall.structure.fixings
    )
    return Table("fixings_on_sheet", "Fixings", cols, rows)


def _only_hidden(wall: Wall) -> tuple[tuple[str, str], ...]:
    """The legend's row for places that only a hidden box tells of, where there are any."""
    return (
        (("hatch:hidden", "the same, and only a hidden box tells of it"),)
        if wall.services.hidden_zones
        else ()
    )


def _beside(wall: Wall) -> list[Block]:
    legend = Legend(
        (
            ("sign:anchor", "middle of a hole"),
            ("hatch:no_drill", "a cable may lie here: do not drill, but see the notes"),
            *_only_hidden(wall),
            ("pen:dashed", "planned conduit or cable"),
            ("pen:phantom", "screen and units to come"),
            ("pen:long", "backer or packing that fixings go into"),
            *([("pen:chain", "stud as found; datum line")] if wall.job.survey.wall.studs else []),
        )
    )
    notes = (
        "Running sizes: x from the LEFT corner, z from FFL, to the MIDDLE of each hole; above the wall for what is higher than the "
        "screen's foot, below it for the rest. Never hole to hole.",
        *zone_notes(wall),
    )
    backers = backer_table(wall)
    return [fixing_table(wall), *([backers] if backers.rows else []), legend, Notes("Notes", notes)]
