"""What the cutting stage hands on: for every board its plan, the sheets to buy, and the parts that no sheet gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.why import Whys
from wallwright.cutting.model import Plan


@dataclass(frozen=True, slots=True)
class CutPlans:
    """All boards of a wall.

    plans : (board, its plan), every placed part under its own id; laid out when first asked for · sheets : (board, sheets paid for,
    used share of the area of all sheets and offcuts) · areas : (board, area of the sheets paid for [m²]; offcuts of earlier jobs cost
    nothing) · unfit : (part id, why no sheet gives it) · parted : (mark, why matched fronts are not cut from one strip) · searched :
    further than the quick plan · proved : no plan would buy less of any board
    """

    plans: Sequence[tuple[str, Plan]]
    sheets: tuple[tuple[str, int, float], ...]
    areas: tuple[tuple[str, float], ...]
    unfit: tuple[tuple[str, str], ...]
    whys: Whys
    parted: tuple[tuple[str, str], ...] = ()
    searched: bool = False
    proved: bool = False

    @property
    def at_most(self) -> bool:
        """Whether a search may still find less to buy: the quick plans, where not all of them are proved."""
        return not self.searched and not self.proved

    def plan_of(self, board: str) -> Plan | None:
        """The plan of a board; None where nothing is cut from it."""
        return dict(self.plans).get(board)
