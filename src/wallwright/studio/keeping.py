"""Which answers of studies are kept, and for how long: a worker clears away what nobody has asked for any more, or what there is no room for.

Nothing of a job is lost by it: an answer that is gone is found again by asking, and its study says so.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from sqlalchemy import ColumnElement, Connection, case, delete, exists, func, select, update

from wallwright.core.limit import Limit
from wallwright.job.problem import fail
from wallwright.studio.schema import ANSWER, ANSWER_FILE, STUDY
from wallwright.studio.store import Store, clock

DATA = Path(__file__).with_name("keeping.toml")
DAY, MB = 86_400.0, 1e6
AT_ONCE = 100
"""Answers that are cleared away in one transaction: others write in between."""
YOUNG = 3600.0
"""Seconds for which an answer stays, however many there are: somebody is looking at it."""


@dataclass(frozen=True, slots=True)
class Keeping:
    """How long an answer and an issue set are kept since they were last asked for [days], and how large all may be together [MB]."""

    answer_age: float
    set_age: float
    answers_size: float


@cache
def limits() -> Mapping[str, Limit]:
    """The library's, with where they come from."""
    rows: dict[str, Any] = tomllib.loads(DATA.read_text("utf-8"))
    return {name: Limit(name=name, **row) for name, row in rows.items()}


def keeping(own: Mapping[str, str] = os.environ) -> Keeping:
    """The library's limits with the studio's own in their place. JobError where one of these is no number, or out of its range."""
    return Keeping(**{name: _own(limit, own.get(_variable(name), "")) for name, limit in limits().items()})


def _variable(name: str) -> str:
    return f"WALLWRIGHT_{name.upper()}"


def _own(limit: Limit, said: str) -> float:
    if not said.strip():
        return limit.value
    try:
        value = float(said)
    except ValueError:
        value = float("nan")
    if not limit.allows(value):
        says = f"must be a number of {limit.unit} from {limit.least:g} to {limit.most:g}; without it {limit.value:g} holds"
        raise fail(_variable(limit.name), said, says, "serve")
    return value


def clear_away(store: Store, keep: Keeping) -> int:
    """Clear away what is too old, and then what there is no room for; gives how many answers went. JobError where the database is away."""
    return _old(store, keep) + _too_many(store, keep)


_IS_SET: ColumnElement[bool] = exists().where(STUDY.c.key == ANSWER.c.key, STUDY.c.kind == "issue")


def _old(store: Store, keep: Keeping) -> int:
    gone = 0
    while True:
        with store.write() as db:
            at = clock(db)
            since = case((_IS_SET, at - keep.set_age * DAY), else_=at - keep.answer_age * DAY)
            asked = select(ANSWER.c.key).where(ANSWER.c.made < since).order_by(ANSWER.c.made).limit(AT_ONCE)
            keys = list(db.execute(asked.with_for_update(skip_locked=True)).scalars())
            _go(db, keys, "too long ago")
        gone += len(keys)
        if len(keys) < AT_ONCE:
            return gone


def _too_many(store: Store, keep: Keeping) -> int:
    """The longest not asked for first, issue sets last, until the rest has room; never what was asked for within the hour."""
    gone = 0
    while True:
        with store.write() as db:
            over = _size(db, store.postgres) - keep.answers_size * MB
            if over <= 0:
                return gone
            asked = (
                select(ANSWER.c.key, _bytes(store.postgres))
                .where(ANSWER.c.made < clock(db) - YOUNG)
                .order_by(_IS_SET, ANSWER.c.made)
                .limit(AT_ONCE)
            )
            keys: list[str] = []
            for key, size in db.execute(asked.with_for_update(skip_locked=True, of=ANSWER)):
                if over <= 0:
                    break
                keys.append(str(key))
                over -= size
            _go(db, keys, "for want of room")
        gone += len(keys)
        if not keys:
            return gone


def _length(postgres: bool) -> Any:
    return func.octet_length if postgres else func.length


def _bytes(postgres: bool) -> Any:
    """The bytes of an answer with its files."""
    length = _length(postgres)
    files = select(func.coalesce(func.sum(length(ANSWER_FILE.c.data)), 0)).where(
        ANSWER_FILE.c.key == ANSWER.c.key
    )
    return length(ANSWER.c.data) + files.scalar_subquery()


def _size(db: Connection, postgres: bool) -> int:
    """The bytes of all answers together."""
    length = _length(postgres)
    parts = (select(func.coalesce(func.sum(length(one.c.data)), 0)) for one in (ANSWER, ANSWER_FILE))
    return sum(int(db.execute(part).scalar_one()) for part in parts)


def _go(db: Connection, keys: list[str], why: str) -> None:
    """These answers go, and their studies say so."""
    if not keys:
        return
    db.execute(delete(ANSWER_FILE).where(ANSWER_FILE.c.key.in_(keys)))
    db.execute(delete(ANSWER).where(ANSWER.c.key.in_(keys)))
    says = f"its answer was cleared away ({why}); ask again"
    db.execute(
        update(STUDY).where(STUDY.c.key.in_(keys), STUDY.c.state == "done").values(state="failed", error=says)
    )
