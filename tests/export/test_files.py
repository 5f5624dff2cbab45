from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from wallwright.export import files
from wallwright.export.files import read_bytes, read_job_file, write_atomic, writing
from wallwright.job.demos import demo_jobs
from wallwright.job.read import LARGEST_FILE, JobError, read_job


def test_a_job_file_is_read(tmp_path: Path) -> None:
    file = tmp_path / "wall.toml"
    file.write_text(demo_jobs()["living"], encoding="utf-8")
    assert read_job_file(file) == read_job(demo_jobs()["living"])


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda path: None, "is not there"),
        (lambda path: path.mkdir(), "is a folder"),
        (lambda path: path.write_bytes(b"\x89PNG\r\n\x1a\n\0\0"), "binary"),
        (lambda path: path.write_bytes(b"a" * (LARGEST_FILE + 1)), "2 MB"),
        (lambda path: path.write_bytes(b"\xff\xfe"), "UTF-8"),
    ],
)
def test_what_is_no_job_file_is_refused_by_name(make, says: str, tmp_path: Path) -> None:
    file = tmp_path / "wall.toml"
    make(file)
    with pytest.raises(JobError, match=says) as caught:
        read_job_file(file)
    assert str(caught.value).startswith(str(file))


def test_a_pipe_or_a_device_is_refused_at_once(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in (pipe, Path("/dev/null")):
        with pytest.raises(JobError, match="a pipe, a device") as caught:
            read_bytes(path)
        assert str(caught.value).startswith(str(path))


def test_what_was_asked_for_is_named(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="a folder, not a CSV table"):
        read_bytes(tmp_path, what="CSV table")
    with pytest.raises(JobError, match=r"not there; check the path$"):
        read_bytes(tmp_path / "none.csv", what="CSV table")


@pytest.mark.parametrize(
    ("number", "says"), [(errno.EACCES, "no right to write"), (errno.ENOSPC, "disk is full"), (errno.EIO, "Input/output")]
)  # fmt: skip
def test_what_the_system_refuses_is_said_with_what_to_do(number: int, says: str) -> None:
    with pytest.raises(JobError, match=says) as caught, writing("somewhere"):
        raise OSError(number, os.strerror(number), "somewhere/.else.part")
    assert str(caught.value).startswith("somewhere: ")
    assert "choose" in str(caught.value)
    with pytest.raises(FileExistsError, match="a sentence"), writing("somewhere"):
        raise FileExistsError("a sentence of its own")


def test_a_huge_file_is_not_read_to_its_end(tmp_path: Path) -> None:
    file = tmp_path / "huge"
    with file.open("wb") as handle:
        handle.truncate(50_000_000_000)  # a hole: costs no disk
    with pytest.raises(JobError, match="more than 2 MB"):
        read_bytes(file)


def test_a_name_with_a_nul_is_an_error_not_a_crash() -> None:
    with pytest.raises(JobError):
        read_bytes("wall\0.toml")


def test_a_file_is_written_whole_and_keeps_its_mode(tmp_path: Path) -> None:
    file = tmp_path / "out.bin"
    write_atomic(file, b"first")
    file.chmod(0o640)
    write_atomic(file, b"second")
    assert file.read_bytes() == b"second"
    assert file.stat().st_mode & 0o777 == 0o640
    assert os.listdir(tmp_path) == ["out.bin"]


def test_a_write_that_fails_leaves_the_old_file_and_no_litter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "out.bin"
    write_atomic(file, b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_atomic(file, b"new")
    assert file.read_bytes() == b"old"
    assert os.listdir(tmp_path) == ["out.bin"]


def test_a_missing_folder_is_said(tmp_path: Path) -> None:
    with pytest.raises(OSError):
        write_atomic(tmp_path / "nowhere" / "out.bin", b"")
