"""The process that works off the studies, and the one that it starts for each.

The server writes the database's address into its standard input and keeps that open: when it ends, the server is gone, and
so is the worker. Each study has a process to itself, so that cancelling is ending it. A worker that dies is started again by
its server; one whose server died leaves its study to the workers of the others.
"""

from __future__ import annotations

import json
import math
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from contextlib import suppress
from pathlib import Path

from wallwright.job.problem import JobError
from wallwright.studio import studies
from wallwright.studio.keeping import clear_away, keeping
from wallwright.studio.memory import collect_seldom
from wallwright.studio.store import Store, new_id

POLL = 0.3
POLL_IDLE = 10.0
RENEW = 3.0
CLEAR = 3600.0
"""Seconds between two looks for answers that are kept no longer."""
AGAIN = 1.0
"""Seconds before a worker that died is started again; twice as long each time, up to a minute."""
ALL = "--all"
SCRATCH = "wallwright-work-"


class Worker:
    """The server's hold on its worker process, which is started with the first study that waits.

    JobError where the studio's own limits of what is kept are none (`keeping`).
    """

    def __init__(self, url: str) -> None:
        keeping()
        self._url = url
        self._lock = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._ended = threading.Event()

    def wake(self) -> None:
        """There is something to do."""
        with self._lock:
            if self._ended.is_set():
                return
            if self._process is not None and self._process.poll() is None:
                with suppress(OSError):  # it dies this moment: the keeper sees to that
                    _say(self._process, "")
                return
            began = self._process is None
            self._process = _start(ALL, self._url)
        if began:
            threading.Thread(target=self._keep, daemon=True).start()

    def _keep(self) -> None:
        """Start a worker that died anew: what it was at is taken up again once its lease has run out."""
        pause = AGAIN
        while (process := self._process) is not None:
            begun = time.monotonic()
            process.wait()
            pause = AGAIN if time.monotonic() - begun > 60 else min(60.0, pause * 2)
            if self._ended.wait(pause):
                return
            self.wake()

    def stop(self) -> None:
        """End the worker and what it is working on."""
        self._ended.set()
        with self._lock:
            if self._process is None:
                return
            if self._process.stdin:
                self._process.stdin.close()
            try:
                self._process.wait(10)
            except subprocess.TimeoutExpired:
                self._process.kill()
                self._process.wait()
            self._process = None


def _start(what: str, url: str, scratch: str = "") -> subprocess.Popen[bytes]:
    """A process of this file. The address goes in by the pipe: a password in it is nobody's to see."""
    command = [sys.executable, "-m", "wallwright.studio.worker", what]
    env = {**os.environ, "TMPDIR": scratch} if scratch else None
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, env=env)
    _say(process, url)
    return process


def _say(process: subprocess.Popen[bytes], url: str) -> None:
    assert process.stdin is not None
    process.stdin.write(json.dumps({"url": url}).encode() + b"\n")
    process.stdin.flush()


class Server:
    """The worker's ear for its server: lines wake it, the end of them means that the server is gone."""

    def __init__(self, listens: bool = True) -> None:
        """Listens : False for a worker without a server, which goes on until it is told to end."""
        self._word, self._gone = threading.Event(), threading.Event()
        if listens:
            threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        while _heard():
            self._word.set()
        self.end()

    def end(self) -> None:
        """The end has come: go home."""
        self._gone.set()
        self._word.set()

    def there(self, seconds: float) -> bool:
        """Wait for a word, at most so long. False once the server is gone."""
        self._word.wait(seconds)
        self._word.clear()
        return not self._gone.is_set()


def work_off(url: str, server: Server) -> None:
    """Do what waits, one study after the other, until the server is gone."""
    store, me, keep = Store(url), new_id(), keeping()
    sweep()
    cleared = -math.inf
    while True:
        try:
            if time.monotonic() - cleared > CLEAR:
                cleared = time.monotonic()
                clear_away(store, keep)
            study = studies.claim(store, me)
        except JobError:  # the database is away, or its disk is full: it may come back
            study = None
        if study is None:
            if not server.there(POLL_IDLE):
                return
        elif not _see_through(store, study, me, server):
            return


def _see_through(store: Store, study: str, me: str, server: Server) -> bool:
    """One study in its own process, watched. False where the server has gone meanwhile."""
    with tempfile.TemporaryDirectory(
        prefix=f"{SCRATCH}{os.getpid()}-", ignore_cleanup_errors=True
    ) as scratch:
        process = _start(study, store.url, scratch)
        renewed, there = time.monotonic(), True
        while process.poll() is None and there:
            there = server.there(POLL)
            with suppress(
                JobError
            ):  # the database is away: the lease decides whose study it is when it is back
                if not studies.still_wanted(store, study, me):
                    break
                if time.monotonic() - renewed > RENEW:
                    studies.renew(store, study, me)
                    renewed = time.monotonic()
        if process.poll() is None:
            process.kill()
        if process.wait() != 0:
            with suppress(JobError):
                studies.let_go(store, study, me)  # it died; a study that ends badly by itself has said so
    return there


def sweep() -> None:
    """Clear away the scratch folders of workers that were killed."""
    for left in Path(tempfile.gettempdir()).glob(f"{SCRATCH}*-*"):
        number = left.name.removeprefix(SCRATCH).partition("-")[0]
        if number.isdigit() and not _runs(int(number)):
            shutil.rmtree(left, ignore_errors=True)


def _runs(process: int) -> bool:
    if sys.platform == "win32":  # there the question itself would end it
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):  # another user's, or no process at all
        return True
    return True


def work_alone(url: str) -> None:
    """Work off what waits in a database, without a server of its own, until Ctrl-C or the signal to end. JobError where it cannot be
    opened.
    """
    server = Server(listens=False)
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: server.end())
    work_off(url, server)


def _one(url: str, study: str) -> None:
    """Answer one study, in this process."""
    from wallwright.studio.answering import answer

    store = Store(url)
    taking = studies.to_do(store, study)[0].tries
    try:
        answer(store, study)
    except Exception as problem:  # whatever it is, the page must hear of it
        studies.fail_with(store, study, str(problem)[:400] or type(problem).__name__, taking)


def _heard() -> bytes:
    """What the pipe brings next, empty once its other end is gone. Past the buffer of `sys.stdin`: a thread that waits inside that
    holds its lock, and Python ends in a fatal error when it shuts down.
    """
    return os.read(sys.stdin.fileno(), 4096)


def _end_with_the_worker() -> None:
    while _heard():
        pass
    os._exit(3)


def main() -> None:
    """Begin as the server or the worker said."""
    url = json.loads(sys.stdin.buffer.readline())["url"]
    if sys.argv[1] == ALL:
        work_off(url, Server())
        return
    threading.Thread(target=_end_with_the_worker, daemon=True).start()
    collect_seldom()
    _one(url, sys.argv[1])


if __name__ == "__main__":
    main()
