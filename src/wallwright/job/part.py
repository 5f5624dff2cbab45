"""A job after a change, read anew where it changed: what stands as it was has been read before."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, cast

from wallwright.core.units import Length
from wallwright.job.check import check
from wallwright.job.document import Job
from wallwright.job.path import Step
from wallwright.job.problem import JobError
from wallwright.job.read import MOST_PROBLEMS, adapter, bounded, job_from, problems_of
from wallwright.job.write import plain


def read_anew(before: Job, after: Job) -> Job:
    """The job after a change, read as from its file. before : read already; what `after` shares with it (the very things) is
    not read again, the checks of the whole are made all the same. JobError with every problem found.
    """
    job = cast("Job", _part(before, after, ()))
    if problems := check(job):
        raise JobError(problems[:MOST_PROBLEMS])
    return job


def _part(before: Any, after: Any, steps: tuple[Step, ...]) -> Any:
    """What stands at the steps, with the smallest tables that changed read anew."""
    if after is before:
        return after
    changed = [
        (item.name, was, now)
        for item in fields(after)
        if (now := getattr(after, item.name)) is not (was := getattr(before, item.name))
    ]
    if not all(_alike(was, now) for _, was, now in changed):
        return job_from(plain(after)) if isinstance(after, Job) else _read(after, steps)
    made = {name: _within(was, now, (*steps, name)) for name, was, now in changed}
    return replace(after, **made)


def _within(was: Any, now: Any, steps: tuple[Step, ...]) -> Any:
    """A table, or each table of a list."""
    if not isinstance(now, tuple):
        return _part(was, now, steps)
    pairs = zip(cast("tuple[Any, ...]", was), cast("tuple[Any, ...]", now), strict=True)
    return tuple(_part(one, other, (*steps, i)) for i, (one, other) in enumerate(pairs))


def _alike(was: Any, now: Any) -> bool:
    """Whether both are tables of one kind, or lists of as many such: then what changed lies deeper."""
    if isinstance(now, tuple) and isinstance(was, tuple):
        one, other = cast("tuple[Any, ...]", was), cast("tuple[Any, ...]", now)
        return len(one) == len(other) and all(map(_alike, one, other))
    return not isinstance(now, (tuple, Length)) and is_dataclass(now) and type(was) is type(now)


def _read(value: Any, steps: tuple[Step, ...]) -> Any:
    """One table read as from its file."""
    from pydantic import ValidationError

    reader = _reader(cast("type[Any]", type(value)))
    tables = bounded(reader.dump_python(value, mode="json", exclude_defaults=True), steps)
    try:
        return reader.validate_json(json.dumps(tables), strict=True)
    except ValidationError as error:
        raise JobError(problems_of(error, steps)) from None


@cache
def _reader(kind: type[Any]) -> Any:
    return adapter(kind)
