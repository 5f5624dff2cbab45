"""A set on disk is whole whatever befalls the program that writes it: killed, no room on the disk, no right to write."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import signal
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from wallwright.export.package import MANIFEST, issue
from wallwright.job.demos import demo_jobs

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")


def whole(folder: Path) -> str:
    """The revision of the set in a folder; every file is there with its SHA-256, and no other."""
    told = json.loads((folder / MANIFEST).read_bytes())
    found = {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.iterdir()}
    del found[MANIFEST]
    assert found == {entry["name"]: entry["sha256"] for entry in told["files"]}
    return told["revision"]


PREPARED = """
import os, signal, sys, time
from dataclasses import replace
from pathlib import Path
from wallwright.derive import derive
from wallwright.export.package import issue
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
target = Path(sys.argv[1])
a = derive(read_job(demo_jobs()["living"].encode(), "living"))
b = replace(a, job=replace(a.job, revision="B"))
"""
"""A process that is ready to issue either revision, and has not used the typesetter yet: its threads would be lost in a fork."""

KILLED = (
    PREPARED
    + """
def child(wall, after=None):
    number = os.fork()
    if number == 0:
        issue(wall, target)
        os._exit(0)
    if after is not None:
        time.sleep(after)
        os.kill(number, signal.SIGKILL)
    return os.waitstatus_to_exitcode(os.waitpid(number, 0)[1])

begun = time.perf_counter()
assert child(a) == 0
took = time.perf_counter() - begun
for i in range(int(sys.argv[2])):
    code = child(b, took * (i + 0.5) / (int(sys.argv[2]) - 2))
    print(code, flush=True)
    sys.stdin.readline()
    if code == 0:
        assert child(a) == 0
"""
)


def test_killed_at_any_moment_of_the_whole_issue(living: Any, tmp_path: Path) -> None:
    """SIGKILL at moments spread over the time that a whole issue takes: the old set or the new, never a mixture."""
    target, times = tmp_path / "set", 7
    call = [sys.executable, "-c", KILLED, str(target), str(times)]
    codes: list[int] = []
    with subprocess.Popen(call, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdin and process.stdout
        for _ in range(times):
            codes.append(int(process.stdout.readline()))
            revision = whole(target)
            assert revision == "B" if codes[-1] == 0 else revision in "AB"
            process.stdin.write("on\n")
            process.stdin.flush()
    assert process.returncode == 0
    assert codes[0] == -signal.SIGKILL and codes.count(-signal.SIGKILL) >= 3
    left = [path for path in tmp_path.iterdir() if path != target]
    for path in left:  # what a kill left: hidden, and taken away when it is old
        assert path.name.startswith(".set.")
        os.utime(path, (1, 1))
    issue(living, target)
    assert [path.name for path in tmp_path.iterdir()] == ["set"]


def test_no_room_on_the_disk_leaves_the_old_set(issued: tuple[Path, Any], tmp_path: Path) -> None:
    """No file may grow past 300 kB: the large PDFs cannot be written, said in a sentence, nothing left behind."""
    job, target = tmp_path / "living.toml", tmp_path / "set"
    job.write_text(demo_jobs()["living"], "utf-8")
    shutil.copytree(issued[0], target)
    before = {path.name: path.stat().st_mtime_ns for path in target.iterdir()}
    limited = (
        "import resource, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000));"
        "sys.argv = ['wallwright', 'issue', sys.argv[1], '--out', sys.argv[2]];"
        "from wallwright.cli import main; main()"
    )
    call = [sys.executable, "-c", limited, str(job), str(target)]
    done = subprocess.run(call, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr and "cannot be written" in done.stderr
    assert whole(target) == "A"
    assert {path.name: path.stat().st_mtime_ns for path in target.iterdir()} == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["living.toml", "set"]


def test_no_right_to_write_leaves_the_old_set(issued: tuple[Path, Any], tmp_path: Path) -> None:
    """In a folder that may not be written, as a user who is not its owner's all-powerful one."""
    room = tmp_path / "room"
    target = room / "set"
    shutil.copytree(issued[0], target)
    for folder in (tmp_path, *tmp_path.parents[:3]):
        if os.geteuid() == 0:
            folder.chmod(folder.stat().st_mode | stat.S_IXOTH | stat.S_IROTH)
    room.chmod(0o555)
    code = (
        PREPARED
        + """
if os.geteuid() == 0:
    issue(a, target.parent.parent / "first")  # all is imported: the other user may not even read where python lies
    os.setegid(65534), os.seteuid(65534)
try:
    issue(b, target)
except PermissionError as problem:
    print("refused")
"""
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(target)], capture_output=True, text=True, timeout=300, check=False
    )
    room.chmod(0o755)
    assert done.stdout == "refused\n", done.stderr
    assert whole(target) == "A"
    assert [path.name for path in room.iterdir()] == ["set"]


def test_same_bytes_whatever_the_process_is_told(issued: tuple[Path, Any], tmp_path: Path) -> None:
    """Another order of sets, another place on the clock, another language, another folder to stand in: the same files."""
    code = (
        "import locale, sys; from wallwright.derive import derive; from wallwright.job.demos import demo_jobs;"
        "from wallwright.job.read import read_job; from wallwright.export.package import issue;"
        "[locale.setlocale(locale.LC_ALL, name) for name in sys.argv[2:]];"
        "issue(derive(read_job(demo_jobs()['living'].encode(), 'living')), sys.argv[1])"
    )
    names = [name for name in ("de_DE.UTF-8", "tr_TR.UTF-8", "C.UTF-8") if _known(name)]
    elsewhere = tmp_path / "else"
    elsewhere.mkdir()
    ours = {path.name: path.read_bytes() for path in issued[0].iterdir()}
    for seed, zone, name in (("1", "Pacific/Kiritimati", names[0]), ("4242", "America/St_Johns", names[-1])):
        out = tmp_path / f"theirs{seed}"
        paths = os.pathsep.join(path for path in map(os.path.abspath, sys.path) if os.path.exists(path))
        env = {
            "PYTHONPATH": paths,
            "PYTHONHASHSEED": seed,
            "TZ": zone,
            "LC_ALL": name,
            "LANG": name,
            "HOME": str(elsewhere),
        }
        subprocess.run([sys.executable, "-c", code, str(out), name], check=True, cwd=elsewhere, env=env)
        theirs = {path.name: path.read_bytes() for path in out.iterdir()}
        assert set(theirs) == set(ours)
        assert [n for n in ours if ours[n] != theirs[n]] == []


def _known(name: str) -> bool:
    """Whether this system has that language's ways of writing."""
    import locale

    now = locale.setlocale(locale.LC_ALL)
    try:
        locale.setlocale(locale.LC_ALL, name)
    except locale.Error:
        return False
    finally:
        locale.setlocale(locale.LC_ALL, now)
    return True
