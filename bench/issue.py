"""How long a complete issue set takes, and its parts: `python bench/issue.py`. CPU seconds of this process, so that another program
beside it changes little. The client's pictures have a script of their own, `python bench/pictures.py`.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from pathlib import Path


def least_ms(work: Callable[[], object], times: int) -> float:
    """The least CPU time of a call in ms: what it takes when nothing disturbs it."""
    return min(both_ms(work)[0] for _ in range(times))


def both_ms(work: Callable[[], object]) -> tuple[float, float]:
    """The CPU time of one call and its time by the clock, in ms."""
    begun, clock = time.process_time(), time.perf_counter()
    work()
    return (time.process_time() - begun) * 1000, (time.perf_counter() - clock) * 1000


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
        cpu, clock = both_ms(lambda: issue(wall, Path(folder) / "first"))
        row("complete set, the first time in a process (CPU)", cpu, 4000.0)
        print(f"{'  the same by the clock':<60}{clock:10.1f} ms")
        took = [both_ms(lambda: issue(wall, Path(folder) / "set")) for _ in range(4)]
        row("complete set, warm (CPU)", min(cpu for cpu, _ in took), 2000.0)
        row("complete set, warm (by the clock)", min(clock for _, clock in took), 2000.0)
    sheets = drawing_set(wall)
    share = 12 / len(sheets)
    row("12 sheets drawn and written as SVG (12 of all, on the mean)",
        least_ms(lambda: [sheet_svg(sheet) for sheet in drawing_set(wall)], 5) * share, 150.0)  # fmt: skip
    row("one sheet as DXF", least_ms(lambda: sheet_dxf(sheets[0]), 5), 30.0)
    row(f"all {len(sheets)} sheets in one DXF", least_ms(lambda: drawings_dxf(sheets), 3), 400.0)
    row("IFC", least_ms(lambda: wall_ifc(wall), 3), 50.0)
    row("GLB", least_ms(lambda: wall_glb(wall), 3), 50.0)


if __name__ == "__main__":
    main()
