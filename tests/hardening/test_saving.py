"""What is saved is the old or the new, never half: killed at any call into the system, on a full disk, in a folder that is read-only."""

from __future__ import annotations

import contextlib
import errno
import gc
import importlib.util
import io
import os
import resource
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from wallwright import cli
from wallwright.derive import derive
from wallwright.export import files
from wallwright.export.files import clear_parts, write_atomic
from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.studio.session import open_file
from wallwright.studio.store import NAME

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")

_spec = importlib.util.spec_from_file_location("saves", Path(__file__).with_name("saves.py"))
assert _spec and _spec.loader
saves = importlib.util.module_from_spec(_spec)
sys.modules["saves"] = saves
_spec.loader.exec_module(saves)

OLD, NEW = saves.OLD, saves.NEW
RETITLE = ("set_title", {"title": NEW})


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


# --- stopped at its calls into the system --------------------------------------------------------------------------------

FULL, READ_ONLY, FAULT = (
    f"{number} {how}" for number, how in ((errno.ENOSPC, "on"), (errno.EROFS, "on"), (errno.EIO, "once"))
)
SAMPLE = {
    "a job file": {"kill": 99, "tear": 9, FULL: 9, f"{errno.ENOSPC} once": 9, READ_ONLY: 9, FAULT: 9},
    "a step": {"kill": 6, "tear": 1, FULL: 3, READ_ONLY: 2, FAULT: 1},
    "a commit": {"kill": 5, "tear": 1, FULL: 2, FAULT: 2},
    "an answer": {"kill": 3, "tear": 2, FULL: 2},
    "the tables": {"kill": 3, "tear": 2, FULL: 2},
    "a backup": {"kill": 4, "tear": 1, FULL: 3, FAULT: 1},
    "a restore": {"kill": 3, "tear": 1, FULL: 2},
    "an issue set": {"kill": 9, "tear": 2, FULL: 3, FAULT: 2},
}
"""How many calls of each scene are tried here, by what is done at them; `bench/kills.py` tries every one."""


@pytest.mark.parametrize("name", SAMPLE)
def test_stopped_at_a_call_into_the_system_it_is_old_or_new(name: str, tmp_path: Path) -> None:
    """Killed before the call, or in the midst of what it writes; refused as by a disk that is full, read-only or at fault.

    Each run is looked at as the next start would: SQLite's own check, the job, its history, the backup's hashes, the set's files.
    """
    if why := saves.syscalls.refused():
        pytest.skip(why)
    left: dict[str, list[str]] = {}
    for run in saves.runs(saves.SCENES[name], tmp_path, SAMPLE[name], saves.sampled(11)):
        assert not saves.wrong(run), (run.what, run.call, saves.wrong(run))
        left.setdefault(run.what, []).append(run.left)
    assert left.keys() == SAMPLE[name].keys()
    assert set(left["kill"]) == {"old", "new"}
    assert left["kill"] == sorted(left["kill"], reverse=True)  # once it is made, it stays made


def test_the_scenes_are_all_tried() -> None:
    assert SAMPLE.keys() == saves.SCENES.keys()


def test_the_name_is_given_when_what_it_names_is_on_the_disk(tmp_path: Path) -> None:
    """Whatever a power cut leaves of what was not flushed: the file's bytes come before its name, the name before the word that it is kept."""
    if why := saves.syscalls.refused():
        pytest.skip(why)
    (tmp_path / "job.toml").write_bytes(b"old")
    found = saves.syscalls.traced(lambda _: write_atomic(tmp_path / "job.toml", b"new"), lambda _: "")
    names = [call.name for call in found.calls if call.name in ("write", "fsync", "rename")]
    assert names == ["write", "fsync", "rename", "fsync"]


def test_a_commit_is_on_the_disk_before_it_is_acknowledged(tmp_path: Path) -> None:
    """A kill leaves what the system holds; a power cut does not: so the flush is looked for behind the last page that was written."""
    if why := saves.syscalls.refused():
        pytest.skip(why)
    scene = saves.SCENES["a commit"]
    scene.begin(tmp_path)
    found = saves.syscalls.traced(scene.work, lambda _: "", lambda: scene.prepare(tmp_path))
    names = [
        call.name for call in found.calls[: found.told_at] if call.name in ("pwrite64", "fdatasync", "fsync")
    ]
    assert "pwrite64" in names and names[-1] in ("fdatasync", "fsync")


def test_a_half_written_file_is_seen(tmp_path: Path) -> None:
    """What these tests look for: a file written in its place is found half written, and empty."""
    if why := saves.syscalls.refused():
        pytest.skip(why)
    plain = saves.Scene(
        "plain", saves._file_begun, lambda folder: folder / "job.toml", lambda path: path.write_bytes(b"new" * 9000), saves._file_looked
    )  # fmt: skip
    for way in ("kill", "tear"):
        (scratch := tmp_path / way).mkdir()
        with pytest.raises(KeyError, match="b''" if way == "kill" else "newnew"):
            list(saves.runs(plain, scratch, {way: 99}))


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


COMMANDS = {
    "new": ["new", "made"],
    "issue": ["issue", "job.toml", "--out", "set"],
    "backup": ["backup", ".", "studio.backup"],
    "restore": ["restore", "before.backup", ".", "--replace"],
}


class EndedError(Exception):
    """A command has ended with another code than 0."""


def _commanded(words: list[str]) -> None:
    said = io.StringIO()
    sys.argv = ["wallwright", *words]
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(io.StringIO()):
        try:
            cli.main()
        except SystemExit as end:
            if end.code:
                raise EndedError(f"{end.code}: {said.getvalue()}") from None


@pytest.mark.filterwarnings("ignore:Cyclopts application invoked")
@pytest.mark.parametrize(
    ("name", "number"),
    [*((name, errno.ENOSPC) for name in COMMANDS), ("issue", errno.EROFS), ("backup", errno.EIO)],
)
def test_a_command_whose_disk_refuses_says_so_and_leaves_with_2(
    name: str, number: int, saved: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From the first file on that is made or written, or from the second."""
    if why := saves.syscalls.refused():
        pytest.skip(why)
    monkeypatch.setattr(
        "wallwright.export.package.contents", lambda *_, **__: iter([(0.5, "a.csv", b"a" * 9000)])
    )
    monkeypatch.setattr(
        sys.modules["wallwright.derive"], "derive_to_issue", derive
    )  # without its second of looking for cutting plans
    begun = Path(shutil.copytree(saved, tmp_path / "begun"))
    saves.backup.back_up(str(begun), begun / "before.backup")
    count = 0

    def ran(decide: Any) -> tuple[Any, Path]:
        nonlocal count
        count += 1
        folder = Path(shutil.copytree(begun, tmp_path / f"run{count}"))
        return saves.syscalls.traced(
            lambda _: _commanded(COMMANDS[name]), decide, lambda: os.chdir(folder)
        ), folder

    with monkeypatch.context() as here:  # what is loaded but once is by then, here and in every child
        here.chdir(shutil.copytree(begun, tmp_path / "loaded"))
        here.setattr(sys, "argv", [])
        _commanded(COMMANDS[name])
        gc.enable()
    assert ran(lambda _: "")[0].error is None
    for first in (1, 2) if number == errno.ENOSPC else (2,):
        seen = 0

        def decide(call: Any, first: int = first) -> str | int:
            nonlocal seen
            seen += call.refusable == "room" and call.name in ("openat", "write", "pwrite64")
            return number if seen >= first and saves._refuses(number, call) else ""

        found, folder = ran(decide)
        assert found.error is not None, seen
        kind, says = found.error["kind"], found.error["says"]
        assert kind == "EndedError" and says.startswith("2: "), says
        assert (
            "Traceback" not in says and "fault of the program" not in says and len(says.splitlines()) == 1
        ), says
        assert read_job((folder / "job.toml").read_bytes()).title == OLD
        assert number != errno.ENOSPC or saves.litter(folder) == []


# --- by the system itself ------------------------------------------------------------------------------------------------


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
