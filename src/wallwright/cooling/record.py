"""What the cooling stage hands on: for each bay with devices, its heat, how warm it gets, and where its air openings are cut."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Whys


@dataclass(frozen=True, slots=True)
class VentOpening:
    """An air opening to be cut: a grille's or slot's outline, flat in the board it goes through.

    part : the board's id · face : front, back, plinth (upright boards) or bottom, top (level ones) · x : left edge from the wall's
    left corner · z : lower edge above FFL; of a level board its edge nearer the wall, out from the wall · width : along the wall ·
    height : up the board, of a level one across its depth · what : in words · free : what passes air [cm²] · low : it lets air in
    """

    bay: str
    part: str
    face: str
    x: float
    z: float
    width: float
    height: float
    what: str
    free: float = 0.0
    low: bool = True

    @property
    def level(self) -> bool:
        """Whether it goes through a level board."""
        return self.face in ("bottom", "top")


@dataclass(frozen=True, slots=True)
class BayHeat:
    """Heat of one bay, of its warmest compartment where shelves divide it: watts in it, rise above the room closed and as
    designed [K].

    opening, opening_needed : free area of each of two equal openings, there and needed [cm²] · fan_m3h : the fan that would do
    instead, 0 where the openings do · devices : what stands in the bay · fans : fans beside the warmest ·
    height : of that compartment [mm] · drivers : heat of LED drivers among the watts [W] · openings : what is cut for it
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
    drivers: float = 0.0
    openings: tuple[VentOpening, ...] = ()


@dataclass(frozen=True, slots=True)
class Cooling:
    """All bays that hold devices."""

    bays: tuple[BayHeat, ...]
    whys: Whys

    @property
    def openings(self) -> tuple[VentOpening, ...]:
        """Every air opening to be cut."""
        return tuple(opening for bay in self.bays for opening in bay.openings)
