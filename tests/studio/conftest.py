"""A job file of its own for every test, and the page served from it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.studio.app import STATIC, create_app

ADDRESS = "http://127.0.0.1:8470"
REMARK = "# measured twice, keep this remark\n"


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    """The invented living room, with a remark of the user's in it."""
    path = tmp_path / "job.toml"
    path.write_text(REMARK + demo_jobs()["living"], encoding="utf-8")
    return path


class Page:
    """The API as a page uses it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.http = TestClient(create_app(path), base_url=ADDRESS, raise_server_exceptions=False)

    def job(self) -> Job:
        """The job as it is on the disk."""
        return read_job(self.path.read_bytes())

    @staticmethod
    def mark(state: dict[str, Any], name: str) -> dict[str, Any]:
        return next(m for rod in state["rods"].values() for m in rod if m["name"] == name)

    def state(self) -> dict[str, Any]:
        answer = self.http.get("/api/state")
        assert answer.status_code == 200, answer.text
        return answer.json()

    def post(self, name: str, body: Any, expect: int = 200, **headers: str) -> dict[str, Any]:
        answer = self.http.post(f"/api/{name}", json=body, headers=headers)
        assert answer.status_code == expect, answer.text
        read = answer.json()
        assert isinstance(read, dict)
        return read

    def change(self, expect: int = 200, name: str = "edit", **body: Any) -> dict[str, Any]:
        return self.post(name, {"position": self.state()["position"], **body}, expect)


@pytest.fixture
def page_of(job_file: Path) -> Page:
    return Page(job_file)


@pytest.fixture
def faulty(tmp_path: Path) -> Page:
    """The invented living room with all that can be wrong with one."""
    path = tmp_path / "faulty.toml"
    path.write_text(demo_jobs()["living_faults"], encoding="utf-8")
    return Page(path)


@dataclass(frozen=True)
class Served:
    """A page in a process of its own."""

    url: str
    path: Path
    process: subprocess.Popen[str]

    def job(self) -> Job:
        """The job as it is on the disk."""
        return read_job(self.path.read_bytes())

    def state(self) -> dict[str, Any]:
        with urllib.request.urlopen(f"{self.url}api/state") as answer:
            return json.load(answer)


def serve(path: Path) -> Served:
    """Start the server as the command line does, at any free port, and wait until it says where it is."""
    code = f"from pathlib import Path; from wallwright.studio.serve import run; run(Path({str(path)!r}), 0)"
    process = subprocess.Popen(
        [sys.executable, "-c", code],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    assert process.stdout is not None
    said = process.stdout.readline()
    assert "http://127.0.0.1:" in said, said
    return Served(said.split(" is open at ")[1].strip(), path, process)


@pytest.fixture
def served(job_file: Path) -> Iterator[Served]:
    """The built page, served from a job of its own."""
    if not (STATIC / "index.html").is_file() or "index" not in " ".join(
        p.name for p in STATIC.glob("assets/*")
    ):
        pytest.skip("the page is not built here (pip install -e . builds it)")
    running = serve(job_file)
    yield running
    running.process.kill()
    running.process.wait()
