"""How long three walls proposed for the demo brief take, and when the first of them is shown: CPU seconds, the least of several.

Run: python bench/options.py. One process, one thread; the bar is 3 s on two cores, the first wall within 1 s.
"""

from __future__ import annotations

import time
from dataclasses import replace

from timing import forget

from wallwright.job.demos import demo_jobs
from wallwright.job.design import Design
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.options.hunt import Progress
from wallwright.options.propose import Options, propose, styles

TIMES = 3


def timed(job: Job) -> tuple[float, float, Options]:
    """Seconds to all walls, seconds to the first, and the walls."""
    forget()
    shown: list[float] = []
    begun = time.process_time()

    def told(state: Progress) -> None:
        if state.shown is not None:
            shown.append(time.process_time() - begun)

    found = propose(job, 3, told)
    return time.process_time() - begun, shown[0], found


def main() -> None:
    """Both demo briefs, with their designs empty; and three styles."""
    for name, text in demo_jobs().items():
        if name.endswith("faults"):
            continue
        job = replace(read_job(text), design=Design())
        rows = [timed(job) for _ in range(TIMES)]
        found = rows[0][2]
        print(
            f"{name}: {len(found.options)} walls in {min(row[0] for row in rows):.2f} s, first shown at {min(row[1] for row in rows):.2f} s; "
            f"{found.tried} walls derived, {found.found} sound"
        )
        forget()
        begun = time.process_time()
        styles(job)
        print(f"{name}: three styles in {time.process_time() - begun:.2f} s")


if __name__ == "__main__":
    main()
