"""The criteria of the snag list and of the commissioning list: what is measured, and what passes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.core.limit import Limits


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


def passes(check: str, measured: float, limits: Limits) -> bool | None:
    """Whether a measured value passes; None where the criterion measures nothing."""
    one = CRITERIA.get(check)
    if one is None or not one.limit:
        return None
    value = limits.value(one.limit)
    return abs(measured) <= value if one.sense == "most" else measured >= value
