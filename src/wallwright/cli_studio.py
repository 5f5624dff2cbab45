"""The commands of the studio: the page served, and the first people let in."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Literal

GOOD = 0
DATABASE = "WALLWRIGHT_DATABASE"
"""Environment variable with the database's URL: a password in it is nobody's to see on a command line."""


def serve(
    job: Path | None = None,
    *,
    port: int = 8470,
    hosted: str = "",
    database: str = "",
    host: str = "127.0.0.1",
) -> int:
    """Open the page of a job, or of a folder of jobs, in your browser: on this machine only, saved at every change.

    Args:
        job: The job file, or a folder of them; without it, the living-room demo in ./demo.
        port: Port on the loopback address.
        hosted: Serve people who sign in, under this address (https://studio.example), behind a proxy that speaks TLS.
        database: Hosted: URL of the database, SQLite or PostgreSQL; else $WALLWRIGHT_DATABASE, else ./wallwright.db.
        host: Hosted: the network address to listen at.
    """
    from wallwright.studio.serve import run, run_hosted

    if hosted:
        run_hosted(_database(database), hosted, host, port)
    else:
        run(job if job is not None else _demo_job(), port)
    return GOOD


def person(name: str, *, role: Literal["owner", "designer", "reader"] = "owner", database: str = "") -> int:
    """Make an account of a hosted studio; the password is asked for, or read from standard input.

    Args:
        name: What the person signs in with.
        role: What the person may do.
        database: URL of the database; else $WALLWRIGHT_DATABASE, else ./wallwright.db.
    """
    from wallwright.studio.accounts import add_person
    from wallwright.studio.store import Store

    add_person(Store(_database(database)), name, _password(), role)
    print(f"{name} may sign in as {role}")
    return GOOD


def work(*, database: str = "") -> int:
    """Work off the studies of a hosted studio on a machine of its own, beside those of its servers, until Ctrl-C.

    Args:
        database: URL of the database; else $WALLWRIGHT_DATABASE, else ./wallwright.db.
    """
    from wallwright.studio.worker import work_alone

    work_alone(_database(database))
    return GOOD


def backup(store: str, file: Path) -> int:
    """Write all that a studio's database holds into one file, while people work; what it holds is counted and hashed.

    Args:
        store: The folder of job files, or the URL of a hosted studio's database; - takes $WALLWRIGHT_DATABASE.
        file: The file to write; it must not be there yet.
    """
    from wallwright.studio.backup import back_up, verify

    written = back_up(_store(store), file)
    verify(file)  # read back from the disk
    rows = sum(one.rows for one in written)
    jobs = next(one.rows for one in written if one.table == "job")
    print(
        f"{file}: {jobs} jobs, {rows} rows in {len(written)} tables, read back and right. It holds accounts: keep it safe."
    )
    return GOOD


def restore(file: Path, store: str, *, replace: bool = False) -> int:
    """Put a backup back: all of it or nothing. Stop the servers first; who was signed in signs in again.

    Args:
        file: The backup.
        store: The folder of job files, or the URL of the database; - takes $WALLWRIGHT_DATABASE.
        replace: In the place of what the database holds now; without it, one that holds anything is left alone.
    """
    from wallwright.studio.backup import restore as bring_back

    rows = sum(one.rows for one in bring_back(file, _store(store), replace=replace))
    print(f"{rows} rows are back as they were in {file}")
    return GOOD


def _store(given: str) -> str:
    return _database("") if given == "-" else given


def _database(given: str) -> str:
    return given or os.environ.get(DATABASE, "") or f"sqlite:///{Path('wallwright.db').resolve()}"


def _password() -> str:
    if sys.stdin.isatty():
        from getpass import getpass

        return getpass("Password (12 characters or more): ")
    return sys.stdin.readline().rstrip("\n")


def _demo_job() -> Path:
    """The living-room demo, written first where it is missing."""
    from wallwright.export.files import write_atomic, writing
    from wallwright.job.demos import demo_jobs

    name, text = next(iter(demo_jobs().items()))
    path = Path("demo") / f"{name}.toml"
    with writing(path):
        if not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            write_atomic(path, text.encode())
    return path
