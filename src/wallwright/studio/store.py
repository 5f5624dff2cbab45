"""The studio's database: SQLite in its write-ahead mode where nothing else is named, PostgreSQL by URL."""

from __future__ import annotations

import hashlib
import secrets
import tempfile
import time
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Column, ColumnElement, Connection, create_engine, event, func, inspect, select, text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError, OperationalError, SQLAlchemyError

from wallwright.job.problem import JobError, fail

NAME = ".wallwright.db"
VERSION = "0002"
"""The newest migration."""
MIGRATIONS = Path(__file__).parent / "migrations"
WAIT_SECONDS = 30
_MIGRATING = 7_120_412  # PostgreSQL's advisory lock while tables are made; any number of ours


class Store:
    """A database that is open. Every method may be called from any thread."""

    def __init__(self, url: str) -> None:
        """Open it and bring its tables up to date. JobError where it cannot be opened."""
        self.url = url
        try:
            self._engine = _engine(url)
            self._up_to_date()
        except JobError:
            raise
        except (SQLAlchemyError, ImportError, OSError, ValueError) as problem:
            says = str(getattr(problem, "orig", None) or problem).splitlines()[0][:160]
            raise fail("database", None, f"cannot be opened: {says}", "serve") from None

    @property
    def postgres(self) -> bool:
        """Whether this is PostgreSQL."""
        return self._engine.dialect.name == "postgresql"

    @contextmanager
    def read(self) -> Generator[Connection]:
        """A view of the database that does not change while it is looked at. JobError where it cannot be had."""
        isolation = {"isolation_level": "REPEATABLE READ"} if self.postgres else {}
        with (
            _in_words("read"), self._engine.connect().execution_options(**isolation) as db, db.begin()
        ):  # fmt: skip
            yield db

    @contextmanager
    def write(self) -> Generator[Connection]:
        """What is written in here is kept whole, on the disk, when it ends well; else none of it. JobError where it cannot be
        written: the disk is full, the folder read-only, the database gone.
        """
        with (
            _in_words("written"), self._engine.connect().execution_options(writes=True) as db, db.begin()
        ):  # fmt: skip
            yield db

    def close(self) -> None:
        """Let go of the connections."""
        self._engine.dispose()

    def _up_to_date(self) -> None:
        with self.read() as db:
            if "alembic_version" in inspect(db).get_table_names():
                has = db.execute(text("select version_num from alembic_version")).scalar()
                if has == VERSION:
                    return
                if str(has) > VERSION:
                    says = f"was written by a newer program (tables {has}; this one knows {VERSION}); use that one"
                    raise fail("database", None, says, "serve")
        from alembic import command
        from alembic.config import Config

        config = Config()
        config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
        with self.write() as db:
            if self.postgres:
                db.execute(text("select pg_advisory_xact_lock(:n)"), {"n": _MIGRATING})
            config.attributes["connection"] = db
            command.upgrade(config, "head")


@contextmanager
def _in_words(what: str) -> Generator[None]:
    """What the database cannot do now is no fault of the program: it is told, and may be tried again."""
    try:
        yield
    except OperationalError as problem:
        says = str(problem.orig or problem).splitlines()[0][:160]
        so = "look whether it was kept" if says in _UNSURE and what == "written" else "nothing was changed"
        raise fail("database", None, f"cannot be {what} now ({says}); {so}", "studio") from problem


_UNSURE = (
    "disk I/O error",
)  # where it comes as the last of a commit is put on the disk, the rest of it may be there at the next start


def local_store(folder: Path) -> Store:
    """The database of a folder of job files, in that folder; where nothing may be written there, one for this while only."""
    path = folder / NAME
    try:
        with path.open("ab"):
            pass
    except OSError:
        path = Path(tempfile.mkdtemp(prefix="wallwright-")) / NAME
    return Store(f"sqlite:///{path.resolve()}")


def _engine(url: str) -> Any:
    try:
        address = make_url(url)
    except (ArgumentError, ValueError):
        raise fail("database", None, _WOULD_DO, "serve") from None
    if address.drivername in ("postgresql", "postgres"):
        address = address.set(drivername="postgresql+psycopg")
    if address.get_backend_name() not in ("sqlite", "postgresql"):
        raise fail("database", address.drivername, _WOULD_DO, "serve")
    pool: dict[str, Any] = {"pool_size": 10, "max_overflow": 40, "pool_timeout": WAIT_SECONDS}
    try:
        if address.get_backend_name() == "postgresql":
            return create_engine(address, pool_pre_ping=True, **pool)
        engine = create_engine(address, connect_args={"timeout": WAIT_SECONDS}, **pool)
    except (ModuleNotFoundError, NoSuchModuleError):
        raise fail(
            "database", None, "PostgreSQL needs the extra: pip install 'wallwright[postgres]'", "serve"
        ) from None
    event.listen(engine, "connect", _opened)
    event.listen(engine, "begin", _begun)
    return engine


_WOULD_DO = "must be an address such as sqlite:////srv/wallwright.db or postgresql://name@host/wallwright (its password in PGPASSWORD)"


def _opened(connection: Any, _record: Any) -> None:
    """SQLite's settings: readers beside one writer, and every commit on the disk before it is acknowledged."""
    connection.isolation_level = None  # we begin transactions ourselves
    cursor = connection.cursor()
    for setting in ("journal_mode = wal", "synchronous = full", "foreign_keys = on"):
        cursor.execute(f"pragma {setting}")
    cursor.close()


def _begun(db: Connection) -> None:
    """A writer takes its turn at the beginning: one that read first could find itself unable to write."""
    db.exec_driver_sql("begin immediate" if db.get_execution_options().get("writes") else "begin")


def sha256(data: str | bytes) -> str:
    """The SHA-256 of a text or of bytes, in hexadecimal."""
    return hashlib.sha256(data.encode("utf-8") if isinstance(data, str) else data).hexdigest()


def new_id() -> str:
    """An identifier that nobody can guess: 128 bits."""
    return secrets.token_hex(16)


def now() -> float:
    """Seconds since 1970, by this machine's clock."""
    return time.time()


def clock(db: Connection) -> float:
    """Seconds since 1970 by the database's clock: one for all processes, on whatever machines they run."""
    if db.dialect.name == "postgresql":
        return float(db.execute(text("select extract(epoch from clock_timestamp())")).scalar_one())
    return now()  # a file of this machine


def after(db: Connection, column: Column[float], where: ColumnElement[bool]) -> float:
    """Now, yet later than all that stands in this column already: a clock that was set back puts nothing out of its order."""
    last = db.execute(select(func.max(column)).where(where)).scalar()
    return now() if last is None else max(now(), float(last) + 0.001)
