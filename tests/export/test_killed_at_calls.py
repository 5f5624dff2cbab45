"""A set on disk is whole when the program that brings it in is killed as it enters any call to the system: strace kills it there.

`test_package` does the same without strace, before what Python itself tells of; here every call of the C library's counts, in every thread.
"""

from __future__ import annotations

import itertools
import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import pytest

from tests.export.test_package import bytes_of, small_set
from wallwright.export import package
from wallwright.export.package import MANIFEST

CALLS = (
    "mkdir",
    "openat",
    "write",
    "fsync",
    "close",
    "rename",
    "renameat2",
    "unlink",
    "unlinkat",
    "rmdir",
)
"""Every call that makes, fills, flushes, moves or takes away a file or a folder."""

STOPS = """
import os, signal, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from tests.export.test_package import small_set
from wallwright.export import package
if sys.argv[3] == "renames":
    package._exchanged = lambda a, b: False
for _ in sys.stdin:
    package._bring_in(Path(sys.argv[1]), small_set("A"))
    number = os.fork()
    if number == 0:
        os.kill(os.getpid(), signal.SIGSTOP)
        package._bring_in(Path(sys.argv[1]), small_set("B"))
        os._exit(0)
    os.waitpid(number, os.WUNTRACED)
    print(number, flush=True)
    print(os.waitstatus_to_exitcode(os.waitpid(number, 0)[1]), flush=True)
"""
"""A process that makes, as often as it is asked, a child that stands still before it brings in B over A, and tells how it ended."""


def traced(number: int, call: str, at: int) -> subprocess.Popen[str]:
    """strace on a process, to kill it as it enters its at-th such call."""
    said = ["strace", "-f", "-o", os.devnull, "-e", f"trace={call}"]
    said += ["-e", f"inject={call}:signal=KILL:when={at}", "-p", str(number)]
    tracer = subprocess.Popen(said, stderr=subprocess.PIPE, text=True)
    assert tracer.stderr is not None
    line = tracer.stderr.readline()
    if "attached" not in line:
        tracer.wait()
        tracer.stderr.close()
        os.kill(number, signal.SIGKILL)
        pytest.skip(f"strace may not look at another process here: {line.strip()}")
    return tracer


def endings(asked: IO[str], told: IO[str]) -> Iterator[tuple[str, int, int]]:
    """Each call and its number at which the child was killed, and how it ended: 0 where it has no such call any more."""
    for call in CALLS:
        for at in itertools.count(1):
            asked.write("\n")
            asked.flush()
            number = int(told.readline())
            tracer = traced(number, call, at)
            os.kill(number, signal.SIGCONT)
            code = int(told.readline())
            tracer.communicate()
            yield call, at, code
            if code == 0:
                break


@pytest.mark.skipif(shutil.which("strace") is None, reason="strace is not installed")
@pytest.mark.parametrize("way", ["exchange", "renames"])
def test_killed_as_it_enters_any_call_leaves_a_whole_set(tmp_path: Path, way: str) -> None:
    """The old set or the new, each file of it; without the one-step exchange the next issue puts the old one back in its place."""
    target, root = tmp_path / "set", Path(__file__).parents[2]
    killed: dict[str, int] = {}
    seen: set[str] = set()
    call = [sys.executable, "-c", STOPS, str(target), str(root), way]
    with subprocess.Popen(call, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdin and process.stdout
        for name, at, code in endings(process.stdin, process.stdout):
            assert code in (0, -signal.SIGKILL)
            killed[name] = killed.get(name, 0) + (code != 0)
            if not target.exists():
                assert way == "renames"
                package._clear_up(target)
            found = bytes_of(target)
            letter = json.loads(found[MANIFEST])["letter"]
            assert found == small_set(letter), (name, at)
            assert letter == "B" or code, "it ended well, and the old set stands"
            seen.add(letter)
        process.stdin.close()
    assert seen == {"A", "B"}
    always = ("mkdir", "openat", "write", "fsync", "close", "unlinkat", "rmdir")
    assert all(killed[name] for name in always) and killed["renameat2" if way == "exchange" else "rename"]
