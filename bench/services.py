"""Speed of the services stage against its budgets: routes, the outlet region, the whole stage on both demos and on a hard wall."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from typing import Any

from wallwright.core.shape import Box, box_around
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.services import hidden, points, region, routes, zones
from wallwright.services import plan as services_plan


def timed(work: Callable[[], object], times: int) -> tuple[float, float]:
    """Median and least processor time of a call in milliseconds: what others do on the machine counts less."""
    took: list[float] = []
    for _ in range(times):
        for kept in vars(routes).values():  # what an earlier call left would be timed in place of the work
            if hasattr(kept, "cache_clear"):
                kept.cache_clear()
        begun = time.process_time()
        work()
        took.append((time.process_time() - begun) * 1000)
    return statistics.median(took), min(took)


def stage(job: Any) -> Callable[[], object]:
    """The services stage of a job, called as `derive` calls it."""
    kept: list[tuple[Any, Any]] = []
    whole = services_plan.plan

    def caught(*args: Any, **named: Any) -> Any:
        kept.append((args, named))
        return whole(*args, **named)

    services_plan.plan = caught
    try:
        derive(job)
    finally:
        services_plan.plan = whole
    args, named = kept[-1]
    return lambda: whole(*args, **named)


def six_routes() -> None:
    """Six routes from two corners to three points round twenty obstacles, grid and all."""
    face = Box(0, 0, 4000, 2700)
    ends = [(700.0, 350.0), (2000.0, 1150.0), (3000.0, 400.0)]
    blocked = [Box(260 + 640 * (n % 6), 230 + 610 * (n // 6), 130, 150) for n in range(20)]
    starts = [(75.0, 2625.0), (3925.0, 2625.0)]
    allowed = [face, *zones.prescribed(face, [box_around(end, 86, 86) for end in ends], 150)]
    lines = routes.grid(face, [*starts, *ends], allowed, blocked)
    found = [routes.shortest(lines, start, end, 200) for start in starts for end in ends]
    assert all(route is not None for route in found), "a bench that finds no way measures nothing"


def six_together() -> None:
    """The same six routes, sharing their chases: laid one by one, and then together, whatever was laid first."""
    face = Box(0, 0, 4000, 2700)
    ends = [
        (700.0, 350.0),
        (2000.0, 1150.0),
        (3000.0, 400.0),
        (1500.0, 800.0),
        (2500.0, 1700.0),
        (3700.0, 900.0),
    ]
    blocked = [Box(260 + 640 * (n % 6), 230 + 610 * (n // 6), 130, 150) for n in range(20)]
    start = (75.0, 2625.0)
    lines = routes.priced(routes.grid(face, [start, *ends], [face], blocked), (), 1.5, 1.1)
    first = [routes.shortest(lines, start, end, 200) for end in ends]
    wanted = [routes.Wanted(lines, 1.5, start, end) for end in ends]
    found = routes.together(wanted, [route for route in first if route is not None], 1.0, 200)
    assert len(found) == 6, "a bench that finds no way measures nothing"


def regions(wall: Wall, outline: bool) -> Callable[[], object]:
    """The exact region behind the screen. outline : by convex pieces, as for an arm; else as `points` asks."""
    kept = hidden.of_wall(wall.job, wall.face, wall.limits)

    def work() -> object:
        behind = points.behind_of(wall.job, wall.sight.screen, kept, wall.limits)
        size = (146.0, 86.0)
        if outline:
            holes = (behind.plate.grown(behind.clear), *hidden.boxes(behind.kept))
            return region.behind_screen(behind.hidden, behind.margin, size, holes)
        return behind.region(size)

    assert work(), "a region that is empty measures nothing"
    return work


def hard() -> Any:
    """The living demo with twelve obstacles more, six lights and eight devices."""
    job = read_job(demo_jobs()["living"])
    for n in range(12):
        values = {
            "ref": f"N{n}",
            "kind": "niche",
            "x": 640 + 250 * (n % 12),
            "z": 2480,
            "width": 60,
            "height": 60,
        }
        job = apply(job, "add_obstacle", values)
    for n in range(6):
        job = apply(job, "add_light", {"ref": f"GX{n}", "along": "under_console"})
        job = apply(job, "add_device", {"ref": f"d{n}", "kind": "media_player"})
    return job


def main() -> None:
    """Print one row a question: median, least, budget."""
    load.limits()
    living, bedroom = (read_job(demo_jobs()[room]) for room in ("living", "bedroom"))
    wall = derive(living)
    arm = derive(apply(living, "set_mount", {"kind": "arm", "reach": 500}))
    rows = [
        ("six routes, twenty obstacles", timed(six_routes, 30), 20.0),
        ("six routes sharing chases, twenty obstacles", timed(six_together, 20), 20.0),
        ("region behind a tilting screen", timed(regions(wall, False), 200), 3.0),
        ("region behind a tilting screen, in convex pieces", timed(regions(wall, True), 200), 3.0),
        ("region behind a screen on an arm", timed(regions(arm, True), 200), 3.0),
        ("services stage, living demo", timed(stage(living), 100), 30.0),
        ("services stage, bedroom demo", timed(stage(bedroom), 100), 30.0),
        ("services stage, twelve obstacles more, six lights, eight devices", timed(stage(hard()), 20), 30.0),
    ]
    for name, (median, least), budget in rows:
        state = "ok" if least <= budget else "OVER"
        print(f"{name:<68}{median:8.2f} ms, least {least:6.2f} ms   budget {budget:4.0f} ms   {state}")


if __name__ == "__main__":
    main()
