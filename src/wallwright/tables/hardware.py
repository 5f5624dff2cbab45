"""The hardware schedule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (Column("Kind"), Column("Item"), Column("Unit"), Column("Quantity", "", 0, "right"), Column("Note"))


def hardware(wall: Wall) -> Table:
    """Hinges, runners, pins and rails by unit; equal lines of a unit added up."""
    count: dict[tuple[str, str, str, str], int] = {}
    for item in wall.carcass.hardware:
        key = (item.kind, item.name, item.unit, item.note)
        count[key] = count.get(key, 0) + item.quantity
    rows = tuple((kind, name, unit, pieces, note) for (kind, name, unit, note), pieces in count.items())
    total = sum(count.values())
    notes = (f"{total} pieces in all. Order runners by the inside depth of the case, not by the drawer.",)
    return Table("hardware", "Hardware schedule", COLUMNS, rows, notes)
