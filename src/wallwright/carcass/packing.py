"""Packing in the void behind a panel where something hangs on it: its screws cross the void, and must not bend there."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from wallwright.carcass import stock
from wallwright.carcass.cladding import PACKING, layered
from wallwright.carcass.panels import lengths_between
from wallwright.carcass.piece import piece
from wallwright.carcass.record import PanelZone, Part, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Box

LEAST = 60.0
"""A shorter piece of packing splits at its screws [mm]."""


def strips(
    zone: PanelZone, units: Sequence[UnitBox], parts: Sequence[Part], boxes: Sequence[Box], limits: Limits
) -> list[Box]:
    """Where packing goes behind a panel: along the cleat of each unit that hangs on it, and along the rods of shelves and ledges.

    boxes : outlet boxes, which it keeps clear of. Packing longer than a sheet is in lengths.
    """
    if zone.void <= 0:
        return []
    past, clear = limits.value("carcass.packing_past"), limits.value("carcass.box_clear")
    hung = {unit.ref for unit in units if unit.hung and unit.box.meets(zone.box)}
    longest = stock.sheet_size(PACKING[0], 10.0)[0]
    out: list[Box] = []
    for part in parts:
        if part.unit not in hung or not _carried_by(part):
            continue
        face = part.block.face
        row = replace(face, z=face.z - past, height=face.height + 2 * past).shared(zone.box)
        if row is None or row.height < past or row.width < LEAST:
            continue
        taken = [box.grown(clear) for box in boxes] + out
        for left, right in lengths_between(row, taken, LEAST):
            count = max(1, math.ceil((right - left) / longest))
            each = (right - left) / count
            out.extend(Box(left + k * each, row.z, each, row.height) for k in range(count) if each > 1)
    return out


def _carried_by(part: Part) -> bool:
    """Whether the unit hangs on the wall by this part."""
    return part.role == "cleat" or (part.role == "wall_shelf" and part.id == f"{part.unit}-S")


def stops(rows: Sequence[Box], limits: Limits) -> list[Box]:
    """Where battens stop for the packing: at it, for what asks gives each box its own clearance."""
    return [box.grown(-min(limits.value("carcass.box_clear"), box.width / 2, box.height / 2)) for box in rows]


def strip_parts(zone: PanelZone, rows: Sequence[Box]) -> Iterator[Part]:
    """Each strip in layers behind the panel."""
    layers = [layer for box in rows for layer in layered(zone.void, box)]
    for k, (of, block) in enumerate(layers, 1):
        name = "packing behind what hangs here"
        yield piece(f"{zone.ref}-Q{k}", zone.ref, "backer", name, of, block, "x", "z")
