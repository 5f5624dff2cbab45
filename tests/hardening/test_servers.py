"""Several servers at one database: nothing is lost between them, nothing is held in one alone, and a study outlives its server."""

from __future__ import annotations

import http.client
import json
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.studio import accounts, history, links, studies, worker
from wallwright.studio.pace_shared import SharedPace
from wallwright.studio.session import Session
from wallwright.studio.store import Store
from wallwright.studio.studio import hosted
from wallwright.studio.worker import Worker

ADDRESS = "https://studio.example"
PASSWORD = "a long and plain sentence"
PATIENCE = 120.0


def until(ask: Callable[[], Any], good: Callable[[Any], bool]) -> Any:
    end = time.monotonic() + PATIENCE
    while not good(found := ask()):
        assert time.monotonic() < end, found
        time.sleep(0.05)
    return found


# --- processes ---------------------------------------------------------------------------------------------------------


class Server:
    """A hosted server in a process of its own, and a browser that is signed in."""

    def __init__(self, database: str) -> None:
        code = f"from wallwright.studio.serve import run_hosted; run_hosted({database!r}, {ADDRESS!r}, '127.0.0.1', 0)"
        self.process = subprocess.Popen([sys.executable, "-uc", code], stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        self.port = int(self.process.stdout.readline().split("127.0.0.1:")[1].partition(".")[0])
        self.headers = {"host": "studio.example", "origin": ADDRESS, "content-type": "application/json"}

    def call(self, method: str, path: str, body: Any = None) -> tuple[int, Any]:
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        line.request(method, path, None if body is None else json.dumps(body), self.headers)
        answer = line.getresponse()
        data = answer.read()
        if cookie := answer.headers.get("set-cookie"):
            self.headers["cookie"] = cookie.split(";")[0]
        line.close()
        return answer.status, json.loads(data)

    def sign_in(self, name: str) -> None:
        status, here = self.call("POST", "/api/sign-in", {"name": name, "password": PASSWORD})
        assert status == 200, here
        self.headers["x-csrf-token"] = here["csrf"]

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()


@pytest.fixture
def servers(hosted_database: str) -> Iterator[tuple[str, Server, Server]]:
    database = hosted_database
    store = Store(database)
    accounts.add_person(store, "Olga", PASSWORD, "owner")
    store.close()
    two = Server(database), Server(database)
    yield database, *two
    for one in two:
        one.kill()


def processes(argument: str) -> dict[int, int]:
    """The processes of the workers' file with this argument, with their parents."""
    out: dict[int, int] = {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            words = (folder / "cmdline").read_bytes().split(b"\0")
            parent = int((folder / "stat").read_text().rpartition(")")[2].split()[1])
        except OSError:
            continue
        if b"wallwright.studio.worker" in words and argument.encode() in words:
            out[int(folder.name)] = parent
    return out


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="needs /proc")
def test_two_servers_are_one_studio_and_a_study_outlives_its_own(servers: tuple[str, Server, Server]) -> None:
    database, a, b = servers
    a.sign_in("Olga")
    b.headers = dict(a.headers)  # the same browser, sent to the other server
    status, made = a.call("POST", "/api/jobs", {"room": "bedroom"})
    assert status == 200, made
    base = f"/api/jobs/{made['id']}"

    told: dict[str, int] = {}
    wrong: list[Any] = []

    def edit(server: Server, letter: str) -> None:
        """Each adds things of its own on a state that is soon old; whatever was acknowledged counts."""
        for number in range(8):
            ref = f"OB{letter}{number}"
            thing = {"ref": ref, "kind": "other", "x": 10.0 * number + 5, "z": 2300, "width": 5, "height": 5}
            status, said = server.call(
                "POST", f"{base}/edit", {"position": 0, "edit": "add_obstacle", "with": thing, "sure": True}
            )
            if status == 200:
                told[ref] = said["position"]
            else:
                wrong.append(said)

    threads = [threading.Thread(target=edit, args=args) for args in ((a, "A"), (b, "B"))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(PATIENCE)
    assert wrong == [] and sorted(told.values()) == list(
        range(1, 17)
    )  # one after the other, whoever made them
    for server in (a, b):
        status, _ = server.call(
            "POST", f"{base}/try", {"position": 16, "edit": "set_title", "with": {"title": "dragged"}}
        )
        assert status == 200  # on what was last made by the other
    store = Store(database)
    with store.read() as db:
        job = read_job(history.standing(db, made["id"]).text)
    assert {one.ref for one in job.survey.obstacles} >= told.keys() and job.title != "dragged"

    question = {"when": "day", "light": "direct", "width": 64, "height": 64}
    status, study = a.call(
        "POST", f"{base}/studies", {"position": 16, "kind": "picture", "question": question}
    )
    assert status == 200, study
    (parent,) = set(until(lambda: processes(study["id"]), bool).values())  # whichever took it
    whose = {one.process.pid: one for one in (a, b)}[processes(worker.ALL)[parent]]
    os.kill(whose.process.pid, signal.SIGKILL)  # the machine is gone, midway
    os.kill(parent, signal.SIGKILL)
    other = b if whose is a else a
    done = until(
        lambda: other.call("GET", f"{base}/studies/{study['id']}")[1],
        lambda said: said["state"] not in ("queued", "running"),
    )
    assert done["state"] == "done" and done["files"] == ["picture.png"], done
    with store.read() as db:
        assert studies.one(db, made["id"], study["id"]).tries == 2  # taken up again once, ended once
    store.close()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_two_processes_at_one_file_of_sqlite_lose_nothing(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path}/studio.db"
    store = Store(url)
    with store.write() as db:
        job = history.begin(db, demo_jobs()["bedroom"], "you")
    Session(store, job)  # what is loaded but once is by now
    store.close()

    def edits(letter: str) -> None:
        session = Session(Store(url), job)
        for number in range(6):
            thing = {
                "ref": f"OB{letter}{number}",
                "kind": "other",
                "x": 10.0 * number + 5,
                "z": 2300,
                "width": 5,
                "height": 5,
            }
            session.edit([("add_obstacle", thing)], 0)

    children: list[int] = []
    for letter in "AB":
        if child := os.fork():
            children.append(child)
            continue
        try:
            edits(letter)
            os._exit(0)
        finally:
            os._exit(9)
    assert [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children] == [0, 0]
    store = Store(url)
    with store.read() as db:
        standing = history.standing(db, job)
        assert db.exec_driver_sql("pragma integrity_check").scalar() == "ok"
    store.close()
    refs = {one.ref for one in read_job(standing.text).survey.obstacles}
    assert standing.position == 12 and refs >= {
        f"OB{letter}{number}" for letter in "AB" for number in range(6)
    }


# --- the worker -----------------------------------------------------------------------------------------------------------


def test_a_worker_that_dies_is_started_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(worker, "AGAIN", 0.01)
    keeper = Worker(f"sqlite:///{tmp_path}/x.db")
    keeper.wake()
    try:
        first = keeper._process
        assert first is not None
        first.kill()
        again = until(lambda: keeper._process, lambda now: now is not first)
        assert again.poll() is None
    finally:
        keeper.stop()
    keeper.wake()  # at the end of the server nothing begins any more
    assert keeper._process is None


def test_what_killed_workers_left_in_the_scratch_folder_goes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    gone, living, foreign = (
        tmp_path / f"{worker.SCRATCH}{name}" for name in (f"{ended.pid}-a", f"{os.getpid()}-b", "x-c")
    )
    for folder in (gone, living, foreign):
        folder.mkdir()
        (folder / "wall.pdf").write_bytes(b"half")
    worker.sweep()
    assert not gone.exists() and living.exists() and foreign.exists()


# --- the queue ------------------------------------------------------------------------------------------------------------


@pytest.fixture
def queue(database: str) -> Iterator[tuple[Store, str]]:
    store = Store(database)
    with store.write() as db:
        job = history.begin(db, demo_jobs()["bedroom"], "you")
    yield store, job
    store.close()


def ask(queue: tuple[Store, str], number: int = 1) -> studies.Study:
    return studies.ask(*queue, demo_jobs()["bedroom"], "options", {"number": number}, "you")


def test_each_study_is_claimed_once_however_many_workers_ask(queue: tuple[Store, str]) -> None:
    asked = {ask(queue, number).id for number in range(1, 9)}
    others = [Store(queue[0].url) for _ in range(4)]
    start, claimed, lock = threading.Barrier(4), list[str](), threading.Lock()

    def work(store: Store) -> None:
        start.wait()
        while (study := studies.claim(store, store.url[-8:])) is not None:
            with lock:
                claimed.append(study)

    threads = [threading.Thread(target=work, args=(store,)) for store in others]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(PATIENCE)
    for store in others:
        store.close()
    assert sorted(claimed) == sorted(asked)


def test_only_the_last_taking_up_ends_a_study(
    queue: tuple[Store, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A worker thought dead comes back after another has taken its study up: what it says changes nothing."""
    store, job = queue
    study = ask(queue).id

    def now() -> studies.Study:
        with store.read() as db:
            return studies.one(db, job, study)

    assert studies.claim(store, "slow") == study
    real = studies.now()
    monkeypatch.setattr(studies, "clock", lambda db: real + studies.LEASE + 1)
    assert studies.claim(store, "quick") == study
    studies.tell(store, study, 0.9, "from the dead", 1)
    studies.fail_with(store, study, "from the dead", 1)
    assert not studies.finish(store, study, 1)
    assert (now().state, now().share, now().error) == ("running", 0.0, "")
    studies.tell(store, study, 0.5, "on the way", 2)
    assert (now().share, now().what) == (0.5, "on the way")
    assert studies.finish(store, study, 2) and now().state == "done"
    assert not studies.finish(store, study, 2)  # once


def test_what_is_given_up_does_not_hold_up_the_next(queue: tuple[Store, str]) -> None:
    first, second = ask(queue, 1), ask(queue, 2)
    for _ in range(studies.MOST_TRIES):
        assert studies.claim(queue[0], "a") == first.id
        studies.let_go(queue[0], first.id, "a")
    assert studies.claim(queue[0], "a") == second.id  # at once, not at the next time of asking


# --- the clock ------------------------------------------------------------------------------------------------------------


def test_a_clock_that_is_set_back_an_hour(queue: tuple[Store, str], monkeypatch: pytest.MonkeyPatch) -> None:
    store, job = queue
    real = studies.now()
    first = ask(queue, 1)
    assert studies.claim(store, "a") == first.id
    for module in ("store", "history", "studies", "accounts", "links"):
        monkeypatch.setattr(f"wallwright.studio.{module}.now", lambda: real - 3600)
    if not store.postgres:
        assert (
            studies.claim(store, "b") == first.id
        )  # its lease seems to end in an hour: it was given by the old clock
        assert studies.claim(store, "c") is None  # and this one by the new
    second = ask(queue, 2)
    with store.read() as db:
        assert [one.id for one in studies.of_job(db, job)] == [
            second.id,
            first.id,
        ]  # the newest first, whatever the clock says
    session = Session(store, job)
    for title in ("one", "two"):
        session.edit([("set_title", {"title": title})], session.view().position)
    with store.read() as db:
        assert [one.number for one in history.moments(db, job, 99)] == [2, 1, 0]
    with store.write() as db:
        link, _ = links.give(db, job, "client", "x", 7, False, "you")
    for text, hour in (("first", 0), ("second", -2), ("third", -9)):
        monkeypatch.setattr("wallwright.studio.store.now", lambda hour=hour: real + hour * 3600)
        with store.write() as db:
            links.comment(db, job, link.id, "you", text, "A", 0)
            links.approve(db, link, text, "A", 0, "0" * 64)
    with store.read() as db:
        assert [one.text for one in links.comments(db, job)] == ["first", "second", "third"]
        assert [one.name for one in links.approvals(db, job)] == ["third", "second", "first"]


def test_a_session_lasts_no_longer_for_a_clock_that_was_set_back(
    queue: tuple[Store, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    store, clock = queue[0], [1e9]
    monkeypatch.setattr(accounts, "now", lambda: clock[0])
    who = accounts.add_person(store, "Dora", PASSWORD, "designer")
    clock[0] += 30 * 86400  # a wrong clock, by a month
    token = accounts.begin_session(store, who)
    clock[0] -= 29 * 86400
    assert accounts.whose(store, token) is not None
    clock[0] += accounts.IDLE + 1  # idle since then: over, not a month from now
    assert accounts.whose(store, token) is None


# --- what was in one process alone ---------------------------------------------------------------------------------------


def test_tries_at_a_password_are_counted_for_all_servers_together(
    database: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    two = [hosted(database, ADDRESS, worker=False) for _ in range(2)]
    at = [1e9]
    monkeypatch.setattr("wallwright.studio.pace_shared.clock", lambda db: at[0])
    assert all(isinstance(one.logins, SharedPace) for one in two)
    waits = [two[number % 2].logins.wait("name Olga") for number in range(10)]
    assert waits[:8] == [0.0] * 8 and all(wait > 50 for wait in waits[8:])
    assert two[1].logins.wait("name Dora") == 0.0
    at[0] -= 5000  # a clock set back neither opens the door nor keeps it shut for ever
    assert 0.0 <= two[0].logins.wait("name Olga") <= 61
    two[0].logins.forget("name Olga")
    assert two[1].logins.wait("name Olga") == 0.0
    with two[0].store.read() as db:
        kept = str(db.exec_driver_sql("select * from pace").all())
    assert "Olga" not in kept
    for one in two:
        one.store.close()
