"""How long a complete issue set takes, its parts, and the client's pictures: `python bench/issue.py [pictures]`.

CPU seconds of this process, so that another program beside it changes little; the real-light pictures run in processes of their own,
so theirs is wall time (and CPU time of the children).
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

SIZE = (960, 640)


def least_ms(work: Callable[[], object], times: int) -> float:
    """The least CPU time of a call in ms: what it takes when nothing disturbs it."""
    took: list[float] = []
    for _ in range(times):
        begun = time.process_time()
        work()
        took.append((time.process_time() - begun) * 1000)
    return min(took)


def row(name: str, took: float, budget: float, unit: str = "ms") -> None:
    said = "ok" if took <= budget else "OVER"
    print(f"{name:<60}{took:10.1f} {unit}   budget {budget:7.0f} {unit}   {said}", flush=True)


def main() -> None:
    """Print one row a question: measured, budget."""
    from wallwright.derive import derive
    from wallwright.export.dxf import drawings_dxf, sheet_dxf
    from wallwright.export.gltf import wall_glb
    from wallwright.export.ifc import wall_ifc
    from wallwright.export.package import issue
    from wallwright.export.svg import sheet_svg
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job
    from wallwright.sheets.drawing_set import drawing_set

    wall = derive(read_job(demo_jobs()["living"].encode(), "living"))
    with tempfile.TemporaryDirectory() as folder:
        begun, clock = time.process_time(), time.perf_counter()
        issue(wall, Path(folder) / "first")
        row("complete set, the first time in a process (CPU)", (time.process_time() - begun) * 1000, 4000.0)
        print(f"{'  the same by the clock':<60}{(time.perf_counter() - clock) * 1000:10.1f} ms")
        row("complete set, warm (CPU)", least_ms(lambda: issue(wall, Path(folder) / "set"), 3), 2000.0)
    sheets = drawing_set(wall)
    share = 12 / len(sheets)
    row("12 sheets drawn and written as SVG (12 of all, on the mean)",
        least_ms(lambda: [sheet_svg(sheet) for sheet in drawing_set(wall)], 5) * share, 150.0)  # fmt: skip
    row("one sheet as DXF", least_ms(lambda: sheet_dxf(sheets[0]), 5), 30.0)
    row(f"all {len(sheets)} sheets in one DXF", least_ms(lambda: drawings_dxf(sheets), 3), 400.0)
    row("IFC", least_ms(lambda: wall_ifc(wall), 3), 50.0)
    row("GLB", least_ms(lambda: wall_glb(wall), 3), 50.0)
    if "pictures" in sys.argv[1:]:
        pictures(wall)


def pictures(wall: object) -> None:
    """Both pictures, by day and by night."""
    from wallwright.export.picture import picture_png
    from wallwright.export.render import available, render_png

    for when in ("day", "night"):
        row(
            f"fast picture by {when}, {SIZE[0]}x{SIZE[1]}",
            least_ms(partial(picture_png, wall, when, size=SIZE), 1),
            5000.0,
        )
        if not available():
            print("picture with real light: the extra `render` is not installed")
            continue
        begun, before = time.perf_counter(), os.times()
        render_png(wall, when, size=SIZE)
        after = os.times()
        worked = after.children_user + after.children_system - before.children_user - before.children_system
        row(
            f"picture with real light by {when}, {SIZE[0]}x{SIZE[1]}", time.perf_counter() - begun, 60.0, "s "
        )
        print(f"{'  CPU of its processes':<60}{worked:10.1f} s ")


if __name__ == "__main__":
    main()
