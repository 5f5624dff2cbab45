"""Panelled zones made: boards between their joints, on battens that stop at outlet boxes, with packing behind the mount."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from wallwright.carcass import stock
from wallwright.carcass.piece import THIN, piece
from wallwright.carcass.record import PanelZone, Part
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box
from wallwright.library import load

PACKING = ("ply25", "ply18", "ply12", "ply9")
"""Boards a packing is built of, thickest first."""


def zone_parts(
    zone: PanelZone, trim: float, limits: Limits, boxes: Sequence[Box] = (), plate: Box | None = None
) -> Iterator[Part]:
    """Boards, packing and battens of a zone. boxes : outlet boxes on the wall · plate : the mount's.

    A joint stays open by the movement gap; a zone higher than a sheet is made in rows.
    """
    yield from _boards(zone, trim, limits)
    if zone.void <= 0:  # boards are glued to the wall
        return
    clear = [box.grown(limits.value("carcass.box_clear")) for box in boxes]
    packed = None if plate is None else packing_box(zone, plate, clear, limits)
    if packed:
        yield from _packing(zone, packed)
    yield from _battens(zone, [*clear, packed] if packed else clear, limits)


def _boards(zone: PanelZone, trim: float, limits: Limits) -> Iterator[Part]:
    gap = limits.value("carcass.panel_joint")
    faced = stock.stock(zone.board, zone.finish)
    of = Stock(zone.board, zone.finish, zone.thickness, zone.mass_per_m2, faced.grain)
    box = zone.box
    edges = [box.x, *zone.joints, box.right]
    rows = max(1, math.ceil((box.height - 1e-9) / stock.sheet_size(zone.board, trim)[0]))
    high = (box.height - (rows - 1) * gap) / rows
    band = THIN if stock.banded(zone.board, zone.finish) and not zone.flutes else ""
    count = 0
    for row in range(rows):
        z = box.z + row * (high + gap)
        for k, (left, right) in enumerate(pairwise(edges)):
            x = left + (gap / 2 if k else 0.0)
            width = right - (gap / 2 if k < len(edges) - 2 else 0.0) - x
            count += 1
            block = Block(x, -zone.build_up, z, width, zone.thickness, high)
            yield piece(
                f"{zone.ref}-{count}", zone.ref, "panel", "panel board", of, block, "z", "x", (band, band, "", "")
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
    """Plywood in as many layers as go into the void, behind the panel; what is left to the wall is shimmed."""
    rest, count = zone.void, 0
    for key in PACKING:
        of = stock.stock(key)
        while of.thickness <= rest + 1e-9:
            count += 1
            block = Block(box.x, -rest, box.z, box.width, of.thickness, box.height)
            yield piece(
                f"{zone.ref}-G{count}", zone.ref, "backer", "packing behind the mount", of, block, "x", "z"
            )
            rest -= of.thickness


def shimmed(void: float) -> float:
    """What the packing leaves to be shimmed to the wall [mm]."""
    for key in PACKING:
        void -= load.boards()[key].thickness * math.floor(void / load.boards()[key].thickness + 1e-9)
    return max(void, 0.0)


def _battens(zone: PanelZone, clear: Sequence[Box], limits: Limits) -> Iterator[Part]:
    """Level battens as deep as the void, one at foot and head, the rest evenly between; each stops at what must stay clear."""
    box = zone.box
    pitch = limits.value(
        "carcass.batten_pitch_stone" if zone.kind == "stone_veneer" else "carcass.batten_pitch"
    )
    wide = min(limits.value("carcass.batten_width"), box.height / 2)
    spaces = max(1, math.ceil((box.height - wide) / pitch - 1e-9))
    of = Stock(
        stock.BATTEN, "", zone.void, zone.void * limits.value("carcass.batten_density") / 1000, grain=True
    )
    for k in range(spaces + 1):
        row = Box(box.x, box.z + k * (box.height - wide) / spaces, box.width, wide)
        lengths = batten_lengths(row, clear, limits.value("carcass.batten_least"))
        for n, (left, right) in enumerate(lengths, 1):
            block = Block(left, -zone.void, row.z, right - left, zone.void, wide)
            piece_of = "" if len(lengths) == 1 else f".{n}"
            yield piece(f"{zone.ref}-B{k + 1}{piece_of}", zone.ref, "batten", "batten", of, block, "x", "z")


def batten_lengths(row: Box, clear: Sequence[Box], least: float) -> list[tuple[float, float]]:
    """The stretches (left, right) of a level batten that meet none of these boxes, those shorter than `least` left out."""
    left, out = row.x, list[tuple[float, float]]()
    for hole in sorted((hole for hole in clear if hole.meets(row)), key=lambda hole: hole.x):
        out.append((left, hole.x))
        left = max(left, hole.right)
    out.append((left, row.right))
    whole = len(out) == 1
    return [(a, b) for a, b in out if whole or b - a >= least]
