"""What is measured at the end, on what, and what passes: the criteria of the snag list and of the commissioning list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from wallwright.core.limit import Limits

if TYPE_CHECKING:
    from wallwright.derive import Wall


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing to measure. limit : its name among the limits, "" where it is a yes or a no · sense : whether that is the most or the
    least that passes
    """

    check: str
    says: str
    trade: str
    limit: str = ""
    sense: Literal["most", "least"] = "most"


CRITERIA: dict[str, Criterion] = {
    one.check: one
    for one in (
        Criterion("level", "level, over its length", "joinery", "handover.level"),
        Criterion("screen_height", "off the height that was signed", "screen", "handover.height"),
        Criterion("front_gap", "front gaps off their width", "joinery", "handover.front_gap"),
        Criterion("shadow_gap", "shadow gap off its width", "joinery", "handover.shadow_gap"),
        Criterion("anchor", "anchor held at its reckoned pull", "joinery", "handover.pull", "least"),
        Criterion(
            "insulation",
            "insulation resistance, dead, by the licensed electrician",
            "electrical",
            "handover.insulation",
            "least",
        ),
        Criterion("trip", "residual-current device at its rated current", "electrical", "handover.trip"),
        Criterion(
            "trip_five", "residual-current device at five times that", "electrical", "handover.trip_five"
        ),
        Criterion("outlet", "every outlet live, right way round, earthed", "electrical"),
        Criterion("data", "link tested end to end, labelled at both ends", "electrical"),
        Criterion("remote", "remote reaches every box with doors shut", "screen"),
        Criterion("picture", "picture and sound, no fault of a pixel", "screen"),
        Criterion("bay_rise", "warmer than the room after 2 h, doors shut", "screen", "handover.bay_rise"),
        Criterion("flicker", "dims to its least without flicker, no dots in view", "light"),
    )
}


@dataclass(frozen=True, slots=True)
class ToTest:
    """A line of the commissioning list: a criterion on a thing of this wall."""

    criterion: Criterion
    ref: str
    where: str


def passes(check: str, measured: float, limits: Limits) -> bool | None:
    """Whether a measured value passes; None where the criterion measures nothing."""
    one = CRITERIA.get(check)
    if one is None or not one.limit:
        return None
    value = limits.value(one.limit)
    return abs(measured) <= value if one.sense == "most" else measured >= value


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
