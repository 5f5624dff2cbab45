"""A process stopped at each of its calls into the system: killed there, killed in the midst of a write, or refused by the system.

The work runs in a child that this process traces (ptrace). It stops before and behind every system call, whoever made it: Python, SQLite's own
code, the C library. Before the n-th it is killed, or the call is put away and answered as a disk answers that is full.
"""

from __future__ import annotations

import ctypes
import errno
import functools
import json
import os
import platform
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

TRACEME, CONTINUE, SYSCALL, SETOPTIONS, GETREGS, SETREGS = 0, 7, 24, 0x4200, 12, 13
SYSGOOD, CLONES, EXITKILL, WALL = 0x1, 0x8, 0x100000, 0x40000000
RAX, RDX, RDI, RSI, ORIG_RAX = 10, 12, 14, 13, 15  # places in user_regs_struct of x86-64
MARK = 140  # getpriority: nobody else calls it; the child does where the work begins, is acknowledged, and has ended
NAMES = {
    1: "write", 2: "open", 3: "close", 18: "pwrite64", 20: "writev", 40: "sendfile", 74: "fsync", 75: "fdatasync", 76: "truncate",
    77: "ftruncate", 82: "rename", 83: "mkdir", 84: "rmdir", 85: "creat", 86: "link", 87: "unlink", 88: "symlink", 90: "chmod",
    91: "fchmod", 257: "openat", 258: "mkdirat", 263: "unlinkat", 264: "renameat", 265: "linkat", 268: "fchmodat", 280: "utimensat",
    285: "fallocate", 295: "preadv", 296: "pwritev", 316: "renameat2", 326: "copy_file_range",
}  # fmt: skip
"""The calls that change a disk, or let go of it, as x86-64 numbers them."""
WRITES = {1, 18}
CREATES = os.O_CREAT | os.O_WRONLY | os.O_RDWR | os.O_TRUNC
LETS_GO = {3}
NO_ROOM_NEEDED = {
    82,
    84,
    87,
    90,
    91,
    263,
    264,
    268,
    280,
    316,
}  # names, rights and what is taken away: given on a full disk too
ELSEWHERE = {
    9,
    10,
    11,
    12,
    13,
    14,
    15,
    24,
    25,
    28,
    35,
    39,
    56,
    60,
    131,
    157,
    186,
    201,
    202,
    228,
    230,
    231,
    270,
    273,
    318,
    334,
    435,
}
"""Memory, signals, clocks, threads, chance: they change no disk, and how many there are is chance too. They are not counted."""


@dataclass(frozen=True, slots=True)
class Call:
    """A call into the system: its place in the work from 1, its number, and what could refuse it: "room" a full disk and any fault of a
    disk, "disk" such a fault alone, "" neither.
    """

    at: int
    number: int
    refusable: str

    @property
    def name(self) -> str:
        """As the system's manual calls it, where it changes a disk."""
        return NAMES.get(self.number, f"call {self.number}")


@dataclass(frozen=True, slots=True)
class Traced:
    """What came of a child: the calls it made, whether it was killed, behind how many calls it told that its work is done, how it ended."""

    calls: tuple[Call, ...]
    killed: bool
    told_at: int | None
    error: dict[str, Any] | None = None
    """Of the work: its kind, errno and words."""
    after: Any = None
    """What `then` gave."""

    @property
    def told(self) -> bool:
        """Whether it told that its work is done."""
        return self.told_at is not None


Decision = Callable[[Call], str | int]
"""What shall happen at a call: "" go on, "kill" before it, "tear" (kill when half of what it writes is written), or an errno."""


@functools.cache
def refused() -> str:
    """Why nothing can be traced here; empty where it can."""
    if sys.platform != "linux" or platform.machine() != "x86_64":
        return "calls into the system are followed on Linux on x86-64 alone"
    try:
        found = traced(lambda _: os.getppid(), lambda _: "")
    except OSError as problem:
        return f"the system lets no process be traced here ({problem})"
    return "" if found.told and found.calls else "the system lets no process be traced here"


def acknowledge() -> None:
    """In the work: from here on it is told to be done. At its end at the latest it is."""
    os.getpriority(os.PRIO_PGRP, 0)


def _ptrace(request: int, pid: int, data: Any = None) -> None:
    libc = _libc()
    if libc.ptrace(request, pid, None, data) == -1:
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number))


@functools.cache
def _libc() -> Any:
    libc = ctypes.CDLL(None, use_errno=True)
    libc.ptrace.argtypes = [ctypes.c_long, ctypes.c_int, ctypes.c_void_p, ctypes.c_void_p]
    libc.ptrace.restype = ctypes.c_long
    return libc


def traced(
    work: Callable[[Any], Any],
    decide: Decision,
    prepare: Callable[[], Any] = lambda: None,
    then: Callable[[Any], Any] = lambda _: None,
) -> Traced:
    """Do the work in a child, and at each of its calls what is decided. OSError where nothing may be traced.

    prepare : done in the child before; what it gives is handed to the work · then : done behind it where it failed, and gives JSON.
    Neither is traced.
    """
    read, write = os.pipe()
    pid = os.fork()
    if pid == 0:
        _child(work, prepare, then, read, write)
    os.close(write)
    trace = _Trace(pid, decide)
    trace.follow()
    try:
        said = b""
        while part := os.read(read, 65536):
            said += part
    finally:
        os.close(read)
    killed = os.waitstatus_to_exitcode(trace.ended) == -signal.SIGKILL
    assert killed or said, "the traced child ended without a word"
    out = json.loads(said) if said else {"error": None, "after": None}
    return Traced(tuple(trace.calls), killed, trace.told_at, **out)


def _child(work: Any, prepare: Any, then: Any, read: int, write: int) -> None:
    error = None
    try:
        os.close(read)
        os.setpgid(0, 0)  # its threads are waited for by its group
        given = prepare()
        _ptrace(TRACEME, 0)
        os.kill(os.getpid(), signal.SIGSTOP)
        os.getpriority(os.PRIO_PROCESS, 0)
        try:
            work(given)
            acknowledge()
        except Exception as problem:
            number = getattr(problem, "errno", None)
            error = {"kind": type(problem).__name__, "errno": number, "says": str(problem)}
        os.getpriority(os.PRIO_PROCESS, 0)
        os.write(write, json.dumps({"error": error, "after": then(given) if error else None}).encode())
    except BaseException as problem:
        os.write(2, f"{type(problem).__name__}: {problem}\n".encode())
    finally:
        os._exit(0)


class _Trace:
    """A child and its threads, followed from stop to stop."""

    def __init__(self, pid: int, decide: Decision) -> None:
        self.pid, self.decide = pid, decide
        self.calls: list[Call] = []
        self.told_at: int | None = None
        self.ended = 0
        self._regs = (ctypes.c_ulonglong * 27)()
        self._at: dict[int, str | int] = {}  # what was decided on the call that a thread is in
        self._begun = self._over = False

    def follow(self) -> None:
        """To the child's end, call by call up to the last mark. OSError where nothing may be traced."""
        _, status = os.waitpid(self.pid, 0)
        if not os.WIFSTOPPED(status):
            raise OSError(errno.EPERM, "the traced child did not begin")
        _ptrace(SETOPTIONS, self.pid, SYSGOOD | CLONES | EXITKILL)
        self._on(self.pid)
        while True:
            thread, status = os.waitpid(-self.pid, WALL)
            if not os.WIFSTOPPED(status):
                if thread == self.pid:
                    self.ended = status
                    return
                continue
            signum = os.WSTOPSIG(status)
            if signum == signal.SIGTRAP | 0x80:
                self._stopped(thread)
                signum = 0
            elif signum in (signal.SIGTRAP, signal.SIGSTOP):  # a thread was made, or begins
                signum = 0
            self._on(thread, signum)

    def _on(self, thread: int, pass_on: int = 0) -> None:
        with suppress(ProcessLookupError):  # it has just been killed: its end is waited for
            _ptrace(CONTINUE if self._over else SYSCALL, thread, pass_on)

    def _stopped(self, thread: int) -> None:
        """Before a call, or behind it."""
        regs = self._regs
        with suppress(ProcessLookupError):
            _ptrace(GETREGS, thread, ctypes.byref(regs))
            if thread in self._at:
                self._behind(thread, self._at.pop(thread))
            else:
                self._at[thread] = self._before(thread, regs[ORIG_RAX])

    def _before(self, thread: int, number: int) -> str | int:
        regs = self._regs
        if number == MARK:
            return "told" if regs[RDI] == os.PRIO_PGRP else "mark"
        if not self._begun or number in ELSEWHERE:
            return ""
        call = Call(len(self.calls) + 1, number, _refusable(number, regs))
        self.calls.append(call)
        what = self.decide(call)
        if what == "kill" or isinstance(what, int):
            regs[ORIG_RAX] = 2**64 - 1  # no call at all
        elif what == "tear":
            regs[RDX] //= 2
        if what:
            _ptrace(SETREGS, thread, ctypes.byref(regs))
        if what == "kill":
            os.kill(self.pid, signal.SIGKILL)
        return what

    def _behind(self, thread: int, what: str | int) -> None:
        if what == "mark":
            self._begun, self._over = True, self._begun
        elif what == "told":
            self.told_at = len(self.calls) if self.told_at is None else self.told_at
        elif what == "tear":
            os.kill(self.pid, signal.SIGKILL)
        elif isinstance(what, int):
            self._regs[RAX] = 2**64 - what
            _ptrace(SETREGS, thread, ctypes.byref(self._regs))


def _refusable(number: int, regs: Any) -> str:
    if number in (2, 257):
        return "room" if (regs[RSI] if number == 2 else regs[RDX]) & CREATES else ""
    if (
        number not in NAMES or number in LETS_GO or (number == 1 and regs[RDI] <= 2)
    ):  # what it says is no disk's
        return ""
    return "disk" if number in NO_ROOM_NEEDED else "room"
