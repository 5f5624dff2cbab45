"""A process that lives long looks seldom for what it may throw away."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from pathlib import Path

import pytest


def said(code: str, *args: str, given: str = "") -> str:
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code), *args],
        capture_output=True,
        text=True,
        input=given,
        check=True,
    )
    return done.stdout.splitlines()[-1]


def test_a_server_collects_seldom_and_never_what_was_there_at_its_start(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    from wallwright.job.demos import demo_jobs

    job.write_text(demo_jobs()["bedroom"], "utf-8")
    told = said(
        """
        import gc, pathlib, sys, uvicorn
        uvicorn.Server.run = lambda self, sockets: print(*gc.get_threshold(), gc.get_freeze_count() > 10_000)
        from wallwright.studio.serve import run
        run(pathlib.Path(sys.argv[1]), 0)
        """,
        str(job),
    )
    assert told == "50000 20 100 True"


def test_a_worker_does_so_before_its_study() -> None:
    told = said(
        """
        import gc, wallwright.studio.worker as worker
        worker._end_with_the_worker = lambda: None  # the line to this worker ends with what it is given
        worker._one = lambda url, study: (print(*gc.get_threshold(), gc.get_freeze_count() > 10_000))
        worker.main()
        """,
        "a-study",
        given='{"url": "sqlite://"}\n',
    )
    assert told == "50000 20 100 True"


@pytest.mark.parametrize("count", [3])
def test_what_points_at_itself_is_still_given_back(count: int) -> None:
    told = said(
        """
        import gc, sys, weakref
        from wallwright.studio.memory import MADE_BEFORE, collect_seldom
        class Ring: pass
        collect_seldom()
        seen = []
        for _ in range(int(sys.argv[1])):
            ring = Ring(); ring.itself = ring; seen.append(weakref.ref(ring))
        del ring
        kept = [[] for _ in range(MADE_BEFORE + 1000)]
        print(sum(one() is not None for one in seen))
        """,
        str(count),
    )
    assert told == "0"
