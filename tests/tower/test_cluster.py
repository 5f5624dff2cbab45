"""The work sent to a scheduler with two worker processes on loopback; one is killed midway: nothing lost, equal to the local run."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from wallwright.job.problem import JobError
from wallwright.tower.cluster import cluster
from wallwright.tower.run import run

PATIENCE = 120.0


@pytest.fixture
def started(tmp_path: Path) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """A scheduler's address and its two workers, on ports of the system's choice."""
    told = tmp_path / "scheduler.json"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": tmp_path}
    loop = ("--host", "127.0.0.1")
    processes = [
        subprocess.Popen(
            [
                sys.executable,
                "-m",
                "distributed.cli.dask_scheduler",
                *loop,
                "--port",
                "0",
                "--no-dashboard",
                "--scheduler-file",
                str(told),
            ],
            **quiet,  # type: ignore[arg-type]
        )
    ]
    try:
        address = _until(
            lambda: json.loads(told.read_text())["address"] if told.exists() and told.stat().st_size else ""
        )
        worker = [
            sys.executable,
            "-m",
            "distributed.cli.dask_worker",
            address,
            *loop,
            "--no-nanny",
            "--nthreads",
            "1",
        ]
        for i in range(2):
            folder = ("--no-dashboard", "--local-directory", str(tmp_path / f"w{i}"))
            processes.append(subprocess.Popen([*worker, *folder], **quiet))  # type: ignore[arg-type]
        from distributed import Client

        with Client(address, set_as_default=False, timeout=PATIENCE) as client:
            client.wait_for_workers(2, timeout=PATIENCE)
        yield address, processes[1:]
    finally:
        for process in reversed(processes):
            process.kill()
            process.wait()


def _until(found: Any) -> Any:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        if value := found():
            return value
        time.sleep(0.05)
    raise AssertionError("the scheduler did not come up")


def test_a_worker_killed_midway_loses_nothing(started: Any, make: Any, flat: Any, tape: Any) -> None:
    address, workers = started
    flats = [flat(f"{i:04d}", measured=tape(4190 + i)) for i in range(8)]  # each a question of its own
    tower = make(*flats)
    killed: list[tuple[int, int]] = []

    def tell(what: str, done: int, of: int) -> None:
        if what == "measured flats" and not killed:
            os.kill(workers[0].pid, signal.SIGKILL)
            workers[0].wait()
            killed.append((done, of))

    with cluster(address) as send:
        found = run(tower, send, tell)
    ((done, of),) = killed
    assert 0 < done < of  # it died in the middle of the work
    assert found == run(tower)
    assert not found.failed


def test_an_address_where_nobody_answers_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("wallwright.tower.cluster.CONNECT", 1.0)
    with (
        pytest.raises(JobError, match=r"--scheduler = 'tcp://127.0.0.1:1'.*does not answer as a scheduler"),
        cluster("tcp://127.0.0.1:1"),
    ):
        pass
    with pytest.raises(JobError, match="does not answer as a scheduler"), cluster("what is this"):
        pass
