"""How long a tower takes, and whether its cost is linear: 500 to 5,000 flats of the invented demo.

Time is CPU time of this process and all it starts. Read, worked out (walls derived, measured flats checked by every rule), every
delivery cut together and replayed, lists made. Then the same distinct walls cut flat by flat: what cutting together saves. The
floor is one derive and check for each distinct question: what is above it is the tower's own.

Without arguments it is bounded: the smallest tower with the whole search, then with the first plan of each board alone two sizes, by
which the cost of a flat is compared. `--steps 0` alone takes all four sizes. The whole search at every size takes minutes: name them.

    python bench/tower.py [FLATS ...] [--workers N] [--sheets] [--steps N]
"""

from __future__ import annotations

import argparse
import resource
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from wallwright.export.tower_files import read_tower_file
from wallwright.export.tower_set import issue
from wallwright.library import load
from wallwright.tower.batch import pool
from wallwright.tower.demo import demo_files
from wallwright.tower.lists import all_lists
from wallwright.tower.pooled import pooled
from wallwright.tower.run import run
from wallwright.tower.sample import samples

ON_A_FLOOR = 8
SIZES = (500, 1000, 2500, 5000)
SHORT: tuple[tuple[int, int | None], ...] = ((500, None), (500, 0), (2500, 0))
"""Flats and steps of the search, where nothing was asked for: some 90 s."""


def cpu() -> float:
    """CPU seconds of this process and of its children that ended."""
    return sum(
        use.ru_utime + use.ru_stime
        for use in (resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN))
    )


def megabytes() -> float:
    """Most memory that this process, or a child, ever held."""
    unit = 1e6 if sys.platform == "darwin" else 1e3
    return (
        max(
            resource.getrusage(resource.RUSAGE_SELF).ru_maxrss,
            resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss,
        )
        / unit
    )


def timed(work: Callable[[], Any]) -> tuple[Any, float]:
    begun = cpu()
    made = work()
    return made, cpu() - begun


def one(folder: Path, flats: int, workers: int, sheets: bool, steps: int | None = None) -> tuple[float, ...]:
    """Work out a tower of so many flats; CPU seconds of each step, then the figures."""
    for name, text in demo_files(floors=flats // ON_A_FLOOR, on_a_floor=ON_A_FLOOR).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    with pool(workers) as send:
        return _one(folder, flats, send, sheets, steps)


def _one(folder: Path, flats: int, send: Any, sheets: bool, steps: int | None) -> tuple[float, ...]:
    wall = time.perf_counter()
    tower, read = timed(lambda: read_tower_file(folder))
    worked, made = timed(lambda: run(tower, send))
    cut, sawn = timed(lambda: pooled(worked, send, steps=steps))
    told = samples(worked, load.limits_of("IN"))
    _, listed = timed(lambda: all_lists(worked, told, cut))
    took = time.perf_counter() - wall
    printed = timed(lambda: issue(worked, told, cut, folder / "set", send=send))[1] if sheets else 0.0
    count = len(worked.flats)
    assert not worked.failed
    assert not cut.failed
    whole = read + made + sawn + listed
    print(
        f"{count:>6} {worked.walls:>6} {worked.checks:>7} {read:>7.1f} {made:>8.1f} {sawn:>8.1f} {listed:>7.1f} {whole:>8.1f} "
        f"{1e3 * whole / count:>9.1f} {took:>8.1f} {megabytes():>7.0f}   {cut.used:>6} {cut.alone:>8} "
        f"{100 * (1 - cut.used / cut.alone):>6.1f} {100 * (1 - cut.price / cut.alone_price):>7.1f}"
        + (f"   set {printed:.1f} s, {1e3 * printed / count:.0f} ms a flat" if sheets else "")
    )
    sys.stdout.flush()
    return count, whole


def main() -> None:
    """Print a row a size, and how the cost of a flat moves from the smallest to the largest tower."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("flats", nargs="*", type=int)
    asked.add_argument("--workers", type=int, default=1)
    asked.add_argument("--sheets", action="store_true")
    asked.add_argument(
        "--steps", type=int, default=None, help="of the search for each board; 0 = the first plan alone"
    )
    given = asked.parse_args()
    sizes: list[tuple[int, int | None]] = [(flats, given.steps) for flats in given.flats] or (
        [*SHORT] if given.steps is None else [(flats, given.steps) for flats in SIZES]
    )
    print(
        " flats  walls measured   read  derived   sawn    lists   CPU s   ms/flat   clock s   MB     sheets  by flat  saved%  money%"
    )
    with tempfile.TemporaryDirectory() as folder:
        one(Path(folder) / "warm", 64, 1, sheets=False)
        rows = [
            one(Path(folder) / f"{flats}-{steps}", flats, given.workers, given.sheets, steps)
            for flats, steps in sizes
        ]
    rows = [row for row, (_, steps) in zip(rows, sizes, strict=True) if steps == sizes[-1][1]]
    first, last = rows[0], rows[-1]
    if len(rows) > 1:
        per = [whole / count for count, whole in (first, last)]
        print(
            f"cost of a flat, {last[0]} against {first[0]} flats: {per[1] / per[0]:.2f} times (1.00 is linear)"
        )


if __name__ == "__main__":
    main()
