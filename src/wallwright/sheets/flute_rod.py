"""Setting-out rods of panels: flutes from the middle both ways, and tiles, slabs, panes and fields with their cut sizes.

A running mark never adds up an error: each is measured from one datum, the middle of the field, never from its neighbour.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.carcass import flutes
from wallwright.carcass.cladding import face_pieces
from wallwright.carcass.panel_lines import edge, face_lines
from wallwright.core.drawing import TEXT_LABEL, Drawing, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets import stone
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.chains import chain, chains, joined
from wallwright.sheets.figures import ROW
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.long_table import stands
from wallwright.sheets.paper import SCALES, Fields, Sheet, View, centred
from wallwright.sheets.place import settle
from wallwright.sheets.room import column_right
from wallwright.sheets.running import running
from wallwright.sheets.side_by_side import grouped, on_one_line
from wallwright.sheets.words import count, finish_name

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone
    from wallwright.derive import Wall

NARROW = 150.0  # paper mm for the marks of a fluted field
LAID = ("tile", "slab", "mirror", "glass", "framed", "moulding")
_CAUTIONS = (
    "Mark every rib from the datum with one tape or rod; never step them off one from the other.",
    "Routing, cutting boards, tiles and stone: extraction or water, mask, eye and ear protection.",
)
_FLUTE_LEGEND = Legend(
    (
        ("pen:thin", "edge of a groove; where grooves are drawn close, its middle"),
        ("pen:wide", "edge of the field, joint of boards, outline of a flat patch"),
        ("pen:chain", "datum: the middle of the field"),
    )
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """A rod for each fluted field, and a set-out for each field of panes or frames; stone and tile have sheets of their own."""
    set_in_stone = stone.zones(wall)
    laid = [zone for zone in wall.setout.zones if zone.kind in LAID and zone not in set_in_stone]
    return (
        *(flute_sheet(wall, zone) for zone in wall.setout.zones if zone.flutes),
        *field_sheets(wall, laid),
    )


def flute_sheet(wall: Wall, zone: PanelZone) -> Sheet:
    """The rod of a fluted field: its elevation, its marks both ways from the middle, its joints and flat patches."""
    room, beside = column_right(NARROW)
    made = (_flutes(wall, zone, float(scale)) for scale in SCALES[2:])
    drawing = next(one for one in made if _fits(one, room))
    table = mark_table(zone, rib_of(wall, zone))
    half = (beside[0].width - 5.0) / 2
    rooms = (
        Box(beside[0].x, beside[0].z, half, beside[0].height),
        Box(beside[0].x + half + 5.0, beside[0].z, half, beside[0].height),
    )
    return Sheet(
        f"flutes_{zone.ref}",
        f"Flutes of {zone.ref}: setting-out rod",
        "Setting-out",
        (centred(drawing, room),),
        column([_FLUTE_LEGEND, Notes("Notes", flute_notes(wall, zone)), table], rooms),
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


def _fits(drawing: Drawing, room: Box) -> bool:
    s = drawing.scale
    return drawing.extent.width / s <= room.width and drawing.extent.height / s <= room.height


def rib_of(wall: Wall, zone: PanelZone) -> float:
    """The width of a rib [mm]."""
    return zone.flute_pitch * wall.limits.value("carcass.flute_rib")


def both_ways(zone: PanelZone, rib: float) -> tuple[tuple[float, float], ...]:
    """Each rib's two edges from the middle of the field [mm], left of it negative; from left to right, to the machine's step."""
    middle = zone.box.width / 2
    return tuple(
        (round(k * zone.flute_pitch - middle, 1), round(k * zone.flute_pitch + rib - middle, 1))
        for k in range(zone.flutes + 1)
    )


def mark_table(zone: PanelZone, rib: float) -> Table:
    """The marks right of the middle, rib by rib; left of it the same, mirrored. Every rib in one row."""
    marks = [(a, b) for a, b in both_ways(zone, rib) if b > 0.05]
    joints = [abs(x - zone.box.centre[0]) for x in zone.joints]
    rows: list[tuple[str | int, ...]] = []
    for n, (a, b) in enumerate(marks):
        after = b + (zone.flute_pitch - rib) / 2
        note = "joint after it" if any(abs(after - joint) < zone.flute_pitch / 2 for joint in joints) else ""
        if a < 0:
            note = "on the middle"
        rows.append(
            (
                n + (0 if marks[0][0] < 0 else 1),
                f"{max(a, 0.0):.1f}" if a < 0 else f"{a:.1f}",
                f"{b:.1f}",
                note,
            )
        )
    if 0.0 in [round(joint, 1) for joint in joints]:
        rows.insert(0, ("", "0.0", "-", "joint on the middle, in a groove"))
    cols = (Column("Rib"), Column("From", "", 1, "right"), Column("To", "", 1, "right"), Column("Note"))
    return Table("flute_marks", "Ribs from the middle, both ways", cols, tuple(rows))


def flute_notes(wall: Wall, zone: PanelZone) -> tuple[str, ...]:
    """How the field closes, what the machine would add up, and where a patch stays flat."""
    rib = rib_of(wall, zone)
    step = wall.limits.value("carcass.flute_pitch_step")
    stray = flutes.machine_error(zone.flutes, zone.flute_pitch, step)
    notes = [
        f"{count(zone.flutes, 'groove')} and {zone.flutes + 1} ribs, pitch {zone.flute_pitch:.3f}, rib {rib:.2f}, groove "
        f"{zone.flute_pitch - rib:.2f} wide, {wall.limits.value('carcass.flute_depth'):g} deep; a {flutes.on_middle(zone.flutes)} on the middle.",
        f"Datum: the middle of the field, x {show_mm(zone.box.centre[0], 1)} from the left corner. Marks both ways are the same.",
        f"Stepped off at the pitch rounded to {step:g}, the last flute would stray by {stray:.1f}: use the marks.",
        "Joints stand in grooves: half a groove on each board, its edge bare.",
    ]
    for box, ref in patches(wall, zone):
        low, high = flutes.patch(
            box.x - zone.box.x, box.right - zone.box.x, zone.flutes, zone.flute_pitch, rib
        )
        middle = zone.box.width / 2
        notes.append(
            f"Flat for {ref}: from {low - middle:+.1f} to {high - middle:+.1f} of the middle, z {show_mm(box.z)} to {show_mm(box.top)}."
        )
    return tuple(notes)


def patches(wall: Wall, zone: PanelZone) -> list[tuple[Box, str]]:
    """What lies on the face and wants it flat, with its clearance: outlet boxes and what is there already, not behind the screen."""
    spare = wall.limits.value("carcass.box_clear")
    found = [
        (point.box.grown(spare), point.ref) for point in wall.services.points
        if zone.box.meets(point.box) and not wall.sight.screen.frame.holds(point.box)
    ]  # fmt: skip
    shown = [(box.shared(zone.box), ref) for box, ref in found]
    return [(box, ref) for box, ref in shown if box is not None]


def _flutes(wall: Wall, zone: PanelZone, scale: float) -> Drawing:
    """A band of the field with its grooves, running marks at every fifth rib and the joints; the whole field to its height."""
    rib = rib_of(wall, zone)
    box = Box(0.0, 0.0, zone.box.width, zone.box.height)
    still: list[Mark] = [rectangle(box, "wide", layer="panels", ref=zone.ref)]
    close = zone.flute_pitch / scale < 1.4
    for k in range(zone.flutes):
        a = k * zone.flute_pitch + rib
        b = (k + 1) * zone.flute_pitch
        xs = ((a + b) / 2,) if close else (a, b)
        still += [Line(((x, 0.0), (x, box.height)), "thin", layer="panels", ref=zone.ref) for x in xs]
    still += [
        Line(
            ((x - zone.box.x, -3 * scale), (x - zone.box.x, box.height + 3 * scale)),
            "wide",
            layer="panels",
            ref="joint",
        )
        for x in zone.joints
    ]
    middle = box.width / 2
    still.append(
        Line(((middle, -5 * scale), (middle, box.height + 5 * scale)), "chain", layer="levels", ref="datum")
    )
    for patch, ref in patches(wall, zone):
        low, high = flutes.patch(
            patch.x - zone.box.x, patch.right - zone.box.x, zone.flutes, zone.flute_pitch, rib
        )
        flat = Box(low, patch.z - zone.box.z, high - low, patch.height)
        still.append(rectangle(flat, "wide", fill="#fff", layer="panels", ref=f"flat {ref}"))
    labels: list[Mark] = [
        Text(
            (0.0, box.height + 21 * scale),
            f"{zone.ref} from the room 1:{scale:g}",
            TEXT_LABEL,
            bold=True,
            layer="text",
        ),
    ]
    labels += [
        Text(
            (patch.centre[0] - zone.box.x, patch.centre[1] - zone.box.z - 1.2 * scale),
            ref,
            anchor="middle",
            layer="text",
            ref=ref,
        )
        for patch, ref in patches(wall, zone)
    ]
    every = max(1, round(8.0 * scale / zone.flute_pitch))
    marks = both_ways(zone, rib)
    right = [a for a, _ in marks if a >= 0][::every]
    at = sorted({0.0, *right, *(-a for a in right), -marks[-1][1], marks[-1][1]})
    still += running([(middle + a, abs(a)) for a in at], "x", 0.0, -9.0, scale, decimals=1)
    boards = [0.0, *(x - zone.box.x for x in zone.joints), box.width]
    labels += [*chains(boards, "x", box.height, ROW, ref="boards")]
    labels += chain([0.0, box.height], "z", 0.0, -ROW, "height")
    made = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing(f"{zone.ref} flutes", "Flutes", scale, made, extent_of(made, scale))


def field_sheets(wall: Wall, zones: Sequence[PanelZone]) -> tuple[Sheet, ...]:
    """The fields, as many side by side as go on a sheet."""
    groups = grouped(
        zones,
        lambda some: _drawn(some)[0].drawing.scale,
        lambda some: stands(column(_beside(some), _BESIDE), _BESIDE),
    )
    return tuple(field_sheet(wall, some) for some in groups)


_ROOM, _BESIDE = column_right()


def field_sheet(wall: Wall, zones: Sequence[PanelZone]) -> Sheet:
    """Tiles, slabs, panes or fields from the room, with every joint from the zone's left and lower edge, and the cut sizes."""
    refs = ", ".join(zone.ref for zone in zones)
    return Sheet(
        f"set_out_{zones[0].ref}",
        f"Set-out of {refs}" + (f": {zones[0].kind}" if len(zones) == 1 else ""),
        "Setting-out",
        _drawn(zones),
        column(_beside(zones), _BESIDE),
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


def _drawn(zones: Sequence[PanelZone]) -> tuple[View, ...]:
    """The fields side by side, at the largest scale at which they go in."""
    for scale in SCALES[2:]:
        if placed := on_one_line([_field(zone, float(scale)) for zone in zones], _ROOM):
            return placed
    raise ValueError("fields too large for a sheet")


def _beside(zones: Sequence[PanelZone]) -> list[Block]:
    """Notes and sizes of each field under its name, and one legend."""
    many = len(zones) > 1
    out: list[Block] = []
    for zone in zones:
        sizes = size_table(zone)
        out += [
            Notes(zone.ref if many else "Notes", field_notes(zone)),
            replace(sizes, title=f"{zone.ref}: {sizes.title.lower()}") if many else sizes,
        ]
    strips = any(line.weight == "thin" for zone in zones for line in face_lines(zone))
    edges = (
        ("pen:medium", "joint or edge"),
        *((("pen:thin", "edge of a strip or moulding"),) if strips else ()),
    )
    return [*out, Legend(edges)]


def field_notes(zone: PanelZone) -> tuple[str, ...]:
    """Where it is measured from and what it is made of."""
    notes = [
        f"Measured from the zone's left and lower edge: x {show_mm(zone.box.x)} from the wall's left corner, z {show_mm(zone.box.z)} above FFL.",
        f"Face: {finish_name(zone.finish)}.",
    ]
    if zone.joint:
        notes.append(f"Joints {zone.joint:g} wide; figures run to their middles.")
    if zone.strip:
        notes.append(
            f"{'Strips' if zone.kind == 'framed' else 'Moulding'} {zone.strip:g} wide; figures run to the fields' edges."
        )
    if zone.kind == "tile":
        notes.append("Begin on a level batten at the first whole course; the cut at the foot comes last.")
    return tuple(notes)


def pieces_of(zone: PanelZone) -> Sequence[Box]:
    """The pieces or fields of a zone, from the foot, row by row."""
    return zone.fields or face_pieces(zone)


def size_table(zone: PanelZone) -> Table:
    """The sizes to cut to, with their numbers; the most numerous first."""
    sizes = Counter((round(one.width, 1), round(one.height, 1)) for one in pieces_of(zone))
    rows = tuple((number, f"{w:g}", f"{h:g}") for (w, h), number in sizes.most_common())
    what = "Fields, clear" if zone.fields else "Pieces, cut sizes"
    note = ("An arched head is cut to its template; the sizes are of the whole piece.",) if zone.arch else ()
    cols = (Column("No", "", 0, "right"), Column("Wide", "", 0, "right"), Column("High", "", 0, "right"))
    return Table("pieces", what, cols, rows, note)


def _field(zone: PanelZone, scale: float) -> Drawing:
    """The zone with its joints or fields and running figures to each."""
    dx, dz = -zone.box.x, -zone.box.z
    outline = tuple((x + dx, z + dz) for x, z in edge(zone))
    still: list[Mark] = [Line(outline, "wide", closed=True, layer="panels", ref=zone.ref)]
    for line in face_lines(zone):
        still.append(
            Line(
                ((line.a[0] + dx, line.a[1] + dz), (line.b[0] + dx, line.b[1] + dz)),
                line.weight,
                layer="panels",
                ref=zone.ref,
            )
        )
    boxes = pieces_of(zone)
    if zone.fields:
        across = [e + dx for one in boxes for e in (one.x, one.right)]
        up = [e + dz for one in boxes for e in (one.z, one.top)]
    else:
        across, up = [x + dx for x in zone.joints], [z + dz for z in zone.levels]
    width, height = zone.box.width, zone.box.height
    still += running([(x, x) for x in joined([0.0, *across, width])], "x", 0.0, -9.0, scale)
    still += running([(z, z) for z in joined([0.0, *up, height])], "z", 0.0, -9.0, scale)
    labels: list[Mark] = [
        Text(
            (0.0, height + 5 * scale),
            f"{zone.ref} from the room 1:{scale:g}",
            TEXT_LABEL,
            bold=True,
            layer="text",
        )
    ]
    for one in dict.fromkeys(boxes):
        words = f"{one.width:.0f} × {one.height:.0f}"
        if one.width / scale > 4 + len(words) * 1.9 and one.height / scale > 5:
            labels.append(
                Text(
                    (one.centre[0] + dx, one.centre[1] + dz - 1.2 * scale),
                    words,
                    anchor="middle",
                    layer="text",
                )
            )
    made = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing(f"{zone.ref} set-out", "Set-out", scale, made, extent_of(made, scale))
