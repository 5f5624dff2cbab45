"""The panels' joinery sheet: panelled fields and single shelves in elevation, battens behind them dashed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.carcass.panel_lines import edge
from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Drawing, Leader, Line, Mark, Text, rectangle
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.cutouts import cut_out_dims, cut_out_marks, cut_out_table, cut_outs
from wallwright.sheets.figures import ROW
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.joinery import CAUTIONS, COLUMN, built
from wallwright.sheets.lettering import text_width
from wallwright.sheets.long_table import stands
from wallwright.sheets.paper import SCALES, Fields, Sheet, View
from wallwright.sheets.parts_table import parts_table, size
from wallwright.sheets.place import settle
from wallwright.sheets.room import column_right
from wallwright.sheets.side_by_side import Zones, grouped, on_one_line
from wallwright.sheets.words import count

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, Part
    from wallwright.derive import Wall


BEHIND = ("batten", "backer")
"""What lies behind the boards: dashed."""


MOST = 30
"""More parts than this crowd one view of the wall: then each panelled zone has its own."""


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """One sheet for all parts that belong to no unit with a sheet of its own; where they are many, the panelled zones one by one, as
    many side by side as go on a sheet.
    """
    own = {unit.ref for unit in built(wall)}
    parts = [part for part in wall.carcass.parts if part.unit not in own]
    if not parts:
        return ()
    if len(parts) <= MOST:
        return (panel_sheet(wall, parts),)
    zones = [zone for zone in wall.setout.zones if any(part.unit == zone.ref for part in parts)]
    rest = [part for part in parts if part.unit not in {zone.ref for zone in zones}]
    groups = grouped(
        zones, lambda some: _scale(wall, parts, some), lambda some: stands(column(_beside(wall, parts, some), _BESIDE), _BESIDE)
    )  # fmt: skip
    return (
        *(panel_sheet(wall, parts, some) for some in groups),
        *((panel_sheet(wall, rest),) if rest else ()),
    )


def _scale(wall: Wall, parts: list[Part], of: Zones) -> float:
    return _views(wall, parts, of)[0].drawing.scale


_ROOM, _BESIDE = column_right(COLUMN)


def _views(wall: Wall, parts: list[Part], of: Zones) -> tuple[View, ...]:
    """The zones side by side at the largest scale at which they go in; without a zone the whole wall."""
    for scale in (float(s) for s in SCALES[3:]):
        made = (
            [
                panels(wall, [p for p in parts if p.unit == zone.ref], scale, zone, named=len(of) > 1)
                for zone in of
            ]
            if of
            else [panels(wall, parts, scale)]
        )
        if placed := on_one_line(made, _ROOM):
            return placed
    raise ValueError("panels too large for a sheet")


def panel_sheet(wall: Wall, parts: list[Part], of: Zones = ()) -> Sheet:
    """Panels and single shelves in elevation, battens behind them dashed. of : the zones that the sheet is for"""
    refs = ", ".join(zone.ref for zone in of)
    kinds = list(dict.fromkeys(zone.kind.replace("_", " ") for zone in of))
    title = (
        f"{refs} {kinds[0]} panel" if len(of) == 1 else f"{refs} panels" if of else "panels, battens, shelves"
    )
    return Sheet(
        f"joinery_{of[0].ref}" if of else "joinery_panels",
        f"Joinery: {title}",
        "Joinery",
        _views(wall, parts, of),
        column(_beside(wall, parts, of), _BESIDE),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


def _beside(wall: Wall, parts: list[Part], of: Zones) -> list[Block]:
    shown = [part for part in parts if not of or part.unit in {zone.ref for zone in of}]
    flutes = [
        f"{z.ref}: {count(z.flutes, 'flute')}, pitch {z.flute_pitch:g}; marks: setting-out rod."
        for z in (of or wall.setout.zones)
        if z.flutes
    ]
    place = [
        f"{z.ref}: left edge {show_mm(z.box.x)} from the left corner, lower edge {show_mm(z.box.z)} above FFL."
        for z in of
    ]
    notes = (
        *place,
        "Check the wall with a 2 m straight edge; pack the battens to one plane.",
        "Never glue long runs solid: leave 1 to 2 mm a metre for movement.",
        *flutes,
        *(
            f"{part.id} wall shelf: left end {show_mm(part.block.x)} from the left corner, underside "
            f"{show_mm(part.block.z)} above FFL, {show_mm(-part.block.y)} deep from the wall."
            for part in shown
            if part.role == "wall_shelf"
        ),
    )
    openings = cut_outs(wall, shown)
    return [
        Notes("Notes", notes),
        Legend(_legend(of or wall.setout.zones)),
        *([cut_out_table(openings)] if openings else []),
        parts_table(shown),
    ]


def _legend(zones: Zones) -> tuple[tuple[str, str], ...]:
    rows = (("pen:dashed", "batten behind the panel; cut-out"), ("pen:medium", "panel edge or joint"))
    arched = any(zone.arch is not None for zone in zones)
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


def panels(
    wall: Wall, parts: list[Part], scale: float, of: PanelZone | None = None, *, named: bool = False
) -> Drawing:
    """The panelled fields on the wall's own axes. of : only this zone, measured from its own edges · named : with a title above it"""
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
    name, title = ("panels", "Panels") if of is None else (f"panels {of.ref}", f"{of.ref} 1:{scale:g}")
    if named:
        top = extent_of(marks, scale).top + 2.0 * scale
        marks = (*marks, Text((frame.x, top), title, TEXT_LABEL, bold=True, layer="text", ref=name))
    return Drawing(name, title, scale, marks, extent_of(marks, scale))
