"""What was acknowledged is never lost: killed in the midst of edits, and with fifty people at one job."""

from __future__ import annotations

import json
import os
import random
import signal
import threading
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.studio import history
from wallwright.studio.session import Session, StaleError, open_file
from wallwright.studio.store import Store

EDITS = 200
EDITORS = 50
SESSIONS = 3
"""Servers at one database, each with sessions of its own."""


def test_kill_9_during_200_edits_loses_none_that_was_acknowledged(job_file: Path, serving: Any) -> None:
    """Edits are sent one after the other; the server is killed at moments that nobody chose, and started again."""
    chance = random.Random(7)
    running, sent, told, kills = serving(job_file), 0, [], 0
    position = running.state()["position"]
    while sent < EDITS:
        timer = threading.Timer(chance.uniform(0.2, 2.5), os.kill, (running.process.pid, signal.SIGKILL))
        if kills < 4:
            timer.start()
        try:
            while sent < EDITS:
                title = f"edit {sent}"
                sent += 1
                body = {"position": position, "edit": "set_title", "with": {"title": title}}
                request = urllib.request.Request(
                    f"{running.url}api/edit?scale=200",
                    json.dumps(body).encode(),
                    {"content-type": "application/json"},
                )
                with urllib.request.urlopen(request) as answer:
                    position = json.load(answer)["position"]
                told.append(title)
        except OSError:
            running.process.wait()
            kills += 1
            running = serving(job_file)
            state = running.state()
            position = state["position"]
            assert state["job"]["title"] in (
                told[-1] if told else "",
                title,
            )  # the last one may or may not have come through
        timer.cancel()
    os.kill(running.process.pid, signal.SIGKILL)
    running.process.wait()
    session = open_file(job_file)
    with session.store.read() as db:
        made = [*history.moments(db, session.job, 10**6, 200), *history.moments(db, session.job, 5, 200)]
    kept = {one.says.partition("“")[2].rstrip("”") for one in made}
    assert kills == 4 and len(told) >= EDITS - 4 and set(told) <= kept
    assert session.view().wall.job.title in (told[-1], f"edit {EDITS - 1}")


def test_fifty_editors_at_one_job_lose_nothing(database: str) -> None:
    """Each adds a thing of their own and raises a common one, on whatever state they last saw; refusals are tried again."""
    stores = [Store(database) for _ in range(SESSIONS)]
    with stores[0].write() as db:
        job = history.begin(db, demo_jobs()["bedroom"], "you")
    sessions = [Session(store, job) for store in stores]
    start, wrong, done = threading.Barrier(EDITORS), [], []

    def work(number: int) -> None:
        session = sessions[number % SESSIONS]
        seen = session.view().position
        thing = {
            "ref": f"OB{number}",
            "kind": "other",
            "x": 10.0 * number,
            "z": 2000,
            "width": 5,
            "height": 5,
        }
        start.wait()
        try:
            view = session.edit(
                [("add_obstacle", thing)], seen, who=f"editor {number}"
            )  # of fields of its own: never refused
            assert any(o.ref == thing["ref"] for o in view.wall.job.survey.obstacles)
            if number % 10 == 0:
                _sign(session, number)
            done.append(number)
        except Exception as problem:
            wrong.append(problem)

    threads = [threading.Thread(target=work, args=(number,)) for number in range(EDITORS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(240)
    assert wrong == [] and len(done) == EDITORS
    last = [session.view() for session in sessions]
    assert len({view.position for view in last}) == 1 and len({view.sha for view in last}) == 1
    refs = [o.ref for o in last[0].wall.job.survey.obstacles]
    assert {f"OB{number}" for number in range(EDITORS)} <= set(refs) and len(refs) == len(set(refs))
    signed = last[0].wall.job.title.split()[-5:]  # all wrote behind the same title, none over another
    assert sorted(signed, key=int) == [str(number) for number in range(0, EDITORS, 10)]
    assert last[0].position == EDITORS + 5
    with stores[0].read() as db:
        made = history.moments(db, job, 10**6, 200)
    assert {one.who for one in made} == {"you"} | {f"editor {number}" for number in range(EDITORS)}
    for store in stores:
        store.close()


def _sign(session: Session, number: int) -> None:
    """Write one's number behind the title: right only where nobody changed it since it was read."""
    until = time.monotonic() + 120
    while time.monotonic() < until:
        view = session.view()
        title = f"{view.wall.job.title} {number}"
        try:
            session.edit([("set_title", {"title": title})], view.position, who=f"editor {number}")
        except StaleError:
            continue
        return
    pytest.fail("never came to its turn")
