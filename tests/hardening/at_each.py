"""What is saved, stopped at each of its calls into the system in turn: killed there, or refused there.

A profile function hears of every call of a built-in function before it is made. Those of files, folders and the database are counted;
at the n-th the process is killed, or the call is refused as a full disk refuses it.
"""

from __future__ import annotations

import io
import os
import signal
import sqlite3
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FrameType
from typing import Any

_OURS = (io.IOBase, sqlite3.Connection, sqlite3.Cursor)
_MODULES = ("posix", "io", "_io")
_CHANGES = (
    "open", "write", "flush", "fsync", "fdopen", "chmod", "replace", "rename", "link", "unlink", "mkdir", "rmdir", "close", "__exit__",
    "execute", "executemany", "commit", "rollback",
)  # fmt: skip
_NEVER_REFUSED = ("close", "__exit__", "rollback")  # letting go needs no room


def into_the_system(function: Any) -> bool:
    """Whether this built-in makes, writes, moves or takes away anything on the disk."""
    home = getattr(function, "__self__", None)
    ours = isinstance(home, _OURS) or getattr(home, "__name__", "") in _MODULES
    return ours and function.__name__ in _CHANGES


def profiled(work: Callable[[], Any], at: Callable[[int, Any], None]) -> Any:
    """Do the work. at : told of each call into the system, counted from 1, before it is made"""
    count = 0

    def hear(_frame: FrameType, event: str, function: Any) -> None:
        nonlocal count
        if event == "c_call" and into_the_system(function):
            count += 1
            at(count, function)

    sys.setprofile(hear)
    try:
        return work()
    finally:
        sys.setprofile(None)


def killed_at_each(
    prepare: Callable[[], Callable[[], Any]], fresh: Callable[[int], Path]
) -> Iterator[tuple[int, Path]]:
    """For n = 1, 2, … a process that is killed at its n-th call, until one comes to its end; gives n and the folder it worked in.

    fresh : makes the folder of run n · prepare : in the child, in that folder; gives the work that is counted
    """
    for n in range(1, 10_000):
        folder = fresh(n)
        child = os.fork()
        if child == 0:
            try:
                os.chdir(folder)
                work = prepare()
                profiled(
                    work, lambda count, _, n=n: os.kill(os.getpid(), signal.SIGKILL) if count == n else None
                )
                os._exit(0)
            finally:
                os._exit(9)
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        yield n, folder
        if code == 0:
            return
        assert code == -signal.SIGKILL, code
    raise AssertionError("it never came to its end")


def refused_at_each(
    make: Callable[[int], tuple[Callable[[], Any], Any]], number: int
) -> Iterator[tuple[int, Any, Exception | None]]:
    """For n = 1, 2, … the work with its n-th call refused, until it comes to its end with fewer; gives n, its world and its error.

    make : of run n, the work and its world · number : the errno that the system gives
    """
    for n in range(1, 10_000):
        work, world = make(n)
        reached = False

        def at(count: int, function: Any, n: int = n) -> None:
            nonlocal reached
            if count == n:
                reached = True
                if function.__name__ in _NEVER_REFUSED:
                    return
                if isinstance(getattr(function, "__self__", None), (sqlite3.Connection, sqlite3.Cursor)):
                    raise sqlite3.OperationalError("database or disk is full")
                raise OSError(number, os.strerror(number))

        problem: Exception | None = None
        try:
            profiled(work, at)
        except Exception as said:
            problem = said
        yield n, world, problem
        if not reached:
            return
    raise AssertionError("it never came to its end")
