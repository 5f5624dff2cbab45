"""Every board of the wall cut: at once while the design is still moving, searched where it is priced to be bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from wallwright.core.later import Later
from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.cutting.alike import as_one_board
from wallwright.cutting.at_once import AtOnce, Tally, tally_of
from wallwright.cutting.model import Plan, Problem, Sheet
from wallwright.cutting.pieces import (
    JOIN,
    Sorted,
    in_stock,
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
    cut = [_cut(problem) for problem in found.problems]
    short = [made.plan for made in cut if made.short]
    plans = Later(lambda: _of_boards(found, [made.plan for made in cut]))
    return _plans(found, [made.tally for made in cut], plans, short, searched=False)


def search(job: Job, parts: Iterable[Part], limits: Limits, steps: int = STEPS) -> CutPlans:
    """The plans to price and to issue: boards not yet proved are searched further, and every plan is replayed by the verifier.

    Raises:
        ValueError: a saw setting no saw has, naming `design.saw`.
        RuntimeError: a plan that its own verifier refuses; nothing may be cut from it.
    """
    found = _sorted(job, parts, limits)
    cut = [_searched(problem, steps) for problem in found.problems]
    return _plans(found, [tally_of(made) for made in cut], _of_boards(found, cut), cut, searched=True)


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
        found = as_one_board(problem, found, steps) or light(problem, steps)
    found = rack_first(found, problem.sheets)
    faults = verify(problem, found)
    if faults:
        msg = f"the cutting plan of {problem.pieces[0].material} failed its replay: {'; '.join(faults[:3])}"
        raise RuntimeError(msg)
    return named(found)


def _proved(found: Plan) -> bool:
    """Neither cheaper nor of fewer sheets: nothing is left to search for."""
    return found.proved and found.used == found.lower_bound


def _of_boards(found: Sorted, cut: Sequence[Plan]) -> tuple[tuple[str, Plan], ...]:
    """Each board that sheets are cut of, with its plan."""
    boards = (problem.pieces[0].material for problem in found.problems)
    return tuple((board, plan) for board, plan in zip(boards, cut, strict=True) if plan.sheets)


def _plans(
    found: Sorted, tallies: Sequence[Tally], plans: Sequence[tuple[str, Plan]], short: Iterable[Plan], *, searched: bool
) -> CutPlans:  # fmt: skip
    """Plans and their numbers as the record. short : plans for whose parts the stock may not suffice."""
    boards = (problem.pieces[0].material for problem in found.problems)
    used = [(board, made) for board, made in zip(boards, tallies, strict=True) if made.area]
    without = [
        (ident, SHORT) for plan in short for piece in plan.unplaced for ident in piece.name.split(JOIN)
    ]
    placed = (
        {p.name for _, plan in plans for sheet in plan.sheets for p in sheet.placed}
        if without
        else set[str]()
    )
    return CutPlans(
        plans=plans,
        sheets=tuple((board, made.charged, made.parts / made.area) for board, made in used),
        areas=tuple((board, made.charged_area / TENTHS_PER_M2) for board, made in used),
        unfit=(*found.unfit, *((ident, says) for ident, says in without if ident not in placed)),
        whys=Later(lambda: (_why(board, cut, searched) for board, cut in plans)),
        parted=found.parted,
        searched=searched,
        proved=all(made.proved for _, made in used),
    )


def _count(cut: Plan, which: Callable[[Sheet], bool]) -> int:
    return sum(layout.count for layout in cut.sheets if which(layout.sheet))


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
def _cut(problem: Problem) -> AtOnce:
    """Kept by the value of the problem: most edits of a wall leave most of its boards as they were."""
    return AtOnce(problem)


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
