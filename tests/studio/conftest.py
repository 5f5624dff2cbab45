"""A job file of its own for every test, and the page served from it."""

from __future__ import annotations

import json
import os
import secrets
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.studio import accounts
from wallwright.studio.accounts import add_person
from wallwright.studio.app import STATIC, application, create_app
from wallwright.studio.store import Store
from wallwright.studio.studio import hosted, of_file

PATIENCE = 60.0
"""Seconds that a test in a browser waits for what must come: a busy machine is slow, not wrong."""
ADDRESS = "http://127.0.0.1:8470"
HOSTED = "https://studio.example"
PASSWORD = "a long and plain sentence"
REMARK = "# measured twice, keep this remark\n"


@pytest.fixture(scope="session", autouse=True)
def patience() -> None:
    """Every expectation of a page waits as long as a busy machine may need."""
    try:
        from playwright.sync_api import expect
    except ImportError:
        return
    expect.set_options(timeout=PATIENCE * 1000)


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
        self.app = create_app(path)
        self.http = TestClient(self.app, base_url=ADDRESS, raise_server_exceptions=False)

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

    def close(self) -> None:
        studio = self.app.state.studio
        if studio.worker:
            studio.worker.stop()
        studio.store.close()


@pytest.fixture
def page_of(job_file: Path) -> Iterator[Page]:
    page = Page(job_file)
    yield page
    page.close()


@dataclass
class Hosted:
    """A hosted studio, and browsers that sign in to it."""

    app: Any
    owner: TestClient

    @property
    def store(self) -> Store:
        return self.app.state.studio.store

    def browser(self) -> TestClient:
        """Somebody's browser; nobody is signed in on it."""
        client = TestClient(self.app, base_url=HOSTED, raise_server_exceptions=False)
        client.headers["origin"] = HOSTED
        return client

    def signed_in(self, name: str, role: str) -> TestClient:
        """The browser of a person with an account of this role."""
        add_person(self.store, name, PASSWORD, role)  # type: ignore[arg-type]
        client = self.browser()
        answer = client.post("/api/sign-in", json={"name": name, "password": PASSWORD})
        assert answer.status_code == 200, answer.text
        client.headers["x-csrf-token"] = answer.json()["csrf"]
        return client

    def job(self, room: str = "living") -> str:
        """A new wall's id."""
        answer = self.owner.post("/api/jobs", json={"room": room})
        assert answer.status_code == 200, answer.text
        return answer.json()["id"]

    def state(self, job: str) -> dict[str, Any]:
        answer = self.owner.get(f"/api/jobs/{job}/state")
        assert answer.status_code == 200, answer.text
        return answer.json()

    def edit(self, job: str, name: str, expect: int = 200, **values: Any) -> dict[str, Any]:
        body = {"position": self.state(job)["position"], "edit": name, "with": values, "sure": True}
        answer = self.owner.post(f"/api/jobs/{job}/edit", json=body)
        assert answer.status_code == expect, answer.text
        return answer.json()


@pytest.fixture
def cheap_passwords(monkeypatch: pytest.MonkeyPatch) -> None:
    """Passwords hashed as they are in use, only with little memory: the tests hash many."""
    from argon2 import PasswordHasher

    monkeypatch.setattr(accounts, "_hasher", lambda: PasswordHasher(1, 64, 1))
    accounts._nobody.cache_clear()


@pytest.fixture
def hosted_studio(tmp_path: Path, cheap_passwords: None) -> Iterator[Hosted]:
    studio = hosted(f"sqlite:///{tmp_path}/studio.db", HOSTED, worker=False)
    made = Hosted(application(studio), None)  # type: ignore[arg-type]
    made.owner = made.signed_in("Olga Owner", "owner")
    yield made
    studio.store.close()
    accounts._nobody.cache_clear()


@pytest.fixture
def faulty(tmp_path: Path) -> Iterator[Page]:
    """The invented living room with all that can be wrong with one."""
    path = tmp_path / "faulty.toml"
    path.write_text(demo_jobs()["living_faults"], encoding="utf-8")
    page = Page(path)
    yield page
    page.close()


@dataclass(frozen=True)
class Served:
    """A page that is served; process : where it has one of its own."""

    url: str
    path: Path
    process: subprocess.Popen[str] | None = None

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
def serving() -> Iterator[Callable[[Path], Served]]:
    """Starts servers, and ends all that it started."""
    started: list[Served] = []

    def start(path: Path) -> Served:
        started.append(serve(path))
        return started[-1]

    yield start
    for running in started:
        assert running.process is not None
        running.process.kill()
        running.process.wait()


@contextmanager
def in_a_thread(path: Path) -> Iterator[str]:
    """The server's address, served from this process: what `serve` sets up, without the start of a program for every test."""
    import uvicorn

    studio = of_file(path)
    server = uvicorn.Server(
        uvicorn.Config(
            application(studio), log_level="warning", server_header=False, date_header=False, lifespan="off"
        )
    )
    with socket.create_server(("127.0.0.1", 0), backlog=128) as listening:  # from here on it answers
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
        thread.start()
        try:
            yield f"http://127.0.0.1:{listening.getsockname()[1]}/"
        finally:
            server.should_exit = server.force_exit = True
            thread.join(30)
            if studio.worker:
                studio.worker.stop()
            studio.store.close()
    assert not thread.is_alive()


@pytest.fixture
def built() -> None:
    """Skips where there is no page to serve."""
    if not (STATIC / "index.html").is_file() or "index" not in " ".join(
        p.name for p in STATIC.glob("assets/*")
    ):
        pytest.skip("the page is not built here (pip install -e . builds it)")


@pytest.fixture
def served(job_file: Path, built: None) -> Iterator[Served]:
    """The built page, served from a job of its own."""
    with in_a_thread(job_file) as url:
        yield Served(url, job_file)


@pytest.fixture
def faulty_served(tmp_path: Path, built: None) -> Iterator[Served]:
    """The page of the invented living room with all that can be wrong with one."""
    path = tmp_path / "faulty.toml"
    path.write_text(demo_jobs()["living_faults"], encoding="utf-8")
    with in_a_thread(path) as url:
        yield Served(url, path)


WHY_NOT = "PostgreSQL's initdb and pg_ctl are not on this machine"


def postgres_programs() -> Path | None:
    """The folder of PostgreSQL's programs."""
    found = shutil.which("initdb") or next(
        (str(path) for path in sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), reverse=True)), None
    )
    return Path(found).resolve().parent if found else None


@contextmanager
def postgres_cluster() -> Iterator[str]:
    """A server of its own, reached by a socket in a folder of its own; gives the start of its databases' addresses."""
    bin_ = postgres_programs()
    assert bin_ is not None
    folder = Path(tempfile.mkdtemp(prefix="ww-pg-", dir="/tmp"))  # a socket's path must be short
    user = "postgres" if os.geteuid() == 0 else None  # it refuses to run as root

    def run(*command: str | Path) -> None:
        subprocess.run(
            [str(part) for part in command], check=True, user=user, cwd=folder, timeout=60,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL,
        )  # fmt: skip

    try:
        if user:
            shutil.chown(folder, user)
        run(bin_ / "initdb", "-D", folder / "data", "-A", "trust", "-U", "tests", "--no-sync")
        settings = (
            f"-c listen_addresses= -c unix_socket_directories={folder} -c fsync=off -c max_connections=120"
        )
        run(bin_ / "pg_ctl", "-D", folder / "data", "-w", "-o", settings, "-l", folder / "log", "start")
        try:
            yield f"postgresql://tests@/{{name}}?host={folder}"
        finally:
            run(bin_ / "pg_ctl", "-D", folder / "data", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def fresh_database(address: str) -> str:
    """A new, empty database of a cluster."""
    import psycopg

    name = f"t{secrets.token_hex(6)}"
    with psycopg.connect(address.format(name="postgres"), autocommit=True) as db:
        db.execute(f"create database {name}")  # type: ignore[arg-type]
    return address.format(name=name)


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """A PostgreSQL server of the tests' own."""
    if postgres_programs() is None:
        pytest.skip(WHY_NOT)
    with postgres_cluster() as address:
        yield address


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of an empty database of each kind."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path}/studio.db"
    return fresh_database(request.getfixturevalue("postgres"))
