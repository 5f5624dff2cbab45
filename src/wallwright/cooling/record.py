"""What the cooling stage hands on: for each bay with devices, its heat and how warm it gets."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class BayHeat:
    """Heat of one bay, of its warmest compartment where shelves divide it: watts in it, rise above the room closed and as
    designed [K].

    opening, opening_needed : free area of each of two equal openings, there and needed [cm²] · fan_m3h : the fan that would do
    instead, 0 where the openings do · devices : what stands in the bay · fans : fans beside the warmest ·
    height : of that compartment [mm]
    """

    bay: str
    unit: str
    watts: float
    rise_closed: float
    rise: float
    opening: float
    opening_needed: float
    fan_m3h: float
    devices: tuple[str, ...] = ()
    fans: int = 0
    height: float = 0.0


@dataclass(frozen=True, slots=True)
class Cooling:
    """All bays that hold devices."""

    bays: tuple[BayHeat, ...]
    whys: tuple[Why, ...]
