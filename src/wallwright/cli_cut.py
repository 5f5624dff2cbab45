"""The command that cuts a table of parts from a table of sheets."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Generator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeVar

from wallwright.cli_progress import progress as _progress
from wallwright.cli_say import GOOD, MUST_FIX, Json, print_json

if TYPE_CHECKING:
    from wallwright.cutting.improve import Progress
    from wallwright.cutting.model import Plan, Problem

LONGEST_CUT = 3600.0
"""Seconds that a search for a cutting plan may take."""
LARGEST_TABLE = 20_000_000
"""Bytes of a table of parts or sheets: far above any order, low enough that a wrong file cannot stall the program."""
Rows = TypeVar("Rows")
SAW_STAGES: dict[str, Literal["any", 2, 3]] = {"any": "any", "2": 2, "3": 3}


def cut(  # noqa: PLR0913
    parts: Path,
    sheets: Path,
    *,
    kerf: str = "3.2",
    trim: str = "10",
    seconds: float = 10.0,
    iterations: int | None = None,
    replay: str | None = None,
    stages: Literal["any", "2", "3"] = "any",
    seed: int = 1,
    as_json: Json = False,
) -> int:
    """Lay parts out on sheets with guillotine cuts; every plan is replayed by the verifier before it is shown.

    Ctrl-C ends the search and shows the best plan found; a second Ctrl-C leaves without one. Exit 0 every part has its place,
    1 the stock does not suffice for all of them, 2 bad input.

    Args:
        parts: CSV with name,material,length,width,quantity,grain (grain: none, length or width); with a column match, parts of
            one word are cut from one strip in their order.
        sheets: CSV with name,material,length,width,price,quantity (no quantity = as many as wanted); with a column trim, that
            instead of --trim (0 for an offcut of an earlier job).
        kerf: Width of the saw cut, as written (3.2, 1/8").
        trim: Taken off every edge of a sheet before cutting.
        seconds: When the search ends at the latest, counted from when the tables are read; there is always a plan.
        iterations: Steps to spend instead of the time: with them the same tables and seed give the same plan again.
        replay: The moments at which the clock ended parts of an earlier search, from its JSON: with its seed the same plan again.
        stages: How often the cutting direction may change.
        seed: Of the search.
        as_json: Print the plan as JSON.
    """
    from wallwright.cutting.model import Problem, Saw, from_mm
    from wallwright.cutting.read import parse_parts, parse_sheets, plan_json, read_replay
    from wallwright.cutting.solve import solve
    from wallwright.cutting.verify import examine

    saw = Saw(
        kerf=from_mm(_length("kerf", kerf), rounding="up"),
        trim=from_mm(_length("trim", trim), rounding="up"),
        stages=SAW_STAGES[stages],
    )
    problem = Problem(
        pieces=_table(parts, parse_parts),
        sheets=_table(sheets, parse_sheets),
        saw=saw,
    )
    if not 0 <= seconds <= LONGEST_CUT:
        raise ValueError(f"--seconds {seconds:g}: must be from 0 to {LONGEST_CUT:g}")
    if replay is not None and iterations is not None:
        raise ValueError("--replay: goes without --iterations; it is for a plan that the clock ended")
    stops = None if replay is None else read_replay(replay)
    with _interrupt_noted() as interrupted, _progress("Cutting") as tell:
        shown: list[tuple[int, int]] = []

        def go_on(now: Progress) -> bool:
            best = (now.used, now.lower_bound)
            if not as_json and shown[-1:] != [best]:
                shown.append(best)
                print(
                    f"{now.seconds:5.1f} s: {now.used} sheets, at least {now.lower_bound}",
                    file=sys.stderr,
                    flush=True,
                )
            done = (
                now.seconds / max(seconds, 0.001)
                if iterations is None
                else now.iteration / max(iterations, 1)
            )
            tell(min(1.0, done), f"{now.used} sheets")
            return not interrupted()

        clock = None if iterations is not None or stops is not None else seconds
        plan = solve(problem, clock, iterations, seed, go_on, stops)
        stopped = interrupted()
    faults, unchecked = examine(problem, plan)
    if faults:
        raise RuntimeError("the plan failed its own verification: " + "; ".join(faults[:3]))
    if as_json:
        print_json({**plan_json(plan, unchecked), "stopped": stopped})
    else:
        _print_plan(problem, plan, stopped, unchecked)
    return MUST_FIX if plan.unplaced else GOOD


@contextmanager
def _interrupt_noted() -> Generator[Callable[[], bool]]:
    """Within it the first Ctrl-C is only noted, for the work to end in good order; the second one leaves as usual.

    A program that was started deaf to Ctrl-C stays so.
    """
    noted = False
    before = signal.getsignal(signal.SIGINT)

    def note(_number: int, _frame: object) -> None:
        nonlocal noted
        noted = True
        signal.signal(signal.SIGINT, before)

    if before is not signal.default_int_handler:
        yield lambda: False
        return
    signal.signal(signal.SIGINT, note)
    try:
        yield lambda: noted
    finally:
        signal.signal(signal.SIGINT, before)


def _print_plan(problem: Problem, plan: Plan, stopped: bool, unchecked: list[str]) -> None:
    """How good the plan is, the parts that it has no sheet for, and every sheet."""
    from wallwright.cutting.model import to_mm

    loaded = f" ({plan.loading:.1f} s of them to load the search)" if plan.loading >= 0.05 else ""
    time = f"{'stopped after ' if stopped else ''}{plan.seconds:.1f} s{loaded}; replayed and verified"
    if plan.unplaced:
        short, wanted = (sum(p.quantity for p in pieces) for pieces in (plan.unplaced, problem.pieces))
        print(
            f"{plan.used} sheets, and {short} of {wanted} parts NOT PLACED: the stock does not suffice; {time}"
        )
        for part in plan.unplaced:
            size = f"{to_mm(part.length):g} × {to_mm(part.width):g}"
            print(f"  not placed: {part.quantity} of {part.name}, {size}, {part.material}")
    else:
        said = f" (not verified for {', '.join(unchecked)}: too large to price again)" if unchecked else ""
        print(f"{plan.used} sheets, at least {plan.lower_bound} needed{said}; {time}")
    for number, sheet in enumerate(plan.sheets, 1):
        size = f"{to_mm(sheet.sheet.length):g} × {to_mm(sheet.sheet.width):g}"
        print(f"\nSheet {number}: {sheet.sheet.name} {size}, {sheet.count} to cut like this")
        for part in sheet.placed:
            turned = ", turned" if part.turned else ""
            print(
                f"  {part.name}: {to_mm(part.length):g} × {to_mm(part.width):g} at {to_mm(part.x):g}, {to_mm(part.y):g}{turned}"
            )


def _length(name: str, written: str) -> float:
    """A length option in mm, 0 or more."""
    from wallwright.core.units import read_length

    try:
        mm = read_length(written)
    except ValueError as problem:
        raise ValueError(f"--{name} {written}: {problem}") from None
    if not 0 <= mm <= 100:
        raise ValueError(f"--{name} {written}: must be from 0 to 100 mm")
    return mm


def _table(path: Path, parse: Callable[[str], Rows]) -> Rows:
    """The rows of a CSV file. ValueError names the file, and in it the line and field."""
    from wallwright.export.files import read_bytes

    data = read_bytes(path, LARGEST_TABLE, "CSV table")
    try:
        return parse(data.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise ValueError(f"{path}: is not UTF-8 text; save the table as CSV in UTF-8") from None
    except ValueError as problem:
        raise ValueError(f"{path}: {problem}") from None
