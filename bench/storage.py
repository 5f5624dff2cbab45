"""Speed and quality of the allotment: 300 things to 40 bays, within 1 % of the proven optimum in 2 seconds.

The households and bays are made up by a seeded draw. The bound is the better of the two solvers' own, the second one given five
seconds more: no allotment can score less. The time is that of the allotment alone.
"""

from __future__ import annotations

import random
import time
from dataclasses import replace

from wallwright.core.shape import Box
from wallwright.job.brief import Person, Thing
from wallwright.library import load
from wallwright.storage.allot import allot, counts_of, fits_of
from wallwright.storage.best import allot_best
from wallwright.storage.demand import demands
from wallwright.storage.fit import Terms, score, terms_of
from wallwright.storage.levels import levels
from wallwright.storage.reach import reach_of
from wallwright.storage.record import Bay, Demand, Level, Room
from wallwright.storage.relaxed import least_score

LIMITS = load.limits()
PROOF = 5.0
"""Seconds for the proof."""
FRONTS = ("open", "shutter", "glass", "drawers")


def household(seed: int, things: int, most_of_a_kind: int) -> tuple[Demand, ...]:
    """So many things as a household has them: many thin ones, few thick ones; sizes from the library, varied by a tenth."""
    draw = random.Random(seed)
    rows = [row for row in load.things().values() if row.height < 600]
    made: list[Demand] = []
    left = things
    while left:
        row = draw.choice(rows)
        usual = 16 if row.run < 40 else 6 if row.run < 100 else 1
        count = min(left, most_of_a_kind, draw.randint(1, 2 * usual))
        left -= count
        (demand,) = demands((Thing(row.key, count),), LIMITS, children=True)
        by = draw.uniform(0.9, 1.1)
        made.append(
            replace(
                demand, kind=f"{row.key}_{len(made)}", run=demand.run * by, mass=demand.mass * by, height=demand.height * by,
                bare=demand.bare * by, tall=demand.tall * by,
            )
        )  # fmt: skip
    return tuple(made)


def bays(seed: int, count: int, shelves: int) -> tuple[Level, ...]:
    """So many bays at drawn heights, widths and depths."""
    draw = random.Random(seed)
    out: list[Bay] = []
    for n in range(count):
        front = draw.choice(FRONTS)
        box = Box(
            n * 600.0, draw.uniform(80, 1700), draw.uniform(350, 800), draw.uniform(320, 420) * (shelves + 1)
        )
        out.append(Bay(f"U{n}.1", f"U{n}", box, draw.uniform(300, 450), front, 1, shelves))
    return levels(Room(tuple(out)), LIMITS)


def main() -> None:
    """Print a row a case: gap to the proven bound, and time."""
    terms: Terms = terms_of(reach_of((Person("A", None, 35), Person("B", None, 4)), LIMITS), LIMITS)
    print(f"{'case':<58}{'fast gap':>10}{'fast ms':>9}{'best gap':>10}{'seconds':>9}  target 1 %, 2 s")
    cases = [
        ("300 things by kinds to 40 bays", 300, 40, 0),
        ("300 things by kinds to 40 bays of 3 levels", 300, 40, 2),
        ("300 things, too few bays (20)", 300, 20, 0),
        ("300 things, each its own kind, to 40 bays", 1, 40, 0),
    ]
    allot_best(household(9, 4, 2), bays(9, 2, 0), terms)  # the solver is read in
    for name, most, bay_count, shelves in cases:
        for seed in (1, 2, 3):
            wanted, there = household(seed, 300, most), bays(seed + 100, bay_count, shelves)
            begun = time.perf_counter()
            quick = score(wanted, there, counts_of(wanted, there, allot(wanted, there, terms)), terms)
            fast = time.perf_counter() - begun
            begun = time.perf_counter()
            best = allot_best(wanted, there, terms, prove=False)
            took = time.perf_counter() - begun
            proof = least_score(wanted, there, fits_of(wanted, there, terms), terms, PROOF)
            bound = max(best.bound, proof)
            gap = (best.score - bound) / best.score
            ok = "ok" if gap <= 0.01 and took <= 2.0 else "OVER"
            print(
                f"{name + f', draw {seed}':<58}{(quick - bound) / quick:>10.2%}{fast * 1000:>9.1f}{gap:>10.2%}{took:>9.2f}  {ok}"
            )


if __name__ == "__main__":
    main()
