"""For whoever sets stone and tile: each field piece by piece from one datum, with its joints, its bed, its gaps and its seal.

The pieces are those of the field's own joints, so what is drawn is what the price and the weight were reckoned with.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from wallwright.carcass.cladding import face_pieces
from wallwright.core.drawing import Drawing, Hatch, Leader, Line, Mark, Symbol, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.library import load
from wallwright.sheets.beside import Block, Legend, Notes, column, of_what_is_drawn
from wallwright.sheets.chains import chain, joined
from wallwright.sheets.details_panel import edge_drawing
from wallwright.sheets.figures import DATUM, ROW
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent, extent_of, rounded
from wallwright.sheets.long_table import listed, whole
from wallwright.sheets.paper import SCALES, Fields, Sheet, View, centred
from wallwright.sheets.place import settle
from wallwright.sheets.room import FULL
from wallwright.sheets.words import count, finish_name, point_words

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

SET = frozenset({"stone", "stone_veneer"})
"""Finishes that are set or glued piece by piece, by a trade of its own."""
SIDE = 150.0  # paper mm for notes, legend and pieces
FAR = 0.5
"""A field narrower than this share of the wall is drawn alone; where it stands is then in its notes."""
CAUTIONS = (
    "Stone and tile: cut wet or on extraction, mask and eye protection; never dry-cut engineered stone. Two people from 25 kg.",
    "Isolate and prove dead before boxes are cut in. Unknown or hollow-sounding wall: stop and ask. Prove the bed on a trial piece.",
)


def zones(wall: Wall) -> tuple[PanelZone, ...]:
    """The fields that are set in stone or tile."""
    finishes = load.finishes()
    return tuple(
        zone for zone in wall.setout.zones if zone.finish in finishes and finishes[zone.finish].kind in SET
    )


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """One sheet a field, and lists of its pieces where they are many; nothing where nothing is set."""
    return tuple(sheet for zone in zones(wall) for sheet in _sheets(wall, zone))


def _sheets(wall: Wall, zone: PanelZone) -> tuple[Sheet, ...]:
    room = Box(FULL.x, FULL.z, FULL.width - SIDE, FULL.height)
    side = Box(room.right + 2, FULL.z, SIDE - 6, FULL.height)
    made = next(
        (
            drawn
            for s in SCALES[3:]
            if (size := extent(drawn := drawing(wall, zone, float(s)))).width / s <= room.width - 4
            and size.height / s <= room.height - 4
        ),
        drawing(wall, zone, float(SCALES[-1])),
    )
    blocks: list[Block] = [of_what_is_drawn(_legend(zone), made.marks), Notes("Setting", notes(wall, zone))]
    table = piece_table(wall, zone)
    marks = column([*blocks, table], (side,))
    name = f"stone_{zone.ref}", f"Stone and tile: {zone.ref}"
    views = [centred(made, room)]
    lists: tuple[Sheet, ...] = ()
    if not whole(marks):
        marks = column([*blocks, Notes(table.title, ("Each is on the sheet that follows.",))], (side,))
        lists = listed(wall, name, "Setting-out", CAUTIONS, table)
    views += _edge(wall, zone, Box(side.x, side.z, side.width, extent_of(marks, 1.0).z - side.z - 4.0))
    first = Sheet(
        *name, "Setting-out", tuple(views), marks, Fields.of(wall.job), CAUTIONS, job_title=wall.job.title
    )
    return first, *lists


def _edge(wall: Wall, zone: PanelZone, room: Box) -> list[View]:
    """The build-up at the field's edge, where it goes in below the notes."""
    made = edge_drawing(wall, [zone])
    size = extent(made)
    fits = size.width / made.scale <= room.width and size.height / made.scale <= room.height
    return [centred(made, room)] if fits else []


def letters(zone: PanelZone) -> tuple[tuple[str, Box], ...]:
    """Each piece with its size's letter: A is the commonest size, and alike pieces share one."""
    pieces = face_pieces(zone)
    sizes = Counter((rounded(p.width), rounded(p.height)) for p in pieces)
    order = sorted(sizes, key=lambda size: (-sizes[size], -size[0] * size[1]))
    names = {size: _letter(i) for i, size in enumerate(order)}
    return tuple((names[rounded(p.width), rounded(p.height)], p) for p in pieces)


def _letter(i: int) -> str:
    """A, B … Z, AA, AB …; without I and O, which read as figures (ISO 5457 for fields)."""
    signs = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    return signs[i] if i < len(signs) else signs[i // len(signs) - 1] + signs[i % len(signs)]


def piece_table(wall: Wall, zone: PanelZone) -> Table:
    """The sizes of the pieces, how many of each, and what one weighs in its thickness."""
    found = letters(zone)
    face = load.finishes()[zone.finish]
    cut = {letter for letter, piece in found for point in wall.services.points if _behind(piece, point.box)}
    rows: list[tuple[str, str, str, int, str, str]] = []
    for letter in dict.fromkeys(sorted((name for name, _ in found), key=lambda name: (len(name), name))):
        alike = [piece for name, piece in found if name == letter]
        of = alike[0]
        rows.append(
            (
                letter,
                show_mm(of.width),
                show_mm(of.height),
                len(alike),
                f"{face.mass * of.area / 1e6:.1f}",
                "one with an opening" if letter in cut else "",
            )
        )
    cols = (
        Column("Size"),
        Column("Wide", "", 0, "right"),
        Column("High", "", 0, "right"),
        Column("No", "", 0, "right"),
        Column("kg each", "", 1, "right"),
        Column("Note"),
    )
    bought = next((line.measured for line in wall.money.lines if line.ref == f"finish_{zone.finish}"), "")
    return Table(
        "stone_pieces",
        f"Pieces of {zone.ref}, joints taken off",
        cols,
        tuple(rows),
        (f"{count(len(found), 'piece')}; to order, all of one batch: {bought}.",),
    )


def _behind(piece: Box, box: Box) -> bool:
    common = piece.shared(box)
    return common is not None and min(common.width, common.height) > 0.5


def drawing(wall: Wall, zone: PanelZone, scale: float) -> Drawing:
    """The field on the wall's own axes: pieces, openings, the datum line and the chains from the left corner and from FFL."""
    box = zone.box
    middle = wall.sight.screen.centre[0]
    still: list[Mark] = [rectangle(box, "wide", fill="#fff", layer="panels", ref=zone.ref)]
    pieces = letters(zone)
    still += [rectangle(piece, "medium", layer="panels", ref=f"{zone.ref} {name}") for name, piece in pieces]
    beyond = 5.0 * scale
    if box.z < DATUM < box.top:
        still.append(
            Line(((box.x - beyond, DATUM), (box.right + beyond, DATUM)), "chain", layer="levels", ref="datum")
        )
    if box.x < middle < box.right:
        still.append(
            Line(
                ((middle, box.z - beyond), (middle, box.top + beyond)), "chain", layer="levels", ref="middle"
            )
        )
    points = [point for point in wall.services.points if _behind(box, point.box)]
    for point in points:
        still.append(rectangle(point.box, "wide", fill="#fff", layer="cutouts", ref=point.ref))
        still.append(Hatch(point.box.corners, "no_drill", layer="hatch", ref=point.ref))
    labels: list[Mark] = [*_dimensions(zone, wall), *_names(pieces, points, scale)]
    labels += [
        Leader(
            (point.box.centre, (point.box.right + 6 * scale, point.box.top + 5 * scale)),
            point.ref,
            layer="text",
            ref=point.ref,
        )
        for point in points
    ]
    labels.append(Symbol("datum", (box.x, box.z), layer="levels", ref="start"))
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing(f"stone {zone.ref}", f"{zone.ref} piece by piece", scale, marks, extent_of(marks, scale))


def _names(pieces: tuple[tuple[str, Box], ...], points: list[ServicePoint], scale: float) -> list[Mark]:
    """The letter of each piece, clear of its openings; of crowded pieces one of a size, by name."""
    out: list[Mark] = []
    taken = [point.box for point in points]
    for name, piece in pieces:
        if piece.width / scale < 5.0 or piece.height / scale < 4.0:
            continue
        places = [(0.5, 0.5), (0.25, 0.75), (0.75, 0.25), (0.25, 0.25), (0.75, 0.75)]
        spots = [(piece.x + a * piece.width, piece.z + b * piece.height - 1.25 * scale) for a, b in places]
        at = next(
            (s for s in spots if not any(Box(s[0], s[1], 0, 0).grown(3 * scale).meets(b) for b in taken)),
            spots[0],
        )
        out.append(Text(at, name, 2.5, "middle", bold=True, layer="text", ref=name))
    return out


def _dimensions(zone: PanelZone, wall: Wall) -> list[Mark]:
    """Joints and edges in chains that close: across from the field's left edge, up from its foot; and where the field stands."""
    box, half = zone.box, zone.joint / 2
    joints = joined(e for piece in face_pieces(zone) for e in (piece.x - half, piece.right + half))
    levels = joined(e for piece in face_pieces(zone) for e in (piece.z - half, piece.top + half))
    out: list[Mark] = []
    inner_x = [box.x, *(x for x in joints if box.x + 1 < x < box.right - 1), box.right]
    inner_z = [box.z, *(z for z in levels if box.z + 1 < z < box.top - 1), box.top]
    step = 0
    if len(inner_x) > 2:
        out += chain(inner_x, "x", box.z, -ROW, "joints across")
        step = 1
    near = box.width > FAR * wall.face.width
    ends = [0.0, box.x, box.right, wall.face.width] if near else [box.x, box.right]
    out += chain(ends, "x", box.z, -(1 + step) * ROW, "field across")
    step = 0
    if len(inner_z) > 2:
        out += chain(inner_z, "z", box.x, -ROW, "joints up")
        step = 1
    out += chain([0.0, box.z, box.top, wall.face.height], "z", box.x, -(1 + step) * ROW, "field up")
    return out


def _legend(zone: PanelZone) -> Legend:
    rows = [
        ("pen:medium", "edge of a piece; its letter is its size"),
        ("pen:chain", f"setting-out lines: {show_mm(DATUM)} above FFL, and the screen's middle"),
        ("hatch:no_drill", "opening for a box: cut to the box as found"),
        ("sign:datum", "the field's corner from which it is set out"),
    ]
    if zone.kind not in ("tile", "slab"):
        rows[0] = ("pen:medium", "edge of a piece on its board")
    return Legend(tuple(rows))


def sized(what: str, thick: float, gap: str = " ") -> str:
    """A layer with its thickness, said once: many boards and finishes have theirs in their name."""
    size = f"{thick:g} mm"
    return what if size in what else f"{what}{gap}{size}"


def notes(wall: Wall, zone: PanelZone) -> tuple[str, ...]:
    """What the bed, the joints, the gaps and the seal are, and what carries it, in sentences."""
    face, value = load.finishes()[zone.finish], wall.limits.value
    what = sized(finish_name(zone.finish), face.thickness, ", ")
    out: list[str] = [
        f"{what[:1].upper()}{what[1:]}, {face.mass:g} kg/m². Left edge {show_mm(zone.box.x)} from the left corner, "
        f"foot {show_mm(zone.box.z)} above FFL.",
        f"Layers from the wall: {'; '.join(sized(what, mm) for what, mm in zone.layers)}."
        if zone.layers
        else "Laid on the wall itself.",
        f"Joints {zone.joint:g} mm, grouted after the bed has set."
        if zone.joint
        else "Pieces are laid close, without a joint.",
        f"Leave {value('carcass.tile_gap_edge'):g} mm at floor, ceiling, corners and anything of another kind, and a movement joint every "
        f"{value('carcass.tile_gap_every') / 1000:g} m: neutral elastic seal on a backing cord, no grout.",
    ]
    check = next((one for one in wall.structure.cladding if one.ref == zone.ref), None)
    if check is not None:
        fits = "it holds" if check.mass_per_m2 <= check.carries else "TOO HEAVY: do not begin"
        out.append(
            f"With its bed {check.mass_per_m2:.1f} kg/m²; {check.layer} bears {check.carries:.0f} kg/m²: {fits}. {check.mass:.0f} kg in all."
        )
        if check.solid_bed:
            out.append(
                "Solid bed: comb wall and back of each piece, no hollow under it; adhesive of a class for large pieces."
            )
        if check.mass_per_m2 > check.carries:
            out += [
                f"Would do: {way.name} ({way.mass_per_m2:.0f} kg/m²)." for way in check.ways if way.passes
            ]
    kg = max(face.mass * piece.area / 1e6 for piece in face_pieces(zone))
    if kg > value("carcass.tile_anchor_kg"):
        out.append(
            f"Pieces up to {kg:.0f} kg: besides the bed each is held by two anchors of stainless steel, by the stone engineer's "
            "drawing; prop them until the bed has set."
        )
    out.append(
        "Seal with a breathing sealer after the joints have dried, on a trial piece first; the owner renews it."
        if face.seal
        else "No sealer on the face; clean the joints' haze off the same day."
    )
    points = [point for point in wall.services.points if _behind(zone.box, point.box)]
    if points:
        out.append(
            f"{count(len(points), 'opening')}: "
            + ", ".join(
                f"{p.ref} {point_words(p.kind)} at x {show_mm(p.x)}, z {show_mm(p.z)}" for p in points
            )
            + "; corners drilled, never sawn over."
        )
    return tuple(out)
