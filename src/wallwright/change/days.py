"""What a change adds in working days: the works that are left, before it and with it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wallwright.change.state import at_least
from wallwright.programme.network import Activity, schedule

if TYPE_CHECKING:
    from wallwright.change.difference import Difference
    from wallwright.derive import Wall
    from wallwright.job.progress import Progress

_ORDERED = (
    "survey",
    "approve",
    "order_boards",
    "order_hardware",
    "order_veneer",
    "order_glass",
    "order_stone",
)
_FIRST_FIX = ("survey", "approve", "protect", "chase", "first_fix", "dry_fit")
_CLOSED = ("make_good", "dry")


def done(wall: Wall, progress: Progress) -> frozenset[str]:
    """The tasks of the programme that the record of progress says are done."""
    out: set[str] = set()
    if at_least(progress.joinery, "ordered"):
        out |= set(_ORDERED)
    if at_least(progress.joinery, "cut"):
        out.add("workshop")
    if at_least(progress.joinery, "set"):
        out |= {"subframe", "panels", "hang"}
    if at_least(progress.points, "set"):
        out |= set(_FIRST_FIX)
    if at_least(progress.points, "built"):
        out |= set(_CLOSED)
    if progress.screen != "drawn":
        out |= {"order_screen"}
    if progress.screen == "set":
        out |= {"screen"}
    return frozenset(out & {task.ref for task in wall.programme.tasks})


def added_days(old: Wall, new: Wall, change: Difference) -> tuple[int, int]:
    """Working days from today to handover: as it stood, and with the change. What was done and is touched is done again, in the
    share that is touched, for at least a day.
    """
    progress = old.job.progress
    finished = done(old, progress)
    again = _again(old, new, change, finished)
    return _length(old, finished, {}), _length(new, finished, again)


def _length(wall: Wall, finished: frozenset[str], again: dict[str, int]) -> int:
    tasks = [
        Activity(t.ref, again.get(t.ref, 0 if t.ref in finished else t.days), t.after)
        for t in wall.programme.tasks
    ]
    return schedule(tasks).days


def _again(old: Wall, new: Wall, change: Difference, finished: frozenset[str]) -> dict[str, int]:
    """The tasks that were done and must be done again, with their days."""
    least = max(1, math.ceil(new.limits.value("change.restart_days")))
    days = {task.ref: task.days for task in new.programme.tasks}
    share = _touched_share(change, new)
    out: dict[str, int] = {}
    if share:
        for ref in ("workshop", "subframe", "panels", "hang"):
            out[ref] = max(least, math.ceil(days.get(ref, 0) * share))
        boards = {part.now.board for part in change.parts if part.now and part.fate in ("new", "made anew")}
        if boards - {part.board for part in old.carcass.parts}:
            out["order_boards"] = days.get("order_boards", 0)  # a board nobody bought yet
    if change.points:
        moved = len(change.points)
        per_day = new.limits.value("programme.points_per_day")
        out["first_fix"] = max(least, math.ceil(moved / per_day))
        out |= {ref: min(days[ref], out["first_fix"]) for ref in ("chase", "make_good") if ref in days}
        out |= {"dry": days["dry"]} if "dry" in days else {}
    if any(size.ref == "screen" and size.says == "screen size" for size in change.heights):
        out["order_screen"] = days.get("order_screen", 0)
        out["dry_fit"] = days.get("dry_fit", 0)
        out["screen"] = days.get("screen", 0)
    return {ref: days_ for ref, days_ in out.items() if ref in finished and ref in days}


def _touched_share(change: Difference, new: Wall) -> float:
    """How much of the joinery is made or worked anew, by the number of its parts."""
    worked = sum(part.now is not None and part.fate != "renumbered" for part in change.parts)
    return worked / max(1, len(new.carcass.parts))
