"""Readings taken on site without signal and sent later: each counts once, and of two of one thing the later stands.

What is entered into the survey at the desk counts as read at that moment.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import Connection, select

from wallwright.core.units import read_length
from wallwright.derive import Wall
from wallwright.job.edits import EDITS, apply
from wallwright.job.problem import JobError, Problem
from wallwright.studio.schema import READING
from wallwright.studio.seen import View
from wallwright.studio.session import Session, StaleError
from wallwright.studio.store import new_id, now

_WHICH = ("ref", "which", "at")
"""Values of an edit that say which thing is meant, not what was read of it."""
MOST_RACES = 8


@dataclass(frozen=True, slots=True)
class Reading:
    """An edit of the survey, with the phone's own id and the time by its clock."""

    id: str
    taken: float
    edit: str
    values: Mapping[str, Any]

    @property
    def fields(self) -> frozenset[str]:
        """What of the survey it says something about."""
        which = [_plain(self.values.get(name, "")) for name in _WHICH]
        rest = [name for name in self.values if name not in _WHICH] or [""]
        return frozenset(json.dumps([self.edit, *which, name]) for name in rest)


@dataclass(frozen=True, slots=True)
class Fate:
    """What became of a reading: made, older, refused; and why."""

    state: str
    says: str = ""


def _plain(value: Any) -> str:
    """Which thing is meant, however its place was written: `1 m` is 1000."""
    try:
        return f"{read_length(value):g}"
    except (ValueError, TypeError):
        return str(value)


def at_the_desk(
    job: str, edits: Iterable[tuple[str, Mapping[str, Any]]], who: str
) -> Callable[[Connection], None]:
    """Enters the edits of the survey among these as read now: what a phone read before and sends later is older."""
    read = [
        Reading(f"desk-{new_id()}", now(), name, values) for name, values in edits if _of_the_survey(name)
    ]

    def also(db: Connection) -> None:
        _keep(db, job, read, {one.id: Fate("made") for one in read}, who)

    return also


def take_in(session: Session, readings: Sequence[Reading], who: str) -> tuple[dict[str, Fate], View]:
    """Lay the readings into the job as one step; gives each one's fate and the view then. JobError where no wall comes of them."""
    for _ in range(MOST_RACES):
        fates: dict[str, Fate] = {}
        fresh: list[Reading] = []

        def wanted(
            wall: Wall, fates: dict[str, Fate] = fates, fresh: list[Reading] = fresh
        ) -> list[tuple[str, Mapping[str, Any]]]:
            with session.store.read() as db:
                fates.clear()
                fates.update(_told(db, session.job))
                latest = _latest(db, session.job)
            fresh[:] = [one for one in readings if one.id not in fates]
            return _laid(wall, fresh, latest, fates)

        def also(db: Connection, fates: dict[str, Fate] = fates, fresh: list[Reading] = fresh) -> None:
            _keep(db, session.job, fresh, fates, who)

        try:
            before = session.view()
            view = session.edit(wanted, before.position, who=who, also=also)
        except StaleError:
            continue
        if view.position == before.position:  # nothing was changed by them: they are told all the same
            with session.store.write() as db:
                also(db)
        return fates, view
    raise StaleError


def _laid(
    wall: Wall, readings: Sequence[Reading], latest: dict[str, float], fates: dict[str, Fate]
) -> list[tuple[str, Mapping[str, Any]]]:
    """The edits of those that stand, in the order in which they were taken."""
    job = wall.job
    calls: list[tuple[str, Mapping[str, Any]]] = []
    for one in sorted(readings, key=lambda one: one.taken):
        if one.id in fates:
            continue  # the same id twice in one batch
        if any(latest.get(field, 0.0) > one.taken for field in one.fields):
            fates[one.id] = Fate("older", "a later reading of the same stands")
            continue
        try:
            if not _of_the_survey(one.edit):
                raise JobError((Problem("edit", one.edit, "is no edit of the survey"),))
            job = apply(job, one.edit, one.values)
        except JobError as error:
            fates[one.id] = Fate("refused", _in_words(error.problems[0])[:300])
            continue
        calls.append((one.edit, one.values))
        fates[one.id] = Fate("made")
        latest.update(dict.fromkeys(one.fields, one.taken))
    return calls


def _in_words(problem: Problem) -> str:
    """What was wrong with a reading, for somebody on site: without the way in which the page wrote it."""
    value = "" if problem.value.startswith(("{", "[")) else problem.value
    return f"{value}: {problem.says}" if value and value not in problem.says else problem.says


def _of_the_survey(edit: str) -> bool:
    return edit in EDITS and EDITS[edit].make.__module__ == "wallwright.job.edits_survey"


def _told(db: Connection, job: str) -> dict[str, Fate]:
    rows = db.execute(select(READING.c.id, READING.c.state, READING.c.says).where(READING.c.job == job))
    return {row.id: Fate(row.state, row.says) for row in rows}


def _latest(db: Connection, job: str) -> dict[str, float]:
    """When each field was last read, by the phone's clock."""
    out: dict[str, float] = {}
    asked = select(READING.c.field, READING.c.taken).where(READING.c.job == job, READING.c.state == "made")
    for row in db.execute(asked):
        for field in cast("list[str]", json.loads(row.field)):
            out[field] = max(out.get(field, 0.0), row.taken)
    return out


def _keep(db: Connection, job: str, readings: Sequence[Reading], fates: dict[str, Fate], who: str) -> None:
    for one in {one.id: one for one in readings}.values():
        fate = fates[one.id]
        row = {"id": one.id, "field": json.dumps(sorted(one.fields)), "taken": one.taken, "at": now()}
        db.execute(READING.insert().values(job=job, **row, state=fate.state, says=fate.says, who=who))
