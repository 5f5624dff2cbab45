"""Where each thing lives, what each level holds, and what finds no place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.storage.record import Level, Storage

COLUMNS = (
    Column("Things"),
    Column("Count", "", 0, "right"),
    Column("Shelf run", "m", 2, "right"),
    Column("Mass", "kg", 1, "right"),
    Column("Needs depth", "mm", 0, "right"),
    Column("Needs height", "mm", 0, "right"),
    Column("Used"),
    Column("Within a child's reach"),
    Column("Lives in"),
    Column("No place for", "", 0, "right"),
    Column("Because"),
)
LEVELS = (
    Column("No", "", 0, "right"),
    Column("Level"),
    Column("Floor", "", 0, "right"),
    Column("Clear", "", 0, "right"),
    Column("Holds"),
    Column("kg", "", 0, "right"),
    Column("Free", "", 0, "right"),
)


def storage(wall: Wall) -> Table:
    """Every kind of thing with its bays; what does not fit is said plainly."""
    store = wall.storage
    left = dict(store.leftovers)
    because = {one.kind: one.says for one in store.missing}
    rows = tuple(
        (
            d.name, d.count, d.run / 1000, d.mass, d.depth, d.height, d.use, "yes" if d.low else "",
            ", ".join(f"{a.bay} ({a.count})" for a in store.allotted if a.kind == d.kind), left.get(d.kind, 0),
            because.get(d.kind, ""),
        )
        for d in store.demands
    )  # fmt: skip
    notes = (
        f"Shelf run needed {store.needed / 1000:.1f} m, there {store.capacity / 1000:.1f} m, {store.free:.0%} of it free; "
        f"storage {store.storage_class}.",
    )
    return Table("storage", "Where things live", COLUMNS, rows, notes)


def held_words(store: Storage, level: Level) -> tuple[str, ...]:
    """What a level holds, a kind each: 13 × paperback."""
    names = {demand.kind: demand.name for demand in store.demands}
    return tuple(
        f"{item.count} × {_small(names[item.kind])}" for item in store.placed if item.level == level.ref
    )


def _small(name: str) -> str:
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]


def storage_levels(wall: Wall) -> Table:
    """Every level by its number on the storage picture: its floor, clear height, what it holds, its load and its free run."""
    store = wall.storage
    rows = tuple(
        (
            number, level.ref, level.z, level.height,
            ", ".join((*(name.lower() for name in level.devices), *held_words(store, level))) or "-",
            store.mass_on(level), store.free_on(level),
        )
        for number, level in enumerate(store.levels, 1)
    )  # fmt: skip
    return Table("storage_levels", "What each level holds", LEVELS, rows)
