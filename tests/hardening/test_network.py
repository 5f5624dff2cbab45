"""The program calls nobody: a check and a whole issue set without a single line to another machine."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from wallwright.job.demos import demo_jobs

WATCHED = """
import sys
called = []
def hear(event, given):
    if event in ("socket.connect", "socket.getaddrinfo", "socket.gethostbyname", "socket.sendto", "urllib.Request"):
        called.append(f"{event} {given[1:]}")
sys.addaudithook(hear)
if sys.argv.pop(1) == "call":
    import socket
    try: socket.create_connection(("127.0.0.1", 1), 1)
    except OSError: pass
else:
    import importlib
    from wallwright.cli import main
    deriving = importlib.import_module("wallwright.derive")
    deriving.derive_to_issue = deriving.derive  # without its second of looking for better cutting plans
    try: main()
    except SystemExit as end: assert end.code in (None, 0, 1), end.code
sys.exit("; ".join(called) or 0)
"""


def ran(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", WATCHED, *words], capture_output=True, text=True, timeout=600
    )


def test_an_issue_set_is_made_without_calling_anybody(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(demo_jobs()["bedroom"], encoding="utf-8")
    done = ran("run", "issue", str(job), "--out", str(tmp_path / "set"))
    assert done.returncode == 0 and (tmp_path / "set" / "manifest.json").is_file(), done.stderr
    assert "socket.connect" in ran("call").stderr  # and the ear hears what there is to hear
