"""Every board of the wall cut: at once while the design is still moving, searched where it is priced to be bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.cutting.model import Plan, Problem, Sheet
from wallwright.cutting.pieces import (
    JOIN,
    Sorted,
    in_stock,
    is_offcut,
    named,
    part_area,
    rack_first,
    saw_of,
    sheet_area,
    sorted_out,
)
from wallwright.cutting.record import CutPlans
from wallwright.cutting.solve import light, quick
from wallwright.cutting.verify import verify
from wallwright.job.document import Job
from wallwright.library import rates as rates_book

if TYPE_CHECKING:
    from wallwright.carcass.record import Part

TENTHS_PER_M2 = 1e8
BOARD = "board_"
STEPS = 1500
"""Search steps for one board of an issued set: counted, not timed, so that the same job gives the same plan."""
SHORT = (
    "what the workshop has of that size does not suffice, and none is sold: joint it, or find another sheet"
)


def plan(job: Job, parts: Iterable[Part], limits: Limits) -> CutPlans:
    """A valid plan for each board with the workshop's saw. A longer search may save sheets: it is never dearer.

    Raises:
        ValueError: a saw setting no saw has, naming `design.saw`.
    """
    found = _sorted(job, parts, limits)
    return _plans([(problem, _cut(problem)) for problem in found.problems], found, searched=False)


def search(job: Job, parts: Iterable[Part], limits: Limits, steps: int = STEPS) -> CutPlans:
    """The plans to price and to issue: boards not yet proved are searched further, and every plan is replayed by the verifier.

    Raises:
        ValueError: a saw setting no saw has, naming `design.saw`.
        RuntimeError: a plan that its own verifier refuses; nothing may be cut from it.
    """
    found = _sorted(job, parts, limits)
    return _plans([(problem, _searched(problem, steps)) for problem in found.problems], found, searched=True)


def _sorted(job: Job, parts: Iterable[Part], limits: Limits) -> Sorted:
    saw = saw_of(job.design.saw, limits.value("cutting.least_offcut"))
    return sorted_out(parts, saw, job.design.stock, _prices(job))


def _prices(job: Job) -> Mapping[str, float]:
    """What a square metre of each board costs by the rates that price the wall."""
    book = rates_book.book(job.design.rates, job.rates)
    return {
        key.removeprefix(BOARD): row.amount / rates_book.METRIC[row.unit][1]
        for key, row in book.items()
        if key.startswith(BOARD) and rates_book.METRIC[row.unit][0] == "m²"
    }


@lru_cache(maxsize=1024)
def _searched(problem: Problem, steps: int) -> Plan:
    found = quick(problem)
    if not _proved(found):
        found = light(problem, 0)
    if not _proved(found):
        found = light(problem, steps)
    found = rack_first(found, problem.sheets)
    faults = verify(problem, found)
    if faults:
        msg = f"the cutting plan of {problem.pieces[0].material} failed its replay: {'; '.join(faults[:3])}"
        raise RuntimeError(msg)
    return named(found)


def _proved(found: Plan) -> bool:
    """Neither cheaper nor of fewer sheets: nothing is left to search for."""
    return found.proved and found.used == found.lower_bound


def _plans(cut: list[tuple[Problem, Plan]], found: Sorted, *, searched: bool) -> CutPlans:
    plans = [(problem.pieces[0].material, plan) for problem, plan in cut if plan.sheets]
    short = [(ident, SHORT) for _, plan in cut for piece in plan.unplaced for ident in piece.name.split(JOIN)]
    placed = {p.name for _, plan in plans for sheet in plan.sheets for p in sheet.placed}
    return CutPlans(
        plans=tuple(plans),
        sheets=tuple(
            (board, _count(cut, _charged), part_area(cut) / sheet_area(cut)) for board, cut in plans
        ),
        areas=tuple((board, _charged_area(cut) / TENTHS_PER_M2) for board, cut in plans),
        unfit=(*found.unfit, *((ident, says) for ident, says in short if ident not in placed)),
        whys=tuple(_why(board, cut, searched) for board, cut in plans),
        parted=found.parted,
        searched=searched,
    )


def _charged(sheet: Sheet) -> bool:
    return not is_offcut(sheet)


def _count(cut: Plan, which: Callable[[Sheet], bool]) -> int:
    return sum(layout.count for layout in cut.sheets if which(layout.sheet))


def _charged_area(cut: Plan) -> int:
    """Area of the sheets that are paid for [tenths squared]."""
    return sheet_area(replace(cut, sheets=tuple(layout for layout in cut.sheets if _charged(layout.sheet))))


def sizes(cut: Plan) -> str:
    """How many of each size: `3 of 2440 x 1220, 1 of R1, offcut: 900 x 600`; of one size alone its name."""
    count = Counter[str]()
    for layout in cut.sheets:
        count[layout.sheet.name] += layout.count
    return next(iter(count)) if len(count) == 1 else "; ".join(f"{n} of {name}" for name, n in count.items())


def to_buy(cut: Plan) -> int:
    """Sheets that the workshop has not got."""
    return _count(cut, lambda sheet: not in_stock(sheet))


@lru_cache(maxsize=64)
def _cut(problem: Problem) -> Plan:
    """Kept by the value of the problem: most edits of a wall leave most of its boards as they were."""
    return named(rack_first(quick(problem), problem.sheets))


def _why(board: str, cut: Plan, searched: bool) -> Why:
    used = part_area(cut) / sheet_area(cut)
    how = (
        "searched further where it was not proved, and replayed"
        if searched
        else "counted by the quick plan, so at most this many: a quote, a budget and an issued set search further"
    )
    return Why(
        f"cutting.{board}.sheets",
        cut.used,
        "sheets",
        f"The plan lays {sum(len(sheet.placed) for sheet in cut.sheets)} parts on {cut.used} sheets; "
        f"no plan can use fewer than {cut.lower_bound}.",
        f"parts by falling size, each where it leaves the largest free areas, kerf, trim and grain respected; {how}",
        (
            Given("area of the parts", round(part_area(cut) / TENTHS_PER_M2, 3), "m²"),
            Given("area of the sheets", round(sheet_area(cut) / TENTHS_PER_M2, 3), "m²"),
            Given("used", round(100 * used, 1), "%"),
            Given("sheet", sizes(cut), "mm"),
        ),
        "computed from the cutting plan",
        "computed",
    )
