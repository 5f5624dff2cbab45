"""Slow questions: queued, worked off in another process, told how far, cancelled, taken up again, answered once."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from typing import Any

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.options.schemes import scheme_options
from wallwright.studio import history, studies
from wallwright.studio.store import Store

PATIENCE = 240


def until(say: Any, done: Any) -> Any:
    """Ask again and again until the answer is as wanted."""
    end = time.monotonic() + PATIENCE
    while not done(now := say()):
        assert time.monotonic() < end, now
        time.sleep(0.1)
    return now


@pytest.fixture
def asked(page_of: Any) -> Any:
    """A page with its job's address, and a way to ask."""
    base = f"jobs/{page_of.http.get('/api/here').json()['first']}"

    def ask(kind: str, expect: int = 200, **question: Any) -> Any:
        body = {"position": page_of.state()["position"], "kind": kind, "question": question}
        return page_of.post(f"{base}/studies", body, expect)

    page_of.base, page_of.ask = base, ask
    page_of.study = lambda ident: page_of.http.get(f"/api/{base}/studies/{ident}").json()
    return page_of


def test_options_are_found_in_the_background_and_kept_by_their_question(asked: Any) -> None:
    began = asked.ask("options", of="schemes", number=2)
    assert began["state"] in ("queued", "running") and began["holds"]
    assert asked.http.get(f"/api/{asked.base}/studies/{began['id']}/answer").status_code == 404
    assert (
        asked.ask("options", of="schemes", number=2)["id"] == began["id"]
    )  # the same question is not asked twice
    done = until(lambda: asked.study(began["id"]), lambda s: s["state"] not in ("queued", "running"))
    assert done["state"] == "done" and done["share"] == 1, done
    found = asked.http.get(f"/api/{asked.base}/studies/{began['id']}/answer").json()["answer"]
    assert [one["key"] for one in found["options"]] == [one.key for one in scheme_options(asked.job())[:2]]
    asked.path.write_text("# another remark\n" + asked.path.read_text())
    again = asked.ask("options", of="schemes", number=2)
    assert again["state"] == "done" and again["id"] != began["id"]  # at once: the job says the same
    asked.change(edit="set_screen_size", sure=True, **{"with": {"diagonal": 55}})
    assert not asked.study(began["id"])["holds"]
    other = asked.ask("options", of="schemes", number=2)
    assert other["state"] == "queued" or other["state"] == "running"
    ended = asked.post(f"{asked.base}/studies/{other['id']}/cancel", {})
    assert ended["state"] == "cancelled"
    assert [s["id"] for s in asked.http.get(f"/api/{asked.base}/studies").json()["studies"]] == [
        other["id"], again["id"], began["id"],
    ]  # fmt: skip


def test_a_picture_is_made_and_fetched_as_a_file(asked: Any) -> None:
    began = asked.ask("picture", when="day", light="direct", width=64, height=64)
    done = until(lambda: asked.study(began["id"]), lambda s: s["state"] not in ("queued", "running"))
    assert done["state"] == "done" and done["files"] == ["picture.png"], done
    get = f"/api/{asked.base}/studies/{began['id']}"
    assert asked.http.get(f"{get}/answer").json()["answer"]["when"] == "day"
    picture = asked.http.get(f"{get}/file/picture.png")
    assert picture.content[:8] == b"\x89PNG\r\n\x1a\n" and picture.headers["content-type"] == "image/png"
    assert int.from_bytes(picture.content[16:20], "big") == 64
    assert "attachment" in picture.headers["content-disposition"]
    for name in ("nothing.pdf", "..%2f..%2fjob.toml", ".wallwright.db", "%2fetc%2fpasswd"):
        assert asked.http.get(f"{get}/file/{name}").status_code in (404, 422), name


@pytest.mark.parametrize(
    ("kind", "question"),
    [
        ("options", {"of": "everything"}), ("options", {"number": 0}), ("options", {"number": "2"}),
        ("cutting", {"seconds": 9}), ("issue", {"out": "/tmp/x"}), ("picture", {"width": 100_000}),
    ],
)  # fmt: skip
def test_what_cannot_be_asked_is_refused(asked: Any, kind: str, question: dict[str, Any]) -> None:
    assert asked.ask(kind, 422, **question)["error"]["field"].startswith("question")
    assert asked.http.get(f"/api/{asked.base}/studies").json()["studies"] == []


# --- the queue, without a process ----------------------------------------------------------------------------------------


@pytest.fixture
def queue(database: str) -> Any:
    store = Store(database)
    with store.write() as db:
        job = history.begin(db, demo_jobs()["living"], "you")
    yield store, job
    store.close()


def ask(queue: Any, kind: str = "cutting", **question: Any) -> studies.Study:
    return studies.ask(queue[0], queue[1], demo_jobs()["living"], kind, question, "you")


def state(queue: Any, study: str) -> str:
    with queue[0].read() as db:
        return studies.one(db, queue[1], study).state


def test_a_study_is_one_workers_until_its_lease_runs_out(queue: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    store, _ = queue
    first, second = ask(queue), ask(queue, "options")
    assert studies.claim(store, "a") == first.id and studies.claim(store, "b") == second.id
    assert studies.claim(store, "c") is None
    real = studies.now()
    monkeypatch.setattr(studies, "clock", lambda db: real + 10)
    studies.renew(store, second.id, "b")
    studies.renew(store, first.id, "somebody else")
    monkeypatch.setattr(studies, "clock", lambda db: real + studies.LEASE + 1)
    assert studies.claim(store, "c") == first.id and studies.claim(store, "d") is None
    assert not studies.still_wanted(store, first.id, "a") and studies.still_wanted(store, first.id, "c")
    studies.let_go(store, first.id, "a")  # too late: it is no longer a's
    assert state(queue, first.id) == "running"
    studies.let_go(store, first.id, "c")
    assert state(queue, first.id) == "queued"


def test_what_never_comes_to_an_end_is_given_up(queue: Any) -> None:
    store, _ = queue
    study = ask(queue)
    for _ in range(studies.MOST_TRIES):
        assert studies.claim(store, "a") == study.id
        studies.let_go(store, study.id, "a")
    assert studies.claim(store, "a") is None and state(queue, study.id) == "failed"


def test_what_is_cancelled_stays_cancelled(queue: Any) -> None:
    store, job = queue
    study = ask(queue)
    studies.claim(store, "a")
    studies.cancel(store, job, study.id)
    studies.tell(store, study.id, 0.5, "on")
    studies.finish(store, study.id)
    studies.fail_with(store, study.id, "x")
    assert state(queue, study.id) == "cancelled" and not studies.still_wanted(store, study.id, "a")
    assert ask(queue).id != study.id  # and may be asked anew


def test_one_job_may_not_fill_the_queue(queue: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(studies, "MOST_WAITING", 2)
    ask(queue, "options", number=1)
    ask(queue, "options", number=2)
    with pytest.raises(JobError, match="too many"):
        ask(queue, "options", number=3)


# --- over a restart ------------------------------------------------------------------------------------------------------


def test_a_study_outlasts_the_server_that_was_killed(job_file: Path, serving: Any) -> None:
    first = serving(job_file)

    def call(url: str, path: str, body: Any = None) -> Any:
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(f"{url}api/{path}", data, {"content-type": "application/json"})
        with urllib.request.urlopen(request) as answer:
            return json.load(answer)

    base = f"jobs/{call(first.url, 'here')['first']}"
    study = call(first.url, f"{base}/studies", {"position": 0, "kind": "cutting"})
    until(lambda: call(first.url, f"{base}/studies/{study['id']}"), lambda s: s["state"] == "running")
    os.kill(first.process.pid, signal.SIGKILL)
    first.process.wait()
    second = serving(job_file)
    done = until(
        lambda: call(second.url, f"{base}/studies/{study['id']}"),
        lambda s: s["state"] not in ("queued", "running"),
    )
    assert done["state"] == "done" and "cutting_plan.csv" in done["files"], done
    boards = call(second.url, f"{base}/studies/{study['id']}/answer")["answer"]["boards"]
    assert boards and all(one["sheets"] >= 1 and 0 < one["used"] <= 1 for one in boards)


def test_a_process_that_comes_to_its_end_says_nothing_to_the_terminal(queue: Any) -> None:
    """Its ear for the server still waits then: the pipe is open, as it is while the server goes on."""
    store, _ = queue
    study = ask(queue, "picture", when="day", light="direct", width=64, height=64)
    studies.claim(store, "a")
    process = subprocess.Popen(
        [sys.executable, "-m", "wallwright.studio.worker", study.id], stdin=subprocess.PIPE, stderr=subprocess.PIPE
    )  # fmt: skip
    assert process.stdin is not None and process.stderr is not None
    process.stdin.write(json.dumps({"url": store.url}).encode() + b"\n")
    process.stdin.flush()
    assert process.wait(PATIENCE) == 0
    assert process.stderr.read() == b"" and state(queue, study.id) == "done"
    process.stdin.close()
    process.stderr.close()
