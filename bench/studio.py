"""From an edit to the redrawn elevation, over the loopback: the demo wall, and a wall of 60 units. Budgets p95 60 and 120 ms.

Prints what the edit took on the wall clock, and the server's own processor time beside it: on a busy machine the second is
the truer one.
"""

from __future__ import annotations

import http.client
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

from wallwright.core.units import Length
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Unit
from wallwright.job.read import read_job
from wallwright.job.survey import Reading
from wallwright.job.write import write_job

EDITS = 100
BUDGETS = {"demo wall": 60.0, "60 units": 120.0}


def long_wall() -> str:
    """A wall of 19.5 m with 60 units of the usual kinds in two rows."""
    job = read_job(demo_jobs()["living"])
    wide = tuple(Reading(Length(at), Length(19_500.0)) for at in (100.0, 1000.0, 2200.0))
    wall = replace(job.survey.wall, widths=wide, diagonals=())
    units = tuple(
        Unit(
            f"S{i}",
            "shelf",
            x=Length(50.0 + 640.0 * (i % 30)),
            z=Length(700.0 + 900.0 * (i // 30)),
            width=Length(600.0),
        )
        for i in range(60)
    )
    return write_job(
        replace(
            job,
            survey=replace(job.survey, wall=wall),
            design=replace(job.design, units=units, lights=(), panels=(), points=()),
        )
    )


def served(path: Path) -> tuple[subprocess.Popen[str], http.client.HTTPConnection]:
    """The page's server in a process of its own, and a line to it."""
    code = f"from pathlib import Path; from wallwright.studio.serve import run; run(Path({str(path)!r}), 0)"
    process = subprocess.Popen([sys.executable, "-uc", code], stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    port = int(process.stdout.readline().rstrip().rstrip("/").rpartition(":")[2])
    return process, http.client.HTTPConnection("127.0.0.1", port)


def asked(line: http.client.HTTPConnection, method: str, path: str, body: Any = None) -> dict[str, Any]:
    data = None if body is None else json.dumps(body)
    line.request(method, path, data, {"content-type": "application/json"})
    answer = line.getresponse()
    read = answer.read()
    assert answer.status == 200, read
    return json.loads(read)


def processor_ms(process: subprocess.Popen[str]) -> float:
    """The processor time that a process has used."""
    fields = Path(f"/proc/{process.pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")


def measure(name: str, text: str) -> bool:
    """Edits one after the other, each waiting for the drawing of the one before."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        path.write_text(text, encoding="utf-8")
        process, line = served(path)
        try:
            state = asked(line, "GET", "/api/state")
            took: list[float] = []
            before = processor_ms(process)
            for i in range(EDITS):
                body = {
                    "position": state["position"],
                    "edit": "set_screen_height",
                    "with": {"centre_height": 1150 + i},
                }
                begun = time.perf_counter()
                state = asked(line, "POST", "/api/edit", body)
                took.append((time.perf_counter() - begun) * 1000)
                assert state["svg"].startswith("<svg") and state["screen"]["centre_height"] == 1150 + i
            busy = (processor_ms(process) - before) / EDITS
        finally:
            process.kill()
            process.wait()
    p95 = statistics.quantiles(took, n=20)[-1]
    good = p95 <= BUDGETS[name]
    print(
        f"{name:<10} p50 {statistics.median(took):6.1f} ms  p95 {p95:6.1f} ms  (budget {BUDGETS[name]:.0f})  processor {busy:5.1f} ms an edit"
    )
    return good


if __name__ == "__main__":
    results = [measure("demo wall", demo_jobs()["living"]), measure("60 units", long_wall())]
    sys.exit(0 if all(results) else 1)
