"""Backups: taken while people work, checked, put back whole, and into no database that holds something else."""

from __future__ import annotations

import os
import sqlite3
import threading
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.studio import accounts, backup, history, studies
from wallwright.studio.backup import back_up, restore, verify
from wallwright.studio.schema import ANSWER_FILE, AUDIT, JOB, MOMENT, PERSON, SIGN_IN
from wallwright.studio.session import Session, open_file
from wallwright.studio.store import NAME, Store

PASSWORD = "a long and plain sentence"


@pytest.fixture
def full(database: str, cheap_passwords: None) -> Any:
    """A hosted studio's database with something in every kind of column."""
    yield from filled(database)


@pytest.fixture
def full_file(tmp_path_factory: pytest.TempPathFactory, cheap_passwords: None) -> Any:
    """The same in SQLite, for what the kind of database has no part in."""
    yield from filled(f"sqlite:///{tmp_path_factory.mktemp('studio')}/studio.db")


def filled(database: str) -> Any:
    store = Store(database)
    who = accounts.add_person(store, "Olga", PASSWORD, "owner")
    accounts.begin_session(store, who)
    with store.write() as db:
        job = history.begin(db, demo_jobs()["bedroom"], "Olga")
        accounts.note(db, "Olga", "made a wall", job=job)
    study = studies.ask(store, job, demo_jobs()["bedroom"], "cutting", {}, "Olga")
    studies.keep(store, study.key, {"a": 1.5}, {"x.bin": bytes(range(256))})
    yield store, job
    store.close()


def rows(store: Store, table: Any) -> list[Any]:
    with store.read() as db:
        return sorted(tuple(row) for row in db.execute(select(table)))


def test_all_comes_back_into_either_kind_of_database(full: Any, tmp_path: Path) -> None:
    store, job = full
    file = tmp_path / "studio.backup"
    counted = back_up(store.url, file)
    assert verify(file) == counted and {one.table: one.rows for one in counted}["job"] == 1
    assert file.stat().st_mode & 0o077 == 0 and [path.name for path in tmp_path.glob("*backup*")] == [
        "studio.backup"
    ]
    other = Store(f"sqlite:///{tmp_path}/other.db")
    restore(file, other.url)
    for table in (JOB, MOMENT, PERSON, AUDIT, ANSWER_FILE):
        assert rows(other, table) == rows(store, table) != []
    assert rows(other, SIGN_IN) == [] != rows(store, SIGN_IN)  # everybody signs in anew
    assert accounts.right_password(other, "Olga", PASSWORD)
    other.close()
    with store.write() as db:
        accounts.note(db, "Olga", "after the backup")
    Session(store, job).edit([("set_title", {"title": "after the backup"})], 0)
    restore(file, store.url, replace=True)
    assert Session(store, job).view().position == 0
    with store.write() as db:  # the log goes on from its last line
        accounts.note(db, "Olga", "went on")
    assert [row[3] for row in rows(store, AUDIT)] == ["made a wall", "went on"]


def test_every_edit_acknowledged_before_the_backup_is_in_it(full: Any, tmp_path: Path) -> None:
    """Three people edit on while the backups are taken; what they were told by then is there, and each backup is of one moment."""
    store, _ = full
    with store.write() as db:
        jobs = [history.begin(db, demo_jobs()["bedroom"], "you") for _ in range(3)]
    told, end, wrong = {job: 0 for job in jobs}, threading.Event(), []
    first = {job: threading.Event() for job in jobs}

    def edit(job: str) -> None:
        session, position = Session(store, job), 0
        try:
            while not end.wait(0.02):
                position = session.edit([("set_title", {"title": f"edit {position + 1}"})], position).position
                told[job] = position
                first[job].set()
        except Exception as problem:
            wrong.append(problem)
            first[job].set()

    threads = [threading.Thread(target=edit, args=(job,)) for job in jobs]
    for thread in threads:
        thread.start()
    for one in first.values():
        assert one.wait(60)
    taken: list[tuple[dict[str, int], Path]] = []
    for number in range(2):
        before = dict(told)
        back_up(store.url, tmp_path / f"{number}.backup")
        taken.append((before, tmp_path / f"{number}.backup"))
    end.set()
    for thread in threads:
        thread.join(60)
    assert wrong == []
    for number, (before, file) in enumerate(taken):
        other = Store(f"sqlite:///{tmp_path}/other{number}.db")
        restore(file, other.url)
        for job in jobs:
            view = Session(other, job).view()  # and it opens, whole
            assert view.position >= before[job] > 0 and view.wall.job.title == f"edit {view.position}"
        other.close()


def test_a_damaged_backup_is_refused_and_changes_nothing(full_file: Any, tmp_path: Path) -> None:
    store, _ = full_file
    file = tmp_path / "studio.backup"
    back_up(store.url, file)
    before = rows(store, MOMENT)
    whole = file.read_bytes()
    at = whole.index(demo_jobs()["bedroom"][200:260].encode())
    spoilt = [whole[:at] + b"X" + whole[at + 1 :], whole[: len(whole) // 2], b"", b"no database" * 500]
    for number, data in enumerate(spoilt):
        bad = tmp_path / f"bad{number}"
        bad.write_bytes(data)
        with pytest.raises(JobError, match=r"damaged|no backup"):
            restore(bad, store.url, replace=True)
    lost = tmp_path / "lost"
    lost.write_bytes(whole)
    with sqlite3.connect(lost) as db:
        db.execute("delete from audit")
    db.close()
    with pytest.raises(JobError, match="damaged"):
        restore(lost, store.url, replace=True)
    with pytest.raises(JobError, match="not there"):
        restore(tmp_path / "none", store.url)
    assert rows(store, MOMENT) == before


def test_nothing_is_overwritten_without_being_told_to(full_file: Any, tmp_path: Path) -> None:
    store, _ = full_file
    file = tmp_path / "studio.backup"
    file.write_bytes(b"mine")
    with pytest.raises(JobError, match="there already"):
        back_up(store.url, file)
    assert file.read_bytes() == b"mine"
    back_up(store.url, tmp_path / "second")
    with pytest.raises(JobError, match="holds 1 jobs already"):
        restore(tmp_path / "second", store.url)
    with pytest.raises(JobError, match="neither a folder"):
        back_up(str(tmp_path / "nowhere"), tmp_path / "third")
    with pytest.raises(JobError, match="not there"):
        back_up(f"sqlite:///{tmp_path}/none.db", tmp_path / "third")
    assert not (tmp_path / "none.db").exists() and not (tmp_path / "third").exists()


def test_a_restore_that_fails_halfway_leaves_what_was_there(
    full: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store, _ = full
    back_up(store.url, tmp_path / "b")
    before = rows(store, MOMENT), rows(store, PERSON)
    poured, count = backup._poured, 0

    def fails(*given: Any) -> None:
        nonlocal count
        count += 1
        if count > 5:
            raise KeyboardInterrupt
        poured(*given)

    monkeypatch.setattr(backup, "_poured", fails)
    with pytest.raises(KeyboardInterrupt):
        restore(tmp_path / "b", store.url, replace=True)
    assert (rows(store, MOMENT), rows(store, PERSON)) == before


def test_a_folder_of_job_files_comes_back_with_the_files_that_are_missing(tmp_path: Path) -> None:
    walls, new = tmp_path / "walls", tmp_path / "new"
    walls.mkdir()
    new.mkdir()
    (walls / "job.toml").write_text(demo_jobs()["bedroom"], encoding="utf-8")
    session = open_file(walls / "job.toml")
    session.edit([("set_title", {"title": "kept"})], 0)
    back_up(str(walls), tmp_path / "b")
    session.store.close()
    restore(tmp_path / "b", str(new))
    again = open_file(new / "job.toml")
    assert (new / "job.toml").read_bytes() == (walls / "job.toml").read_bytes()
    assert again.view().position == 1 and again.view().can_undo and not again.view().from_file
    again.store.close()
    (new / NAME).unlink()
    (new / "job.toml").write_text("mine", encoding="utf-8")
    restore(tmp_path / "b", str(new))
    assert (new / "job.toml").read_text(encoding="utf-8") == "mine"


def test_a_database_of_a_newer_program_is_refused_in_words(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path}/x.db"
    Store(url).close()
    with sqlite3.connect(tmp_path / "x.db") as db:
        db.execute("update alembic_version set version_num = '9999'")
    db.close()
    with pytest.raises(JobError, match="newer program"):
        Store(url)


def test_what_a_killed_backup_left_goes_with_the_next_one(full_file: Any, tmp_path: Path) -> None:
    old, living = tmp_path / ".backup-old", tmp_path / ".backup-living"
    for folder in (old, living):
        folder.mkdir()
        (folder / "studio.backup").write_bytes(b"half")
    os.utime(old, (1e9, 1e9))
    back_up(full_file[0].url, tmp_path / "b")
    assert not old.exists() and living.exists()
