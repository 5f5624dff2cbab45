"""Drawer boxes on side-mounted runners. Common practice: box = opening − 25.4, runners in steps of 50."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass import stock
from wallwright.carcass.bays import Cell
from wallwright.carcass.panels import Depths
from wallwright.carcass.piece import piece
from wallwright.carcass.record import Part, UnitBox
from wallwright.core.counted import counted
from wallwright.core.limit import Limits
from wallwright.core.shape import Block


def box_width(opening: float, play: float) -> float:
    """Outside width of a drawer box in a clear opening [mm]."""
    return opening - play


def runner_length(inside: float, step: float, spare: float, longest: float) -> float:
    """The longest runner, in steps, that leaves `spare` behind it in an inside depth [mm]; 0 where none fits."""
    return max(0.0, min(longest, math.floor((inside - spare) / step + 1e-9) * step))


def runner(inside: float, limits: Limits) -> float:
    """The runner of the rule set for an inside depth [mm]; 0 where none fits."""
    value = limits.value
    return runner_length(
        inside, value("carcass.runner_step"), value("carcass.runner_spare"), value("carcass.runner_longest")
    )


def drawer_parts(
    unit: UnitBox, cell: Cell, at: Depths, limits: Limits, rail: float = 0.0
) -> Iterator[Part]:  # fmt: skip
    """The boxes of a bay of drawers, one above the other. rail : height that a finger rail over each of them takes [mm].

    Raises:
        ValueError: more drawers than the bay can hold, or no runner short enough, naming the field.
    """
    play, over = (
        limits.value("carcass.drawer_play"),
        max(limits.value("carcass.drawer_over"), rail + 5.0 if rail else 0.0),
    )
    under, low = limits.value("carcass.drawer_under"), limits.value("carcass.drawer_low")
    share = cell.clear.height / cell.drawers
    high = share - over - under
    field = f"design.units.{unit.ref}.bays.{cell.number - 1}"
    if high < low:
        most = math.floor(cell.clear.height / (low + over + under))
        raise ValueError(
            f"{field}.drawers: {counted(cell.drawers, 'drawer')} in {cell.clear.height:.0f} mm "
            f"{'leaves' if cell.drawers == 1 else 'leave'} boxes of {max(high, 0):.0f} mm; "
            f"use at most {max(most, 1)}" + (", or make the unit higher" if most < 1 else "")
        )
    run = runner(at.inside, limits)
    if run < 100:
        raise ValueError(
            f"design.units.{unit.ref}.depth: {at.inside:.0f} mm inside is too shallow for a drawer runner"
        )
    side, bottom = stock.stock(stock.DRAWER), stock.stock(stock.BACK)
    t, wide = side.thickness, box_width(cell.clear.width, play)
    if wide < 6 * t:
        raise ValueError(
            f"{field}.width: {cell.clear.width:.0f} mm clear is too narrow for a drawer; use a door"
        )
    x, y = cell.clear.x + play / 2, at.inner
    for k in range(cell.drawers):
        z = cell.clear.z + k * share + under
        ref = f"{unit.ref}.{cell.number}-D{k + 1}"
        for letter, name, left in (("L", "drawer side, left", x), ("R", "drawer side, right", x + wide - t)):
            yield piece(
                f"{ref}{letter}",
                unit.ref,
                "drawer_side",
                name,
                side,
                Block(left, y, z, t, run, high),
                "y",
                "z",
            )
        inner = wide - 2 * t
        for letter, name, near in (("F", "drawer front end", y), ("B", "drawer rear end", y + run - t)):
            yield piece(
                f"{ref}{letter}",
                unit.ref,
                "drawer_end",
                name,
                side,
                Block(x + t, near, z, inner, t, high),
                "x",
                "z",
            )
        base = Block(x + t, y + t, z, inner, run - 2 * t, bottom.thickness)
        yield piece(
            f"{ref}K", unit.ref, "drawer_bottom", "drawer bottom, let in flush", bottom, base, "x", "y"
        )
