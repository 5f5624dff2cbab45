"""The hardware schedule by unit, and the same as one orders it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.tables.names import fitting_words

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (Column("Kind"), Column("Item"), Column("Unit"), Column("Quantity", "", 0, "right"), Column("Note"))
ORDER = (
    Column("Item"),
    Column("Needed", "", 0, "right"),
    Column("Order", "", 0, "right"),
    Column("For"),
    Column("Why"),
)
SMALL = {"confirmat": 10, "dowel": 10, "screw": 10, "batten_screw": 10, "panel_clip": 5, "shelf_pin": 5}
"""Small pieces get lost: ordered a tenth over, in full tens or fives. Common practice."""
WORK = frozenset({"skirting_cut"})
"""Lines of the schedule that are work on site: nothing to order."""


def hardware(wall: Wall) -> Table:
    """Hinges, runners, pins and rails by unit; equal lines of a unit added up."""
    count: dict[tuple[str, str, str, str], int] = {}
    for item in wall.carcass.hardware:
        key = (item.kind, item.name, item.unit, item.note)
        count[key] = count.get(key, 0) + item.quantity
    rows = tuple(
        (fitting_words(kind), name, unit, pieces, note) for (kind, name, unit, note), pieces in count.items()
    )
    total = sum(count.values())
    notes = (f"{total} pieces in all. Order runners by the inside depth of the case, not by the drawer.",)
    return Table("hardware", "Hardware schedule", COLUMNS, rows, notes)


def hardware_order(wall: Wall) -> Table:
    """One line an item: how many are needed, how many to order, for which units, and why that one."""
    needed: dict[tuple[str, str], int] = {}
    units: dict[tuple[str, str], list[str]] = {}
    whys: dict[tuple[str, str], list[str]] = {}
    for item in wall.carcass.hardware:
        if item.kind in WORK:
            continue
        key = (item.kind, item.name)
        needed[key] = needed.get(key, 0) + item.quantity
        for said, known in ((item.unit, units), (item.note, whys)):
            if said and said not in known.setdefault(key, []):
                known[key].append(said)
    rows = tuple(
        (
            name,
            count,
            to_order(kind, count),
            ", ".join(units.get((kind, name), [])),
            "; ".join(whys.get((kind, name), [])),
        )
        for (kind, name), count in needed.items()
    )
    notes = (
        "Screws, dowels and pins a tenth over, in tens or fives; all else as needed. One finish and one maker for all hinges and runners.",
    )
    return Table("hardware_order", "Hardware to order", ORDER, rows, notes)


def to_order(kind: str, needed: int) -> int:
    """How many to order: small pieces a tenth over, in full packs of ten or five."""
    pack = SMALL.get(kind)
    return needed if pack is None else pack * math.ceil(needed * 1.1 / pack - 1e-9)
