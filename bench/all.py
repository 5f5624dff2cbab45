"""Every bench script in turn, in bounded time, and what they found in one file: bench/results.json, from which the docs' page is made.

`python bench/all.py [NAME ...]`. Each script runs in a process of its own with the least it needs to answer; what it prints is read row by row,
and its memory is told by the system. What there was no time for is said. The public cutting instances take an hour and more: `make bench-cutting`.
"""

from __future__ import annotations

import json
import os
import platform
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from typing import Any

from results import WHERE

HERE = Path(__file__).parent
OUT = HERE / "results.json"
WHOLE = 700.0
"""Seconds for all of them."""
SCRIPTS: dict[str, tuple[tuple[str, ...], float]] = {
    "derive": ((), 120), "carcass": ((), 60), "structure": ((), 30), "services": ((), 60), "sight_year": ((), 60), "sight_tables": ((), 30),
    "issue": ((), 90), "money": ((), 30), "options": ((), 60), "studio": ((), 90), "peers": ((), 150), "load": (("45", "200"), 200),
    "fuzz": (("--share", "0.01"), 60), "kills": (("a step", "a commit"), 90),
    "cutting": (("3", "wall"), 60), "tower": (("120", "480"), 120), "storage": ((), 120),
    "pictures": ((), 300),
}  # fmt: skip
"""Each script's arguments, and the most seconds it is given; the last ones are left out where the time has gone."""
ROW = re.compile(
    r"^\s*(?P<question>\S.*?)\s{2,}(?:median\s+)?(?P<figure>\d[\d.,]*) (?P<unit>ms|s|kB|MB)\b(?P<rest>.*)$"
)
P95 = re.compile(r"^(?P<question>\S.*?)\s{2,}.*?p95\s+(?P<figure>[\d.]+) (?P<unit>ms)(?P<rest>.*)$")
TIMES = re.compile(r"^(?P<question>cost of a flat, .*): (?P<figure>[\d.]+) times \(1.00 is linear\)")
BUDGET = re.compile(r"(?:budget|under)\s+(?P<budget>\d[\d.]*)")


def rows_of(text: str) -> list[dict[str, Any]]:
    """The rows of what a script printed that name a figure and its budget."""
    out: list[dict[str, Any]] = []
    for line in text.splitlines():
        if times := TIMES.match(line):
            out.append({"question": times["question"], "figure": float(times["figure"]), "unit": "times", "budget": 1.15,
                        "limit": "1.00 = linear", "peer": ""})  # fmt: skip
        found = P95.match(line) or ROW.match(line)
        if found and (budget := BUDGET.search(found["rest"])):
            question = found["question"].strip() + (", p95" if found.re is P95 else "")
            out.append({"question": question, "figure": float(found["figure"].replace(",", "")), "unit": found["unit"],
                        "budget": float(budget["budget"]), "limit": "", "peer": ""})  # fmt: skip
    return out


def run(name: str, words: tuple[str, ...], seconds: float) -> dict[str, Any]:
    """A script, and what came of it: its rows, seconds, peak memory [MB] of its largest process, how it ended."""
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "rows.jsonl"
        said = Path(folder) / "said.txt"
        env = {**os.environ, WHERE: str(kept), "PYTHONWARNINGS": "ignore"}
        begun = time.monotonic()
        with said.open("w") as out:
            command = [sys.executable, "-u", str(HERE / f"{name}.py"), *words]
            process = subprocess.Popen(
                command, stdout=out, stderr=subprocess.STDOUT, env=env, start_new_session=True
            )
        timers = [
            threading.Timer(seconds + late, os.killpg, (process.pid, number))
            for late, number in ((0, signal.SIGTERM), (15, signal.SIGKILL))  # time to end what it has started
        ]
        for timer in timers:
            timer.start()
        _, status, used = os.wait4(process.pid, 0)
        for timer in timers:
            timer.cancel()
        process.returncode = os.waitstatus_to_exitcode(status)
        text = said.read_text(errors="replace")
        rows = (
            [json.loads(line) for line in kept.read_text("utf-8").splitlines()]
            if kept.exists()
            else rows_of(text)
        )
    print(text, end="", flush=True)
    return {"name": name, "seconds": round(time.monotonic() - begun, 1), "memory": round(used.ru_maxrss / 1024),
            "ended": process.returncode, "rows": [{**row, "group": row.get("group") or name} for row in rows]}  # fmt: skip


def _end(found: dict[str, Any]) -> str:
    return "" if found["ended"] == 0 else f", ended with {found['ended']}"


def machine() -> str:
    """The processor and what runs on it, in a line."""
    model = next(
        (line.partition(":")[2].strip() for line in _lines("/proc/cpuinfo") if line.startswith("model name")),
        platform.machine(),
    )
    return f"{model}, {os.cpu_count()} processors, {platform.system()}, Python {platform.python_version()}"


def _lines(path: str) -> list[str]:
    try:
        return Path(path).read_text().splitlines()
    except OSError:
        return []


def main() -> None:
    """Run them, print what they print, and keep what they found; 1 where a script failed."""
    asked = sys.argv[1:] or list(SCRIPTS)
    before: dict[str, Any] = json.loads(OUT.read_text("utf-8")) if OUT.exists() and sys.argv[1:] else {}
    scripts: dict[str, Any] = {one["name"]: one for one in before.get("scripts", [])}
    end, load, failed = time.monotonic() + WHOLE, os.getloadavg()[0], 0
    for name in asked:
        words, seconds = SCRIPTS[name]
        left = end - time.monotonic()
        if not (HERE / f"{name}.py").exists() or left < 20:
            print(f"== {name}: left out, the time has gone", flush=True)
            scripts.pop(name, None)
            continue
        print(f"== {name}", flush=True)
        scripts[name] = found = run(name, words, min(seconds, left))
        failed += found["ended"] not in (0, 1)
        print(f"   {found['seconds']} s, {found['memory']} MB{_end(found)}", flush=True)
    told = {"day": time.strftime("%Y-%m-%d"), "machine": machine(), "load_before": round(load, 1),
            "left_out": [name for name in asked if name not in scripts], "scripts": list(scripts.values())}  # fmt: skip
    OUT.write_text(json.dumps(told, ensure_ascii=False, indent=1) + "\n", "utf-8")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
