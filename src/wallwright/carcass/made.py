"""What is gathered while units are made, and what a unit is built against."""

from __future__ import annotations

from dataclasses import dataclass, field

from wallwright.carcass.bays import Passes
from wallwright.carcass.record import (
    BayBox,
    Behind,
    Carried,
    Drawn,
    Hardware,
    OnRunners,
    Part,
    Shelf,
    UnitBox,
)
from wallwright.core.limit import Limits
from wallwright.core.why import Why
from wallwright.job.design import Unit


@dataclass(slots=True)
class Made:
    """What is gathered while units are made."""

    bays: list[BayBox] = field(default_factory=list[BayBox])
    parts: list[Part] = field(default_factory=list[Part])
    shelves: list[Shelf] = field(default_factory=list[Shelf])
    movers: list[Drawn] = field(default_factory=list[Drawn])
    hardware: list[Hardware] = field(default_factory=list[Hardware])
    whys: list[Why] = field(default_factory=list[Why])
    behind: list[Behind] = field(default_factory=list[Behind])
    carried: list[Carried] = field(default_factory=list[Carried])
    on_runners: list[OnRunners] = field(default_factory=list[OnRunners])

    def take(self, own: Made) -> None:
        """Add what was made of one unit."""
        for name in Made.__slots__:
            getattr(self, name).extend(getattr(own, name))


@dataclass(frozen=True, slots=True)
class Site:
    """What a unit is built against: the panel behind it, the console's top, x of the wall's end or column on either side, what a filler
    above closes up to and how far out that reaches [mm], and the way by which its boxes are carried in.
    """

    behind: float
    console_top: float
    ends: tuple[float, float]
    ceiling: float | None
    under: float
    taper: float
    passes: Passes | None


def load_of(unit: UnitBox, asked: Unit, limits: Limits) -> float:
    """Expected load [kg a metre of shelf]: as pinned, else usual for its kind."""
    if asked.load is not None:
        return asked.load
    return limits.value(unit.usual_load)
