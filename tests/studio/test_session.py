"""What a session keeps: the file at every step, undo over a restart, nothing lost by a kill."""

from __future__ import annotations

import json
import os
import signal
import threading
import urllib.request
from pathlib import Path
from typing import Any

import pytest

from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.studio import session as module
from wallwright.studio.session import Session, StaleError, open_file


def height(session: Session) -> float:
    return session.view().wall.sight.screen.centre[1]


def raise_to(session: Session, mm: float) -> None:
    session.edit([("set_screen_height", {"centre_height": mm})], session.view().position)


def test_undo_outlasts_a_restart(job_file: Path) -> None:
    first = job_file.read_bytes()
    session = open_file(job_file)
    raise_to(session, 1300)
    raise_to(session, 1400)
    session.undo(session.view().position)
    position = session.view().position

    again = open_file(job_file)
    assert height(again) == 1300 and again.view().can_redo and again.view().position == position
    again.redo(again.view().position)
    assert height(again) == 1400
    for _ in range(2):
        again.undo(again.view().position)
    assert job_file.read_bytes() == first and not again.view().can_undo


def test_a_new_edit_after_undo_ends_what_was_undone(job_file: Path) -> None:
    session = open_file(job_file)
    raise_to(session, 1300)
    session.undo(session.view().position)
    raise_to(session, 1350)
    assert not session.view().can_redo
    again = open_file(job_file)
    assert height(again) == 1350 and not again.view().can_redo
    again.undo(again.view().position)
    assert not again.view().can_undo


def test_a_job_file_written_without_its_history_is_not_lost(job_file: Path) -> None:
    """As if killed between the file and the database: the file is the truth and becomes a step."""
    session = open_file(job_file)
    kept = session.text()
    raise_to(session, 1300)
    after = job_file.read_bytes()
    session.undo(session.view().position)
    assert job_file.read_text(encoding="utf-8") == kept
    job_file.write_bytes(after)
    again = open_file(job_file)
    assert height(again) == 1300 and again.view().undo == module.IN_THE_FILE
    again.undo(again.view().position)
    assert job_file.read_text(encoding="utf-8") == kept


def test_without_its_database_the_job_still_opens(job_file: Path) -> None:
    session = open_file(job_file)
    raise_to(session, 1300)
    session.store.close()
    for file in job_file.parent.glob(".wallwright.db*"):
        file.unlink()
    again = open_file(job_file)
    assert height(again) == 1300 and not again.view().can_undo


def test_where_no_database_can_be_kept_the_job_opens_and_the_work_is_kept_in_the_file(job_file: Path) -> None:
    (job_file.parent / ".wallwright.db").mkdir()
    session = open_file(job_file)
    raise_to(session, 1300)
    assert read_job(job_file.read_bytes()).design.screen.centre_height.mm == 1300  # type: ignore[union-attr]
    session.undo(session.view().position)
    assert not session.view().can_undo


def test_undo_has_no_end(job_file: Path) -> None:
    first, session = job_file.read_bytes(), open_file(job_file)
    for mm in range(1300, 1312):
        raise_to(session, mm)
    session = open_file(job_file)
    for _ in range(12):
        session.undo(session.view().position)
    assert job_file.read_bytes() == first and not session.view().can_undo
    for _ in range(12):
        session.redo(session.view().position)
    assert height(session) == 1311 and not session.view().can_redo


def test_of_many_at_once_from_one_position_exactly_one_wins(job_file: Path) -> None:
    session = open_file(job_file)
    position, outcome = session.view().position, []

    def change(mm: float) -> None:
        try:
            session.edit([("set_screen_height", {"centre_height": mm})], position)
            outcome.append(mm)
        except StaleError:
            outcome.append(None)

    threads = [threading.Thread(target=change, args=(1300 + i,)) for i in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    (won,) = [mm for mm in outcome if mm is not None]
    assert len(outcome) == 8 and read_job(job_file.read_bytes()).design.screen.centre_height.mm == won  # type: ignore[union-attr]


def test_an_edit_that_changes_nothing_is_no_step(job_file: Path) -> None:
    session = open_file(job_file)
    before = session.view()
    session.edit([("set_title", {"title": before.wall.job.title})], before.position)
    assert session.view() is before


def test_a_refused_edit_among_several_leaves_all_undone(job_file: Path) -> None:
    session, text = open_file(job_file), job_file.read_bytes()
    with pytest.raises(JobError, match="C9"):
        session.edit(
            [("set_title", {"title": "x"}), ("move_unit", {"ref": "C9", "x": 1})], session.view().position
        )
    assert job_file.read_bytes() == text and not session.view().can_undo


def test_a_file_broken_by_another_program_is_told_and_not_overwritten(job_file: Path) -> None:
    session = open_file(job_file)
    good = session.view()
    job_file.write_text("not a job [", encoding="utf-8")
    broken = session.view()
    assert broken.trouble is not None and broken.trouble.line == 1 and "TOML" in broken.trouble.says
    assert broken.wall is good.wall
    with pytest.raises(JobError, match="cannot be read"):
        session.undo(0)
    assert job_file.read_text(encoding="utf-8") == "not a job ["


def test_a_folder_that_cannot_be_written_refuses_the_edit(
    job_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = open_file(job_file)
    before = session.view()

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module, "replace_file", full)
    with pytest.raises(JobError, match="No space left"):
        raise_to(session, 1300)
    assert session.view() is before


def test_kill_9_loses_nothing_that_was_acknowledged(job_file: Path, serving: Any) -> None:
    """The server is killed without warning right after each answer; a fresh one stands where the answer said."""
    served = serving(job_file)
    position = served.state()["position"]
    for mm in (1301, 1302, 1303):
        body = json.dumps(
            {"position": position, "edit": "set_screen_height", "with": {"centre_height": mm}}
        ).encode()
        request = urllib.request.Request(f"{served.url}api/edit", body, {"content-type": "application/json"})
        with urllib.request.urlopen(request) as answer:
            position = json.load(answer)["position"]
    os.kill(served.process.pid, signal.SIGKILL)
    served.process.wait()
    again = open_file(served.path)
    assert height(again) == 1303 and again.view().position == position
    for mm in (1302, 1301):
        again.undo(again.view().position)
        assert height(again) == mm
