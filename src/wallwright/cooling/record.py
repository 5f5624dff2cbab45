"""What the cooling stage hands on: for each bay with devices, its heat and how warm it gets."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class BayHeat:
    """Heat of one bay: watts in it, rise above the room closed and as designed [K], free opening area there is and needed [cm²]."""

    bay: str
    unit: str
    watts: float
    rise_closed: float
    rise: float
    opening: float
    opening_needed: float
    fan_m3h: float


@dataclass(frozen=True, slots=True)
class Cooling:
    """All bays that hold devices."""

    bays: tuple[BayHeat, ...]
    whys: tuple[Why, ...]
