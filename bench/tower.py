"""How long a tower takes, and whether its cost is linear: 500 to 5,000 flats of the invented demo.

Time is CPU time of this process and all it starts. Read, worked out (walls derived, measured flats checked by every rule), every
delivery cut together and replayed, lists made. Then the same distinct walls cut flat by flat: what cutting together saves. The
floor is one derive and check for each distinct question: what is above it is the tower's own.

Without arguments it is bounded: the smallest tower with the whole search, then with the first plan of each board alone two sizes, by
which the cost of a flat is compared. `--steps 0` alone takes all four sizes. The whole search at every size takes minutes: name them.

`--rack` asks the harder question of cutting together: against a workshop that cuts flat by flat and keeps every offcut that is worth
keeping for the flats that follow.

    python bench/tower.py [FLATS ...] [--workers N] [--sheets] [--steps N] [--rack]
"""

from __future__ import annotations

import argparse
import resource
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from results import keep

from wallwright.cutting.model import Sheet
from wallwright.cutting.pieces import in_stock, saw_of, sorted_out
from wallwright.cutting.solve import light
from wallwright.export.tower_files import read_tower_file
from wallwright.export.tower_set import issue
from wallwright.library import load
from wallwright.tower.batch import pool
from wallwright.tower.demo import demo_files
from wallwright.tower.lists import all_lists
from wallwright.tower.pooled import board_prices, by_delivery, parts_of, pooled
from wallwright.tower.run import run
from wallwright.tower.sample import samples

ON_A_FLOOR = 8
WORTH = 100
"""Smaller towers only warm up."""
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


def with_rack(worked: Any, steps: int = 60) -> int:
    """Sheets bought where flat after flat is cut and its offcuts are kept on the rack for the next, delivery by delivery."""
    bought = 0
    for flats in by_delivery(worked).values():
        job = worked.tower.jobs[flats[0].flat.type]
        saw = saw_of(job.design.saw, load.limits_of(job.survey.place.rules).value("cutting.least_offcut"))
        rack: dict[str, list[Sheet]] = {}
        for done in flats:
            for problem in sorted_out(parts_of([done]), saw, (), board_prices(job)).problems:
                board = problem.pieces[0].material
                own = rack.setdefault(board, [])
                plan = light(replace(problem, sheets=(*own, *problem.sheets)), steps)
                bought += sum(layout.count for layout in plan.sheets if not in_stock(layout.sheet))
                taken = {layout.sheet.name for layout in plan.sheets}
                rack[board] = [sheet for sheet in own if sheet.name not in taken] + [
                    Sheet(f"{done.flat.id} {i}.{k}.{n}", board, offcut.length, offcut.width, 0.0, 1, 0)
                    for i, layout in enumerate(plan.sheets)
                    for n in range(layout.count)
                    for k, offcut in enumerate(layout.offcuts)
                ]
    return bought


def one(
    folder: Path, flats: int, workers: int, sheets: bool, steps: int | None = None, rack: bool = False
) -> tuple[float, ...]:
    """Work out a tower of so many flats; CPU seconds of each step, then the figures."""
    for name, text in demo_files(floors=flats // ON_A_FLOOR, on_a_floor=ON_A_FLOOR).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    with pool(workers) as send:
        return _one(folder, flats, send, sheets, steps, rack)


def _one(  # noqa: PLR0913
    folder: Path, flats: int, send: Any, sheets: bool, steps: int | None, rack: bool
) -> tuple[float, ...]:
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
    said = f"{100 * (1 - cut.used / cut.alone):.1f} % fewer sheets, {100 * (1 - cut.price / cut.alone_price):.1f} % less money than flat by flat"
    if rack:
        kept, took = timed(lambda: with_rack(worked))
        said += f"; {100 * (1 - cut.used / kept):.1f} % fewer sheets than flat by flat with every offcut kept"
        print(f"       with every offcut kept for the next flats: {kept} sheets ({took:.1f} s)")
    sys.stdout.flush()
    search = "first plans" if steps == 0 else "searched"
    if count >= WORTH:
        keep(f"a flat of a tower of {count}, worked out and cut together ({search})", round(1e3 * whole / count, 1), "ms",
             group="tower", limit=f"{worked.walls} walls derived, {worked.checks} measured walls held against their series", peer=said,
             flats=count, seconds=round(whole, 1), megabytes=round(megabytes()), sheets=cut.used, alone=cut.alone)  # fmt: skip
        if sheets:
            keep(f"a flat's pages in a set of {count}", round(1e3 * printed / count, 1), "ms", group="tower")
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
    asked.add_argument("--rack", action="store_true", help="and against flat by flat with every offcut kept")
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
            one(Path(folder) / f"{flats}-{steps}", flats, given.workers, given.sheets, steps, given.rack)
            for flats, steps in sizes
        ]
    rows = [row for row, (_, steps) in zip(rows, sizes, strict=True) if steps == sizes[-1][1]]
    first, last = rows[0], rows[-1]
    if len(rows) > 1:
        per = [whole / count for count, whole in (first, last)]
        keep(f"cost of a flat, {last[0]} against {first[0]} flats", round(per[1] / per[0], 2), "times", budget=1.15,
             group="tower", limit="1.00 = linear")  # fmt: skip
        print(
            f"cost of a flat, {last[0]} against {first[0]} flats: {per[1] / per[0]:.2f} times (1.00 is linear)"
        )


if __name__ == "__main__":
    main()
