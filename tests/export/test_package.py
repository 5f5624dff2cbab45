"""The issue set: whole or not at all, the same bytes twice, and never over someone else's files."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.export import package
from wallwright.export.package import MANIFEST, Manifest, issue

EXPECTED = {
    "drawings.pdf",
    "documents.pdf",
    "templates.pdf",
    "elevation.dxf",
    "services.dxf",
    "wall.ifc",
    "wall.glb",
    "schedules.xlsx",
    "cutlist.csv",
    "cutting_plan.csv",
    "programme.ics",
    "job.toml",
    MANIFEST,
    "01_elevation.svg",
    "02_section.svg",
    "03_services.svg",
}


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_the_set_is_complete_and_the_manifest_true(issued: tuple[Path, Manifest]) -> None:
    folder, manifest = issued
    files = bytes_of(folder)
    assert set(files) >= EXPECTED
    told = json.loads(files.pop(MANIFEST))
    assert told == manifest.as_dict()
    assert {entry["name"]: entry["sha256"] for entry in told["files"]} == {
        n: hashlib.sha256(d).hexdigest() for n, d in files.items()
    }
    assert told["revision"] == "A"
    assert all(files.values())
    assert told["left_out"] == []


def test_same_input_same_bytes_even_in_another_process(issued: tuple[Path, Manifest], tmp_path: Path) -> None:
    code = (
        "import sys; from wallwright.derive import derive; from wallwright.job.demos import demo_jobs;"
        "from wallwright.job.read import read_job; from wallwright.export.package import issue;"
        "issue(derive(read_job(demo_jobs()['living'].encode(), 'living')), sys.argv[1])"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "again")],
        check=True,
        env={"PYTHONHASHSEED": "7", "TZ": "Asia/Kolkata"},
    )
    assert bytes_of(issued[0]) == bytes_of(tmp_path / "again")


def test_the_job_in_the_set_reads_back(issued: tuple[Path, Manifest], living: Any) -> None:
    from wallwright.job.read import read_job

    assert read_job((issued[0] / "job.toml").read_bytes(), "job.toml") == living.job


def test_an_old_set_is_replaced_whole(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "set"
    issue(living, target)
    before = bytes_of(target)
    changed = replace(living, job=replace(living.job, revision="B"))
    manifest = issue(changed, target)
    after = bytes_of(target)
    assert manifest.revision == "B" == json.loads(after[MANIFEST])["revision"]
    assert after["drawings.pdf"] != before["drawings.pdf"]
    assert [path.name for path in tmp_path.iterdir()] == ["set"]  # nothing left beside it


@pytest.mark.parametrize("exchange", [True, False])
def test_a_failure_leaves_the_old_set_untouched(
    living: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, exchange: bool
) -> None:
    target = tmp_path / "set"
    issue(living, target)
    before = bytes_of(target)
    if not exchange:
        monkeypatch.setattr(package, "_exchanged", lambda a, b: False)
    renamed = Path.rename

    def fails(self: Path, to: Path) -> Path:
        if self.name.endswith(".new"):
            raise OSError("disk gone")
        return renamed(self, to)

    monkeypatch.setattr(Path, "rename", fails)
    monkeypatch.setattr(package, "_flush", lambda folder: None)
    if exchange:
        monkeypatch.setattr(package, "_exchanged", lambda a, b: (_ for _ in ()).throw(OSError("disk gone")))
    with pytest.raises(OSError, match="disk gone"):
        issue(living, target)
    assert bytes_of(target) == before
    assert [path.name for path in tmp_path.iterdir()] == ["set"]


def test_a_failing_writer_writes_nothing(
    living: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(wall: Any) -> bytes:
        raise RuntimeError("broken")

    monkeypatch.setattr(package, "wall_glb", breaks)
    with pytest.raises(RuntimeError):
        issue(living, tmp_path / "set")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_ours_is_left_alone(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "mine"
    target.mkdir()
    (target / "letter.txt").write_text("keep")
    with pytest.raises(FileExistsError, match="not an issue set"):
        issue(living, target)
    assert bytes_of(target) == {"letter.txt": b"keep"}


def test_a_set_with_a_stranger_in_it_is_left_alone(living: Any, tmp_path: Path) -> None:
    """A note that someone put beside the drawings must not vanish with the old set."""
    target = tmp_path / "set"
    issue(living, target)
    (target / "my notes.txt").write_text("keep")
    with pytest.raises(FileExistsError, match="not an issue set"):
        issue(living, target)
    assert (target / "my notes.txt").read_text() == "keep"


def test_a_file_in_the_way_is_left_alone(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "set"
    target.write_text("keep")
    with pytest.raises(FileExistsError, match="not a folder"):
        issue(living, target)
    assert target.read_text() == "keep"


def test_an_empty_folder_is_used(living: Any, tmp_path: Path) -> None:
    target = tmp_path / "set"
    target.mkdir()
    issue(living, target)
    assert (target / MANIFEST).is_file()
    assert [path.name for path in tmp_path.iterdir()] == ["set"]


def test_progress_grows_to_one(living: Any, tmp_path: Path) -> None:
    told: list[float] = []
    issue(living, tmp_path / "set", progress=lambda share, words: told.append(share))
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_letters_that_cannot_be_printed_are_reported(living: Any, tmp_path: Path) -> None:
    named = replace(living, job=replace(living.job, client="高"))
    assert any("高" in line for line in issue(named, tmp_path / "set").left_out)
