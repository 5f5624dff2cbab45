"""Whether the smallest captions can be read from a seat: their height in minutes of arc against what the reader's eyes need."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wallwright.sight.angles import HIGH, WIDE


@dataclass(frozen=True, slots=True)
class Legible:
    """Captions from one seat. minutes : their height · needed : what this reader needs · acuity : decimal, 1 = 6/6 ·
    nearest : the distance within which they are read [mm] · diagonal : the size from which they are read here [in]
    """

    seat: str
    minutes: float
    needed: float
    acuity: float
    nearest: float
    diagonal: float

    @property
    def reads(self) -> bool:
        """Whether this reader reads them from here."""
        return self.minutes >= self.needed - 1e-9


def minutes(letter: float, distance: float) -> float:
    """A letter's height in minutes of arc: 60 · 2 atan(h / 2d)."""
    return 120 * math.degrees(math.atan(letter / (2 * distance)))


def needed(acuity: float, threshold: float, reserve: float, least: float) -> float:
    """The height a reader needs: `reserve` times what the eye just makes out (threshold / acuity), never below `least`."""
    return max(least, reserve * threshold / acuity)


def caption(  # noqa: PLR0913
    seat: str,
    height: float,
    distance: float,
    acuity: float,
    share: float,
    threshold: float,
    reserve: float,
    least: float,
) -> Legible:
    """Captions of `share` of a picture this high [mm], from a seat this far from it."""
    wants = needed(acuity, threshold, reserve, least)
    half = math.tan(math.radians(wants / 120))
    letter = 2 * distance * half
    diagonal = letter / share * math.hypot(WIDE, HIGH) / HIGH / 25.4
    return Legible(
        seat, minutes(share * height, distance), wants, acuity, share * height / (2 * half), diagonal
    )
