"""The server as the command line starts it: a folder, a hosted studio, the first account."""

from __future__ import annotations

import asyncio
import json
import os
import re
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from wallwright.job.problem import JobError
from wallwright.studio.serve import _listen, run_hosted

PASSWORD = "a long and plain sentence"


@contextmanager
def started(*command: str, env: dict[str, str] | None = None, cwd: Path | None = None) -> Iterator[str]:
    """The command, running; gives the line that says where it is."""
    process = subprocess.Popen(
        [sys.executable, "-m", "wallwright", *command], stdout=subprocess.PIPE, text=True, cwd=cwd,
        env={**os.environ, "PYTHONUNBUFFERED": "1", **(env or {})},
    )  # fmt: skip
    assert process.stdout is not None
    try:
        yield process.stdout.readline()
    finally:
        process.terminate()
        process.wait(20)


def call(url: str, body: Any = None, **headers: str) -> tuple[int, Any, Any]:
    data = None if body is None else json.dumps(body).encode()
    sent = {"content-type": "application/json", **{k.replace("_", "-"): v for k, v in headers.items()}}
    try:
        with urllib.request.urlopen(urllib.request.Request(url, data, sent)) as answer:
            return answer.status, answer.headers, json.load(answer)
    except urllib.error.HTTPError as error:
        return error.code, error.headers, json.load(error)


def test_a_folder_is_served_and_a_new_wall_is_a_file_in_it(tmp_path: Path) -> None:
    with started("serve", str(tmp_path), "--port", "0") as said:
        url = said.split(" is open at ")[1].strip()
        _, _, here = call(f"{url}api/here")
        assert here["mode"] == "local" and here["first"] == ""
        status, _, made = call(f"{url}api/jobs", {"room": "bedroom", "title": "Bed wall"})
        assert status == 200
        status, _, jobs = call(f"{url}api/jobs")
        assert [(one["id"], one["file"]) for one in jobs["jobs"]] == [(made["id"], "bed-wall.toml")]
    assert (tmp_path / "bed-wall.toml").is_file()


def test_a_hosted_studio_from_its_first_account_to_a_signed_in_page(database: str, tmp_path: Path) -> None:
    env = {"WALLWRIGHT_DATABASE": database}
    command = [sys.executable, "-m", "wallwright", "person", "Olga"]
    made = subprocess.run(
        command, input=f"{PASSWORD}\n", text=True, capture_output=True, env={**os.environ, **env}, timeout=120
    )
    assert made.returncode == 0 and "owner" in made.stdout, made.stderr
    short = subprocess.run(
        command, input="short\n", text=True, capture_output=True, env={**os.environ, **env}, timeout=120
    )
    assert short.returncode == 2 and "12 characters" in short.stderr and "Traceback" not in short.stderr
    with started("serve", "--hosted", "https://studio.example", "--port", "0", env=env, cwd=tmp_path) as said:
        port = re.search(r"127\.0\.0\.1:(\d+)", said)
        assert port, said
        url = f"http://127.0.0.1:{port[1]}/"
        own = {"Host": "studio.example", "Origin": "https://studio.example"}
        assert call(f"{url}api/jobs")[0] == 421
        assert call(f"{url}api/jobs", **own)[0] == 401
        status, headers, here = call(f"{url}api/sign-in", {"name": "Olga", "password": PASSWORD}, **own)
        assert status == 200 and here["role"] == "owner"
        cookie = headers["set-cookie"].split(";")[0]
        signed = {**own, "Cookie": cookie, "X_CSRF_Token": here["csrf"]}
        status, _, job = call(f"{url}api/jobs", {"room": "studio"}, **signed)
        assert status == 200
        _, _, state = call(f"{url}api/jobs/{job['id']}/state", **signed)
        assert state["job"]["path"] == "" and state["svg"].startswith("<svg")
    assert list(tmp_path.glob("*.toml")) == []  # jobs of a hosted studio are in its database alone


@pytest.mark.parametrize(
    "address", ["", "studio.example", "http://studio.example", "https://a b", "https://x/y", "ftp://x"]
)
def test_a_hosted_studio_speaks_tls_under_a_plain_address(address: str, tmp_path: Path) -> None:
    with pytest.raises(JobError, match="address"):
        run_hosted(f"sqlite:///{tmp_path}/x.db", address, "127.0.0.1", 0)


def test_a_small_answer_is_sent_at_once() -> None:
    """Nagle's wait is off on what is accepted: else every answer after the first stands 40 ms for the other side's receipt."""

    async def accepted() -> int:
        told: asyncio.Future[int] = asyncio.get_running_loop().create_future()

        def came(_: asyncio.StreamReader, out: asyncio.StreamWriter) -> None:
            told.set_result(out.get_extra_info("socket").getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            out.close()

        with _listen("127.0.0.1", 0) as listening:
            server = await asyncio.start_server(came, sock=listening)
            async with server:
                _, out = await asyncio.open_connection(*listening.getsockname()[:2])
                set_so = await asyncio.wait_for(told, 30)
                out.close()
        return set_so

    with ThreadPoolExecutor(
        1
    ) as apart:  # a page test before this one leaves a loop running in its own thread
        assert apart.submit(asyncio.run, accepted()).result(60)
