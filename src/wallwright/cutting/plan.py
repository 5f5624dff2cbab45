"""Every board of the wall cut at once, without search: the sheets to buy while the design is still moving."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.cutting.model import Plan, Problem
from wallwright.cutting.pieces import named, part_area, saw_of, sheet_area, sorted_out
from wallwright.cutting.record import CutPlans
from wallwright.cutting.solve import light, quick
from wallwright.cutting.verify import verify
from wallwright.job.document import Job

if TYPE_CHECKING:
    from wallwright.carcass.record import Part

TENTHS_PER_M2 = 1e8
STEPS = 1500
"""Search steps for one board of an issued set: counted, not timed, so that the same job gives the same plan."""


def plan(job: Job, parts: Iterable[Part], limits: Limits) -> CutPlans:
    """A valid plan for each board with the workshop's saw. A longer search may save sheets: it never needs more.

    Raises:
        ValueError: a saw setting no saw has, naming `design.saw`.
    """
    saw = saw_of(job.design.saw, limits.value("cutting.least_offcut"))
    problems, unfit = sorted_out(parts, saw)
    plans = tuple((problem.pieces[0].material, _cut(problem)) for problem in problems)
    return _plans(plans, unfit)


def search(job: Job, parts: Iterable[Part], limits: Limits, steps: int = STEPS) -> CutPlans:
    """The plans to issue: boards not yet proved are searched further, and every plan is replayed by the verifier.

    Raises:
        ValueError: a saw setting no saw has, naming `design.saw`.
        RuntimeError: a plan that its own verifier refuses; nothing may be cut from it.
    """
    saw = saw_of(job.design.saw, limits.value("cutting.least_offcut"))
    problems, unfit = sorted_out(parts, saw)
    plans = tuple((problem.pieces[0].material, _searched(problem, steps)) for problem in problems)
    return _plans(plans, unfit)


@lru_cache(maxsize=64)
def _searched(problem: Problem, steps: int) -> Plan:
    found = quick(problem)
    if found.used > found.lower_bound:
        found = light(problem, steps)
    faults = verify(problem, found)
    if faults:
        msg = f"the cutting plan of {problem.pieces[0].material} failed its replay: {'; '.join(faults[:3])}"
        raise RuntimeError(msg)
    return named(found)


def _plans(plans: tuple[tuple[str, Plan], ...], unfit: tuple[tuple[str, str], ...]) -> CutPlans:
    return CutPlans(
        plans=plans,
        sheets=tuple((board, cut.used, part_area(cut) / sheet_area(cut)) for board, cut in plans),
        areas=tuple((board, sheet_area(cut) / TENTHS_PER_M2) for board, cut in plans),
        unfit=unfit,
        whys=tuple(_why(board, cut) for board, cut in plans),
    )


@lru_cache(maxsize=64)
def _cut(problem: Problem) -> Plan:
    """Kept by the value of the problem: most edits of a wall leave most of its boards as they were."""
    return named(quick(problem))


def _why(board: str, cut: Plan) -> Why:
    used = part_area(cut) / sheet_area(cut)
    return Why(
        f"cutting.{board}.sheets",
        cut.used,
        "sheets",
        f"The plan lays {sum(len(sheet.placed) for sheet in cut.sheets)} parts on {cut.used} sheets; "
        f"no plan can use fewer than {cut.lower_bound}.",
        "parts by falling size, each where it leaves the largest free areas, kerf, trim and grain respected; "
        "an issued set is searched further",
        (
            Given("area of the parts", round(part_area(cut) / TENTHS_PER_M2, 3), "m²"),
            Given("area of the sheets", round(sheet_area(cut) / TENTHS_PER_M2, 3), "m²"),
            Given("used", round(100 * used, 1), "%"),
            Given("sheet", cut.sheets[0].sheet.name, "mm"),
        ),
        "computed from the cutting plan",
        "computed",
    )
