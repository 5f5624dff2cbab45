"""The panels' joinery sheet: panelled fields and single shelves in elevation, battens behind them dashed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.carcass.panel_lines import edge
from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Drawing, Leader, Line, Mark, Text, rectangle
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.cutouts import cut_out_dims, cut_out_marks, cut_out_table, cut_outs
from wallwright.sheets.figures import ROW
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.joinery import CAUTIONS, COLUMN, built, in_row
from wallwright.sheets.lettering import text_width
from wallwright.sheets.paper import SCALES, Fields, Sheet, View
from wallwright.sheets.parts_table import parts_table, size
from wallwright.sheets.place import chain, chains, settle
from wallwright.sheets.room import column_right
from wallwright.sheets.words import count

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, Part
    from wallwright.derive import Wall


BEHIND = ("batten", "backer")
"""What lies behind the boards: dashed."""


MOST = 30
"""More parts than this crowd one sheet: then each panelled zone has its own."""


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """One sheet for all parts that belong to no unit with a sheet of its own, or one for each panelled zone where they are many."""
    own = {unit.ref for unit in built(wall)}
    parts = [part for part in wall.carcass.parts if part.unit not in own]
    if not parts:
        return ()
    if len(parts) <= MOST:
        return (panel_sheet(wall, parts),)
    zones = {zone.ref: zone for zone in wall.setout.zones}
    of_zone = {ref: [part for part in parts if part.unit == ref] for ref in zones}
    rest = [part for part in parts if part.unit not in zones]
    return (
        *(panel_sheet(wall, some, zones[ref]) for ref, some in of_zone.items() if some),
        *((panel_sheet(wall, rest),) if rest else ()),
    )


def panel_sheet(wall: Wall, parts: list[Part], of: PanelZone | None = None) -> Sheet:
    """Panels and single shelves in elevation, battens behind them dashed. of : the zone that has the sheet to itself"""
    placed: tuple[View, ...] = ()
    room, beside = column_right(COLUMN)
    for scale in (float(s) for s in SCALES[3:]):
        placed = in_row([panels(wall, parts, scale, of)], room)
        if placed:
            break
    flutes = [
        f"{z.ref}: {count(z.flutes, 'flute')}, pitch {z.flute_pitch:g}; marks: setting-out rod."
        for z in wall.setout.zones
        if z.flutes and of in (None, z)
    ]
    place = [
        f"{z.ref}: left edge {show_mm(z.box.x)} from the left corner, lower edge {show_mm(z.box.z)} above FFL."
        for z in wall.setout.zones
        if of is z
    ]
    notes = (
        *place,
        "Check the wall with a 2 m straight edge; pack the battens to one plane.",
        "Never glue long runs solid: leave 1 to 2 mm a metre for movement.",
        *flutes,
        *(
            f"{part.id} wall shelf: left end {show_mm(part.block.x)} from the left corner, underside "
            f"{show_mm(part.block.z)} above FFL, {show_mm(-part.block.y)} deep from the wall."
            for part in parts
            if part.role == "wall_shelf"
        ),
    )
    openings = cut_outs(wall, parts)
    blocks: list[Block] = [
        Notes("Notes", notes),
        Legend(_legend(wall, of)),
        *([cut_out_table(openings)] if openings else []),
        parts_table(parts),
    ]
    return Sheet(
        f"joinery_{of.ref}" if of else "joinery_panels",
        f"Joinery: {of.ref} {of.kind.replace('_', ' ')} panel" if of else "Joinery: panels, battens, shelves",
        "Joinery",
        placed,
        column(blocks, beside),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


def _legend(wall: Wall, of: PanelZone | None) -> tuple[tuple[str, str], ...]:
    rows = (("pen:dashed", "batten behind the panel; cut-out"), ("pen:medium", "panel edge or joint"))
    arched = any(zone.arch is not None and of in (None, zone) for zone in wall.setout.zones)
    return (*rows, ("pen:wide", "the arch to which heads are cut")) if arched else rows


def _named(parts: list[Part], scale: float) -> list[Mark]:
    """Each board's reference in its field with its size below, those of one outline together; what is small, lies behind or is
    bent round an arch by a leader.
    """
    labels: list[Mark] = []
    alike: dict[tuple[int, ...], list[Part]] = {}
    for part in parts:
        face = part.block.face
        if part.role in (*BEHIND, "lining") or face.width / scale < 14 or face.height / scale < 4:
            end = (face.right - min(3 * scale, face.width / 3), face.centre[1])
            labels.append(
                Leader((end, (end[0] - 6 * scale, end[1] + 5 * scale)), part.id, layer="text", ref=part.id)
            )
        else:
            spot = tuple(round(v / 5) for v in (face.x, face.z, face.width, face.height))
            alike.setdefault(spot, []).append(part)
    for some in alike.values():
        face, ids = some[0].block.face, ", ".join(part.id for part in some)
        tall = TEXT_LABEL if text_width(ids, TEXT_LABEL, True) + 1 < face.width / scale else TEXT_SMALL
        labels.append(
            Text((face.centre[0], face.top - 14 * scale), ids, tall, "middle", bold=True, layer="text", ref=some[0].id)
        )  # fmt: skip
        words = f"{size(some[0].length)} × {size(some[0].width)}"
        if len(some) == 1 and text_width(words, TEXT_SMALL) + 1 < face.width / scale:
            at = (face.centre[0], face.top - 18.5 * scale)
            labels.append(Text(at, words, anchor="middle", layer="text", ref=some[0].id))
    return labels


def panels(wall: Wall, parts: list[Part], scale: float, of: PanelZone | None = None) -> Drawing:
    """The panelled fields on the wall's own axes. of : only this zone, measured from its own edges"""
    frame = of.box if of else wall.face.box
    still: list[Mark] = [rectangle(frame, "thin", layer="wall", ref="wall")]
    openings = [one for one in cut_outs(wall, parts) if one.part.role == "panel"]
    labels: list[Mark] = []
    for part in sorted(parts, key=lambda p: p.role in BEHIND):
        pen = "dashed" if part.role in BEHIND else "medium"
        still.append(rectangle(part.block.face, pen, layer="panels", ref=part.id))
    still += [
        Line(edge(zone), "wide", closed=True, layer="panels", ref=zone.ref)
        for zone in wall.setout.zones
        if zone.arch is not None and of in (None, zone)
    ]
    labels += _named(parts, scale)
    across = [
        frame.x,
        *(e for p in parts if p.role == "panel" for e in (p.block.x, p.block.x + p.block.dx)),
        frame.right,
    ]
    battens = [
        frame.z,
        *(p.block.z for p in parts if p.role == "batten" and p.block.dx > p.block.dz),
        frame.top,
    ]
    faces = [
        frame.z,
        *(e for p in parts if p.role in ("panel", "wall_shelf") for e in (p.block.z, p.block.z + p.block.dz)),
        frame.top,
    ]
    lines, names = cut_out_marks(openings)
    still += lines
    labels += names
    level, upright = cut_out_dims(openings, (frame.top, frame.right), (ROW, 2 * ROW), scale)
    labels += [*level, *upright]
    shelves = [e for p in parts if p.role == "wall_shelf" for e in (p.block.x, p.block.x + p.block.dx)]
    labels += chains(across, "x", frame.z, -ROW, 2 * ROW if shelves else ROW)
    labels += chains(faces, "z", frame.x, -ROW)
    labels += chain(battens, "z", frame.right, ROW, "battens")
    if shelves:
        labels += chain([frame.x, *shelves, frame.right], "x", frame.z, -2 * ROW, "shelves")
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing("panels", "Panels", scale, marks, extent_of(marks, scale))
