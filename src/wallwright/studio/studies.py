"""Slow questions about a job: a queue in the database, worked off by processes of their own, answers kept by their question.

A worker claims a study by a lease that it renews while it works. One that dies lets the lease run out, and the study is
taken up again, by whichever worker of whichever server comes first. Each taking up is counted, and only the last one may
end the study: what a worker says that was thought dead changes nothing any more. Leases go by the database's own clock.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import Connection, and_, or_, select, update
from sqlalchemy.dialects import postgresql, sqlite

import wallwright
from wallwright.job.problem import fail
from wallwright.job.read import read_job
from wallwright.job.write import write_job
from wallwright.studio.schema import ANSWER, ANSWER_FILE, STUDY, TEXT
from wallwright.studio.store import Store, after, clock, new_id, now, sha256

LEASE = 15.0
"""Seconds for which a worker's word stands."""
MOST_TRIES = 3
MOST_WAITING = 20
"""Studies of one job that may be waiting."""
KINDS: Mapping[str, Mapping[str, Callable[[Any], bool]]] = {
    "options": {
        "of": lambda value: value in ("schemes", "finishes"),
        "number": lambda value: isinstance(value, int) and 1 <= value <= 8,
    },
    "cutting": {},
    "picture": {
        "when": lambda value: value in ("day", "night"),
        "light": lambda value: value in ("direct", "traced"),
        "seat": lambda value: isinstance(value, str) and len(value) <= 40,
        "width": lambda value: isinstance(value, int) and 64 <= value <= 2000,
        "height": lambda value: isinstance(value, int) and 64 <= value <= 2000,
    },
    "issue": {},
    "budget": {},
    "impact": {
        "since": lambda value: isinstance(value, str) and re.fullmatch("[0-9a-f]{64}", value) is not None
    },
}
"""What may be asked, and what each question may say."""


@dataclass(frozen=True, slots=True)
class Study:
    """A study as it stands."""

    id: str
    job: str
    kind: str
    question: dict[str, Any]
    key: str
    sha: str
    folder: str
    state: str
    share: float
    what: str
    error: str
    who: str
    made: float
    tries: int


_COLUMNS = (
    STUDY.c.id, STUDY.c.job, STUDY.c.kind, STUDY.c.question, STUDY.c.key, STUDY.c.sha, STUDY.c.folder, STUDY.c.state,
    STUDY.c.share, STUDY.c.what, STUDY.c.error, STUDY.c.who, STUDY.c.made, STUDY.c.tries,
)  # fmt: skip


def ask(
    store: Store, job: str, text: str, kind: str, question: Mapping[str, Any], who: str, folder: str = ""
) -> Study:
    """Ask a question of a job; where it is being worked on, or was answered, that study is given.

    folder : where an issue set also goes. JobError where the question is none, or too many wait.
    """
    _sound(kind, question)
    key = question_key(text, kind, question)
    with store.write() as db:
        same = (STUDY.c.job == job, STUDY.c.key == key, STUDY.c.folder == folder)
        live = db.execute(select(STUDY.c.id).where(*same, STUDY.c.state.in_(("queued", "running")))).scalar()
        answered = db.execute(update(ANSWER).where(ANSWER.c.key == key).values(made=now())).rowcount == 1
        if live is None:
            waiting = db.execute(
                select(STUDY.c.id).where(STUDY.c.job == job, STUDY.c.state == "queued")
            ).all()
            if len(waiting) >= MOST_WAITING:
                raise fail("study", None, "too many studies of this job are waiting; cancel some", "study")
            live = new_id()
            ready = answered and not folder
            row = {"id": live, "job": job, "kind": kind, "question": json.dumps(dict(question), sort_keys=True), "key": key,
                   "sha": sha256(text), "folder": folder, "state": "done" if ready else "queued",
                   "share": 1.0 if ready else 0.0, "what": "", "error": "", "lease": 0.0, "tries": 0, "who": who,
                   "made": after(db, STUDY.c.made, STUDY.c.job == job)}  # fmt: skip
            db.execute(STUDY.insert().values(**row))
        return one(db, job, live)


FORM = 2
"""Of the answers that are kept: one more with every change of what they hold."""


def question_key(text: str, kind: str, question: Mapping[str, Any]) -> str:
    """The value of a question: what is asked, of which job (whatever its remarks), by which version of the engine."""
    asked = [FORM, kind, dict(question), wallwright.__version__, write_job(read_job(text))]
    return sha256(json.dumps(asked, sort_keys=True))


def _sound(kind: str, question: Mapping[str, Any]) -> None:
    if kind not in KINDS:
        raise fail("kind", kind, f"is no study; there are {', '.join(KINDS)}", "study")
    for name, value in question.items():
        if name not in KINDS[kind] or not KINDS[kind][name](value):
            known = ", ".join(KINDS[kind]) or "nothing more"
            raise fail(f"question.{name}", value, f"cannot be asked so; {kind} takes {known}", "study")


def one(db: Connection, job: str, study: str) -> Study:
    """A study of a job. LookupError where there is none."""
    row = db.execute(select(*_COLUMNS).where(STUDY.c.id == study, STUDY.c.job == job)).mappings().first()
    if row is None:
        raise LookupError(study)
    return _study(row)


def of_job(db: Connection, job: str, kind: str | None = None) -> list[Study]:
    """The studies of a job, newest first."""
    asked = select(*_COLUMNS).where(STUDY.c.job == job).order_by(STUDY.c.made.desc()).limit(50)
    return [
        _study(row) for row in db.execute(asked.where(STUDY.c.kind == kind) if kind else asked).mappings()
    ]


def _study(row: Any) -> Study:
    values = dict(row)
    return Study(**{**values, "question": json.loads(values["question"])})


def cancel(store: Store, job: str, study: str) -> Study:
    """Ask no further. LookupError where there is no such study."""
    with store.write() as db:
        here = (STUDY.c.id == study, STUDY.c.job == job, STUDY.c.state.in_(("queued", "running")))
        db.execute(update(STUDY).where(*here).values(state="cancelled", what=""))
        return one(db, job, study)


# --- answers -----------------------------------------------------------------------------------------------------------


def kept(store: Store, key: str) -> dict[str, Any] | None:
    """An answer by the value of its question; None where nobody found it yet."""
    with store.read() as db:
        data = db.execute(select(ANSWER.c.data).where(ANSWER.c.key == key)).scalar()
    return None if data is None else cast("dict[str, Any]", json.loads(data))


def keep(store: Store, key: str, answer: Mapping[str, Any], files: Mapping[str, bytes]) -> None:
    """Keep an answer and its files; one that is there already stays, and is as young as now."""
    make: Any = postgresql.insert if store.postgres else sqlite.insert
    with store.write() as db:
        row = {"key": key, "data": json.dumps(dict(answer), ensure_ascii=False), "made": now()}
        again = {"index_elements": [ANSWER.c.key], "set_": {"made": row["made"]}}
        db.execute(make(ANSWER).values(**row).on_conflict_do_update(**again))
        for name, data in files.items():
            db.execute(make(ANSWER_FILE).values(key=key, name=name, data=data).on_conflict_do_nothing())


def files_of(db: Connection, key: str) -> list[str]:
    """The names of an answer's files."""
    asked = select(ANSWER_FILE.c.name).where(ANSWER_FILE.c.key == key).order_by(ANSWER_FILE.c.name)
    return [name for (name,) in db.execute(asked)]


def file_of(db: Connection, key: str, name: str) -> bytes | None:
    """One file of an answer; None where there is none of that name."""
    asked = select(ANSWER_FILE.c.data).where(ANSWER_FILE.c.key == key, ANSWER_FILE.c.name == name)
    return db.execute(asked).scalar()


# --- worked off --------------------------------------------------------------------------------------------------------


def claim(store: Store, worker: str) -> str | None:
    """The study that this worker shall do next, its own by a lease from now on; None where nothing waits."""
    with store.write() as db:
        while True:
            at = clock(db)
            # a lease that ends later than one can be given now was given before the clock was set back
            over = or_(STUDY.c.lease < at, STUDY.c.lease > at + 2 * LEASE)
            free = or_(STUDY.c.state == "queued", and_(STUDY.c.state == "running", over))
            waiting = select(STUDY.c.id, STUDY.c.tries).where(free).order_by(STUDY.c.made).limit(1)
            row = db.execute(waiting.with_for_update(skip_locked=True)).first()
            if row is None:
                return None
            if row.tries < MOST_TRIES:
                break
            says = f"was begun {row.tries} times and never came to an end"
            db.execute(update(STUDY).where(STUDY.c.id == row.id).values(state="failed", error=says))
        taken = {"state": "running", "worker": worker, "lease": at + LEASE, "tries": row.tries + 1}
        db.execute(update(STUDY).where(STUDY.c.id == row.id).values(**taken))
        return str(row.id)


def any_waits(db: Connection) -> bool:
    """Whether any study is not at its end."""
    return (
        db.execute(select(STUDY.c.id).where(STUDY.c.state.in_(("queued", "running"))).limit(1)).first()
        is not None
    )


def renew(store: Store, study: str, worker: str) -> None:
    """Hold on to a study."""
    with store.write() as db:
        mine = (STUDY.c.id == study, STUDY.c.worker == worker, STUDY.c.state == "running")
        db.execute(update(STUDY).where(*mine).values(lease=clock(db) + LEASE))


def still_wanted(store: Store, study: str, worker: str) -> bool:
    """Whether a study is still this worker's: neither cancelled, nor ended, nor another's by now."""
    with store.read() as db:
        row = db.execute(select(STUDY.c.state, STUDY.c.worker).where(STUDY.c.id == study)).first()
    return row is not None and row.state in ("running", "done", "failed") and row.worker == worker


def let_go(store: Store, study: str, worker: str) -> None:
    """Give a study back to the queue."""
    with store.write() as db:
        mine = (STUDY.c.id == study, STUDY.c.worker == worker, STUDY.c.state == "running")
        db.execute(update(STUDY).where(*mine).values(state="queued", lease=0.0))


def fail_with(store: Store, study: str, error: str, taking: int | None = None) -> None:
    """End a study with what went wrong. taking : by which taking up (`Study.tries`); None = whichever"""
    with store.write() as db:
        db.execute(
            update(STUDY).where(*_under_way(study, taking)).values(state="failed", what="", error=error[:400])
        )


def tell(store: Store, study: str, share: float, what: str, taking: int | None = None) -> None:
    """Say how far a study is."""
    with store.write() as db:
        far = {"share": min(1.0, max(0.0, share)), "what": what[:120]}
        db.execute(update(STUDY).where(*_under_way(study, taking)).values(**far))


def finish(store: Store, study: str, taking: int | None = None) -> bool:
    """Its answer is kept: it is done. False where that was no longer asked, or another has taken it up since."""
    with store.write() as db:
        ended = update(STUDY).where(*_under_way(study, taking)).values(state="done", share=1.0, what="")
        return db.execute(ended).rowcount == 1


def _under_way(study: str, taking: int | None) -> tuple[Any, ...]:
    here = (STUDY.c.id == study, STUDY.c.state == "running")
    return here if taking is None else (*here, STUDY.c.tries == taking)


def to_do(store: Store, study: str) -> tuple[Study, str]:
    """A study that was claimed, and the text of its job. LookupError where there is none."""
    with store.read() as db:
        row = (
            db.execute(select(*_COLUMNS, TEXT.c.text).join(TEXT).where(STUDY.c.id == study))
            .mappings()
            .first()
        )
    if row is None:
        raise LookupError(study)
    values = dict(row)
    text = values.pop("text")
    return Study(**{**values, "question": json.loads(values["question"])}), text
