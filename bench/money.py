"""How long money takes: its share of a derive (to stay under 1.5 ms), the simulation, the swaps and the way back into a budget."""

from __future__ import annotations

import importlib
import time
from statistics import median

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.options.budget import way_back
from wallwright.options.finish_sets import finish_options
from wallwright.options.schemes import scheme_options
from wallwright.options.swaps import swaps
from wallwright.tables.budget import range_of


def main() -> None:
    """Print the times for the living-room demo."""
    job = read_job(demo_jobs()["living"])
    wall = derive(job)
    money = importlib.import_module("wallwright.money.plan")
    plan, spent = money.plan, list[float]()

    def timed(*args: object, **words: object) -> object:
        began = time.perf_counter()
        made = plan(*args, **words)
        spent.append(time.perf_counter() - began)
        return made

    money.plan = timed
    for _ in range(50):
        derive(job)
    money.plan = plan
    print(f"money in a derive        {median(spent) * 1e3:8.2f} ms")
    offered = swaps(wall)
    for name, make in (
        ("range, 20,000 walls", lambda: range_of(wall)),
        ("all swaps measured", lambda: swaps(wall)),
        ("5 % back into budget", lambda: way_back(wall, round(wall.money.total * 0.95), offered)),
        ("20 % back into budget", lambda: way_back(wall, round(wall.money.total * 0.8), offered)),
        ("three sets of finishes", lambda: finish_options(wall)),
        ("three schemes", lambda: scheme_options(job)),
    ):
        began = time.perf_counter()
        make()
        print(f"{name:<24} {(time.perf_counter() - began) * 1e3:8.0f} ms")


if __name__ == "__main__":
    main()
