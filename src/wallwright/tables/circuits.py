"""The circuits: loads, protective device, cable and drop."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.tables.points import DESIGN_AID

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Ref"),
    Column("Circuit"),
    Column("Points"),
    Column("Connected", "W", 0, "right"),
    Column("After diversity", "W", 0, "right"),
    Column("Current after diversity", "A", 2, "right"),
    Column("Device", "A", 0, "right"),
    Column("Cable", "mm²", 1, "right"),
    Column("Length", "m", 1, "right"),
    Column("Drop at the device's full load", "%", 2, "right"),
    Column("Earth leakage", "mA", 1, "right"),
)


def circuits(wall: Wall) -> Table:
    """Every circuit with the points on it."""
    rows = tuple(
        (
            c.ref, c.name, ", ".join(p.ref for p in wall.services.points if p.circuit == c.ref), c.connected, c.diversified,
            c.current, c.rating, c.cable_mm2, c.length / 1000, c.drop_percent, c.leakage_ma,
        )
        for c in wall.services.circuits
    )  # fmt: skip
    total = sum(c.connected for c in wall.services.circuits)
    notes = (
        DESIGN_AID,
        "The drop is reckoned at the rating of the protective device, to the furthest point: more than the devices here draw.",
        f"Connected load {total:.0f} W. Additional protection by a residual-current device as the local code asks.",
    )
    return Table("circuits", "Circuits", COLUMNS, rows, notes)
