"""What setting-out looks at, and how a unit comes out of it: the face, the screen, what hangs and what stands in the way."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wallwright.carcass import stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Unit
from wallwright.job.document import Job
from wallwright.job.face import Face

LEAST = 100.0
"""Where there is no room at all a thing is still this wide [mm], and the rules say that it stands in something."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What setting-out looks at: the face, the screen, what hangs and stands in the way, the scribe, the limits."""

    job: Job
    face: Face
    frame: Box
    hangs: list[Box]
    stands: list[Box]
    scribe: float
    limits: Limits

    def limit(self, name: str) -> float:
        """A limit of this trade by its short name."""
        return self.limits.value(f"carcass.{name}")


@dataclass(frozen=True, slots=True)
class Sized:
    """A unit set out, with a sentence for each measure that was derived."""

    box: Box
    depth: float
    says: dict[str, str]


def pin(length: Length | None, automatic: float) -> float:
    """The pinned length, else what was derived [mm]."""
    return automatic if length is None else length.mm


def floor(mm: float) -> float:
    """Down to the whole millimetre: what is made a little smaller still goes in."""
    return float(math.floor(mm + 1e-6))


def front_finish(unit: Unit, ground: Ground) -> str:
    """The finish of a unit's fronts. ValueError where the library lacks it."""
    chosen = unit.front_finish or ground.job.design.finishes.fronts or stock.FRONT_FINISH
    return stock.known_finish(chosen, f"design.units.{unit.ref}.front_finish")


def own_board(unit: Unit, ground: Ground) -> str:
    """The board a unit is made of: its own, else thick ply for what hangs on rods, else the wall's. ValueError if unknown."""
    thick = unit.kind in ("shelf", "ledge")
    usual = stock.WALL_SHELF if thick else ground.job.design.finishes.carcass_board or stock.CARCASS
    return stock.known_board(unit.board or usual, f"design.units.{unit.ref}.board")
