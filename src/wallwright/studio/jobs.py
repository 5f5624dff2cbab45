"""The list of jobs: found, made, brought in, duplicated, archived; and the card that each shows."""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import select, update

import wallwright
from wallwright.derive import Wall, derive
from wallwright.export.files import read_bytes, write_atomic, writing
from wallwright.export.svg import drawing_svg
from wallwright.job.edits import apply
from wallwright.job.migrate import KEY
from wallwright.job.problem import JobError, Problem, fail
from wallwright.job.read import read_job
from wallwright.job.starter import starter
from wallwright.job.write import merge_into
from wallwright.rules.check import MUST, check, gate
from wallwright.studio import history, studies
from wallwright.studio.elevation import elevation
from wallwright.studio.schema import JOB, MOMENT, TEXT
from wallwright.studio.session import enter_file
from wallwright.studio.store import Store, now, sha256

if TYPE_CHECKING:
    from wallwright.studio.studio import Studio

THUMBNAIL_SCALE = 60.0
MOST_FILES = 500
"""Job files of one folder that are listed."""


@dataclass(frozen=True, slots=True)
class Card:
    """What the list shows of one text of a job, and its picture. next : the one thing to do now."""

    title: str
    number: str
    client: str
    room: str
    revision: str
    status: str
    gate: str
    next: str
    must: int
    consider: int
    trouble: str
    svg: str


@dataclass(frozen=True, slots=True)
class Listed:
    """A job of the list."""

    id: str
    file: str
    position: int
    archived: bool
    changed: float
    sha: str
    card: Card


def listed(studio: Studio, *, archived: bool) -> list[Listed]:
    """All jobs, the last changed first; those that are archived, or those that are not."""
    if studio.folder is not None:
        _enter_files(studio.store, studio.folder)
    with studio.store.read() as db:
        rows = db.execute(
            select(JOB, MOMENT.c.sha, TEXT.c.text)
            .join(MOMENT, (MOMENT.c.job == JOB.c.id) & (MOMENT.c.number == JOB.c.head))
            .join(TEXT)
            .where(JOB.c.archived == archived)
            .order_by(JOB.c.changed.desc())
        ).all()
    out: list[Listed] = []
    for row in rows:
        text, changed = row.text, row.changed
        if studio.folder is not None:
            try:
                path = studio.folder / row.file
                text, changed = read_bytes(path).decode("utf-8", "replace"), path.stat().st_mtime
            except (JobError, OSError):
                continue  # a file that is gone is no job of the folder now
        card = card_of(studio.store, text)
        out.append(Listed(row.id, row.file or "", row.position, row.archived, changed, sha256(text), card))
    return sorted(out, key=lambda one: -one.changed)


def any_put_away(studio: Studio) -> bool:
    """Whether a job that is still there was put away."""
    with studio.store.read() as db:
        files = db.execute(select(JOB.c.file).where(JOB.c.archived)).scalars().all()
    return any(studio.folder is None or (studio.folder / (file or "")).is_file() for file in files)


def card_of(store: Store, text: str) -> Card:
    """The card of a text, kept by the text's value."""
    key = sha256(json.dumps(["card", wallwright.__version__, sha256(text)]))
    if kept := studies.kept(store, key):
        return Card(**kept)
    card = _card(text)
    studies.keep(store, key, asdict(card), {})
    return card


def _card(text: str) -> Card:
    try:
        wall = derive(read_job(text))
        findings = check(wall)
    except (ValueError, ArithmeticError, LookupError) as problem:
        says = str(problem.problems[0] if isinstance(problem, JobError) else problem)[:200]
        return Card("?", "", "", "", "", "", "", "Put the job file right", 0, 0, says, "")
    job = wall.job
    must = [item for item in findings if item.severity in MUST]
    consider = [item for item in findings if item.severity == "consider"]
    reached = gate(wall, findings)
    first = next(iter((*must, *consider)), None)
    action = (first.cure or first.says) if first else reached.partition(": ")[2]
    return Card(
        job.title, job.number, job.client, job.survey.room.name, job.revision, job.status, reached, action, len(must),
        len(consider), "", thumbnail(wall),
    )  # fmt: skip


def thumbnail(wall: Wall) -> str:
    """The elevation, small: what stands on the wall, without the layers that only a large drawing can show."""
    drawing = elevation(wall, THUMBNAIL_SCALE)
    seen = tuple(
        mark for mark in drawing.marks if mark.layer not in ("allowed", "plate", "levels", "services")
    )
    return drawing_svg(replace(drawing, marks=seen), 1.0)


# --- made ------------------------------------------------------------------------------------------------------------


def new_wall(studio: Studio, room: str, title: str, who: str) -> str:
    """A wall of a room of this kind, furnished and wrong in useful ways; gives its id."""
    text = starter(room)
    if title:
        text = merge_into(text, apply(read_job(text), "set_title", {"title": title}))
    return _entered(studio, text, who)


def brought_in(studio: Studio, data: bytes, who: str) -> str:
    """A job from the bytes of a job file; gives its id. JobError with all that is wrong in it."""
    job = read_job(data, "job file")
    try:
        derive(job)
    except (ValueError, ArithmeticError, LookupError) as problem:
        raise JobError((Problem("job", "", f"no wall can be made of this: {str(problem)[:200]}"),)) from None
    return _entered(studio, data.decode("utf-8-sig"), who)


def duplicate(studio: Studio, job: str, who: str) -> str:
    """A copy of a job as it stands, with a title of its own; gives its id."""
    view = studio.session(job).view()
    title = f"{view.wall.job.title[:70]} (copy)"
    changed = apply(view.wall.job, "set_title", {"title": title})
    return _entered(studio, merge_into(view.text, changed), who)


def archive(studio: Studio, job: str, *, archived: bool) -> None:
    """Put a job away, or bring it back. Nothing of it is lost; its file, where it has one, stays where it is."""
    with studio.store.write() as db:
        done = db.execute(update(JOB).where(JOB.c.id == job).values(archived=archived, changed=now()))
        if done.rowcount != 1:
            raise LookupError(job)


def file_of(store: Store, job: str) -> str | None:
    """The path of a job's file below the folder. LookupError where there is no such job."""
    with store.read() as db:
        found = db.execute(select(JOB.c.file).where(JOB.c.id == job)).first()
    if found is None:
        raise LookupError(job)
    return found.file


def _entered(studio: Studio, text: str, who: str) -> str:
    if studio.folder is None:
        with studio.store.write() as db:
            return history.begin(db, text, who)
    path = _free_name(studio.folder, read_job(text).title)
    with writing(path):
        write_atomic(path, text.encode("utf-8"))
    return enter_file(studio.store, path.name, text)


def _free_name(folder: Path, title: str) -> Path:
    """A file name made of a title: plain letters, digits and hyphens, and a number where it is taken."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60] or "wall"
    if re.fullmatch(r"con|prn|aux|nul|(com|lpt)\d", stem):
        stem = f"{stem}-wall"  # names that some systems keep for themselves
    for number in range(1, 10_000):
        path = folder / (f"{stem}.toml" if number == 1 else f"{stem}-{number}.toml")
        if not path.exists():
            return path
    raise fail("title", title, "has been used too often in this folder; choose another", "job")


# --- found -----------------------------------------------------------------------------------------------------------


def _enter_files(store: Store, folder: Path) -> None:
    """Enter the job files of a folder, and of the folders in it, that are not known yet."""
    with store.read() as db:
        known = {name for (name,) in db.execute(select(JOB.c.file))}
    for path in job_files(folder):
        name = path.relative_to(folder).as_posix()
        if name in known:
            continue
        try:
            enter_file(store, name, read_bytes(path).decode("utf-8", "replace"))
        except JobError:
            continue


def job_files(folder: Path) -> list[Path]:
    """The job files of a folder and of the folders in it; a link out of the folder is none of them."""
    inside = folder.resolve()
    out: list[Path] = []
    for pattern in ("*.toml", "*/*.toml"):
        for path in sorted(folder.glob(pattern)):
            if len(out) >= MOST_FILES:
                return out
            hidden = any(
                part.startswith(".") or part.endswith("-issue") for part in path.relative_to(folder).parts
            )
            if not hidden and path.resolve().is_relative_to(inside) and _is_job(path):
                out.append(path)
    return out


def _is_job(path: Path) -> bool:
    try:
        return any(
            line.startswith(f"{KEY} ") or line.startswith(f"{KEY}=")
            for line in read_bytes(path).decode().splitlines()
        )
    except (ValueError, OSError):  # JobError among them: not a job, or not one that can be read
        return False
