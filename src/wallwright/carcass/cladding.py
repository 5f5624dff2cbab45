"""Panelled zones made: boards, strips, mouldings and panes, on battens that stop at outlet boxes; packing behind the mount."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from wallwright.carcass import panel_faces, stock, tiling, wall_fields
from wallwright.carcass.arch import Arch, kerfs
from wallwright.carcass.leaves import leaf_marks
from wallwright.carcass.piece import THIN, piece
from wallwright.carcass.record import PanelZone, Part, Role
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box
from wallwright.job.design import SawSetting
from wallwright.library import load

PACKING = ("ply25", "ply18", "ply12", "ply9")
"""Boards a packing is built of, thickest first."""


def zone_parts(
    zone: PanelZone, saw: SawSetting, limits: Limits, boxes: Sequence[Box] = (), plate: Box | None = None
) -> Iterator[Part]:
    """Boards, packing and battens of a zone. boxes : outlet boxes on the wall · plate : the mount's.

    A joint stays open by the movement gap; a zone higher than a sheet is made in rows.
    """
    if zone.boarded:
        yield from _boards(zone, saw.trim.mm, limits)
    if zone.fields:
        yield from planted(zone, limits)
    if zone.kind in ("mirror", "glass"):
        yield from _panes(zone)
    if zone.arch:
        yield from _lining(zone, saw.kerf.mm, limits)
    if zone.void <= 0:  # boards are glued to the wall
        return
    clear = [box.grown(limits.value("carcass.box_clear")) for box in boxes]
    packed = None if plate is None else packing_box(zone, plate, clear, limits)
    if packed:
        yield from _packing(zone, packed)
    yield from _battens(zone, [*clear, packed] if packed else clear, limits)


LAID_ON = frozenset({"tile", "slab", "mirror", "glass"})
"""Faces that lie on a board of their own: its joints are not theirs."""


def _board_stock(zone: PanelZone) -> Stock:
    """The board of a zone as it is cut: with its face where the face is its own, bare where tiles or panes lie on it."""
    if zone.kind in LAID_ON:
        return stock.stock(zone.board)
    faced = stock.stock(zone.board, zone.finish)
    if zone.kind == "framed":
        bare, face = stock.stock(zone.board), load.finishes()[zone.finish]
        return Stock(
            zone.board,
            zone.finish,
            bare.thickness + face.thickness,
            bare.mass_per_m2 + face.mass,
            faced.grain,
        )
    return Stock(zone.board, zone.finish, zone.thickness, zone.mass_per_m2, faced.grain)


def _board_joints(zone: PanelZone, trim: float) -> tuple[float, ...]:
    """Where the boards meet: at the zone's own joints, or under tiles, panes and fields evenly, on the fewest boards."""
    if zone.kind not in LAID_ON and zone.kind != "framed":
        return zone.joints
    return tiling.even(zone.box.width, stock.sheet_size(zone.board, trim)[1], 0.0).joints(zone.box.x)


def _boards(zone: PanelZone, trim: float, limits: Limits) -> Iterator[Part]:
    gap = limits.value("carcass.panel_joint")
    of = _board_stock(zone)
    box = zone.box
    edges = [box.x, *_board_joints(zone, trim), box.right]
    marks = leaf_marks(len(edges) - 1, zone.match) if of.grain and zone.kind == "flat" else ()
    rows = max(1, math.ceil((box.height - 1e-9) / stock.sheet_size(zone.board, trim)[0]))
    high = (box.height - (rows - 1) * gap) / rows
    band = THIN if zone.kind == "flat" and stock.banded(zone.board, zone.finish) else ""
    count = 0
    for row in range(rows):
        z = box.z + row * (high + gap)
        for k, (left, right) in enumerate(pairwise(edges)):
            x = left + (gap / 2 if k else 0.0)
            width = right - (gap / 2 if k < len(edges) - 2 else 0.0) - x
            count += 1
            block = Block(x, -zone.void - of.thickness, z, width, of.thickness, high)
            name = "backing board" if zone.kind in LAID_ON else "panel board"
            name += f", {marks[k]}" if marks else ""
            name += ", head cut to the arch" if zone.arch and z + high > zone.arch.springing + 0.5 else ""
            yield piece(
                f"{zone.ref}-{count}", zone.ref, "panel", name, of, block, "z", "x", (band, band, "", "")
            )  # fmt: skip


def planted(zone: PanelZone, limits: Limits) -> Iterator[Part]:
    """The strips between the fields of a framed zone, or the mitred lengths of the frames of moulding."""
    if zone.kind == "framed":
        of = stock.stock(panel_faces.STRIP_BOARD, panel_faces.STRIP_FINISH)
        y = -zone.build_up
        for k, box in enumerate(wall_fields.strips(zone.box, zone.fields, zone.columns), 1):
            block = Block(box.x, y, box.z, box.width, of.thickness, box.height)
            yield _along(f"{zone.ref}-T{k}", zone.ref, "strip", "strip", of, block)
        return
    deep = limits.value("carcass.moulding_depth")
    of = Stock(
        stock.MOULDING, zone.finish, deep, deep * limits.value("carcass.moulding_density") / 1000, grain=False
    )
    for k, box in enumerate(zone.fields, 1):
        w = zone.strip
        sides = (
            ("B", Box(box.x, box.z, box.width, w)), ("T", Box(box.x, box.top - w, box.width, w)),
            ("L", Box(box.x, box.z, w, box.height)), ("R", Box(box.right - w, box.z, w, box.height)),
        )  # fmt: skip
        for letter, side in sides:
            block = Block(side.x, -zone.build_up, side.z, side.width, deep, side.height)
            name = "moulding, mitred at both ends"
            yield _along(f"{zone.ref}-M{k}{letter}", zone.ref, "moulding", name, of, block)


def _along(ident: str, ref: str, role: Role, name: str, of: Stock, block: Block) -> Part:
    """A strip that runs along the longer of its two sides."""
    if block.dz >= block.dx:
        return piece(ident, ref, role, name, of, block, "z", "x")
    return piece(ident, ref, role, name, of, block, "x", "z")


def _panes(zone: PanelZone) -> Iterator[Part]:
    """The panes of mirror or glass, ordered to size with polished edges."""
    of = stock.stock(stock.GLASS, zone.finish)
    for k, box in enumerate(face_pieces(zone), 1):
        block = Block(box.x, -zone.build_up, box.z, box.width, of.thickness, box.height)
        yield piece(
            f"{zone.ref}-E{k}", zone.ref, "front", f"{zone.kind} pane, edges polished", of, block, "z", "x"
        )


def face_pieces(zone: PanelZone) -> tuple[Box, ...]:
    """Every tile, slab or pane of a zone between its joints, course by course from the foot."""
    box, half = zone.box, zone.joint / 2
    xs = [box.x - half, *zone.joints, box.right + half]
    zs = [box.z - half, *zone.levels, box.top + half]
    return tuple(
        Box(a + half, low + half, b - a - zone.joint, top - low - zone.joint)
        for low, top in pairwise(zs)
        for a, b in pairwise(xs)
    )


def _lining(zone: PanelZone, kerf: float, limits: Limits) -> Iterator[Part]:
    """The strip that lines the edge of an arched head: as deep as the zone stands off the wall, as long as the curve."""
    arch = zone.arch
    if arch is None or zone.build_up <= 0:
        return
    of = stock.stock(stock.KERFED if zone.bend == "kerf" else stock.BENDING)
    name = "edge of the arch, bent"
    if zone.bend == "kerf":
        v = limits.value
        cuts = kerfs(arch, of.thickness, v("carcass.arch_kerf_left"), kerf, v("carcass.kerf_flat"))
        name = f"edge of the arch, {cuts.count} kerfs {cuts.spacing:.0f} apart, {v('carcass.arch_kerf_left'):g} left"
    block = Block(arch.x, -zone.build_up, arch.springing, arch.span, zone.build_up, arch.rise)
    made = piece(f"{zone.ref}-A", zone.ref, "lining", name, of, block, "x", "y")
    yield replace(
        made, length=arch.length, cut_length=arch.length,
        mass=arch.length * zone.build_up * of.mass_per_m2 / 1e6,
    )  # fmt: skip


def packing_box(zone: PanelZone, plate: Box, clear: Sequence[Box], limits: Limits) -> Box | None:
    """Where solid packing fills the void so that the mount bears on it: beyond the plate, back to whatever must stay clear.

    None where the plate does not stand on the zone. A box that lies behind the plate itself cannot be spared: a rule says so.
    """
    packed = plate.grown(limits.value("carcass.packing_over")).shared(zone.box)
    if packed is None or not zone.box.meets(plate):
        return None
    for hole in clear:
        if packed.meets(hole):
            left = [cut for cut in _trimmed(packed, hole) if cut.grown(0.01).holds(plate)]
            packed = max(left, key=lambda cut: cut.area, default=packed)
    return packed


def _trimmed(box: Box, hole: Box) -> tuple[Box, Box, Box, Box]:
    """The box cut off to the right of a hole, to its left, above it and below it."""
    return (
        replace(box, x=hole.right, width=max(box.right - hole.right, 0.0)),
        replace(box, width=max(hole.x - box.x, 0.0)),
        replace(box, z=hole.top, height=max(box.top - hole.top, 0.0)),
        replace(box, height=max(hole.z - box.z, 0.0)),
    )


def _packing(zone: PanelZone, box: Box) -> Iterator[Part]:
    """The packing behind the mount, in layers."""
    for k, (of, block) in enumerate(layered(zone.void, box), 1):
        name = "packing behind the mount"
        yield piece(f"{zone.ref}-G{k}", zone.ref, "backer", name, of, block, "x", "z")


def layered(void: float, box: Box) -> Iterator[tuple[Stock, Block]]:
    """Plywood in as many layers as go into a void behind a panel, thickest first; what is left to the wall is shimmed."""
    for key in PACKING:
        of = stock.stock(key)
        while of.thickness <= void + 1e-9:
            yield of, Block(box.x, -void, box.z, box.width, of.thickness, box.height)
            void -= of.thickness


def shimmed(void: float) -> float:
    """What the packing leaves to be shimmed to the wall [mm]."""
    for key in PACKING:
        void -= load.boards()[key].thickness * math.floor(void / load.boards()[key].thickness + 1e-9)
    return max(void, 0.0)


def _battens(zone: PanelZone, clear: Sequence[Box], limits: Limits) -> Iterator[Part]:
    """Level battens as deep as the void, one at foot and head, the rest evenly between; each stops at what must stay clear."""
    of = Stock(
        stock.BATTEN, "", zone.void, zone.void * limits.value("carcass.batten_density") / 1000, grain=True
    )
    for k, row in enumerate(batten_rows(zone, limits)):
        wide = row.height
        lengths = batten_lengths(row, clear, limits.value("carcass.batten_least"))
        for n, (left, right) in enumerate(lengths, 1):
            block = Block(left, -zone.void, row.z, right - left, zone.void, wide)
            piece_of = "" if len(lengths) == 1 else f".{n}"
            yield piece(f"{zone.ref}-B{k + 1}{piece_of}", zone.ref, "batten", "batten", of, block, "x", "z")


def batten_rows(zone: PanelZone, limits: Limits) -> tuple[Box, ...]:
    """Where the level battens of a zone lie on the wall, before they stop at anything: inside its outline, out of sight from beside,
    and inside the way of the light behind it.
    """
    pitch = batten_pitch(zone, limits)
    foot, inset = batten_insets(zone, limits)
    box = zone.box
    inner = Box(box.x + inset, box.z + foot, box.width - 2 * inset, box.height - foot - inset)
    wide = min(limits.value("carcass.batten_width"), inner.height / 2)
    spaces = max(1, math.ceil((inner.height - wide) / pitch - 1e-9))
    rows = (
        Box(inner.x, inner.z + k * (inner.height - wide) / spaces, inner.width, wide)
        for k in range(spaces + 1)
    )
    if zone.arch is None:
        return tuple(rows)
    return tuple(_under_arch(zone.arch, row, inset, limits.value("carcass.batten_least")) for row in rows)


def batten_pitch(zone: PanelZone, limits: Limits) -> float:
    """How far apart the battens of a zone may be [mm]."""
    heavy = zone.kind in ("stone_veneer", "tile", "slab")
    return limits.value("carcass.batten_pitch_stone" if heavy else "carcass.batten_pitch")


def batten_insets(zone: PanelZone, limits: Limits) -> tuple[float, float]:
    """How far a zone's battens are held back from its foot, and from its sides and top [mm].

    Sides and top make way for the light behind the zone, all of it or none: half a way lets no light out.
    """
    foot = min(limits.value("carcass.batten_inset"), zone.box.width / 4, zone.box.height / 4)
    if foot < zone.light_way <= longest_overhang(zone, limits):
        return foot, zone.light_way
    return foot, foot


def longest_overhang(zone: PanelZone, limits: Limits) -> float:
    """How far the board of a zone may stand out past its last batten [mm]; a narrow zone keeps battens that can be screwed."""
    share, least = limits.value("carcass.batten_overhang"), limits.value("carcass.batten_least")
    return min(
        share * batten_pitch(zone, limits),
        (zone.box.width - least) / 2,
        zone.box.height - 2 * limits.value("carcass.batten_width"),
    )


def _under_arch(arch: Arch, row: Box, inset: float, least: float) -> Box:
    """A batten no longer than the curve leaves at its upper edge; the one at the crown lowered until it is not too short."""
    (x, z), radius = arch.centre, max(arch.radius - inset, 1.0)
    if row.top <= z + math.sqrt(max(radius**2 - row.width**2 / 4, 0.0)):
        return row
    half = min(least / 2, row.width / 2, radius)
    top = min(row.top, z + math.sqrt(radius**2 - half**2))
    half = min(math.sqrt(max(radius**2 - (top - z) ** 2, 0.0)), row.width / 2)
    return Box(x - half, top - row.height, 2 * half, row.height)


def batten_lines(zones: Iterable[PanelZone], limits: Limits) -> tuple[Box, ...]:
    """The middle lines of all battens, as boxes without height: level runs keep off them, for their screws go in there."""
    return tuple(
        Box(row.x, row.centre[1], row.width, 0.0)
        for zone in zones
        if zone.void > 0
        for row in batten_rows(zone, limits)
    )


def batten_lengths(row: Box, clear: Sequence[Box], least: float) -> list[tuple[float, float]]:
    """The stretches (left, right) of a level batten that meet none of these boxes, those shorter than `least` left out."""
    left, out = row.x, list[tuple[float, float]]()
    for hole in sorted((hole for hole in clear if hole.meets(row)), key=lambda hole: hole.x):
        out.append((left, hole.x))
        left = max(left, hole.right)
    out.append((left, row.right))
    whole = len(out) == 1
    return [(a, b) for a, b in out if whole or b - a >= least]
