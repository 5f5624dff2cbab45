"""The local server: one job, this machine only."""

from __future__ import annotations

import socket
from pathlib import Path

from wallwright.job.problem import fail

HOST = "127.0.0.1"


def run(path: Path, port: int) -> None:
    """Serve the page of a job until it is stopped with Ctrl+C. JobError where the job cannot be opened or the port is taken.

    port : on the loopback address; 0 takes any that is free
    """
    import uvicorn

    from wallwright.studio.app import create_app

    app = create_app(path)
    listening = _listen(port)
    address = f"http://{HOST}:{listening.getsockname()[1]}/"
    print(f"{path} is open at {address}\nEvery change is saved at once. Stop with Ctrl+C.", flush=True)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", server_header=False, date_header=False))
    with listening:
        server.run(sockets=[listening])


def _listen(port: int) -> socket.socket:
    """The socket to listen at, bound before anything is promised."""
    if not 0 <= port <= 65535:
        raise fail("port", port, "is no port; use 1024 to 65535, or 0 for any that is free", "serve")
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen(128)  # from here on the address that is printed answers
    except OSError as problem:
        listening.close()
        raise fail(
            "port", port, f"cannot be used ({problem.strerror}); choose another with --port", "serve"
        ) from None
    return listening
