"""Only boards that face the room lose heat: not those towards another bay, unit, floor, ceiling or the wall beside."""

from __future__ import annotations

import pytest

from wallwright.carcass.record import BayBox
from wallwright.cooling import heat
from wallwright.cooling.plan import Around
from wallwright.core.shape import Box
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.library import load

LIMITS = load.limits()


def bay(ref: str, x: float, z: float = 300.0) -> BayBox:
    return BayBox(ref, ref.partition(".")[0], Box(x, z, 600.0, 300.0), 400.0, "flap", 0, 0, ir_open=False)


def test_a_middle_bay_loses_heat_only_where_the_room_is() -> None:
    row = tuple(bay(f"C1.{n}", 1000.0 + (n - 1) * 618.0) for n in (1, 2, 3))
    around = Around(ceiling=2700.0, bays=row, width=4000.0)
    sides = [around.outer(one, True, True, LIMITS) for one in row]
    assert [(one.left, one.right) for one in sides] == [(True, False), (False, False), (False, True)]
    assert all(one.top and one.bottom for one in sides)


def test_compartments_walls_floor_and_ceiling_are_no_room() -> None:
    low = bay("C1.1", 20.0, 2380.0)
    found = Around(ceiling=2700.0, bays=(low,), width=640.0).outer(low, True, True, LIMITS)
    assert not found.left and not found.right and not found.top and found.bottom
    inner = Around(ceiling=2700.0, bays=(low,), width=4000.0).outer(low, False, False, LIMITS)
    assert not inner.top and not inner.bottom


def test_the_loss_is_the_sum_of_the_outer_boards() -> None:
    """EN ISO 6946: 1 / (2 × 0.13 + 0.018 / 0.16) W/m²K sideways; front 0.6 × 0.3, one side 0.3 × 0.4."""
    u = 1 / (2 * 0.13 + 0.018 / 0.16)
    one = heat.box_loss(
        0.6, 0.4, 0.3, 0.018, 0.16, heat.Outer(left=True, right=False, top=False, bottom=False)
    )
    assert one == pytest.approx(u * (0.6 * 0.3 + 0.3 * 0.4))
    assert one < heat.box_loss(0.6, 0.4, 0.3, 0.018, 0.16)


def test_on_a_wall_a_bay_in_the_middle_of_a_console_is_hotter_closed_than_the_formula_for_a_box_alone() -> (
    None
):
    wall = derive(read_job(demo_jobs()["living"]))
    box = next(item for item in wall.cooling.bays if item.bay == "C1.2")
    there = next(item for item in wall.carcass.bays if item.ref == "C1.2")
    alone = heat.box_loss(
        there.box.width / 1000,
        there.depth / 1000,
        there.box.height / 1000,
        0.018,
        LIMITS.value("cooling.board_conductivity"),
    )
    assert box.rise_closed > 1.1 * box.watts / alone
