"""Paths to a field of the job: `design.screen.centre_height`, `survey.obstacles[2].width`, `design.units.C1.x`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from types import UnionType
from typing import Any, Union, cast, get_args, get_origin, get_type_hints

from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.problem import fail, nearest

Step = str | int
_INDEX = re.compile(r"\[(\d+)\]|\.?(\d+)(?=[.\[]|$)")
_NAME = re.compile(r"\.?([^.\[\]]+)")


def show_path(steps: tuple[Step, ...]) -> str:
    """The steps as a path: `survey.obstacles[2].width`."""
    out = ""
    for step in steps:
        out += f"[{step}]" if isinstance(step, int) else f".{step}" if out else step
    return out or "the job"


@cache
def _hints(kind: type[Any]) -> Mapping[str, Any]:
    return get_type_hints(kind)


def keys_at(steps: tuple[Step, ...], of: type[Any] = Job) -> tuple[str, ...]:
    """The field names of the dataclass that stands at these steps; empty where none does. of : the document"""
    kind: Any = of
    for step in steps:
        if isinstance(step, int):
            continue  # a list's own type was unwrapped at its name
        kind = _held(_hints(kind).get(step)) if is_dataclass(kind) else None
    return tuple(item.name for item in fields(kind)) if is_dataclass(kind) else ()


def _held(hint: Any) -> Any:
    """The dataclass in `X`, `X | None` or `tuple[X, ...]`, or None."""
    if get_origin(hint) in (tuple, Union, UnionType):
        found = [_held(inner) for inner in get_args(hint)]
        return next((kind for kind in found if kind is not None), None)
    return hint if is_dataclass(hint) and hint is not Length else None


def steps_of(job: Job, path: str) -> tuple[Step, ...]:
    """The path as names and list places; a thing in a list may be named by its place or by its ref. JobError if not there."""
    steps: list[Step] = []
    here: Any = job
    rest = path.strip()
    while rest:
        if isinstance(here, tuple):
            step, rest = _place(cast("tuple[Any, ...]", here), rest, path)
        else:
            found = _NAME.match(rest)
            step = found[1] if found else rest
            rest = rest[found.end() :] if found else ""
            _there(here, step, tuple(steps), path)
        steps.append(step)
        here = _inside(here, step)
    return tuple(steps)


def _place(things: tuple[Any, ...], rest: str, path: str) -> tuple[int, str]:
    """The place in a list that the rest of a path begins with, by number or by ref, and what comes behind it."""
    bare = rest[1:-1] if rest.startswith("[") and rest.endswith("]") else rest.removeprefix(".")
    refs = {thing.ref: i for i, thing in enumerate(things) if hasattr(thing, "ref")}
    for ref in sorted(refs, key=len, reverse=True):  # a ref may hold dots, so the longest first
        if bare == ref or bare.startswith((f"{ref}.", f"{ref}[")):
            return refs[ref], bare[len(ref) :]
        if rest.startswith(f"[{ref}]"):
            return refs[ref], rest[len(ref) + 2 :]
    found = _INDEX.match(rest)
    if found and int(found[1] or found[2]) < len(things):
        return int(found[1] or found[2]), rest[found.end() :]
    raise fail(
        path,
        None,
        f"nothing at {bare!r}; there are {', '.join(refs) or f'{len(things)} entries, counted from 0'}",
    )


def _there(here: Any, step: str, steps: tuple[Step, ...], path: str) -> None:
    names = keys_at(steps) if is_dataclass(here) else ()
    if is_dataclass(here) and not isinstance(here, Length) and step in names:
        return
    raise fail(path, None, f"{show_path(steps)} has no field {step!r}; {nearest(step, names)}")


def _inside(here: Any, step: Step) -> Any:
    return here[step] if isinstance(step, int) else getattr(here, step)


def get(job: Job, steps: tuple[Step, ...]) -> Any:
    """What stands at the steps."""
    here: Any = job
    for step in steps:
        here = _inside(here, step)
    return here


def put(here: Any, steps: tuple[Step, ...], value: Any) -> Any:
    """The same with `value` at the steps; all else is kept."""
    if not steps:
        return value
    step, *rest = steps
    inner = put(_inside(here, step), tuple(rest), value)
    if isinstance(step, int):
        return (*here[:step], inner, *here[step + 1 :])
    return replace(here, **{step: inner})


def walk(here: Any, steps: tuple[Step, ...] = ()) -> Iterator[tuple[tuple[Step, ...], Any]]:
    """Every single value of the job with its steps."""
    if isinstance(here, tuple):
        for i, thing in enumerate(cast("tuple[Any, ...]", here)):
            yield from walk(thing, (*steps, i))
    elif is_dataclass(here) and not isinstance(here, (Length, type)):
        for item in fields(here):
            yield from walk(getattr(here, item.name), (*steps, item.name))
    else:
        yield steps, here
