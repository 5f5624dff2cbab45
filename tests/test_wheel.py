"""The wheel holds all that the installed program reads, says its version and licence, and runs from where it was unpacked."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

from wallwright import __version__

ROOT = Path(__file__).parents[1]
HAS_PAGE = (ROOT / "src/wallwright/studio/static/index.html").exists()


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Built from this tree by the standard front end; the page as it stands, for its own build is tested beside."""
    out = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(out), str(ROOT)]
    done = subprocess.run(
        build, env={**os.environ, "WALLWRIGHT_FRONTEND": "skip"}, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    (found,) = out.glob("*.whl")
    return found


def test_it_holds_the_data_the_fonts_and_the_page(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as held:
        names = set(held.namelist())
    source = ROOT / "src"
    kept = {".toml", ".ttf", ".otf", ".typ", ".icc", ".ini", ".mako"}
    wanted = {str(path.relative_to(source)) for path in source.rglob("*") if path.suffix in kept}
    assert len(wanted) > 40 and wanted <= names, sorted(wanted - names)[:5]
    if HAS_PAGE:
        assert "wallwright/studio/static/index.html" in names
    assert not [name for name in names if name.startswith(("tests/", "bench/", "frontend/"))]


def test_it_says_its_version_and_its_licence(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as held:
        (meta,) = [name for name in held.namelist() if name.endswith(".dist-info/METADATA")]
        said = Parser().parsestr(held.read(meta).decode("utf-8"))
        assert [name for name in held.namelist() if name.endswith("licenses/LICENSE")]
    assert said["Version"] == __version__
    assert said["License-File"] == "LICENSE"
    assert f"## {__version__}" in (ROOT / "CHANGELOG.md").read_text("utf-8")


def test_it_runs_unpacked_elsewhere(wheel: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(wheel) as held:
        held.extractall(tmp_path / "site")
    env = {**os.environ, "PYTHONPATH": str(tmp_path / "site")}
    run = [sys.executable, "-P", "-m", "wallwright"]

    def said(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [*run, *words], cwd=tmp_path, env=env, capture_output=True, text=True, check=False
        )

    assert said("new", "smith", "--room", "living").returncode == 0
    checked = said("check", "smith")
    assert checked.returncode in (0, 1) and "G0" in checked.stdout + checked.stderr, checked.stderr
    where = subprocess.run(
        [sys.executable, "-P", "-c", "import wallwright; print(wallwright.__file__)"],
        cwd=tmp_path, env=env, capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    assert where.startswith(str(tmp_path))
