"""The timers of the bench scripts, and the two ways a wall is derived: for the first time, and after an edit."""

from __future__ import annotations

import functools
import gc
import statistics
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.document import Job
from wallwright.studio.memory import collect_seldom

DATA = ("wallwright.library", "wallwright.job.read")
"""What is read from package data once a process, and is no answer that was kept."""
TOLD = (("wallwright.rules.box_added", "_told"),)
"""Answers that are kept in a plain table, by its module and name."""
LAST = (("wallwright.rules.heat_cures", "_last"),)
"""What is kept of the wall that was asked of last."""


def median_ms(work: Callable[[], object], times: int) -> float:
    """Median wall time of a call in milliseconds."""
    took: list[float] = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        took.append((time.perf_counter() - begun) * 1000)
    return statistics.median(took)


def cpu_ms(work: Callable[[], object], times: int, before: Callable[[], object] | None = None) -> float:
    """Least CPU time of a call in milliseconds, whatever else the machine does. before : done each time, not counted."""
    took: list[float] = []
    for _ in range(times):
        if before:
            before()
        begun = time.process_time()
        work()
        took.append((time.process_time() - begun) * 1000)
    return min(took)


def as_served() -> None:
    """Collect as seldom as the studio does, for that is what its users get, and say so."""
    collect_seldom()
    print(
        f"garbage collected as in the studio: thresholds {gc.get_threshold()}, {gc.get_freeze_count()} things left out of it"
    )


def forget() -> None:
    """Forget every answer that the engine kept (its bounded caches); the library's data stays read."""
    for name, module in list(sys.modules.items()):
        if name.startswith("wallwright"):
            held = list(vars(module).values())
            _clear([*held, *(one for kind in held if isinstance(kind, type) for one in vars(kind).values())])
    for home, name in TOLD:
        if home in sys.modules:
            getattr(sys.modules[home], name).clear()
    for home, name in LAST:
        if home in sys.modules:
            setattr(sys.modules[home], name, None)


def _clear(held: Iterable[object]) -> None:
    for thing in held:
        if isinstance(thing, functools._lru_cache_wrapper):  # type: ignore[reportPrivateUsage]
            bounded = thing.cache_parameters()["maxsize"] is not None
            home = str(getattr(thing, "__module__", ""))
            if bounded and home.startswith("wallwright") and not home.startswith(DATA):
                thing.cache_clear()


def edits(job: Job) -> Iterator[Job]:
    """The job with one unit changed in width, another each time and each time to a width that it never had: a millimetre less
    than the last time. All other units are as they were.
    """
    widths = {unit.ref: unit.box.width for unit in derive(job).setout.units}
    less = 0
    while True:
        less += 1
        for unit in job.design.units:
            changed = replace(unit, width=Length(widths[unit.ref] - less))
            units = tuple(changed if other is unit else other for other in job.design.units)
            yield replace(job, design=replace(job.design, units=units))


def first_and_edited(job: Job, work: Callable[[Job], object], times: int) -> tuple[float, float]:
    """CPU milliseconds of a question for the first time, with every kept answer forgotten, and after an edit of one unit.

    first : the least of so many times · after an edit : each unit in turn, each so many times; the least of each unit, and of those
    the median
    """
    work(job)
    first = cpu_ms(lambda: work(job), max(times, 15), forget)
    forget()
    work(job)
    count, changed = len(job.design.units), edits(job)
    took: list[list[float]] = [[] for _ in range(count)]
    for number in range(times * count):
        one = next(changed)
        took[number % count].append(cpu_ms(lambda one=one: work(one), 1))
    return first, statistics.median(min(each) for each in took)


def told(name: str, took: float, budget: float) -> None:
    """Print one row: question, measured, budget."""
    print(
        f"{name:<66}{took:9.1f} ms   budget {budget:6.0f} ms   {'ok' if took <= budget else 'OVER'}",
        file=sys.stdout,
    )
