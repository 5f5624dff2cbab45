"""The fixings elevation: every hole that goes into the wall, dimensioned, over the runs and the zones where cables may lie."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.drawing import Dim, Drawing, Leader, Line, Mark, Symbol, rectangle
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.services import drill, existing
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.figures import ROW, bare_wall
from wallwright.sheets.ink import extent_of
from wallwright.sheets.paper import Fields, Sheet, centred
from wallwright.sheets.place import chain, chains, settle
from wallwright.sheets.room import about, layout
from wallwright.sheets.services import zone_marks

if TYPE_CHECKING:
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
    """The sheet, where anything is fixed to the wall."""
    return (sheet(wall),) if wall.structure.fixings else ()


def sheet(wall: Wall) -> Sheet:
    """The fixings elevation on its sheet."""
    on = layout(wall.face.width, wall.face.height)
    return Sheet(
        "fixings",
        "Wall fixings, bare wall",
        "Setting-out",
        (centred(drawing(wall, on.scale), on.view),),
        column(_beside(wall), on.beside),
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


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
    labels += _dimensions(wall)
    marks = (*still, *settle(labels, scale, about(wall.face.box, scale), lines=still))
    return Drawing("fixings", "Wall fixings", scale, marks, extent_of(marks, scale))


def _dimensions(wall: Wall) -> list[Mark]:
    """From the left corner and from FFL to the middle of each hole: the screen's above, the console's below, others between."""
    face = wall.face.box
    groups: dict[str, list[float]] = {"screen": [], "low": [], "high": []}
    up: list[float] = []
    for check in wall.structure.fixings:
        for x, z in check.holes:
            low = z < wall.sight.screen.frame.z
            groups["screen" if check.ref == "screen" else "low" if low else "high"].append(x)
            up.append(z)
    marks: list[Dim] = [*chains([0.0, *groups["low"], face.width], "x", 0.0, -ROW, ref="holes below")]
    if groups["high"]:
        marks += chain([0.0, *groups["high"], face.width], "x", face.height, ROW, "holes above")
    if groups["screen"]:
        marks += chain([0.0, *groups["screen"], face.width], "x", face.height, 2 * ROW, "mount holes")
    return [*marks, *chains([0.0, *up, face.height], "z", 0.0, -ROW, ref="holes up")]


@dataclass(frozen=True, slots=True)
class Judged:
    """The holes of one thing in a zone: how near the nearest planned run comes to an edge [mm], and what is untraced there."""

    ref: str
    near: float
    untraced: tuple[str, ...]


def judged(wall: Wall) -> tuple[Judged, ...]:
    """Of everything fixed with a hole in a zone where a cable may lie."""
    bands = existing.live_bands(wall.job.survey.obstacles, wall.face.height)
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


def _beside(wall: Wall) -> list[Block]:
    legend = Legend(
        (
            ("sign:anchor", "middle of a hole"),
            ("hatch:no_drill", "a cable may lie here: do not drill, but see the notes"),
            ("pen:dashed", "planned conduit or cable"),
            ("pen:phantom", "screen and units to come"),
        )
    )
    notes = (
        "x from the left corner, z from FFL, to the MIDDLE of each hole. Set out from the datum, never hole to hole.",
        *zone_notes(wall),
    )
    return [fixing_table(wall), legend, Notes("Notes", notes)]
