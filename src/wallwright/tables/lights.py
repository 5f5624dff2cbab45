"""The lighting schedule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.tables.points import DESIGN_AID, said

if TYPE_CHECKING:
    from wallwright.core.shape import Point2
    from wallwright.derive import Wall
    from wallwright.light.record import LightRun

COLUMNS = (
    Column("Ref"),
    Column("Place"),
    Column("Of"),
    Column("Length", "mm", 0, "right"),
    Column("Load a metre", "W/m", 1, "right"),
    Column("Load", "W", 1, "right"),
    Column("Supply", "V", 0, "right"),
    Column("Current", "A", 2, "right"),
    Column("Feed"),
    Column("Fed at x, z", "mm"),
    Column("Lead", "mm²", 2, "right"),
    Column("Lead length", "m", 1, "right"),
    Column("Drop", "%", 1, "right"),
    Column("Driver", "W", 0, "right"),
    Column("Driver loaded", "%", 0, "right"),
    Column("Driver stands"),
    Column("Driver at x, z", "mm"),
    Column("Colour", "K", 0, "right"),
    Column("Output", "lm/m", 0, "right"),
    Column("Diodes apart", "mm", 1, "right"),
    Column("Diffuser off", "mm", 0, "right"),
    Column("Dim to", "%", 0, "right"),
    Column("Seen from"),
)


def lights(wall: Wall) -> Table:
    """Every LED run with its driver; Dim to is empty where the run is no bias light."""
    rows = tuple(
        (
            r.ref, said(r.along), r.of, r.length, r.watts_per_m, r.watts, r.volts, r.amps, said(r.feed),
            "; ".join(_place(point) for point in r.feed_points), r.feed_size, r.feed_length / 1000, r.drop_percent, r.driver_watts,
            100 * r.driver_load, said(r.driver_place), _place(r.driver_at) if r.driver_at else "", r.colour, r.lumens_per_m, r.pitch, r.depth,
            100 * r.dim_to if r.dim_to else None, ", ".join(r.seen_by) or "no seat",
        )
        for r in wall.light.runs
    )  # fmt: skip
    notes = [DESIGN_AID, "Drivers fail before strips: each must stay reachable and have air."]
    notes += [_curve(r) for r in wall.light.runs if r.curve]
    return Table("lights", "Lighting schedule", COLUMNS, rows, tuple(notes))


def _place(point: Point2) -> str:
    """A place on the wall, from its left corner and FFL."""
    return f"{show_mm(point[0])}, {show_mm(point[1])}"


_ROUND = {
    "bendable": "order a strip that bends edge on",
    "pieces": "in straight pieces from cut mark to cut mark, joined by short leads",
    "": "an ordinary strip does not bend so; not settled",
}


def _curve(run: LightRun) -> str:
    """How a strip that lies flat goes round an arch."""
    return f"{run.ref} turns edge on round a radius of {run.curve:.0f} mm: {_ROUND[run.round_curve]}."
