"""What is told of a job: its wall, its findings, where it stands in its history; and the same for a job that is only tried."""

from __future__ import annotations

import re
from collections.abc import Callable, Generator, Iterable, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive, drawn
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import JobError, Problem
from wallwright.rules.check import check
from wallwright.studio.answers_wall import FileTrouble, Moved
from wallwright.studio.lines import line_of
from wallwright.studio.moved import moved
from wallwright.studio.wording import step_says

IN_THE_FILE = "change made in the file"

Calls = Iterable[tuple[str, Mapping[str, Any]]]
Wanted = Calls | Callable[[Wall], Calls]
"""Edits by name, or how they follow from the wall that they are made on."""


@dataclass(frozen=True, slots=True)
class View:
    """What the page is told about: the wall of a job, its findings, and where the session stands."""

    wall: Wall
    findings: tuple[Finding, ...]
    path: str
    position: int
    moment: int
    undo: str
    redo: str
    can_undo: bool
    can_redo: bool
    text: str = ""
    """The job file's text that the wall is of."""
    sha: str = ""
    """Its SHA-256."""
    moved: tuple[Moved, ...] = ()
    """What the last step moved besides what was asked for."""
    meanwhile: tuple[str, ...] = ()
    """What others did between the position that an edit was made on and the edit."""
    trouble: FileTrouble | None = None
    """Why the file on the disk cannot be read now; the wall is then the last good one."""

    @property
    def from_file(self) -> bool:
        """Whether the last step was a change that another program made in the file."""
        return self.undo == IN_THE_FILE


def calls_of(wanted: Wanted, wall: Wall) -> Calls:
    """The edits, of the wall that they are made on."""
    return list(wanted(wall) if callable(wanted) else wanted)


def after(job: Job, calls: Calls) -> tuple[Job, str]:
    """The job after these edits in turn, and what they did in words."""
    says: list[str] = []
    for name, values in calls:
        job = apply(job, name, values)
        says.append(step_says(name, values))
    return job, "; ".join(says)


def seen(now: View, job: Job) -> View:
    """The view with another job's wall, and what moved from the present one to it. JobError."""
    wall, findings = derived(job)
    return replace(now, wall=wall, findings=findings, moved=moved(now.wall, wall), meanwhile=(), trouble=None)


def looked(now: View, job: Job) -> View:
    """The view with the wall of another job as far as it is drawn; its findings are still those of the present one. JobError."""
    with _or_told():
        wall = drawn(job, now.wall)
    return replace(now, wall=wall, moved=moved(now.wall, wall), meanwhile=(), trouble=None)


def derived(job: Job) -> tuple[Wall, tuple[Finding, ...]]:
    """The wall of a job and its findings. JobError where no wall can be made of it."""
    wall = walled(job)
    with _or_told():
        return wall, check(wall, cures=False)


def walled(job: Job) -> Wall:
    """The wall of a job. JobError where none can be made of it."""
    with _or_told():
        return derive(job)


@contextmanager
def _or_told() -> Generator[None]:
    """What cannot be built is told as a trouble of the job."""
    try:
        yield
    except JobError:
        raise
    except (ValueError, ArithmeticError, LookupError) as problem:
        raise JobError((Problem("job", "", f"no wall can be made of this: {problem}"),)) from problem


def trouble_of(error: JobError, text: str, path: str) -> FileTrouble:
    """The first thing wrong with a file, and where in it. text : the file's"""
    first = error.problems[0]
    at = re.match(r"line (\d+)(?:, column (\d+))?$", first.field)
    end = first.field == "end of file"
    lines = text.splitlines()
    line = int(at[1]) if at else len(lines) if end else line_of(text, first.field)
    column = int(at[2]) if at and at[2] else 0
    says = f"{first.value} {first.says}" if first.value and first.value not in first.says else first.says
    written = lines[line - 1].strip()[:120] if 0 < line <= len(lines) else ""
    field = "" if at or end or first.field == "file" else first.field
    return FileTrouble(file=path, line=line, column=column, field=field, says=says, text=written)
