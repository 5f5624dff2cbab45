"""What the cutting stage hands on: for every board its plan, the sheets to buy, and the parts that no sheet gives."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Why
from wallwright.cutting.model import Plan


@dataclass(frozen=True, slots=True)
class CutPlans:
    """All boards of a wall.

    plans : (board, its plan), every placed part under its own id · sheets : (board, sheets bought, used share of their area) ·
    areas : (board, area of the sheets bought [m²]) · unfit : (part id, why no sheet of the library gives it)
    """

    plans: tuple[tuple[str, Plan], ...]
    sheets: tuple[tuple[str, int, float], ...]
    areas: tuple[tuple[str, float], ...]
    unfit: tuple[tuple[str, str], ...]
    whys: tuple[Why, ...]

    def plan_of(self, board: str) -> Plan | None:
        """The plan of a board; None where nothing is cut from it."""
        return dict(self.plans).get(board)
