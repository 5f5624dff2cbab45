"""Where each thing lives, and what finds no place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Things"),
    Column("Count", "", 0, "right"),
    Column("Shelf run", "m", 2, "right"),
    Column("Mass", "kg", 1, "right"),
    Column("Needs depth", "mm", 0, "right"),
    Column("Needs height", "mm", 0, "right"),
    Column("Within a child's reach"),
    Column("Lives in"),
    Column("No place for", "", 0, "right"),
)


def storage(wall: Wall) -> Table:
    """Every kind of thing with its bays; what does not fit is said plainly."""
    store = wall.storage
    left = dict(store.leftovers)
    rows = tuple(
        (
            d.name, d.count, d.run / 1000, d.mass, d.depth, d.height, "yes" if d.low else "",
            ", ".join(f"{a.bay} ({a.count})" for a in store.allotted if a.kind == d.kind), left.get(d.kind, 0),
        )
        for d in store.demands
    )  # fmt: skip
    notes = (
        f"Shelf run needed {store.needed / 1000:.1f} m, there {store.capacity / 1000:.1f} m; storage {store.storage_class}.",
    )
    return Table("storage", "Where things live", COLUMNS, rows, notes)
