"""Files on disk: a job file read with its bounds, and bytes written whole or not at all."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from pathlib import Path

from wallwright.job.document import Job
from wallwright.job.problem import fail
from wallwright.job.read import LARGEST_FILE, read_job


def read_job_file(path: str | Path) -> Job:
    """The job in a file. JobError, naming the file, where it is missing, too large, binary, or wrong inside."""
    path = Path(path)
    return read_job(read_bytes(path), str(path))


def read_bytes(path: str | Path, largest: int = LARGEST_FILE) -> bytes:
    """A file's bytes; never more than `largest` of them are read. JobError says why it cannot be read."""
    path = Path(path)
    name = str(path)
    if path.is_dir():
        raise fail("file", None, "is a folder, not a job file", name)
    try:
        with path.open("rb") as file:
            data = file.read(largest + 1)
    except FileNotFoundError:
        raise fail(
            "file", None, "is not there; check the path, or make one with `wallwright new`", name
        ) from None
    except (OSError, ValueError) as problem:
        raise fail(
            "file", None, f"cannot be read: {getattr(problem, 'strerror', None) or problem}", name
        ) from None
    if len(data) > largest:
        raise fail("file", None, f"holds more than {largest / 1e6:g} MB. Is it the right file?", name)
    return data


def write_atomic(path: str | Path, data: bytes) -> None:
    """Write a file so that a reader sees the old one or the new one, never half: temporary file, fsync, rename.

    A file that is there keeps its mode. OSError where the folder is missing or cannot be written.
    """
    path = Path(path)
    temporary = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        with temporary.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        with suppress(FileNotFoundError):
            temporary.chmod(path.stat().st_mode & 0o777)
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    """Put the new name itself on the disk, where the system can open folders."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
