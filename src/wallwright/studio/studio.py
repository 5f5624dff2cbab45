"""The studio that is served: its database, its jobs that are open, and who may come in."""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from wallwright.export.files import clear_parts
from wallwright.studio import studies
from wallwright.studio.pace import Pace
from wallwright.studio.pace_shared import SharedPace
from wallwright.studio.session import Session, open_file
from wallwright.studio.store import Store, local_store

if TYPE_CHECKING:
    from wallwright.studio.worker import Worker

MOST_OPEN = 256
"""Jobs kept open at once, at 0.3 to 1 MB each; one more closes the one that was looked at longest ago."""


@dataclass(frozen=True)
class Studio:
    """What all answers are given from.

    folder : of the job files, in local mode; None = hosted, jobs are in the database alone
    first : the id of the job to open at once · address : hosted: as people's browsers know it, https://studio.example
    """

    store: Store
    folder: Path | None = None
    first: str = ""
    address: str = ""
    worker: Worker | None = None
    logins: Pace | SharedPace = field(default_factory=lambda: Pace(8, 1 / 60))
    """Tries to sign in, by name and by address; hosted, for all servers of the database together."""
    knocks: Pace = field(default_factory=lambda: Pace(60, 1))
    """Calls with a link, by address."""
    edits: Pace = field(default_factory=lambda: Pace(120, 15))
    tries: Pace = field(default_factory=lambda: Pace(240, 80))
    """Calls that keep nothing, as while one drags."""
    _open: OrderedDict[str, Session] = field(default_factory=lambda: OrderedDict())
    _lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def hosted(self) -> bool:
        """Whether people sign in, and links are given out."""
        return self.folder is None

    def session(self, job: str) -> Session:
        """A job, opened where it is not open yet. LookupError where there is none; JobError where it cannot be opened."""
        with self._lock:
            found = self._open.get(job)
            if found is not None:
                self._open.move_to_end(job)
                return found
        return self.keep_open(Session(self.store, job, self._file(job)))

    def keep_open(self, opened: Session) -> Session:
        """Keep a session open; where its job is open already, that one is given."""
        with self._lock:
            session = self._open.setdefault(opened.job, opened)
            if len(self._open) > MOST_OPEN:
                self._open.popitem(last=False)
            return session

    def something_waits(self) -> bool:
        """Whether studies of an earlier run are not at their end."""
        with self.store.read() as db:
            return studies.any_waits(db)

    def _file(self, job: str) -> Path | None:
        from wallwright.studio.jobs import file_of

        if self.folder is None:
            return None
        name = file_of(self.store, job)
        return self.folder / name if name else None


def of_file(path: Path, worker: bool = True) -> Studio:
    """The studio of one job file and its folder. JobError where the job cannot be opened."""
    session = open_file(path)
    studio = Studio(session.store, path.parent, session.job, worker=_worker(session.store, worker))
    studio.keep_open(session)
    return studio


def of_folder(folder: Path, worker: bool = True) -> Studio:
    """The studio of a folder of job files."""
    clear_parts(folder)
    store = local_store(folder)
    return Studio(store, folder, worker=_worker(store, worker))


def hosted(url: str, address: str, worker: bool = True) -> Studio:
    """A studio that people sign in to. url : of its database · address : as their browsers know it."""
    store = Store(url)
    logins = SharedPace(store, 8, 1 / 60)
    return Studio(store, None, address=address.rstrip("/"), worker=_worker(store, worker), logins=logins)


def _worker(store: Store, wanted: bool) -> Worker | None:
    from wallwright.studio.worker import Worker

    return Worker(store.url) if wanted else None
