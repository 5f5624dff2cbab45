"""Pull-outs: a tall front on a frame that comes out whole, with trays between two uprights."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass import drawers, stock
from wallwright.carcass.bays import Cell
from wallwright.carcass.panels import Depths
from wallwright.carcass.piece import THIN, piece
from wallwright.carcass.record import Part, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Block

TRAY_EDGES = (THIN, THIN, "", "")


def pull_out_parts(
    unit: UnitBox, cell: Cell, at: Depths, limits: Limits, taken: tuple[float, float] = (0.0, 0.0)
) -> Iterator[Part]:  # fmt: skip
    """The frame of a pull-out: uprights at front and rear, a bottom and trays between them.

    taken : height at the bay's foot and head that a finger rail takes [mm].

    Raises:
        ValueError: a bay too shallow for its runner, too narrow or too low, naming the field.
    """
    value = limits.value
    run = drawers.runner(at.inside, limits)
    of = stock.stock(stock.DRAWER)
    t, wide = of.thickness, drawers.box_width(cell.clear.width, value("carcass.drawer_play"))
    under, over = (
        max(value("carcass.drawer_under"), taken[0] + 5.0 if taken[0] else 0.0),
        value("carcass.drawer_over"),
    )
    high = cell.clear.height - under - max(over, taken[1] + 5.0 if taken[1] else 0.0)
    field = f"design.units.{unit.ref}.bays.{cell.number - 1}"
    if run < 100:
        raise ValueError(
            f"design.units.{unit.ref}.depth: {at.inside:.0f} mm inside is too shallow for a pull-out's runner"
        )
    if wide < 6 * t:
        raise ValueError(
            f"{field}.width: {cell.clear.width:.0f} mm clear is too narrow for a pull-out; use a door"
        )
    trays = cell.shelves + 1
    each = (high - trays * t) / trays
    if each < value("carcass.drawer_low"):
        raise ValueError(
            f"{field}.shelves: {cell.shelves} trays above the bottom of a pull-out of {max(high, 0):.0f} mm leave {max(each, 0):.0f} mm "
            "each; use fewer, or make the bay higher"
        )
    x, y, z = cell.clear.x + value("carcass.drawer_play") / 2, at.inner, cell.clear.z + under
    ref = f"{unit.ref}.{cell.number}-O"
    for letter, name, near in (
        ("F", "pull-out upright, front", y),
        ("B", "pull-out upright, rear", y + run - t),
    ):
        yield piece(
            f"{ref}{letter}",
            unit.ref,
            "frame",
            name,
            of,
            Block(x, near, z, wide, t, high),
            "z",
            "x",
            TRAY_EDGES,
        )
    for k in range(trays):
        block = Block(x, y + t, z + k * (each + t), wide, run - 2 * t, t)
        name = "pull-out tray" if k else "pull-out bottom"
        yield piece(f"{ref}{k + 1}", unit.ref, "frame", name, of, block, "y", "x", TRAY_EDGES)
