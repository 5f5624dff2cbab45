"""When the page is built, and with which Node."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def hook() -> ModuleType:
    sys.path.insert(0, str(ROOT))
    try:
        import hatch_build
    finally:
        sys.path.remove(str(ROOT))
    return hatch_build


@pytest.fixture
def tree(tmp_path: Path, hook: ModuleType) -> Path:
    """A source tree whose page is freshly built."""
    (tmp_path / "frontend/src").mkdir(parents=True)
    (tmp_path / "frontend/package.json").write_text("{}")
    (tmp_path / "frontend/src/main.ts").write_text("export {}")
    built = tmp_path / "src/wallwright/studio/static"
    built.mkdir(parents=True)
    (built / "index.html").write_text("<!doctype html>")
    (built / ".stamp").write_text(hook.digest(tmp_path / "frontend"))
    return tmp_path


def test_a_fresh_page_is_left_alone(hook: ModuleType, tree: Path) -> None:
    assert not hook.stale(tree)


@pytest.mark.parametrize(
    "change",
    [
        lambda tree: (tree / "frontend/src/main.ts").write_text("export { }"),
        lambda tree: (tree / "frontend/src/new.ts").write_text(""),
        lambda tree: (tree / "frontend/src/main.ts").rename(tree / "frontend/src/start.ts"),
        lambda tree: (tree / "frontend/package-lock.json").write_text("{}"),
        lambda tree: (tree / "src/wallwright/studio/static/index.html").unlink(),
        lambda tree: (tree / "src/wallwright/studio/static/.stamp").unlink(),
    ],
    ids=["edited", "added", "renamed", "locked anew", "page lost", "stamp lost"],
)
def test_any_change_makes_it_stale(hook: ModuleType, tree: Path, change) -> None:  # type: ignore[no-untyped-def]
    change(tree)
    assert hook.stale(tree)
    assert not hook.stale(tree, "skip")


def test_force_builds_a_fresh_page(hook: ModuleType, tree: Path) -> None:
    assert hook.stale(tree, "force")


def test_a_tree_without_a_frontend_has_nothing_to_build(hook: ModuleType, tmp_path: Path) -> None:
    assert not hook.stale(tmp_path)


def test_another_mode_is_refused_by_name(hook: ModuleType, tree: Path) -> None:
    with pytest.raises(ValueError, match="'maybe'; it can be auto, skip or force"):
        hook.stale(tree, "maybe")


@pytest.mark.skipif(os.name == "nt", reason="the stand-ins for Node are shell scripts")
@pytest.mark.parametrize(
    ("version", "good"),
    [("v20.19.0", True), ("v24.1.0", True), ("v20.18.9", False), ("v18.20.4", False), ("nonsense", False)],
)
def test_only_a_new_enough_node_is_used(
    hook: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: str, good: bool
) -> None:
    for name in ("node", "npm"):
        (tmp_path / name).write_text(f"#!/bin/sh\necho {version}\n")
        (tmp_path / name).chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    assert (hook.node_on_path() is not None) == good


def test_node_without_npm_does_not_count(
    hook: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "node").write_text("#!/bin/sh\necho v24.0.0\n")
    (tmp_path / "node").chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    assert hook.node_on_path() is None
