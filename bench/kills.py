"""Is what is saved old or new, never half, whatever call into the system it is stopped at? Every call of every scene, not the sample of the tests.

`python bench/kills.py [SCENE]`: killed before each call; killed when half of each write is written; refused there as by a disk that is full (once,
and from then on), read-only or at fault. Linux on x86-64. The scenes are those of tests/hardening/saves.py.
"""

from __future__ import annotations

import errno
import importlib.util
import shutil
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from types import ModuleType

from results import keep

WAYS = {
    "kill": "killed before a call",
    "tear": "killed in the midst of a write",
    f"{errno.ENOSPC} once": "no room, once",
    f"{errno.ENOSPC} on": "no room from then on",
    f"{errno.EROFS} on": "read-only from then on",
    f"{errno.EIO} once": "a fault, once",
}


def scenes() -> ModuleType:
    """The scenes of the tests."""
    path = Path(__file__).parents[1] / "tests" / "hardening" / "saves.py"
    spec = importlib.util.spec_from_file_location("saves", path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules["saves"] = module
    spec.loader.exec_module(module)
    return module


def main() -> None:
    """Every scene, or one; a row for each with how many runs of each kind, and what went wrong; 1 where anything did."""
    saves = scenes()
    if why := saves.syscalls.refused():
        print(f"left out: {why}")
        return
    whole, faults = 0, 0
    for name in sys.argv[1:] or saves.SCENES:
        begun, count, bad = time.process_time(), Counter[str](), Counter[str]()
        scratch = Path(tempfile.mkdtemp(prefix="wallwright-kills-"))
        try:
            for run in saves.runs(saves.SCENES[name], scratch, dict.fromkeys(WAYS, 0)):
                count[run.what] += 1
                if wrong := saves.wrong(run):
                    bad[f"{WAYS[run.what]}, {run.call.at} {run.call.name}: {wrong}"] += 1
        finally:
            shutil.rmtree(scratch, ignore_errors=True)
        told = ", ".join(f"{count[way]} {says}" for way, says in WAYS.items())
        print(f"{name:<14}{count.total():>6} runs: {told}  ({time.process_time() - begun:.0f} s)", flush=True)
        for fault, times in bad.items():
            print(f"    {times} × {fault}", flush=True)
        whole, faults = whole + count.total(), faults + bad.total()
    keep(f"saving stopped at each of its calls into the system, {whole:,} times: neither old nor new", faults, "", budget=0,
         group="safety", limit="0")  # fmt: skip
    print(f"{whole:,} runs, {faults} faults")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
