"""How fast sight is: best height for 8 seats, the whole table of 8 screens × 8 seats, and what the quick path adds to derive."""

from __future__ import annotations

from dataclasses import replace

from timing import median_ms

from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.face import wall_face
from wallwright.job.read import read_job
from wallwright.job.survey import Seat, Window
from wallwright.library import load
from wallwright.rules import screen_room
from wallwright.sight.compare import compare
from wallwright.sight.heights import Watcher, curve, good_for_all, least_squares, smallest_worst
from wallwright.sight.plan import plan, typical


def main() -> None:
    seats = [Watcher(1000 + 40 * i, 2200 + 300 * i, 2.0 * i, 1 / 8) for i in range(8)]
    job = read_job(demo_jobs()["living"])
    eight = tuple(
        Seat(f"S{i}", "sofa", Length(900 + 340 * i), Length(2400 + 180 * i), hours=3 + i) for i in range(8)
    )
    pane = Window("WZ", "opposite", Length(1200), Length(900), Length(1500), Length(1200))
    full = replace(job, survey=replace(job.survey, seats=eight, windows=(*job.survey.windows, pane)))
    sizes = (*load.screens().values(), typical(77))
    face, limits = wall_face(full.survey), load.limits()
    wall = derive(job)
    rows = [
        ("best height, 8 seats (both answers and the band)",
         median_ms(lambda: (least_squares(seats), smallest_worst(seats), good_for_all(seats, 5)), 200), 1.0),
        ("penalty curve, 8 seats, 41 heights", median_ms(lambda: curve(seats, 900, 1900), 100), 5.0),
        ("table of 8 screens × 8 seats, 2 windows", median_ms(lambda: compare(full, face, limits, sizes), 20), 30.0),
        ("sight stage, demo", median_ms(lambda: plan(job, wall_face(job.survey), limits), 60), 3.0),
        ("sight lines of the demo wall", median_ms(lambda: screen_room.sight_lines(wall), 60), 2.0),
        ("derive, demo", median_ms(lambda: derive(job), 40), 15.0),
    ]  # fmt: skip
    for name, took, budget in rows:
        print(f"{name:<52}{took:10.2f} ms   budget {budget:6.0f} ms   {'ok' if took <= budget else 'OVER'}")


if __name__ == "__main__":
    main()
