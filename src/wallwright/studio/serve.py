"""The server: a job or a folder of jobs for this machine only; or hosted, for people who sign in."""

from __future__ import annotations

import re
import socket
from pathlib import Path

from wallwright.job.problem import fail
from wallwright.studio.memory import collect_seldom
from wallwright.studio.studio import Studio, hosted, of_file, of_folder

HOST = "127.0.0.1"
KEEP_ALIVE = 75
"""Seconds for which an idle line stays open: longer than proxies keep theirs, so that none is closed while a call comes in."""
_ADDRESS = re.compile(r"https://[A-Za-z0-9.-]+(:\d{1,5})?/?")


def run(path: Path, port: int) -> None:
    """Serve the page of a job file, or of a folder of jobs, until it is stopped with Ctrl+C.

    JobError where the job cannot be opened or the port is taken.

    port : on the loopback address; 0 takes any that is free
    """
    studio = of_folder(path) if path.is_dir() else of_file(path)
    listening = _listen(HOST, port)
    address = f"http://{HOST}:{listening.getsockname()[1]}/"
    print(f"{path} is open at {address}\nEvery change is saved at once. Stop with Ctrl+C.", flush=True)
    _serve(studio, listening)


def run_hosted(database: str, address: str, host: str, port: int) -> None:
    """Serve a studio that people sign in to, behind a proxy that speaks TLS. JobError where its settings cannot be.

    database : URL, SQLite or PostgreSQL · address : as people's browsers know it, https://studio.example
    """
    if not _ADDRESS.fullmatch(address):
        raise fail(
            "address", address, "must be the address in people's browsers: https://studio.example", "serve"
        )
    studio = hosted(database, address)
    _warm()
    listening = _listen(host, port)
    print(f"{address} is answered at {host}:{listening.getsockname()[1]}. Stop with Ctrl+C.", flush=True)
    _serve(studio, listening)


def _warm() -> None:
    """Load and make what every call needs, before the address is given out: else the first hundred would each begin to."""
    from wallwright.derive import derive
    from wallwright.job.read import read_job
    from wallwright.job.starter import starter
    from wallwright.rules.check import check
    from wallwright.studio.seen import View
    from wallwright.studio.view import state

    wall = derive(read_job(starter("living")))
    state(View(wall, check(wall), "", 0, 0, "", "", can_undo=False, can_redo=False), 20.0)


def _serve(studio: Studio, listening: socket.socket) -> None:
    import uvicorn

    from wallwright.studio.app import application

    settings = uvicorn.Config(
        application(studio), log_level="warning", server_header=False, date_header=False, proxy_headers=studio.hosted,
        timeout_keep_alive=KEEP_ALIVE,
    )  # fmt: skip
    collect_seldom()
    if studio.worker and (studio.hosted or studio.something_waits()):
        studio.worker.wake()  # for what an earlier run did not come to the end of; hosted, for what another server's worker does not
    try:
        with listening:
            uvicorn.Server(settings).run(sockets=[listening])
    finally:
        if studio.worker:
            studio.worker.stop()
        studio.store.close()


def _listen(host: str, port: int) -> socket.socket:
    """The socket to listen at, bound before anything is promised."""
    if not 0 <= port <= 65535:
        raise fail("port", port, "is no port; use 1024 to 65535, or 0 for any that is free", "serve")
    # told to be TCP: only then does asyncio send a small answer at once, instead of 40 ms later when the last one was acknowledged
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(128)  # from here on the address that is printed answers
    except OSError as problem:
        listening.close()
        raise fail(
            "port", port, f"cannot be used ({problem.strerror}); choose another with --port", "serve"
        ) from None
    return listening
