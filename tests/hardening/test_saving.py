"""What is saved is the old or the new, never half: killed at any call into the system, on a full disk, in a folder that is read-only."""

from __future__ import annotations

import errno
import importlib.util
import os
import resource
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from wallwright.export import files
from wallwright.export.files import clear_parts, write_atomic
from wallwright.export.package import MANIFEST, _bring_in, _clear_up
from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.studio import history
from wallwright.studio.session import Session, open_file
from wallwright.studio.store import NAME

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")

_spec = importlib.util.spec_from_file_location("at_each", Path(__file__).with_name("at_each.py"))
assert _spec and _spec.loader
at_each = importlib.util.module_from_spec(_spec)
sys.modules["at_each"] = at_each
_spec.loader.exec_module(at_each)

OLD, NEW = "the title before", "the title after"
RETITLE = ("set_title", {"title": NEW})


def litter(folder: Path) -> list[str]:
    return [path.name for path in folder.rglob("*") if path.name.endswith((".part", ".new", ".old"))]


@pytest.fixture(scope="module")
def saved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a job that was opened, and edited once, before."""
    folder = tmp_path_factory.mktemp("saved")
    (folder / "job.toml").write_text(demo_jobs()["bedroom"], encoding="utf-8")
    session = open_file(folder / "job.toml")
    session.edit([("set_title", {"title": OLD})], 0)
    session.store.close()
    return folder


@pytest.fixture
def copies(saved: Path, tmp_path: Path) -> Callable[[int], Path]:
    def fresh(n: int) -> Path:
        return Path(shutil.copytree(saved, tmp_path / f"run{n}"))

    return fresh


def told(session: Session) -> list[str]:
    with session.store.read() as db:
        return [one.says for one in history.moments(db, session.job, 10**6)]


# --- a file ----------------------------------------------------------------------------------------------------------------


def test_a_file_written_and_killed_at_any_call_is_old_or_new(tmp_path: Path) -> None:
    def fresh(n: int) -> Path:
        (folder := tmp_path / f"run{n}").mkdir()
        (folder / "job.toml").write_bytes(b"old" * 5000)
        return folder

    seen: list[bytes] = []
    for _, folder in at_each.killed_at_each(lambda: lambda: write_atomic("job.toml", b"new" * 9000), fresh):
        seen.append((folder / "job.toml").read_bytes())
    assert set(seen) == {b"old" * 5000, b"new" * 9000}  # and none between
    assert (
        seen == sorted(seen, reverse=True) and len(seen) >= 6
    )  # from some call on it is the new one: open, write, flush, fsync …


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EIO])
def test_a_file_refused_at_any_call_is_old_or_new_and_leaves_no_litter(number: int, tmp_path: Path) -> None:
    def make(n: int) -> tuple[Any, Path]:
        (folder := tmp_path / f"run{n}").mkdir()
        (folder / "job.toml").write_bytes(b"old")
        return (lambda: write_atomic(folder / "job.toml", b"new")), folder

    refused = 0
    for n, folder, problem in at_each.refused_at_each(make, number):
        assert (folder / "job.toml").read_bytes() == (b"old" if problem else b"new"), n
        assert litter(folder) == [], n
        assert problem is None or (isinstance(problem, OSError) and problem.errno == number)
        refused += problem is not None
    assert refused >= 4


def test_what_a_kill_left_behind_goes_at_the_next_start_and_nothing_else(saved: Path, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(saved, tmp_path / "x"))
    (folder / "inner").mkdir()
    left = [folder / ".job.toml.0123abcd.part", folder / "inner" / ".b.toml.00000000.part"]
    living, own = folder / ".job.toml.11111111.part", [folder / "my.part", folder / ".job.toml.notours.part"]
    for path in (*left, living, *own):
        path.write_bytes(b"half")
    for path in (*left, *own):
        os.utime(path, (1e9, 1e9))
    open_file(folder / "job.toml").store.close()
    assert not any(path.exists() for path in left)
    assert living.exists() and all(path.exists() for path in own)
    os.utime(living, (4e9, 4e9))  # from before the clock was set back
    clear_parts(folder)
    assert not living.exists()
    assert files.STALE >= 30  # no write takes so long


# --- a step: the database and the job file ------------------------------------------------------------------------------


def test_a_step_killed_at_any_call_is_made_or_not_made(copies: Callable[[int], Path]) -> None:
    """After the kill the job is opened as at the next start: the file is the old or the new one, and the history says the same."""

    def prepare() -> Callable[[], Any]:
        session = open_file("job.toml")
        return lambda: session.edit([RETITLE], session.view().position)

    titles: list[str] = []
    for n, folder in at_each.killed_at_each(prepare, copies):
        text = (folder / "job.toml").read_text(encoding="utf-8")
        session = open_file(folder / "job.toml")
        view = session.view()
        assert view.wall.job.title in (OLD, NEW) and read_job(text) == view.wall.job, n
        titles.append(view.wall.job.title)
        made = told(session)
        assert OLD in made[-2]  # the step before is there whatever happens
        assert len(made) == 2 + (view.wall.job.title == NEW), (n, made)
        assert (
            session.undo(view.position).wall.job.title != view.wall.job.title
        )  # and the history goes on from there
        session.store.close()
    assert titles[0] == OLD and titles[-1] == NEW and len(titles) > 15
    assert titles == sorted(titles, reverse=True)  # once made, it stays made: "before" sorts behind "after"


def test_a_step_refused_at_any_call_is_told_and_not_made(copies: Callable[[int], Path]) -> None:
    def make(n: int) -> tuple[Any, Any]:
        session = open_file(copies(n) / "job.toml")
        at = session.view().position
        return (lambda: session.edit([RETITLE], at)), session

    refused = 0
    for n, session, problem in at_each.refused_at_each(make, errno.ENOSPC):
        job = read_job(session.file.read_bytes())
        assert problem is None or isinstance(problem, JobError), (n, problem)
        assert job.title == (OLD if problem else NEW), (n, problem)
        assert session.view().wall.job.title == job.title and not session.view().from_file, n
        assert litter(session.file.parent) == [], n
        again = session.edit(
            [("set_title", {"title": "room again"})], session.view().position
        )  # the disk has room again
        assert again.wall.job.title == "room again" and read_job(session.file.read_bytes()) == again.wall.job
        assert len(told(session)) == 3 + (problem is None)
        refused += problem is not None
        session.store.close()
    assert refused > 10


def test_a_file_larger_than_the_disk_has_room_for_is_refused_by_the_system_itself(
    copies: Callable[[int], Path],
) -> None:
    """A limit on the size of files, as a full disk or a quota sets it: the database grows into it, edit by edit."""
    folder = copies(1)
    child = os.fork()
    if child == 0:
        try:
            session = open_file(folder / "job.toml")
            most = (folder / NAME).stat().st_size + 150_000
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
            made = refused = 0
            for i in range(400):
                try:
                    session.edit([("set_title", {"title": f"edit {i}"})], session.view().position)
                    made = i
                except JobError:
                    refused = 1
                    break
            kept = read_job((folder / "job.toml").read_bytes()).title
            os._exit(0 if refused and made > 3 and kept == f"edit {made}" else 7)
        finally:
            os._exit(9)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    session = open_file(folder / "job.toml")  # after a restart, with room again
    view = session.view()
    assert view.wall.job.title.startswith("edit ") and not view.from_file
    assert session.edit([RETITLE], view.position).wall.job.title == NEW
    session.store.close()


@pytest.mark.skipif(os.name != "posix" or os.geteuid() != 0, reason="only root can become another user")
def test_a_folder_that_may_not_be_written_is_shown_and_edits_are_refused(
    copies: Callable[[int], Path],
) -> None:
    folder = copies(1)
    for path in folder.iterdir():
        path.unlink() if path.name != "job.toml" else path.chmod(0o444)
    folder.chmod(0o555)
    before = (folder / "job.toml").read_bytes()
    for parent in (folder, *folder.parents):
        if str(parent).startswith("/tmp/"):
            parent.chmod(parent.stat().st_mode | 0o055)
    child = os.fork()
    if child == 0:
        try:
            os.setegid(65534)
            os.seteuid(65534)
            session = open_file(folder / "job.toml")
            assert session.view().wall.job.title == OLD
            try:
                session.edit([RETITLE], session.view().position)
            except JobError as problem:
                assert "cannot be saved" in str(problem), problem
                assert session.view().wall.job.title == OLD
                os._exit(0)
        finally:
            os._exit(9)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    assert (folder / "job.toml").read_bytes() == before and [p.name for p in folder.iterdir()] == ["job.toml"]


# --- an issue set ----------------------------------------------------------------------------------------------------------


def issue_set(of: str) -> dict[str, bytes]:
    names = ("a.pdf", "b.csv", "c.dxf")
    manifest = (
        '{"wallwright-issue": 1, "files": ['
        + ",".join(f'{{"name": "{name}"}}' for name in names)
        + f'], "of": "{of}"}}'
    )
    return {**{name: (of * 3000).encode() for name in names}, MANIFEST: manifest.encode()}


@pytest.mark.parametrize("exchange", [True, False])
def test_a_set_brought_in_and_killed_at_any_call_is_whole(
    exchange: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not exchange:
        monkeypatch.setattr("wallwright.export.package._exchanged", lambda a, b: False)

    def fresh(n: int) -> Path:
        (folder := tmp_path / f"run{n}").mkdir()
        _bring_in(folder / "set", issue_set("old"))
        return folder

    found: list[str] = []
    for n, folder in at_each.killed_at_each(lambda: lambda: _bring_in(Path("set"), issue_set("new")), fresh):
        if not exchange:
            _clear_up(
                folder / "set"
            )  # without the exchange there is a moment between two renames: the next start puts it right
        held = {path.name: path.read_bytes() for path in (folder / "set").iterdir()}
        assert held in (issue_set("old"), issue_set("new")), n
        found.append("old" if held == issue_set("old") else "new")
    assert found[0] == "old" and found[-1] == "new" and len(found) > 15
