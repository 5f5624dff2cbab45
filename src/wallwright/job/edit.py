"""What an edit is, how one is called by name, and the few moves that all edits are made of."""

from __future__ import annotations

import inspect
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from typing import Any, cast, get_type_hints

from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.fields import write_length
from wallwright.job.part import read_anew
from wallwright.job.path import get, put
from wallwright.job.problem import JobError, Problem, fail, nearest, shown
from wallwright.job.read import adapter, bounded, problems_of

Make = Callable[..., Job]
EDITS: dict[str, Edit] = {}
"""All edits by name: the only way a job changes."""


@dataclass(frozen=True, slots=True)
class Edit:
    """A named change. says : what it does, as a button or a log line has it · needs, may : names of its values."""

    name: str
    says: str
    needs: tuple[str, ...]
    may: tuple[str, ...]
    make: Make

    @property
    def takes(self) -> tuple[str, ...]:
        """The names of all its values."""
        return self.needs + self.may


def edit(make: Make) -> Make:
    """Enter a function `f(job, ...) -> job` into the register under its own name; its docstring is its text."""
    values = list(inspect.signature(make).parameters.values())[1:]
    needs = tuple(value.name for value in values if value.default is value.empty)
    may = tuple(value.name for value in values if value.default is not value.empty)
    says = (make.__doc__ or "").strip().splitlines()[0].rstrip(".")
    EDITS[make.__name__] = Edit(make.__name__, says, needs, may, make)
    return make


def apply(job: Job, name: str, values: Mapping[str, Any]) -> Job:
    """The job after the named edit with these values; lengths in any written form, kept as typed.

    JobError where the edit is unknown, a value is missing, unknown or of the wrong kind, or the job that results is not sound.
    What changed has passed the same checks as a job that is read, and so has the job as a whole.
    """
    if name not in EDITS:
        raise fail("edit", name, f"there is no such edit; {nearest(name, EDITS)}", "edit")
    chosen = EDITS[name]
    try:
        changed = chosen.make(job, **_read_values(chosen, values))
        return job if changed == job else read_anew(job, changed)
    except JobError as error:
        raise JobError(error.problems, name) from None


def log_line(name: str, values: Mapping[str, Any]) -> str:
    """An edit as a line of the log: `Set the screen's named size in inches: diagonal 65`."""
    given = ", ".join(f"{key} {_said(value)}" for key, value in values.items() if value is not None)
    return f"{EDITS[name].says}{': ' if given else ''}{given}"


def _said(value: Any) -> str:
    if isinstance(value, Length):
        return value.written or f"{value.mm:g}"
    return value if isinstance(value, str) else str(to_plain(value))


def _read_values(chosen: Edit, values: Mapping[str, Any]) -> dict[str, Any]:
    """The values checked against the function's own annotations. JobError with every problem found."""
    problems = [
        Problem(key, shown(value), f"{chosen.name} takes no such value; {nearest(key, chosen.takes)}")
        for key, value in values.items()
        if key not in chosen.takes
    ]
    problems.extend(
        Problem(key, "", f"is missing; {chosen.name} needs it")
        for key in chosen.needs
        if values.get(key) is None
    )
    read: dict[str, Any] = {}
    for key, value in values.items():
        if key in chosen.takes and value is not None:
            try:
                text = json.dumps(bounded(to_plain(value), (key,)))
                read[key] = _readers(chosen.name)[key].validate_json(text, strict=True)
            except (ValueError, RecursionError) as error:
                problems.extend(_problems(error, key, value))
    if problems:
        raise JobError(problems, chosen.name)
    return read


def _problems(error: Exception, key: str, value: Any) -> list[Problem]:
    from pydantic import ValidationError

    if isinstance(error, ValidationError):
        return problems_of(error, (key,))
    if isinstance(error, JobError):
        return list(error.problems)
    return [Problem(key, "", f"cannot be read: {str(error)[:120]}")]


@cache
def _readers(name: str) -> Mapping[str, Any]:
    """A strict reader for each value of an edit, from its annotations."""
    hints = get_type_hints(EDITS[name].make, include_extras=True)
    return {key: adapter(hints[key]) for key in EDITS[name].takes}


def to_plain(value: Any) -> Any:
    """A value of an edit as JSON has it: lengths as typed, tables for dataclasses, lists for tuples."""
    if isinstance(value, Length):
        return write_length(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {
            item.name: to_plain(inner)
            for item in fields(value)
            if (inner := getattr(value, item.name)) is not None
        }
    if isinstance(value, Mapping):
        return {str(key): to_plain(inner) for key, inner in cast("Mapping[Any, Any]", value).items()}
    if isinstance(value, (list, tuple)):
        return [to_plain(inner) for inner in cast("list[Any]", value)]
    if value is None or isinstance(value, (bool, int, float, str)):
        return value
    return repr(value)


# --- the moves ---------------------------------------------------------------------------------------------------------


def change(job: Job, where: str, **values: Any) -> Job:
    """The table at `where` with the values that were given (not None); at least one must be."""
    steps = tuple(where.split("."))
    given = _given(values)
    return put(job, steps, replace(get(job, steps), **given))


def change_in(job: Job, where: str, ref: str, **values: Any) -> Job:
    """The thing of this ref in the list at `where`, with the values that were given (not None); at least one must be."""
    steps = (*where.split("."), place_of(job, where, ref))
    return put(job, steps, replace(get(job, steps), **_given(values)))


def add(job: Job, where: str, thing: Any) -> Job:
    """The list at `where` with one more thing at its end."""
    steps = tuple(where.split("."))
    return put(job, steps, (*get(job, steps), thing))


def remove(job: Job, where: str, ref: str) -> Job:
    """The list at `where` without the thing of this ref."""
    steps, at = tuple(where.split(".")), place_of(job, where, ref)
    things = get(job, steps)
    return put(job, steps, (*things[:at], *things[at + 1 :]))


def place_of(job: Job, where: str, ref: str) -> int:
    """The place of a ref in the list at `where`. JobError names those that are there."""
    refs = [thing.ref for thing in get(job, tuple(where.split(".")))]
    if ref not in refs:
        raise fail("ref", ref, f"{where} has none of that name; there {_are(refs)}")
    return refs.index(ref)


def _are(refs: list[str]) -> str:
    return f"{'is' if len(refs) == 1 else 'are'} {', '.join(refs)}" if refs else "are none"


def _given(values: Mapping[str, Any]) -> dict[str, Any]:
    given = {name: value for name, value in values.items() if value is not None}
    if not given:
        raise fail("values", None, f"nothing to change: give at least one of {', '.join(values)}")
    return given


def default_of(thing: Any, name: str) -> Any:
    """The default of a field of this dataclass value; MISSING where it has none."""
    return next(item.default for item in fields(thing) if item.name == name)
