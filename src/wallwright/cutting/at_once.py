"""The quick plan in numbers: sheets and areas are counted from its trees, and it is laid out only when somebody looks at it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import NamedTuple

from wallwright.cutting.bound import quick_bound
from wallwright.cutting.construct import first_plan
from wallwright.cutting.improve import State
from wallwright.cutting.model import Plan, Problem, Sheet
from wallwright.cutting.pieces import is_offcut, named, part_area, rack_first
from wallwright.cutting.solve import plan_of
from wallwright.cutting.tree import tasks


class Tally(NamedTuple):
    """A plan in numbers: sheets paid for; areas of the parts on them, of all sheets and of those paid for [tenths squared]; whether
    neither fewer sheets nor less money would do.
    """

    charged: int
    parts: int
    area: int
    charged_area: int
    proved: bool


def tally(sheets: Sequence[Sheet], parts: int, *, proved: bool) -> Tally:
    """The numbers of a plan that lays parts of this area on these sheets."""
    areas = [(sheet.length * sheet.width, not is_offcut(sheet)) for sheet in sheets]
    paid = [area for area, charged in areas if charged]
    return Tally(len(paid), parts, sum(area for area, _ in areas), sum(paid), proved)


def tally_of(plan: Plan) -> Tally:
    """The numbers of a plan that is laid out."""
    sheets = [layout.sheet for layout in plan.sheets for _ in range(layout.count)]
    return tally(sheets, part_area(plan), proved=plan.proved and plan.used == plan.lower_bound)


class AtOnce:
    """A valid plan of one board's parts without search: in numbers and, where somebody asks, laid out, both from the same trees."""

    def __init__(self, problem: Problem) -> None:
        (self._task,) = tasks(problem)
        self._state = State(*first_plan(self._task))
        self._bound = quick_bound(self._task)
        self._problem = problem

    @cached_property
    def plan(self) -> Plan:
        """Laid out, every part under its own id."""
        return named(rack_first(plan_of([self._task], [self._state], [self._bound]), self._problem.sheets))

    @cached_property
    def tally(self) -> Tally:
        """Its numbers; a sheet of the rack has the size of the bought one in whose place it comes, so they are those of `plan`."""
        if self.short:
            return tally_of(self.plan)
        sheets = [self._task.stock[board.kind].sheet for board in self._state.boards]
        parts = sum(piece.length * piece.width * piece.quantity for piece in self._problem.pieces)
        price = sum(round(sheet.price * 100) for sheet in sheets)
        proved = len(sheets) == self._bound.sheets and price <= self._bound.cost >> 64
        return tally(sheets, parts, proved=proved)

    @property
    def short(self) -> bool:
        """Whether the stock does not suffice for all parts."""
        return bool(self._state.waiting)
