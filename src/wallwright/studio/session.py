"""One open job: its file, the steps taken since it was opened, and where among them it stands.

The job file itself is the truth. A step counts as made only when the file is on the disk; its history, kept beside it as
lines of JSON, is what undo and redo live on, so both outlast a restart.
"""

from __future__ import annotations

import json
import os
import re
import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.export.files import read_bytes, write_atomic
from wallwright.job.document import Job
from wallwright.job.edits import apply, log_line
from wallwright.job.problem import JobError, Problem, fail
from wallwright.job.read import read_job
from wallwright.job.write import merge_into
from wallwright.rules.check import check
from wallwright.studio.answers import FileTrouble, Moved
from wallwright.studio.lines import line_of
from wallwright.studio.moved import moved
from wallwright.studio.questions import AskError, question

KEPT_STEPS = 200
LARGEST_HISTORY = 4_000_000
"""Bytes of history above which only the last `KEPT_STEPS` are kept when the job is opened."""

IN_THE_FILE = "change made in the file"

Calls = Iterable[tuple[str, Mapping[str, Any]]]


class StaleError(Exception):
    """The job has changed since the caller last saw it."""


@dataclass(frozen=True, slots=True)
class Step:
    """The job after one step: its file's text, and what the step did in words ("" = as opened)."""

    says: str
    text: str
    job: Job


@dataclass(frozen=True, slots=True)
class View:
    """What the page is told about: the wall of a job, its findings, and where the session stands."""

    wall: Wall
    findings: tuple[Finding, ...]
    path: Path
    position: int
    undo: str
    redo: str
    can_undo: bool
    can_redo: bool
    text: str = ""
    """The job file's text that the wall is of."""
    moved: tuple[Moved, ...] = ()
    """What the last step moved besides what was asked for."""
    trouble: FileTrouble | None = None
    """Why the file on the disk cannot be read now; the wall is then the last good one."""

    @property
    def from_file(self) -> bool:
        """Whether the last step was a change that another program made in the file."""
        return self.undo == IN_THE_FILE


class Session:
    """A job that is being worked on. Every method may be called from any thread."""

    def __init__(self, path: str | Path) -> None:
        """Open a job file. JobError where it cannot be read or its wall not derived."""
        self.path = Path(path)
        self.history = self.path.with_name(f"{self.path.name}.history")
        self._lock = threading.RLock()
        self._steps: list[Step] = []
        self._at = 0
        self._position = 0
        self._broken = ""
        text = self._read()
        job = read_job(text, str(self.path))
        self._view = View(*_derived(job), self.path, 0, "", "", can_undo=False, can_redo=False)
        self._replay()
        if not self._steps:
            self._steps = [Step("", text, job)]
            self._log({"do": "start", "position": 0, "text": text})
        elif self._steps[self._at].text != text:
            self._take_in(Step(IN_THE_FILE, text, job))
        self._stand(self._view)

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
        with self._lock:
            self._sync()
            return self._steps[self._at].text

    def tried(self, calls: Calls) -> View:
        """The wall after these edits, derived and not kept. JobError where one cannot be made."""
        with self._lock:
            job = self._steps[self._at].job
            return self._seen(_after(job, calls)[0])

    # --- done ------------------------------------------------------------------------------------------------------

    def edit(self, calls: Calls, position: int, *, sure: bool = True) -> View:
        """Make these edits as one step; the file is written before this returns. StaleError, JobError.

        sure : False asks first (AskError) where the change looks like a slip
        """
        with self._lock:
            self._check(position)
            now = self._steps[self._at]
            job, says = _after(now.job, calls)
            if job == now.job:
                return self._view
            if not sure and (ask := question(self._view.wall, job)):
                raise AskError(ask)
            view = self._seen(job)
            step = Step(says, merge_into(now.text, job), job)
            self._save(step.text)
            self._take_in(step)
            self._stand(view)
            return self._view

    def undo(self, position: int) -> View:
        """Back to the job before the last step. StaleError; JobError where there is none."""
        return self._go(position, -1, "undo")

    def redo(self, position: int) -> View:
        """Forward again by one step. StaleError; JobError where there is none."""
        return self._go(position, +1, "redo")

    def _go(self, position: int, by: int, name: str) -> View:
        with self._lock:
            self._check(position)
            to = self._at + by
            if not 0 <= to < len(self._steps):
                raise fail(name, None, f"there is no step to {name}", name)
            step = self._steps[to]
            view = self._seen(step.job)
            self._save(step.text)
            self._at = to
            self._log({"do": name})
            self._stand(view)
            return self._view

    # --- kept ------------------------------------------------------------------------------------------------------

    def _check(self, position: int) -> None:
        self._sync()
        if trouble := self._view.trouble:
            where = f"line {trouble.line}" if trouble.line else "the file"
            raise fail(
                "file",
                None,
                f"nothing is changed while the job file cannot be read ({where}: {trouble.says})",
                "job",
            )
        if position != self._position:
            raise StaleError

    def _sync(self) -> None:
        """Take in what another program wrote into the file; where that is no job, keep the last good wall and say so."""
        text = ""
        try:
            text = self._read()
            if text == self._steps[self._at].text:
                if self._view.trouble:
                    self._view = replace(self._view, trouble=None)
                return
            if self._view.trouble and text == self._broken:
                return
            job = read_job(text, str(self.path))
            view = self._seen(job)
        except JobError as error:
            self._broken = text
            self._view = replace(self._view, trouble=_trouble(error, text, self.path))
            return
        self._take_in(Step(IN_THE_FILE, text, job))
        self._stand(view)

    def _take_in(self, step: Step) -> None:
        """A new step behind the present one; steps that were undone are gone."""
        self._steps[self._at + 1 :] = [step]
        self._at += 1
        self._log({"do": "edit", "says": step.says, "text": step.text})

    def _seen(self, job: Job) -> View:
        """The view with another job's wall, and what moved from the present one to it."""
        wall, findings = _derived(job)
        return replace(
            self._view, wall=wall, findings=findings, moved=moved(self._view.wall, wall), trouble=None
        )

    def _stand(self, view: View) -> None:
        """Say where the session stands now."""
        can_undo, can_redo = self._at > 0, self._at + 1 < len(self._steps)
        undo = self._steps[self._at].says if can_undo else ""
        redo = self._steps[self._at + 1].says if can_redo else ""
        self._view = replace(
            view, position=self._position, undo=undo, redo=redo, can_undo=can_undo, can_redo=can_redo,
            text=self._steps[self._at].text,
        )  # fmt: skip

    def _read(self) -> str:
        try:
            return read_bytes(self.path).decode("utf-8")
        except UnicodeDecodeError:
            raise fail("file", None, "is not UTF-8 text; save it again as UTF-8", str(self.path)) from None

    def _save(self, text: str) -> None:
        try:
            write_atomic(self.path, text.encode("utf-8"))
        except OSError as problem:
            raise fail(
                "file", str(self.path), f"cannot be saved: {problem.strerror or problem}", "job"
            ) from None

    def _log(self, line: Mapping[str, Any]) -> None:
        """Append a line of history and put it on the disk. A folder that takes no history still takes the work."""
        self._position += 1
        try:
            with self.history.open("ab") as file:
                file.write(json.dumps(line, ensure_ascii=False).encode("utf-8") + b"\n")
                file.flush()
                os.fsync(file.fileno())
        except OSError:
            return  # the job file is saved; only undo after a restart is lost

    def _replay(self) -> None:
        """The steps that the history file tells of; a torn or foreign line ends it."""
        try:
            data = self.history.read_bytes()
        except OSError:
            return
        whole = 0
        for raw in data.split(b"\n")[:-1]:
            try:
                self._replay_line(json.loads(raw))
            except (ValueError, KeyError, TypeError, IndexError):
                break
            whole += len(raw) + 1
        if whole < len(data) or whole > LARGEST_HISTORY:
            self._rewrite()

    def _replay_line(self, line: Mapping[str, Any]) -> None:
        match line["do"]:
            case "start":
                self._steps, self._at = [Step("", line["text"], read_job(line["text"]))], 0
                self._position = int(line["position"])
            case "edit":
                self._steps[self._at + 1 :] = [Step(str(line["says"]), line["text"], read_job(line["text"]))]
                self._at = len(self._steps) - 1
            case "undo" | "redo" as which:
                to = self._at + (1 if which == "redo" else -1)
                if not 0 <= to < len(self._steps):
                    raise ValueError("no such step")
                self._at = to
            case _:
                raise ValueError("no such line")
        self._position += 1

    def _rewrite(self) -> None:
        """The history written anew: whole, and no longer than is kept."""
        first = max(0, self._at - KEPT_STEPS)
        self._steps = self._steps[first:]
        self._at -= first
        if not self._steps:
            self.history.unlink(missing_ok=True)
            return
        undone = len(self._steps) - 1 - self._at
        start = self._position + 1 - len(self._steps) - undone
        lines: list[Mapping[str, Any]] = [{"do": "start", "position": start, "text": self._steps[0].text}]
        lines += [{"do": "edit", "says": step.says, "text": step.text} for step in self._steps[1:]]
        lines += [{"do": "undo"}] * undone
        self._position += 1
        text = "".join(json.dumps(line, ensure_ascii=False) + "\n" for line in lines)
        write_atomic(self.history, text.encode("utf-8"))


def _after(job: Job, calls: Calls) -> tuple[Job, str]:
    """The job after these edits in turn, and what they did in words."""
    says: list[str] = []
    for name, values in calls:
        job = apply(job, name, values)
        says.append(log_line(name, values))
    return job, "; ".join(says)


def _derived(job: Job) -> tuple[Wall, tuple[Finding, ...]]:
    """The wall of a job and its findings. JobError where no wall can be made of it."""
    try:
        wall = derive(job)
        return wall, check(wall)
    except JobError:
        raise
    except (ValueError, ArithmeticError, LookupError) as problem:
        raise JobError((Problem("job", "", f"no wall can be made of this: {problem}"),)) from problem


def _trouble(error: JobError, text: str, path: Path) -> FileTrouble:
    """The first thing wrong with the file, and where in it."""
    first = error.problems[0]
    at = re.match(r"line (\d+)(?:, column (\d+))?$", first.field)
    end = first.field == "end of file"
    lines = text.splitlines()
    line = int(at[1]) if at else len(lines) if end else line_of(text, first.field)
    column = int(at[2]) if at and at[2] else 0
    says = f"{first.value} {first.says}" if first.value and first.value not in first.says else first.says
    written = lines[line - 1].strip()[:120] if 0 < line <= len(lines) else ""
    field = "" if at or end or first.field == "file" else first.field
    return FileTrouble(file=str(path), line=line, column=column, field=field, says=says, text=written)
