"""The moments of a job and the moves between them, as the database keeps them. No moment is ever taken away.

Undo and redo follow the pointers `back` and `forward` of the moment at which the job stands; what was undone and then left
for another edit can still be found, compared and returned to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sqlalchemy import Connection, func, select, update
from sqlalchemy.dialects import postgresql, sqlite

from wallwright.job.problem import fail
from wallwright.studio.schema import JOB, MOMENT, MOVE, TEXT
from wallwright.studio.store import new_id, now, sha256

What = Literal["start", "edit", "file", "undo", "redo", "return"]
LARGEST_PAGE = 200


class MovedError(Exception):
    """The job has moved on since it was looked at."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a job stands: its position, its moment, that moment's text, and where undo and redo lead."""

    position: int
    moment: int
    sha: str
    text: str
    says: str
    back: int | None
    forward: int | None
    redo: str
    """What redo would make again."""


@dataclass(frozen=True, slots=True)
class Moment:
    """A state that the job was brought to. here : the job stands at it now."""

    number: int
    back: int | None
    says: str
    name: str
    who: str
    at: float
    sha: str
    here: bool


def begin(db: Connection, text: str, who: str, file: str | None = None) -> str:
    """A new job with its first moment; gives its id."""
    job, at, sha = new_id(), now(), keep_text(db, text)
    db.execute(
        JOB.insert().values(id=job, file=file, head=0, position=0, archived=False, made=at, changed=at)
    )
    db.execute(MOMENT.insert().values(job=job, number=0, says="", sha=sha, who=who, at=at))
    db.execute(MOVE.insert().values(job=job, position=0, moment=0, what="start", who=who, at=at))
    return job


def keep_text(db: Connection, text: str) -> str:
    """Keep a text; gives the hash by which it is found again."""
    sha = sha256(text)
    make = postgresql.insert if db.dialect.name == "postgresql" else sqlite.insert
    db.execute(make(TEXT).values(sha=sha, text=text).on_conflict_do_nothing())
    return sha


def job_of_file(db: Connection, file: str) -> str | None:
    """The job of a file by its path below the folder; None where it is not entered yet."""
    return db.execute(select(JOB.c.id).where(JOB.c.file == file)).scalar()


def position_of(db: Connection, job: str) -> int | None:
    """The position of a job; None where there is no such job."""
    return db.execute(select(JOB.c.position).where(JOB.c.id == job)).scalar()


def standing(db: Connection, job: str) -> Standing:
    """Where the job stands. LookupError where there is no such job."""
    here, ahead = MOMENT.alias(), MOMENT.alias()
    found = db.execute(
        select(
            JOB.c.position, JOB.c.head, TEXT.c.sha, TEXT.c.text, here.c.says, here.c.back, here.c.forward, ahead.c.says
        )
        .join(here, (here.c.job == JOB.c.id) & (here.c.number == JOB.c.head))
        .join(TEXT, TEXT.c.sha == here.c.sha)
        .outerjoin(ahead, (ahead.c.job == JOB.c.id) & (ahead.c.number == here.c.forward))
        .where(JOB.c.id == job)
    ).first()  # fmt: skip
    if found is None:
        raise LookupError(job)
    return Standing(*found[:7], redo=found[7] or "")


def text_at(db: Connection, job: str, position: int) -> str | None:
    """The text at which the job stood at an earlier position; None where it was never there."""
    return db.execute(
        select(TEXT.c.text)
        .join(MOMENT, MOMENT.c.sha == TEXT.c.sha)
        .join(MOVE, (MOVE.c.job == MOMENT.c.job) & (MOVE.c.moment == MOMENT.c.number))
        .where(MOVE.c.job == job, MOVE.c.position == position)
    ).scalar()


def step(db: Connection, job: str, at: Standing, what: What, text: str, says: str, who: str) -> None:
    """A new moment behind the present one. MovedError where the job has moved on."""
    number = 1 + db.execute(select(func.max(MOMENT.c.number)).where(MOMENT.c.job == job)).scalar_one()
    _move(db, job, at, what, number, who)
    sha = keep_text(db, text)
    db.execute(
        MOMENT.insert().values(
            job=job, number=number, back=at.moment, says=says, sha=sha, who=who, at=now()
        )
    )  # fmt: skip
    _point(db, job, at.moment, number)


def go(db: Connection, job: str, at: Standing, what: Literal["undo", "redo"], who: str) -> None:
    """Back to the moment before, or forward again. MovedError where the job has moved on; JobError where there is no step."""
    to = at.back if what == "undo" else at.forward
    if to is None:
        raise fail(what, None, f"there is no step to {what}", what)
    _move(db, job, at, what, to, who)
    if what == "undo":
        _point(db, job, to, at.moment)


def _move(db: Connection, job: str, at: Standing, what: What, to: int, who: str) -> None:
    """Only who saw the job as it stands may move it: that is what keeps two writers from losing each other's work."""
    done = db.execute(
        update(JOB)
        .where(JOB.c.id == job, JOB.c.position == at.position)
        .values(head=to, position=at.position + 1, changed=now())
    )
    if done.rowcount != 1:
        raise MovedError
    db.execute(
        MOVE.insert().values(job=job, position=at.position + 1, moment=to, what=what, who=who, at=now())
    )


def _point(db: Connection, job: str, moment: int, forward: int) -> None:
    db.execute(update(MOMENT).where(MOMENT.c.job == job, MOMENT.c.number == moment).values(forward=forward))


def since(db: Connection, job: str, position: int) -> list[str]:
    """What was done after a position, in words, oldest first."""
    rows = db.execute(
        select(MOVE.c.what, MOVE.c.who, MOMENT.c.says)
        .join(MOMENT, (MOMENT.c.job == MOVE.c.job) & (MOMENT.c.number == MOVE.c.moment))
        .where(MOVE.c.job == job, MOVE.c.position > position)
        .order_by(MOVE.c.position)
        .limit(40)
    )
    return [f"{who}: {what if what in ('undo', 'redo') else says}" for what, who, says in rows]


def moments(db: Connection, job: str, before: int, most: int = 50) -> Sequence[Moment]:
    """The moments of a job, newest first. before : only those below this number."""
    head = db.execute(select(JOB.c.head).where(JOB.c.id == job)).scalar_one()
    asked = select(MOMENT).where(MOMENT.c.job == job).order_by(MOMENT.c.number.desc())
    asked = asked.where(MOMENT.c.number < before)
    return [
        Moment(row.number, row.back, row.says, row.name or "", row.who, row.at, row.sha, row.number == head)
        for row in db.execute(asked.limit(min(most, LARGEST_PAGE)))
    ]


def text_of(db: Connection, job: str, number: int) -> str:
    """The text of a moment. JobError where there is none of that number."""
    text = db.execute(
        select(TEXT.c.text).join(MOMENT).where(MOMENT.c.job == job, MOMENT.c.number == number)
    ).scalar()
    if text is None:
        raise no_moment(number)
    return text


def text_of_sha(db: Connection, job: str, sha: str) -> str:
    """The text of a moment of this job by its hash. LookupError where no moment of the job had it."""
    mine = (
        select(TEXT.c.text)
        .join(MOMENT, MOMENT.c.sha == TEXT.c.sha)
        .where(MOMENT.c.job == job, TEXT.c.sha == sha)
    )
    text = db.execute(mine.limit(1)).scalar()
    if text is None:
        raise LookupError(sha)
    return text


def words_of(db: Connection, job: str, number: int) -> str:
    """A moment's name, or what made it."""
    row = db.execute(
        select(MOMENT.c.name, MOMENT.c.says).where(MOMENT.c.job == job, MOMENT.c.number == number)
    ).one()
    return str(row.name or row.says or "as first opened")


def name_moment(db: Connection, job: str, number: int, name: str) -> None:
    """Give a moment a name; an empty one takes it away. JobError where there is none of that number."""
    done = db.execute(
        update(MOMENT).where(MOMENT.c.job == job, MOMENT.c.number == number).values(name=name or None)
    )
    if done.rowcount != 1:
        raise no_moment(number)


def no_moment(number: int) -> Exception:
    """The refusal where a moment is not there."""
    return fail("moment", number, "is no moment of this job; the history lists them", "history")
