"""What several tests share: the browser, and other programs that read back the files we write."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent
BROWSER_FIXTURES = {"page", "context", "browser", "new_context"}  # pytest-playwright's


def find_browser() -> str | None:
    """The browser to drive: WALLWRIGHT_BROWSER if set, else a Chromium found by its name."""
    named = os.environ.get("WALLWRIGHT_BROWSER")
    if named:
        return named if Path(named).is_file() else None
    return shutil.which("chromium") or shutil.which("chromium-browser")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what drives a browser, and skip it where there is none."""
    no_browser = find_browser() is None
    for item in items:
        if BROWSER_FIXTURES & set(getattr(item, "fixturenames", ())):
            item.add_marker("browser")
        if no_browser and item.get_closest_marker("browser"):
            item.add_marker(
                pytest.mark.skip(reason="no browser: install chromium or set WALLWRIGHT_BROWSER to its path")
            )


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Tests of one file stay together where several processes share the work, so that what a file sets up is set up once."""
    from xdist.scheduler import WorkStealingScheduling

    return WorkStealingScheduling(config, log) if config.getoption("dist") == "load" else None


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    """Launch the system's Chromium, quiet on the network (playwright's own download is never used)."""
    return {
        **browser_type_launch_args,
        "executable_path": find_browser(),
        "headless": True,
        "args": [
            "--disable-quic",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--no-first-run",
        ],
    }


@pytest.fixture(scope="session")
def program() -> Callable[[str], str]:
    """`program("pdftotext")` is that program's path; the test is skipped, saying so, where it is missing."""

    def find(name: str) -> str:
        path = shutil.which(name)
        if path is None:
            pytest.skip(f"{name} is not installed (`make tools` as root on Debian)")
        return path

    return find


@pytest.fixture(scope="session")
def gltf_report(tmp_path_factory: pytest.TempPathFactory) -> Callable[[bytes], dict[str, Any]]:
    """`gltf_report(glb)` is the report of the glTF validator that stands among the page's tools."""
    sys.path.insert(0, str(ROOT))
    try:
        from hatch_build import npm_command
    finally:
        sys.path.remove(str(ROOT))
    validator = ROOT / "frontend/node_modules/gltf-validator/index.js"

    def report(glb: bytes) -> dict[str, Any]:
        if not validator.is_file():
            pytest.skip("the glTF validator is not installed (`make test` installs it)")
        try:
            _, environment = npm_command()
        except RuntimeError as problem:
            pytest.skip(str(problem))
        file = tmp_path_factory.mktemp("gltf") / "model.glb"
        file.write_bytes(glb)
        script = (
            "const glb = new Uint8Array(require('fs').readFileSync(process.argv[2]));"
            "require(process.argv[1]).validateBytes(glb)"
            ".then(r => console.log(JSON.stringify(r)), e => { console.error(e); process.exit(1) })"
        )
        node = shutil.which("node", path=environment["PATH"]) or "node"
        done = subprocess.run(
            [node, "-e", script, str(validator), str(file)], capture_output=True, text=True, check=True
        )
        return json.loads(done.stdout)

    return report
