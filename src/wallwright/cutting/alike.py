"""One search for all boards that are sold in the same sheets: parts and sheets alike, only name and price a square metre differ.

What carcasses cost of another board is asked for one board after another; the layouts are the same, so they are searched once.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from wallwright.cutting.model import Plan, Problem, Sheet
from wallwright.cutting.solve import light

HALF_A_CENT = 0.005 + 1e-9
NAME = "board"
A_METRE = 1000.0  # price of a square metre of it: to the hundredth, the prices go by the areas to a hundred-thousandth


def as_one_board(problem: Problem, bounded: Plan, steps: int) -> Plan | None:
    """The plan of so many steps, searched with the board's name and price left out; None where the prices do not go by the area.

    bounded : a plan of this problem without a search, for the bounds and what proves them.
    """
    if len(problem.materials()) != 1 or not _by_area(problem.sheets):
        return None
    sheets = tuple(
        replace(s, material=NAME, price=round(s.length * s.width / 1e8 * A_METRE, 2) if s.price else 0.0)
        for s in sorted(problem.sheets, key=lambda s: (s.length * s.width, s.name))
    )
    pieces = tuple(replace(piece, material=NAME) for piece in problem.pieces)
    found = _searched(Problem(pieces, sheets, problem.saw), steps)
    own = {sheet.name: sheet for sheet in problem.sheets}
    layouts = tuple(replace(layout, sheet=own[layout.sheet.name]) for layout in found.sheets)
    return replace(
        found,
        sheets=layouts,
        lower_bound=bounded.lower_bound,
        price=sum(layout.count * round(layout.sheet.price * 100) for layout in layouts) / 100,
        price_bound=bounded.price_bound,
        unplaced=tuple(replace(p, material=problem.pieces[0].material) for p in found.unplaced),
        proofs=bounded.proofs,
    )


@lru_cache(maxsize=256)
def _searched(problem: Problem, steps: int) -> Plan:
    return light(problem, steps)


def _by_area(sheets: tuple[Sheet, ...]) -> bool:
    """Is there one price a square metre that all of them have, to the hundredth? What is free, from the rack, stays free."""
    areas = [(sheet.length * sheet.width / 1e8, sheet.price) for sheet in sheets if sheet.price]
    low = max(((price - HALF_A_CENT) / area for area, price in areas), default=0.0)
    return low <= min(((price + HALF_A_CENT) / area for area, price in areas), default=-1.0)
