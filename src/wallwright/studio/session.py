"""One open job: where it stands, and every step that changes it.

The database holds its moments. In local mode the job file is the truth: a step counts as made only when the file is on
the disk, and what another program writes into the file becomes a step of its own.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Generator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Literal

from sqlalchemy import Connection

from wallwright.derive import Wall, derive
from wallwright.export.files import Replaced, clear_parts, read_bytes, replace_file
from wallwright.job.document import Job
from wallwright.job.problem import JobError, fail
from wallwright.job.read import read_job
from wallwright.job.write import merge_into
from wallwright.studio import history
from wallwright.studio.history import MovedError
from wallwright.studio.merge import clash, said, touched
from wallwright.studio.questions import AskError, question
from wallwright.studio.seen import (
    IN_THE_FILE,
    View,
    Wanted,
    after,
    calls_of,
    derived,
    looked,
    seen,
    trouble_of,
    walled,
)
from wallwright.studio.store import Store, local_store

YOU = "you"

Also = Callable[[Connection], None]


class StaleError(Exception):
    """The job has changed since the caller last saw it, and the change cannot be laid over that. field : where both meet."""

    def __init__(self, field: str = "", says: str = "") -> None:
        self.field, self.says = field, says
        super().__init__(says)


def open_file(path: str | Path) -> Session:
    """A job file opened by itself, its history kept in the database of its folder. JobError where it cannot be read."""
    path = Path(path)
    text = _read(path)
    read_job(text, str(path))
    clear_parts(path.parent)
    store = local_store(path.parent)
    return Session(store, enter_file(store, path.name, text), path)


def enter_file(store: Store, name: str, text: str) -> str:
    """The id of the job of a file, entered where it is new. name : its path below the folder."""
    with store.write() as db:
        found = history.job_of_file(db, name)
        return found or history.begin(db, text, YOU, name)


class Session:
    """A job that is being worked on. Every method may be called from any thread."""

    def __init__(self, store: Store, job: str, file: Path | None = None) -> None:
        """Open a job. JobError where it cannot be read or its wall not derived; LookupError where there is none."""
        self.store, self.job, self.file = store, job, file
        self._lock = threading.RLock()
        self._broken = ""
        text = _read(file) if file else None
        with store.read() as db:
            self._at = history.standing(db, job)
        self._view = self._first(text)
        self._stand(self._view)
        self._sync()

    # --- asked -----------------------------------------------------------------------------------------------------

    def view(self) -> View:
        """The wall as it stands. A change made to the file by another program is taken in first.

        While the file cannot be read: the last good wall, with the trouble told.
        """
        with self._lock:
            self._sync()
            return self._view

    def text(self) -> str:
        """The job file's text as it stands."""
        return self.view().text

    def tried(self, wanted: Wanted, position: int) -> View:
        """The wall after these edits, derived and not kept. JobError where one cannot be made; StaleError."""
        return seen(*self._with(wanted, position))

    def looked(self, wanted: Wanted, position: int) -> tuple[View, View]:
        """How it stands; and after these edits, as far as it is drawn: for every step of a drag. JobError, StaleError."""
        now, job = self._with(wanted, position)
        return now, looked(now, job)

    def priced(self, wanted: Wanted, position: int) -> tuple[Wall, Wall]:
        """The wall as it stands and after these edits, of which no rule is asked. JobError, StaleError."""
        now, job = self._with(wanted, position)
        return now.wall, walled(job)

    def _with(self, wanted: Wanted, position: int) -> tuple[View, Job]:
        """The wall as it stands, and the job after these edits of it."""
        with self._lock:
            self._sync()
            if position != self._at.position:
                raise StaleError
            now = self._view
        job, _ = after(now.wall.job, calls_of(wanted, now.wall))
        return now, job

    # --- done ------------------------------------------------------------------------------------------------------

    def edit(
        self, wanted: Wanted, position: int, *, sure: bool = True, who: str = YOU, also: Also | None = None
    ) -> View:
        """Make these edits as one step; it is on the disk before this returns. StaleError, JobError.

        An edit made on an older position is laid over the job as it stands now where the two touch different fields.

        sure : False asks first (AskError) where the change looks like a slip
        also : what is written into the database along with the step, both or neither
        """
        with self._lock:
            while True:
                self._check()
                now = self._view
                meanwhile = self._lay_over(wanted, position) if position != now.position else ()
                job, says = after(now.wall.job, calls_of(wanted, now.wall))
                if job == now.wall.job:
                    return replace(now, meanwhile=meanwhile)
                if not sure and (ask := question(now.wall, job)):
                    raise AskError(ask)
                view = seen(now, job)
                try:
                    self._keep("edit", merge_into(now.text, job, now.wall.job), says, who, also=also)
                except MovedError:
                    continue
                self._stand(view)
                return replace(self._view, meanwhile=meanwhile)

    def become(self, make: Callable[[View], tuple[Job, str]], position: int, who: str = YOU) -> View:
        """Make another job of it as one step. make : gives that job, and what was done in words. StaleError, JobError."""
        with self._lock:
            self._check_same(position)
            now = self._view
            job, says = make(now)
            view = seen(now, job)
            self._kept_or_stale(
                lambda: self._keep("edit", merge_into(now.text, job, now.wall.job), says, who)
            )
            self._stand(view)
            return self._view

    def put_back(self, moment: int, position: int, who: str = YOU) -> View:
        """Back to any moment of the history, as a step of its own. StaleError, JobError."""
        with self._lock:
            self._check_same(position)
            with self.store.read() as db:
                text = history.text_of(db, self.job, moment)
                name = history.words_of(db, self.job, moment)
            view = seen(self._view, read_job(text))
            self._kept_or_stale(lambda: self._keep("return", text, f"back to: {name}", who))
            self._stand(view)
            return self._view

    def undo(self, position: int, who: str = YOU) -> View:
        """Back to the job before the last step. StaleError; JobError where there is none."""
        return self._go(position, "undo", who)

    def redo(self, position: int, who: str = YOU) -> View:
        """Forward again by one step. StaleError; JobError where there is none."""
        return self._go(position, "redo", who)

    def _go(self, position: int, what: Literal["undo", "redo"], who: str) -> View:
        with self._lock:
            self._check_same(position)
            to = self._at.back if what == "undo" else self._at.forward
            if to is None:
                raise fail(what, None, f"there is no step to {what}", what)
            with self.store.read() as db:
                text = history.text_of(db, self.job, to)
            view = seen(self._view, read_job(text))

            def go() -> None:
                with self._saving(text) as db:
                    history.go(db, self.job, self._at, what, who)
                    at = history.standing(db, self.job)
                self._at = at

            self._kept_or_stale(go)
            self._stand(view)
            return self._view

    def _lay_over(self, wanted: Wanted, position: int) -> tuple[str, ...]:
        """What was done since that position, where an edit made on it can be kept beside it. StaleError where it cannot."""
        with self.store.read() as db:
            text = history.text_at(db, self.job, position)
            meanwhile = tuple(history.since(db, self.job, position))
        if text is None:
            raise StaleError
        before, now = read_job(text), self._view.wall
        try:
            wall = derive(before) if callable(wanted) else now
            mine = touched(before, after(before, calls_of(wanted, wall))[0])
            again = touched(now.job, after(now.job, calls_of(wanted, now))[0])
        except JobError as error:
            first = error.problems[0]
            raise StaleError(first.field, f"{first.says} (the job has changed since)") from None
        if at := clash(mine, touched(before, now.job)):
            raise StaleError(".".join(at), f"{said(at)} was changed by someone else at the same time")
        if not again.keys() <= mine.keys():  # it would do something else than what its maker saw
            return_to = next(path for path in again if path not in mine)
            raise StaleError(".".join(return_to), f"{said(return_to)} has changed since")
        return meanwhile

    # --- kept ------------------------------------------------------------------------------------------------------

    def _check(self) -> None:
        """Nothing is changed while the file cannot be read."""
        self._sync()
        if trouble := self._view.trouble:
            where = f"line {trouble.line}" if trouble.line else "the file"
            says = f"nothing is changed while the job file cannot be read ({where}: {trouble.says})"
            raise fail("file", None, says, "job")

    def _check_same(self, position: int) -> None:
        self._check()
        if position != self._at.position:
            raise StaleError

    def _kept_or_stale(self, keep: Callable[[], None]) -> None:
        try:
            keep()
        except MovedError:
            self._sync()
            raise StaleError from None

    def _sync(self) -> None:
        """Take in what others did: first in the database, then another program in the file."""
        with self.store.read() as db:
            if history.position_of(db, self.job) != self._at.position:
                self._at = history.standing(db, self.job)
        if self._at.position != self._view.position:
            self._stand(seen(self._view, read_job(self._at.text)))
        if self.file is not None:
            self._sync_file(self.file)

    def _sync_file(self, file: Path) -> None:
        """Where the file holds no job, the last good wall is kept and the trouble told."""
        text = ""
        try:
            text = _read(file)
            if text == self._at.text:
                if self._view.trouble:
                    self._view = replace(self._view, trouble=None)
                return
            if self._view.trouble and text == self._broken:
                return
            view = seen(self._view, read_job(text, str(file)))
        except JobError as error:
            self._broken = text
            self._view = replace(self._view, trouble=trouble_of(error, text, str(file)))
            return
        try:
            self._keep("file", text, IN_THE_FILE, YOU, written=True)
        except MovedError:  # another server of this folder took it in already
            with self.store.read() as db:
                self._at = history.standing(db, self.job)
        self._stand(view if self._at.text == text else seen(self._view, read_job(self._at.text)))

    def _keep(  # noqa: PLR0913
        self,
        what: Literal["edit", "file", "return"],
        text: str,
        says: str,
        who: str,
        *,
        written: bool = False,
        also: Also | None = None,
    ) -> None:
        """A step into the database and the file: both or neither. MovedError where someone else was first."""
        with self.store.write() if written else self._saving(text) as db:
            history.step(db, self.job, self._at, what, text, says, who)
            at = history.standing(db, self.job)
            if also is not None:
                also(db)
        self._at = at

    @contextmanager
    def _saving(self, text: str) -> Generator[Connection]:
        """A step into the database, and then the file. Where the database cannot keep it (its disk is full), the file goes back."""
        file: Replaced | None = None
        try:
            with self.store.write() as db:
                yield db
                file = self._save(text)
        except BaseException as problem:
            if file is not None:
                self._put_back(file, problem)
            raise
        if file is not None:
            file.done()

    def _save(self, text: str) -> Replaced | None:
        if self.file is None:
            return None
        try:
            return replace_file(self.file, text.encode("utf-8"))
        except OSError as problem:
            says = f"cannot be saved: {problem.strerror or problem}"
            raise fail("file", str(self.file), says, "job") from None

    def _put_back(self, file: Replaced, problem: BaseException) -> None:
        """The file as it was. Where even that is refused, that it holds the change is told: it counts as changed by another program."""
        try:
            file.back()
        except OSError:
            says = "was saved with the change, yet the history cannot keep it, nor can the file be put back: look at the disk"
            raise fail("file", str(file.path), says, "job") from problem

    def _first(self, text: str | None) -> View:
        """The first view: of the file as it is, or where that holds no job, of the job as it last stood."""
        name = str(self.file or "")
        job = read_job(self._at.text if text is None else text, name or "job")
        return View(*derived(job), name, -1, 0, "", "", can_undo=False, can_redo=False)

    def _stand(self, view: View) -> None:
        """Say where the session stands now."""
        at = self._at
        self._view = replace(
            view, position=at.position, moment=at.moment, undo=at.says if at.back is not None else "", redo=at.redo,
            can_undo=at.back is not None, can_redo=at.forward is not None, text=at.text, sha=at.sha,
        )  # fmt: skip


def _read(path: Path) -> str:
    try:
        return read_bytes(path).decode("utf-8")
    except UnicodeDecodeError:
        raise fail("file", None, "is not UTF-8 text; save it again as UTF-8", str(path)) from None
