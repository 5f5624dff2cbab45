"""The process that works off the studies, and the one that it starts for each.

The server writes the database's address into its standard input and keeps that open: when it ends, the server is gone, and
so is the worker. Each study has a process to itself, so that cancelling is ending it.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
import time

from wallwright.studio import studies
from wallwright.studio.store import Store, new_id

POLL = 0.3
POLL_IDLE = 10.0
RENEW = 3.0
ALL = "--all"


class Worker:
    """The server's hold on its worker process, which is started with the first study that waits."""

    def __init__(self, url: str) -> None:
        self._url = url
        self._lock = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None

    def wake(self) -> None:
        """There is something to do."""
        with self._lock:
            if self._process is None or self._process.poll() is not None:
                self._process = _start(ALL, self._url)
            else:
                _say(self._process, "")

    def stop(self) -> None:
        """End the worker and what it is working on."""
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


def _start(what: str, url: str) -> subprocess.Popen[bytes]:
    """A process of this file. The address goes in by the pipe: a password in it is nobody's to see."""
    command = [sys.executable, "-m", "wallwright.studio.worker", what]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL)
    _say(process, url)
    return process


def _say(process: subprocess.Popen[bytes], url: str) -> None:
    assert process.stdin is not None
    process.stdin.write(json.dumps({"url": url}).encode() + b"\n")
    process.stdin.flush()


class Server:
    """The worker's ear for its server: lines wake it, the end of them means that the server is gone."""

    def __init__(self) -> None:
        self._word, self._gone = threading.Event(), threading.Event()
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        while _heard():
            self._word.set()
        self._gone.set()
        self._word.set()

    def there(self, seconds: float) -> bool:
        """Wait for a word, at most so long. False once the server is gone."""
        self._word.wait(seconds)
        self._word.clear()
        return not self._gone.is_set()


def work_off(url: str, server: Server) -> None:
    """Do what waits, one study after the other, until the server is gone."""
    store, me = Store(url), new_id()
    while True:
        study = studies.claim(store, me)
        if study is None:
            if not server.there(POLL_IDLE):
                return
        elif not _see_through(store, study, me, server):
            return


def _see_through(store: Store, study: str, me: str, server: Server) -> bool:
    """One study in its own process, watched. False where the server has gone meanwhile."""
    process = _start(study, store.url)
    renewed, there = time.monotonic(), True
    while process.poll() is None and there:
        there = server.there(POLL)
        if not studies.still_wanted(store, study, me):
            break
        if time.monotonic() - renewed > RENEW:
            studies.renew(store, study, me)
            renewed = time.monotonic()
    if process.poll() is None:
        process.kill()
    if process.wait() != 0:
        studies.let_go(store, study, me)  # it died; a study that ends badly by itself has said so
    return there


def _one(url: str, study: str) -> None:
    """Answer one study, in this process."""
    from wallwright.studio.answering import answer

    store = Store(url)
    try:
        answer(store, study)
    except Exception as problem:  # whatever it is, the page must hear of it
        studies.fail_with(store, study, str(problem)[:400] or type(problem).__name__)


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
    _one(url, sys.argv[1])


if __name__ == "__main__":
    main()
