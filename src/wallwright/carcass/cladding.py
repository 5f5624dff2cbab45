"""Panelled zones made: boards between their joints, on battens."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from wallwright.carcass import stock
from wallwright.carcass.piece import THIN, piece
from wallwright.carcass.record import PanelZone, Part
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block

BATTEN_WIDTH = 50.0


def zone_parts(zone: PanelZone, trim: float, limits: Limits) -> Iterator[Part]:
    """Boards and battens of a zone. A joint stays open by the movement gap; a zone higher than a sheet is made in rows."""
    gap = limits.value("carcass.panel_joint")
    of = Stock(
        zone.board, zone.finish, zone.thickness, zone.mass_per_m2, stock.stock(zone.board, zone.finish).grain
    )
    box = zone.box
    edges = [box.x, *zone.joints, box.right]
    rows = max(1, math.ceil((box.height - 1e-9) / stock.sheet_size(zone.board, trim)[0]))
    high = (box.height - (rows - 1) * gap) / rows
    band = THIN if not zone.flutes else ""
    count = 0
    for row in range(rows):
        z = box.z + row * (high + gap)
        for k, (left, right) in enumerate(pairwise(edges)):
            x = left + (gap / 2 if k else 0.0)
            width = right - (gap / 2 if k < len(edges) - 2 else 0.0) - x
            count += 1
            block = Block(x, -zone.build_up, z, width, zone.thickness, high)
            yield piece(
                f"{zone.ref}-{count}",
                zone.ref,
                "panel",
                "panel board",
                of,
                block,
                "z",
                "x",
                (band, band, "", ""),
            )
    yield from _battens(zone, limits)


def _battens(zone: PanelZone, limits: Limits) -> Iterator[Part]:
    """Level battens as deep as the void, one at foot and head, the rest evenly between. No void, no battens: boards are glued."""
    if zone.void <= 0:
        return
    box = zone.box
    pitch = limits.value(
        "carcass.batten_pitch_stone" if zone.kind == "stone_veneer" else "carcass.batten_pitch"
    )
    wide = min(BATTEN_WIDTH, box.height / 2)
    spaces = max(1, math.ceil((box.height - wide) / pitch - 1e-9))
    of = Stock(stock.BATTEN, "", zone.void, zone.void * stock.BATTEN_DENSITY / 1000, True)
    for k in range(spaces + 1):
        z = box.z + k * (box.height - wide) / spaces
        block = Block(box.x, -zone.void, z, box.width, zone.void, wide)
        yield piece(f"{zone.ref}-B{k + 1}", zone.ref, "batten", "batten", of, block, "x", "z")
