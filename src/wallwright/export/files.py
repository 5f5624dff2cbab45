"""Files on disk: a job file read with its bounds, and bytes written whole or not at all."""

from __future__ import annotations

import errno
import os
import secrets
import stat
import time
from collections.abc import Generator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from wallwright.job.document import Job
from wallwright.job.problem import fail
from wallwright.job.read import LARGEST_FILE, read_job


def read_job_file(path: str | Path) -> Job:
    """The job in a file. JobError, naming the file, where it is missing, too large, binary, or wrong inside."""
    path = Path(path)
    return read_job(read_bytes(path), str(path))


def read_bytes(path: str | Path, largest: int = LARGEST_FILE, what: str = "job file") -> bytes:
    """A file's bytes; never more than `largest` of them are read. JobError says why it cannot be read.

    what : the kind of file that was asked for, as the message calls it
    """
    path = Path(path)
    name = str(path)
    if path.is_dir():
        raise fail("file", None, f"is a folder, not {'an' if what[0] in 'AEIO' else 'a'} {what}", name)
    try:
        data = _regular(path, largest + 1)
    except FileNotFoundError:
        make = ", or make one with `wallwright new`" if what == "job file" else ""
        raise fail("file", None, f"is not there; check the path{make}", name) from None
    except (OSError, ValueError) as problem:
        raise fail(
            "file", None, f"cannot be read: {getattr(problem, 'strerror', None) or problem}", name
        ) from None
    if data is None:
        says = f"is a pipe, a device or a socket; save what it gives as a file, and name that as the {what}"
        raise fail("file", None, says, name)
    if len(data) > largest:
        raise fail("file", None, f"holds more than {largest / 1e6:g} MB. Is it the right file?", name)
    return data


def _regular(path: Path, most: int) -> bytes | None:
    """Up to so many bytes of a plain file; None where it is none: a pipe could keep the reader waiting for ever."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as file:
        return file.read(most) if stat.S_ISREG(os.fstat(handle).st_mode) else None


WRITE_SAYS = {
    errno.EACCES: "cannot be written: you have no right to write there; choose a folder of your own",
    errno.EPERM: "cannot be written: you have no right to write there; choose a folder of your own",
    errno.EROFS: "cannot be written: that disk is read-only; choose another folder",
    errno.ENOSPC: "cannot be written: the disk is full; make room, or choose another disk",
    errno.EEXIST: "is a file, where a folder is needed; choose another name",
    errno.ENOTDIR: "cannot be written: a part of its path is a file, not a folder; choose another path",
    errno.EISDIR: "is a folder, where a file is needed; choose another name",
    errno.ENOENT: "cannot be written: its folder is not there; make it first, or choose another path",
    errno.ENAMETOOLONG: "cannot be written: the name is too long; choose a shorter one",
}


@contextmanager
def writing(target: str | Path) -> Generator[None]:
    """Around what writes a file or folder: what the system refuses becomes a JobError that names it and says what to do."""
    try:
        yield
    except OSError as problem:
        if problem.errno is None:  # it says itself, in a sentence, what is wrong
            raise
        says = WRITE_SAYS.get(problem.errno, f"cannot be written: {problem.strerror}; choose another place")
        raise fail("file", None, says, str(target)) from None
    except ValueError as problem:
        if "null" not in str(problem):
            raise
        raise fail(
            "file", None, "has a NUL character in its name; choose another", repr(str(target))
        ) from None


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


@dataclass(frozen=True, slots=True)
class Replaced:
    """A file that was written anew while it is not yet sure that it may be: what it was before stands beside it under another name.

    spare : that name; None where there was no file, or the disk gives none a second name · ours : the file that was written
    """

    path: Path
    spare: Path | None
    before: bytes | None
    ours: int

    def back(self) -> None:
        """As it was before; on a full disk too, for a file that is there is given its name back. OSError where even that is refused."""
        if self.path.stat().st_ino != self.ours:  # written by someone else since
            self.done()
            return
        if self.spare is not None:
            self.spare.replace(self.path)
            _sync_folder(self.path.parent)
        elif self.before is None:
            self.path.unlink()
        else:
            write_atomic(self.path, self.before)

    def done(self) -> None:
        """It may be: what was before goes away."""
        if self.spare is not None:
            with suppress(OSError):  # it goes at the next start
                self.spare.unlink()


def replace_file(path: str | Path, data: bytes) -> Replaced:
    """`write_atomic`, of which the outcome can be taken back. OSError where it cannot be written; it is then as it was."""
    path = Path(path)
    spare: Path | None = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    before: bytes | None = None
    try:
        os.link(path, spare)
    except FileNotFoundError:
        spare = None
    except OSError:  # a disk without links; where it is full, the writing says so
        spare, before = None, path.read_bytes()
    try:
        write_atomic(path, data)
    except BaseException:
        if spare is not None:
            spare.unlink(missing_ok=True)
        raise
    return Replaced(path, spare, before, path.stat().st_ino)


STALE = 60.0
"""A temporary file so old [s] was left by a program that was killed: a living one is there for a moment only."""


def clear_parts(folder: Path) -> None:
    """Take away what writes that were killed left in a folder of job files and in the folders of it. Says nothing where it may not."""
    for pattern in (_PARTS, f"*/{_PARTS}"):
        for left in folder.glob(pattern):
            with suppress(OSError):  # away already, or not ours to take
                if (
                    abs(time.time() - left.stat().st_mtime) > STALE
                ):  # abs: the clock may have been set back since
                    left.unlink()


_PARTS = ".*.[0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f].part"


def _sync_folder(folder: Path) -> None:
    """Put the new name itself on the disk, where the system can open folders."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
