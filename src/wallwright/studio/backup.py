"""The whole of a studio's database in one file, and back: taken while people work, checked by hashes, of SQLite and PostgreSQL alike.

A backup is an SQLite file with the tables as they stood at one moment, and beside each table how many rows it has and their
SHA-256. What was acknowledged before the backup began is in it. Keep it as what it is: job documents, accounts, hashes of
passwords.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, delete, func, select, text

from wallwright.export.files import writing
from wallwright.job.problem import fail
from wallwright.studio.schema import JOB, MOMENT, PACE, SIGN_IN, TABLES, TEXT
from wallwright.studio.store import NAME, Store

CHECK = "backup_check"
SCRATCH = ".backup-"
STALE = 86_400.0
"""What a backup that was killed left half made is taken away when it is so old [s]."""
ROWS = 500
"""Rows that are held in memory at once."""
LEFT_OUT = (SIGN_IN.name, PACE.name)
"""Who is signed in just now is no part of a backup: after a restore everybody signs in anew."""


@dataclass(frozen=True, slots=True)
class Counted:
    """A table of a backup: its name, how many rows, and the SHA-256 of them all in their order."""

    table: str
    rows: int
    sha256: str


def back_up(url: str, target: Path) -> tuple[Counted, ...]:
    """Write the database's backup to a file that is not there yet; gives what it holds. JobError where that cannot be done.

    url : of the database, or the folder of job files whose database it is
    """
    store = Store(_url(url, must_exist=True))
    try:
        with writing(target):
            if target.exists():
                raise fail(
                    "file",
                    None,
                    "is there already; choose another name, nothing was overwritten",
                    str(target),
                )
            _clear_up(target.absolute().parent)
            with tempfile.TemporaryDirectory(
                prefix=SCRATCH, dir=target.absolute().parent, ignore_cleanup_errors=True
            ) as scratch:
                made = Path(scratch) / target.name
                counted = _copied(store, made)
                made.chmod(0o600)
                _flushed(made)
                _placed(made, target)
                try:
                    _flushed(target.absolute().parent)
                except OSError:  # its name may not outlast the current: it is no backup to be told of
                    with suppress(OSError):
                        target.unlink()
                    raise
        return counted
    finally:
        store.close()


def verify(file: Path) -> tuple[Counted, ...]:
    """What a backup holds, each table's rows counted and hashed anew. JobError where they are not as they were written."""
    try:
        with closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as db:
            written = [
                Counted(*row) for row in db.execute(f"select name, rows, sha256 from {CHECK} order by name")
            ]
            found = [_counted(db, one.table) for one in written]
            sound = db.execute("pragma integrity_check").fetchone()[0] == "ok"
    except (sqlite3.Error, TypeError) as problem:
        missing = "" if file.is_file() else "is not there, or "
        raise fail("file", None, f"{missing}is no backup that can be read ({problem})", str(file)) from None
    for was, now in zip(written, found, strict=True):
        if was != now:
            raise fail("file", was.table, _DAMAGED, str(file))
    if not sound or not written:
        raise fail("file", None, _DAMAGED, str(file))
    return tuple(written)


_DAMAGED = (
    "is damaged: its rows are not those that were written; take another backup of that day or the one before"
)


def restore(file: Path, url: str, *, replace: bool = False) -> tuple[Counted, ...]:
    """Put a backup in a database's place: all of it or, where anything goes wrong, nothing. JobError.

    replace : False refuses a database in which there is anything. Where `url` is a folder, job files that are missing in it are
    written as they stood; those that are there stay as they are.
    """
    counted = verify(file)
    with tempfile.TemporaryDirectory(prefix="wallwright-", ignore_cleanup_errors=True) as scratch:
        copy = Path(scratch) / "backup.db"
        with writing(copy):
            shutil.copyfile(file, copy)
        source = Store(
            f"sqlite:///{copy}"
        )  # an older one is brought forward here, not in the file that is kept
        target = Store(_url(url, must_exist=False))
        try:
            _brought_in(source, target, replace, None if "://" in url else Path(url))
        finally:
            source.close()
            target.close()
    return counted


def _url(url: str, *, must_exist: bool) -> str:
    """The database's address; for a folder of job files that of the database in it."""
    if "://" in url:
        path = Path(url.removeprefix("sqlite:///")) if url.startswith("sqlite:///") else None
        if must_exist and path is not None and not path.is_file():
            raise fail("database", url, "is not there; check the path", "backup")
        return url
    folder = Path(url)
    if not folder.is_dir():
        raise fail("database", url, "is neither a folder of job files nor a database's address", "backup")
    if must_exist and not (folder / NAME).is_file():
        raise fail(
            "database", url, "has no history yet: no job of this folder was opened in the page", "backup"
        )
    return f"sqlite:///{(folder / NAME).resolve()}"


# --- out ---------------------------------------------------------------------------------------------------------------


def _copied(store: Store, made: Path) -> tuple[Counted, ...]:
    copy = Store(f"sqlite:///{made}")
    try:
        with store.read() as old, copy.write() as new:
            for table in TABLES.sorted_tables:
                if table.name not in LEFT_OUT:
                    _poured(old, new, table)
    finally:
        copy.close()
    try:
        with closing(sqlite3.connect(made)) as db:
            return _checked(db)
    except sqlite3.OperationalError as problem:
        raise fail(
            "file", None, f"cannot be written ({problem}); no backup was made", str(made.name)
        ) from None


def _checked(db: sqlite3.Connection) -> tuple[Counted, ...]:
    """Write into a backup what it holds; gives that."""
    db.execute("pragma journal_mode = delete")  # one file, nothing beside it
    counted = tuple(
        _counted(db, table.name) for table in sorted(TABLES.sorted_tables, key=lambda one: one.name)
    )
    with db:
        db.execute(f"create table {CHECK} (name text primary key, rows integer, sha256 text)")
        db.executemany(
            f"insert into {CHECK} values (?, ?, ?)", [(c.table, c.rows, c.sha256) for c in counted]
        )
    return counted


def _clear_up(folder: Path) -> None:
    """Take away what backups into this folder left that were killed: it holds what a backup holds."""
    for left in folder.glob(f"{SCRATCH}*"):
        with suppress(OSError):
            if abs(time.time() - left.stat().st_mtime) > STALE:
                shutil.rmtree(left, ignore_errors=True)


def _poured(old: Connection, new: Connection, table: Table) -> None:
    """All rows of a table from one database into the other."""
    rows = old.execution_options(yield_per=ROWS).execute(select(table))
    for part in rows.partitions(ROWS):
        new.execute(table.insert(), [dict(row._mapping) for row in part])  # pyright: ignore[reportPrivateUsage]


def _counted(db: sqlite3.Connection, table: str) -> Counted:
    """The rows of a table in the order of their keys, hashed value by value with their kinds."""
    if table not in TABLES.tables:
        raise sqlite3.DatabaseError(f"there is no table {table}")
    columns = [row[1] for row in db.execute(f'pragma table_info("{table}")')]
    listed = ", ".join(f'"{name}"' for name in columns)
    digest, count = hashlib.sha256(listed.encode()), 0
    for row in db.execute(f'select {listed} from "{table}" order by {listed}'):
        count += 1
        for value in row:
            data = value if isinstance(value, bytes) else repr(value).encode()
            digest.update(f"{type(value).__name__} {len(data)} ".encode() + data)
    return Counted(table, count, digest.hexdigest())


def _placed(made: Path, target: Path) -> None:
    """Under its name, which no other file has: unlike a rename, a link never takes the place of one."""
    try:
        os.link(made, target)
    except FileExistsError:
        raise fail("file", None, "is there already; nothing was overwritten", str(target)) from None
    except OSError:  # a disk without links
        made.rename(target)


def _flushed(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


# --- in ----------------------------------------------------------------------------------------------------------------


def _brought_in(source: Store, target: Store, replace: bool, folder: Path | None) -> None:
    """The rows, and the job files that are missing in the folder: where either is refused, neither."""
    written: list[Path] = []
    try:
        with source.read() as old, target.write() as new:
            _may_replace(new, replace)
            for table in reversed(TABLES.sorted_tables):
                new.execute(delete(table))
            for table in TABLES.sorted_tables:
                if table.name not in LEFT_OUT:
                    _poured(old, new, table)
            if target.postgres:  # the log counts on from its last line
                sequence = "select setval(pg_get_serial_sequence('audit', 'id'), coalesce((select max(id) from audit), 0) + 1, false)"
                new.execute(text(sequence))
            if folder is not None:
                _files_written(source, folder, written)
    except BaseException:
        for path in written:
            with suppress(OSError):
                path.unlink()
        raise


def _may_replace(new: Connection, replace: bool) -> None:
    held = {
        table.name: new.execute(select(func.count()).select_from(table)).scalar_one()
        for table in TABLES.sorted_tables
    }
    there = {name: count for name, count in held.items() if count and name not in LEFT_OUT}
    if there and not replace:
        says = f"holds {there.get(JOB.name, 0)} jobs already; restore beside it, or give --replace to put the backup in its place"
        raise fail("database", None, says, "restore")


def _files_written(source: Store, folder: Path, written: list[Path]) -> None:
    """The job files of a folder that are missing, as they stood. written : grows by each"""
    from wallwright.export.files import write_atomic

    for name, held in _standing(source):
        path = folder / name
        if not path.resolve().is_relative_to(folder.resolve()):
            continue
        with writing(path):
            if not path.exists():
                path.parent.mkdir(parents=True, exist_ok=True)
                write_atomic(path, held.encode("utf-8"))
                written.append(path)


def _standing(source: Store) -> Iterator[tuple[str, str]]:
    asked: Any = (
        select(JOB.c.file, TEXT.c.text)
        .join(MOMENT, (MOMENT.c.job == JOB.c.id) & (MOMENT.c.number == JOB.c.head))
        .join(TEXT, TEXT.c.sha == MOMENT.c.sha)
    )
    with source.read() as db:
        for row in map(tuple[Any, ...], db.execute(asked)):
            if row[0]:
                yield str(row[0]), str(row[1])
