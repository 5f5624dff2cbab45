"""For handover: where every buried run lies, with its measures, and the map of where nobody drills, for whoever comes next.

Both are drawn on the finished wall: screen, units and panels in outline, so that a hand finds its place by what it sees.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.drawing import Dim, Drawing, Hatch, Leader, Line, Mark, Pattern, Text
from wallwright.core.shape import Box, Outline, Point2, around, cut_out
from wallwright.core.table import Column, Table
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.chains import chain
from wallwright.sheets.figures import ROW, bare_wall
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.long_table import beside_and_after, listed, parted, stands
from wallwright.sheets.paper import Fields, Sheet, View, raised
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout
from wallwright.sheets.services_marks import (
    CROWDED,
    box_marks,
    come_in_marks,
    in_labels,
    obstacle_marks,
    run_labels,
)
from wallwright.tables.no_drill import found
from wallwright.tables.points import said
from wallwright.tables.runs import LIES

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import Run

_CAUTIONS = (
    "As designed: the electrician marks what was laid otherwise, before the wall is closed, and signs. Then it is as built.",
    "Before any hole: scan both ways with a detector, isolate, prove dead. A map never replaces the detector.",
    "Design aid: to be checked, sized, installed and tested by the locally licensed electrician, to the local code.",
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The picture of the hidden services and the no-drill map; nothing where nothing is buried."""
    if not wall.services.runs and not wall.services.points:
        return ()
    return *_hidden(wall), *_map(wall)


def hidden(wall: Wall, scale: float) -> Drawing:
    """Every run with its band, its legs measured from the left corner and from FFL."""
    still = (
        *_bands(wall, ("run", "existing")),
        *bare_wall(wall, scale),
        *_finished(wall),
        *obstacle_marks(wall),
        *_run_lines(wall),
        *come_in_marks(wall, scale),
        *box_marks(wall),
    )
    labels = (*run_labels(wall, scale), *in_labels(wall, scale), *_names(wall, scale), *_measures(wall))
    return _settled("hidden_services", "Hidden services", still, labels, wall, scale)


def drill_map(wall: Wall, scale: float) -> Drawing:
    """Where nobody drills, and nothing else."""
    still = (
        *_bands(wall, ("run", "box", "existing"), ("zone",)),
        *bare_wall(wall, scale),
        *_finished(wall),
    )
    x, z = _edges(wall)
    face = wall.face.box
    labels: list[Mark] = [*_names(wall, scale), *_tags(wall, scale)]
    labels += chain([0.0, *x, face.width], "x", 0.0, -ROW, "bands across")
    labels += chain([0.0, *z, face.height], "z", 0.0, -ROW, "bands up")
    return _settled("no_drill_map", "No-drill map", still, tuple(labels), wall, scale)


def _settled(
    name: str, title: str, still: tuple[Mark, ...], labels: tuple[Mark, ...], wall: Wall, scale: float
) -> Drawing:
    boxes = [point.box for point in wall.services.points]
    settled = settle(labels, scale, about(wall.face.box, scale), boxes, lines=still, patience=CROWDED)
    marks = grounded(still, settled, scale)
    return Drawing(name, title, scale, marks, extent_of(marks, scale))


def _hidden(wall: Wall) -> tuple[Sheet, ...]:
    on = layout(wall.face.width, wall.face.height, alone=True)
    view, rooms = raised(hidden(wall, on.scale), on.view, on.beside)
    notes = Notes("Notes", _notes(wall))
    return _listed(
        wall, ("hidden_services", "Hidden services, for handover"), view, rooms, [_legend("no_drill"), notes], run_table(wall)
    )  # fmt: skip


def _map(wall: Wall) -> tuple[Sheet, ...]:
    on = layout(wall.face.width, wall.face.height, alone=True)
    view, rooms = raised(drill_map(wall, on.scale), on.view, on.beside)
    blocks: list[Block] = [_legend("map"), Notes("Notes", _MAP_NOTES)]
    return _listed(wall, ("no_drill_map", "No-drill map"), view, rooms, blocks, band_table(wall))


def _listed(  # noqa: PLR0913
    wall: Wall, name: tuple[str, str], view: View, rooms: tuple[Box, ...], blocks: list[Block], table: Table
) -> tuple[Sheet, ...]:  # fmt: skip
    """The drawing with its table beside it; on sheets of its own where not all of its rows go in: who opens the wall needs each."""
    first = Sheet(*name, "Electrical", (view,), (), Fields.of(wall.job), _CAUTIONS, job_title=wall.job.title)
    told = column([*blocks, Notes(table.title, ("Each is on the sheet that follows.",))], rooms)
    if parted([*blocks, table], rooms) or not stands(told, rooms):
        return beside_and_after(first, [*blocks, table], rooms)
    return replace(first, marks=told), *listed(wall, name, "Electrical", _CAUTIONS, table)


_MAP_NOTES = (
    "Measures: x from the left corner of the wall, z from finished floor level, to the edges of each band.",
    "The bands hold for holes of any depth. Between them a cable may still lie that nobody recorded: scan.",
    "A box is moved or a run is changed: draw a new map, take the old one away.",
)


def _notes(wall: Wall) -> tuple[str, ...]:
    warn = wall.limits.value("services.drill_warn")
    out = [
        f"Dots: {warn:.0f} mm on either side of each conduit. No screw, nail or plug there, however short.",
        "x from the left corner of the wall, z from finished floor level, to the middle of the conduit.",
        "Stick a copy inside the cabinet; keep one with the household's papers, with the photographs of the open wall.",
    ]
    let_in = [run for run in wall.services.runs if run.protect and run.in_wall > 0]
    steel = [run.ref for run in let_in if not run.steel]
    thin = [run.ref for run in let_in if run.steel]
    behind = [run.ref for run in wall.services.runs if run.protect and not run.in_wall > 0]
    if behind:
        out.append(
            f"{', '.join(behind)}: behind a panel, told of by no accessory in view; under earthed steel."
        )
    if thin:
        out.append(
            f"{', '.join(thin)}: no accessory in view tells of them; under earthed steel, the wall bears no deeper chase."
        )
    if steel:
        depth = wall.limits.value("services.zone_depth")
        out.append(
            f"{', '.join(steel)}: no accessory in view tells of them; {depth:.0f} mm deep or under earthed steel."
        )
    return tuple(out)


def _legend(which: str) -> Legend:
    rows = [("hatch:no_drill", "do not drill: a conduit, a box or an old cable lies here")]
    if which == "map":
        rows.append(("hatch:hidden", "do not drill without a scan: a cable may be expected here"))
    else:
        rows.append(("pen:dashed", "conduit or cable, its middle"))
    return Legend((*rows, ("pen:phantom", "screen, units, panels: what is seen")))


def _bands(wall: Wall, solid: tuple[str, ...], weak: tuple[str, ...] = ()) -> list[Mark]:
    """The bands of those sorts, each place hatched once: dots for what lies there, dashes where a cable may be expected."""
    taken: tuple[Box, ...] = ()
    marks: list[Mark] = []
    patterns: tuple[tuple[tuple[str, ...], Pattern], ...] = ((solid, "no_drill"), (weak, "hidden"))
    for sorts, pattern in patterns:
        for item in found(wall):
            if item.sort not in sorts:
                continue
            pieces: tuple[Box, ...] = (around(item.outline),)
            for other in taken:
                pieces = cut_out(pieces, other)
            marks += [
                Hatch(piece.corners, pattern, layer="zones", ref=item.ref or "zone") for piece in pieces
            ]
            taken = (*taken, *pieces)
    return marks


def _finished(wall: Wall) -> list[Mark]:
    """What is seen of the finished wall: screen, units, panels in outline."""
    marks: list[Mark] = [
        Line(unit.box.corners, "phantom", closed=True, layer="outlines", ref=unit.ref)
        for unit in wall.setout.units
    ]
    marks += [
        Line(zone.box.corners, "phantom", closed=True, layer="panels", ref=zone.ref)
        for zone in wall.setout.zones
    ]
    return [
        *marks,
        Line(wall.sight.screen.frame.corners, "phantom", closed=True, layer="screen", ref="screen"),
    ]


def _run_lines(wall: Wall) -> list[Mark]:
    return [
        Line(run.path, "dashed", layer="runs", ref=run.ref) for run in wall.services.runs if len(run.path) > 1
    ]


def _names(wall: Wall, scale: float) -> list[Mark]:
    """The names of what is seen."""
    frame = wall.sight.screen.frame
    marks: list[Mark] = [
        Text((frame.x + 2 * scale, frame.top - 4.5 * scale), "screen", layer="text", ref="screen")
    ]
    for unit in wall.setout.units:
        if unit.box.height / scale > 6:
            at = unit.box.x + 2 * scale, unit.box.top - 4.5 * scale
            marks.append(Text(at, unit.ref, bold=True, layer="text", ref=unit.ref))
    return marks


def _legs(run: Run) -> list[tuple[Point2, Point2]]:
    return [(a, b) for a, b in pairwise(run.path) if abs(a[0] - b[0]) + abs(a[1] - b[1]) > 1.0]


def _measures(wall: Wall) -> list[Dim]:
    """X of every upright leg along the foot, z of every level leg up the left side, and the outlets' above and at the right."""
    face = wall.face.box
    upright = {round(a[0], 1) for run in wall.services.runs for a, b in _legs(run) if abs(a[0] - b[0]) < 1.0}
    level = {round(a[1], 1) for run in wall.services.runs for a, b in _legs(run) if abs(a[1] - b[1]) < 1.0}
    x = [at for at in sorted(upright) if 0 < at < face.width]
    z = [at for at in sorted(level) if 0 < at < face.height]
    points = wall.services.points
    return [
        *chain([0.0, *x, face.width], "x", 0.0, -ROW, "runs across"),
        *chain([0.0, *z, face.height], "z", 0.0, -ROW, "runs up"),
        *chain([0.0, *(p.x for p in points), face.width], "x", face.height, ROW, "boxes across"),
        *chain([0.0, *(p.z for p in points), face.height], "z", face.right, ROW, "boxes up"),
    ]


NARROW, SHORT = 60.0, 300.0  # bands so near one another are one; shorter ones stand in the table alone [mm]


def _edges(wall: Wall) -> tuple[list[float], list[float]]:
    """The edges of the upright bands across, and of the level ones up, bands near one another taken as one."""
    boxes = [around(item.outline) for item in found(wall) if item.sort in ("run", "existing")]
    upright = [(box.x, box.right) for box in boxes if box.height >= max(box.width, SHORT)]
    level = [(box.z, box.top) for box in boxes if box.width >= max(box.height, SHORT)]
    return _joined(upright), _joined(level)


def _joined(spans: list[tuple[float, float]]) -> list[float]:
    """The ends of the spans, those that meet or nearly meet joined into one."""
    out: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if out and low - out[-1][1] < NARROW:
            out[-1] = out[-1][0], max(out[-1][1], high)
        else:
            out.append((low, high))
    return [end for span in out for end in span]


def _tags(wall: Wall, scale: float) -> list[Mark]:
    """One label for each thing that makes a band, at the longest of its bands."""
    best: dict[str, Outline] = {}
    for item in found(wall):
        if item.sort in ("run", "existing"):
            box, old = around(item.outline), best.get(item.ref)
            if old is None or max(box.width, box.height) > max(around(old).width, around(old).height):
                best[item.ref] = item.outline
    marks: list[Mark] = []
    for ref, outline in best.items():
        x, z = around(outline).centre
        marks.append(Leader(((x, z), (x + 6 * scale, z + 4 * scale)), ref, layer="text", ref=ref))
    return marks


def run_table(wall: Wall) -> Table:
    """Each run with its legs in words: where it lies, measured."""
    cols = (Column("Ref"), Column("What"), Column("From"), Column("To"), Column("Legs"), Column("Lies in"))
    rows = tuple(
        (run.ref, said(run.kind), run.start, run.end, _legs_words(run), LIES[run.lies])
        for run in wall.services.runs
    )
    return Table("hidden_runs", "Runs", cols, rows)


def _legs_words(run: Run) -> str:
    words = [
        f"x {a[0]:.0f}, z {min(a[1], b[1]):.0f} to {max(a[1], b[1]):.0f}"
        if abs(a[0] - b[0]) < 1.0
        else f"z {a[1]:.0f}, x {min(a[0], b[0]):.0f} to {max(a[0], b[0]):.0f}"
        for a, b in _legs(run)
    ]
    return "; ".join(words)


def band_table(wall: Wall) -> Table:
    """Each thing with its bands, in words; the schedule has each band in a row of its own."""
    cols = (Column("Ref"), Column("What"), Column("Bands: x from-to, z from-to"))
    kinds: dict[str, str] = {}
    said_of: dict[str, list[str]] = {}
    for item in found(wall):
        if item.sort == "zone":
            continue
        box = around(item.outline)
        kinds.setdefault(item.ref, {"run": "conduit", "box": "box"}.get(item.sort, "old cable or pipe"))
        words = f"{box.x:.0f}-{box.right:.0f}, {box.z:.0f}-{box.top:.0f}"
        said_of.setdefault(item.ref, []).append(words)
    rows = tuple((ref, kinds[ref], "; ".join(words)) for ref, words in said_of.items())
    return Table("no_drill_bands", "Bands", cols, rows)
