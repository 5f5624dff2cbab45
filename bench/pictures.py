"""How long the client's pictures take, of both demo walls by day and by night: `python bench/pictures.py`, or `python bench/all.py pictures`.

The fast ones in CPU time of this process. Those with real light run in processes of their own, on all processors: by the clock, on a quiet
machine, and beside it the processor time of all of them.
"""

from __future__ import annotations

import os
import time
from functools import partial

from issue import least_ms, row
from results import keep

SIZE = (960, 640)


def main() -> None:
    """Both pictures of both demo walls, by day and by night, kept for the page of the docs."""
    from wallwright.derive import derive
    from wallwright.export.picture import picture_png
    from wallwright.export.render import available, render_png
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job

    size = f"{SIZE[0]}x{SIZE[1]}"
    for name in ("living", "bedroom"):
        wall = derive(read_job(demo_jobs()[name].encode(), name))
        for when in ("day", "night"):
            fast = least_ms(partial(picture_png, wall, when, size=SIZE), 1)
            row(f"fast picture by {when}, {name}, {size}", fast, 5000.0)
            keep(
                f"fast picture by {when}, {name}, {size}", round(fast), "ms", budget=5000.0, group="pictures"
            )
            if not available():
                print("picture with real light: the extra `render` is not installed")
                continue
            begun, before = time.perf_counter(), os.times()
            render_png(wall, when, size=SIZE)
            took, after = time.perf_counter() - begun, os.times()
            cpu = sum(after[:4]) - sum(before[:4])
            row(f"picture with real light by {when}, {name}, {size}", took, 60.0, "s")
            print(f"{'  processor time of it and its tracers':<60}{cpu:10.1f} s")
            keep(f"picture with real light by {when}, {name}, {size}", round(took, 1), "s", budget=60.0, group="pictures",
                 limit=f"{cpu:.0f} s of processor time, shared by {os.cpu_count()} processors", cpu=round(cpu, 1))  # fmt: skip


if __name__ == "__main__":
    main()
