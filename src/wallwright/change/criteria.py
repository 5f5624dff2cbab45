"""What is measured at the end, and on which things of this wall: the lines of the commissioning list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.job.criteria import CRITERIA, Criterion, passes

if TYPE_CHECKING:
    from wallwright.derive import Wall

__all__ = ["CRITERIA", "Criterion", "ToTest", "passes", "to_test"]


@dataclass(frozen=True, slots=True)
class ToTest:
    """A line of the commissioning list: a criterion on a thing of this wall."""

    criterion: Criterion
    ref: str
    where: str


def to_test(wall: Wall) -> Iterator[ToTest]:
    """Every line of this wall's commissioning list, in the order in which it is gone through: dead before live, fixed before hung."""
    for circuit in wall.services.circuits:
        yield ToTest(CRITERIA["insulation"], circuit.ref, circuit.name)
    for check in wall.structure.fixings:
        if check.count:
            yield ToTest(CRITERIA["anchor"], check.ref, f"{check.count} × {check.anchor}")
    for unit in wall.setout.units:
        yield ToTest(CRITERIA["level"], unit.ref, unit.kind.replace("_", " "))
        if unit.cabinet and any(mover.unit == unit.ref for mover in wall.carcass.movers):
            yield ToTest(CRITERIA["front_gap"], unit.ref, "doors, drawers and flaps")
    yield ToTest(CRITERIA["level"], "screen", "screen")
    yield ToTest(CRITERIA["screen_height"], "screen", f"middle {wall.sight.screen.centre[1]:.0f} above FFL")
    for circuit in wall.services.circuits:
        for name in ("trip", "trip_five"):
            yield ToTest(CRITERIA[name], circuit.ref, circuit.name)
        yield ToTest(CRITERIA["outlet"], circuit.ref, f"{circuit.points} points")
    for point in wall.services.points:
        if point.kind == "data":
            yield ToTest(CRITERIA["data"], point.ref, f"data outlet at {point.x:.0f}, {point.z:.0f}")
    for seat in wall.sight.seats:
        yield ToTest(CRITERIA["picture"], seat.ref, f"from seat {seat.ref}")
        yield ToTest(CRITERIA["remote"], seat.ref, f"from seat {seat.ref}")
    for bay in wall.cooling.bays:
        yield ToTest(CRITERIA["bay_rise"], bay.bay, ", ".join(bay.devices))
    for run in wall.light.runs:
        yield ToTest(CRITERIA["flicker"], run.ref, f"LED strip, {run.length:.0f} mm")
