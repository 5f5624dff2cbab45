"""Hole patterns in the backs of screens, and the screws and masses that go with them: FDMI, the Flat Display Mounting Interface.

From copies of the standard's table in encyclopaedias: MIS-D, MIS-E and MIS-F. A screen's own drawing goes before it.
"""

from __future__ import annotations

from dataclasses import dataclass

STEP = 200.0
"""Patterns of MIS-F grow by this much [mm]."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A class of hole patterns: its name, the screws it takes, and the heaviest screen it is for [kg]."""

    name: str
    screws: tuple[str, ...]
    most: float


MIS_D = Pattern("MIS-D", ("M4",), 14.0)
MIS_E = Pattern("MIS-E", ("M4",), 22.7)
MIS_F = Pattern("MIS-F", ("M6", "M8"), 113.6)
NAMED = {(75.0, 75.0): MIS_D, (100.0, 100.0): MIS_D, (200.0, 100.0): MIS_E, (280.0, 150.0): MIS_F}
"""Patterns that are no multiple of 200, width × height [mm]."""


def pattern(width: float, height: float) -> Pattern | None:
    """The class of a hole group [mm]; None where it is of no class, so that its screws must be measured."""
    named = NAMED.get((width, height))
    if named:
        return named
    whole = min(width, height) >= STEP and width % STEP == 0 and height % STEP == 0
    return MIS_F if whole and width >= height else None
