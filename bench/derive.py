"""Speed of the engine against its budgets: derive with all rules, elevation SVG, import, whole check process, issue set.

Derive is told twice, in CPU time: for the first time, with every answer forgotten that the engine keeps, and after an edit, each
repeat with one unit at a width it never had (what is kept is kept by small questions, never by the job). The budget is for both. The rules
are asked as an edit asks them: cures that are found by trying them on the wall come after, in a row of their own (`check` and the
issue wait for them).
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from timing import as_served, cpu_ms, first_and_edited, forget, median_ms, told


def process_ms(*command: str, times: int = 5) -> float:
    """Median wall time of a whole process in milliseconds."""
    return median_ms(lambda: subprocess.run(command, capture_output=True, check=False), times)


def main() -> None:
    """Print one row a question: measured, budget."""
    from wallwright.derive import derive
    from wallwright.export.package import issue
    from wallwright.export.svg import drawing_svg
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job
    from wallwright.rules import check
    from wallwright.sheets.elevation import drawing

    job = read_job(demo_jobs()["living"])
    wall = derive(job)
    as_served()
    whole, alone = (
        first_and_edited(job, lambda one: check(derive(one), cures=False), 25),
        first_and_edited(job, derive, 25),
    )
    rows = [
        ("derive + all rules, first time", whole[0], 15.0),
        ("derive + all rules, after an edit", whole[1], 15.0),
        ("derive alone, first time", alone[0], 15.0),
        ("derive alone, after an edit", alone[1], 15.0),
        ("all rules alone, of the demo", cpu_ms(lambda: check(wall, cures=False), 40), 10.0),
        (
            "the same with the cures that are tried on the wall, anew",
            cpu_ms(lambda: check(wall), 20, forget),
            60.0,
        ),
        ("elevation drawing to SVG", median_ms(lambda: drawing_svg(drawing(wall, 20)), 40), 10.0),
    ]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "living.toml"
        path.write_text(demo_jobs()["living"], "utf-8")
        bare = process_ms(sys.executable, "-c", "pass")
        rows += [
            ("import wallwright (process less bare python)", process_ms(sys.executable, "-c", "import wallwright") - bare, 150.0),
            ("wallwright check, whole process", process_ms(sys.executable, "-m", "wallwright", "check", str(path)), 600.0),
            ("wallwright issue, whole process", process_ms(
                sys.executable, "-m", "wallwright", "issue", str(path), "--out", str(Path(folder) / "set"), times=3), 3000.0),
            ("issue set, in process", median_ms(lambda: issue(wall, Path(folder) / "set2"), 3), 3000.0),
        ]  # fmt: skip
    for name, took, budget in rows:
        told(name, took, budget)


if __name__ == "__main__":
    main()
