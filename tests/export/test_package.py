"""The issue set: whole or not at all, the same bytes twice, and never over someone else's files."""

from __future__ import annotations

import hashlib
import itertools
import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.export import package
from wallwright.export.package import MANIFEST, Manifest, issue

EXPECTED = {
    "drawings.pdf",
    "documents.pdf",
    "templates.pdf",
    "labels.pdf",
    "quote.pdf",
    "elevation.dxf",
    "services.dxf",
    "drawings.dxf",
    "wall.ifc",
    "wall.glb",
    "schedules.xlsx",
    "cutlist.csv",
    "cutting_plan.csv",
    "holes.csv",
    "programme.ics",
    "job.toml",
    MANIFEST,
    "01_elevation.svg",
    "02_section.svg",
    "03_services.svg",
}


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_the_set_is_complete_and_the_manifest_true(issued: tuple[Path, Manifest]) -> None:
    folder, manifest = issued
    files = bytes_of(folder)
    assert set(files) >= EXPECTED
    told = json.loads(files.pop(MANIFEST))
    assert told == manifest.as_dict()
    assert {entry["name"]: entry["sha256"] for entry in told["files"]} == {
        n: hashlib.sha256(d).hexdigest() for n, d in files.items()
    }
    assert told["revision"] == "A"
    assert all(files.values())
    assert told["left_out"] == []


def test_same_input_same_bytes_even_in_another_process(issued: tuple[Path, Manifest], tmp_path: Path) -> None:
    code = (
        "import sys; from wallwright.derive import derive; from wallwright.job.demos import demo_jobs;"
        "from wallwright.job.read import read_job; from wallwright.export.package import issue;"
        "issue(derive(read_job(demo_jobs()['living'].encode(), 'living')), sys.argv[1])"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "again")],
        check=True,
        env={"PYTHONHASHSEED": "7", "TZ": "Asia/Kolkata"},
    )
    assert bytes_of(issued[0]) == bytes_of(tmp_path / "again")


def test_same_bytes_on_another_day(issued: tuple[Path, Manifest], tmp_path: Path) -> None:
    """The clock, in Python and for the C library's time of day, stands 400 days later: no file knows."""
    code = (
        "import sys, time, datetime\n"
        "ahead, real = 400 * 86400, time.time\n"
        "gm, local = time.gmtime, time.localtime\n"
        "time.time = lambda: real() + ahead\n"
        "time.gmtime = lambda s=None: gm(real() + ahead if s is None else s)\n"
        "time.localtime = lambda s=None: local(real() + ahead if s is None else s)\n"
        "class Later(datetime.datetime):\n"
        "    @classmethod\n"
        "    def now(cls, tz=None): return cls.fromtimestamp(real() + ahead, tz)\n"
        "    @classmethod\n"
        "    def utcnow(cls): return cls.now()\n"
        "class Day(datetime.date):\n"
        "    @classmethod\n"
        "    def today(cls): return cls.fromordinal(Later.now().toordinal())\n"
        "datetime.datetime, datetime.date = Later, Day\n"
        "from wallwright.derive import derive\nfrom wallwright.job.demos import demo_jobs\n"
        "from wallwright.job.read import read_job\nfrom wallwright.export.package import issue\n"
        "issue(derive(read_job(demo_jobs()['living'].encode(), 'living')), sys.argv[1])"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "later")], check=True, env={"PYTHONHASHSEED": "11"}
    )
    now, later = bytes_of(issued[0]), bytes_of(tmp_path / "later")
    assert [name for name in now if now[name] != later.get(name)] == []
    assert set(now) == set(later)


def test_the_job_in_the_set_reads_back(issued: tuple[Path, Manifest], living: Any) -> None:
    from wallwright.job.read import read_job

    assert read_job((issued[0] / "job.toml").read_bytes(), "job.toml") == living.job


def test_an_old_set_is_replaced_whole(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "set"
    issue(living, target)
    before = bytes_of(target)
    changed = replace(living, job=replace(living.job, revision="B"))
    manifest = issue(changed, target)
    after = bytes_of(target)
    assert manifest.revision == "B" == json.loads(after[MANIFEST])["revision"]
    assert after["drawings.pdf"] != before["drawings.pdf"]
    assert [path.name for path in tmp_path.iterdir()] == ["set"]  # nothing left beside it


@pytest.mark.parametrize("exchange", [True, False])
def test_a_failure_leaves_the_old_set_untouched(
    living: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, exchange: bool
) -> None:
    target = tmp_path / "set"
    issue(living, target)
    before = bytes_of(target)
    if not exchange:
        monkeypatch.setattr(package, "_exchanged", lambda a, b: False)
    renamed = Path.rename

    def fails(self: Path, to: Path) -> Path:
        if self.name.endswith(".new"):
            raise OSError("disk gone")
        return renamed(self, to)

    monkeypatch.setattr(Path, "rename", fails)
    monkeypatch.setattr(package, "_flush", lambda folder: None)
    if exchange:
        monkeypatch.setattr(package, "_exchanged", lambda a, b: (_ for _ in ()).throw(OSError("disk gone")))
    with pytest.raises(OSError, match="disk gone"):
        issue(living, target)
    assert bytes_of(target) == before
    assert [path.name for path in tmp_path.iterdir()] == ["set"]


def small_set(letter: str) -> dict[str, bytes]:
    """A set of six files that says which one it is in each."""
    files = {f"{i}.txt": f"{letter}{i}".encode() * 500 for i in range(6)}
    names = [{"name": name} for name in files]
    return {**files, MANIFEST: json.dumps({"wallwright-issue": 1, "files": names, "letter": letter}).encode()}


CALLS = ("open", "os.mkdir", "os.rename", "os.remove", "os.rmdir", "shutil.rmtree", "ctypes.dlsym")


def dies_at(n: int) -> Callable[[str, object], None]:
    """An audit hook with which the process ends before its n-th call to the system."""
    calls = itertools.count(1)

    def hook(event: str, args: object) -> None:
        if event in CALLS and next(calls) == n:
            os._exit(9)

    return hook


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize("exchange", [True, False])
def test_killed_before_any_call_to_the_system_leaves_a_whole_set(tmp_path: Path, exchange: bool) -> None:
    """The process dies before its n-th opening, writing, renaming, deleting, for every n: all old or all new, nothing mixed.

    Without the one-step exchange the old set may lie beside its place for a moment: the next issue puts it back.
    """
    target = tmp_path / "set"
    done = False
    for n in range(1, 200):
        package._bring_in(target, small_set("A"))
        child = os.fork()
        if child == 0:
            if not exchange:
                package._exchanged = lambda a, b: False
            sys.addaudithook(dies_at(n))
            package._bring_in(target, small_set("B"))
            os._exit(0)
        _, status = os.waitpid(child, 0)
        done = os.waitstatus_to_exitcode(status) == 0
        if not target.exists():
            assert not exchange
            package._clear_up(target)
        found = bytes_of(target)
        letter = json.loads(found[MANIFEST])["letter"]
        assert found == small_set(letter), n
        if done:
            assert letter == "B"
            break
    assert done and n > 15


@pytest.mark.skipif(sys.platform == "win32", reason="needs SIGKILL")
def test_killed_at_many_moments_by_another_process(tmp_path: Path) -> None:
    """A process that replaces A by B and B by A for ever, killed sixteen times wherever it may be."""
    target = tmp_path / "set"
    code = (
        "import sys, itertools; sys.path.insert(0, sys.argv[2]); from pathlib import Path\n"
        "from test_package import small_set; from wallwright.export.package import _bring_in\n"
        "for letter in itertools.cycle('AB'):\n"
        "    _bring_in(Path(sys.argv[1]), small_set(letter)); print(letter, flush=True)"
    )
    seen: set[str] = set()
    for i in range(16):
        call = [sys.executable, "-c", code, str(target), str(Path(__file__).parent)]
        child = subprocess.Popen(call, stdout=subprocess.PIPE)
        assert child.stdout is not None
        for _ in range(1 + i % 3):
            child.stdout.readline()
        time.sleep(0.0013 * i)
        child.kill()
        child.wait()
        child.stdout.close()
        found = bytes_of(target)
        letter = json.loads(found[MANIFEST])["letter"]
        assert found == small_set(letter)
        seen.add(letter)
    assert seen == {"A", "B"}


def test_what_a_kill_left_is_taken_away_later(tmp_path: Path) -> None:
    target, left, young = tmp_path / "set", tmp_path / ".set.0123abcd.new", tmp_path / ".set.0123abce.new"
    for folder in (left, young):
        folder.mkdir()
        (folder / "half.pdf").write_bytes(b"half")
    os.utime(left, (1, 1))
    package._bring_in(target, small_set("A"))
    assert sorted(path.name for path in tmp_path.iterdir()) == [young.name, "set"]


def test_a_failing_writer_writes_nothing(
    living: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(wall: Any) -> bytes:
        raise RuntimeError("broken")

    monkeypatch.setattr(package, "wall_glb", breaks)
    with pytest.raises(RuntimeError):
        issue(living, tmp_path / "set")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_ours_is_left_alone(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "mine"
    target.mkdir()
    (target / "letter.txt").write_text("keep")
    with pytest.raises(FileExistsError, match="not an issue set"):
        issue(living, target)
    assert bytes_of(target) == {"letter.txt": b"keep"}


def test_a_set_with_a_stranger_in_it_is_left_alone(living: Any, tmp_path: Path) -> None:
    """A note that someone put beside the drawings must not vanish with the old set."""
    target = tmp_path / "set"
    issue(living, target)
    (target / "my notes.txt").write_text("keep")
    with pytest.raises(FileExistsError, match="not an issue set"):
        issue(living, target)
    assert (target / "my notes.txt").read_text() == "keep"


def test_a_file_in_the_way_is_left_alone(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "set"
    target.write_text("keep")
    with pytest.raises(FileExistsError, match="not a folder"):
        issue(living, target)
    assert target.read_text() == "keep"


def test_an_empty_folder_is_used(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "set"
    target.mkdir()
    issue(living, target)
    assert (target / MANIFEST).is_file()
    assert [path.name for path in tmp_path.iterdir()] == ["set"]


def test_progress_grows_to_one(living: Any, tmp_path: Path) -> None:
    told: list[float] = []
    issue(living, tmp_path / "set", progress=lambda share, words: told.append(share))
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_letters_that_cannot_be_printed_are_reported(living: Any, tmp_path: Path) -> None:
    named = replace(living, job=replace(living.job, client="ᚠ"))
    assert any("ᚠ" in line for line in issue(named, tmp_path / "set").left_out)
