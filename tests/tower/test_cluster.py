"""The work sent to a scheduler with two worker processes on loopback; one is killed midway: nothing lost, equal to the local run."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest

from wallwright.job.problem import JobError
from wallwright.tower.batch import Batch
from wallwright.tower.cluster import cluster
from wallwright.tower.run import run

PATIENCE = 120.0


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """A scheduler's address, itself and its two workers, on ports of the system's choice."""
    tmp_path = tmp_path_factory.mktemp("cluster")
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
        yield address, processes
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
    address, (_, *workers) = started
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


def test_without_workers_or_scheduler_it_ends_with_a_sentence(
    started: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other worker goes while there is work, then the scheduler: neither is waited for without an end, nothing half comes back."""
    address, (scheduler, _, last) = started
    monkeypatch.setattr("wallwright.tower.cluster.CONNECT", 2.0)
    monkeypatch.setattr("wallwright.tower.cluster.LONELY", 0.4)
    monkeypatch.setattr("wallwright.tower.cluster.LOOK", 0.2)
    asks = [Batch((Slow(str(i)),)) for i in range(3)]
    with cluster(address) as send:
        os.kill(last.pid, signal.SIGKILL)
        last.wait()
        with pytest.raises(JobError, match="has no worker left: nothing was written"):
            list(send(asleep, asks))
        os.kill(scheduler.pid, signal.SIGKILL)
        scheduler.wait()
        with pytest.raises(JobError, match="was lost in the middle of the work"):
            list(send(asleep, asks))


@dataclass(frozen=True)
class Slow:
    key: str


def asleep(ask: Slow) -> str:
    """Nobody is there to do it."""
    return ask.key


def test_an_address_where_nobody_answers_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("wallwright.tower.cluster.CONNECT", 1.0)
    with (
        pytest.raises(JobError, match=r"--scheduler = 'tcp://127.0.0.1:1'.*does not answer as a scheduler"),
        cluster("tcp://127.0.0.1:1"),
    ):
        pass
    with (
        pytest.raises(JobError, match="must be the address that the scheduler printed"),
        cluster("what is this"),
    ):
        pass
