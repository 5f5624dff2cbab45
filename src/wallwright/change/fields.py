"""Which fields of the job differ, each by its path, told in the trade's words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any, cast

from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.edit import to_plain

Path = tuple[str, ...]
Touched = dict[Path, tuple[Any, Any]]
"""Fields by their path, each with its value before and after; None where the thing was not there."""
_GONE = object()


def touched(before: Job, after: Job) -> Touched:
    """Every field in which two jobs differ. Things in a list are told apart by ref (or kind, side, place)."""
    out: Touched = {}
    _compare(before, after, (), out)
    return out


def said(path: Path) -> str:
    """A field in the trade's words: `C1 width`, `screen centre height`, `the wall's reading at 1000`."""
    words = [step for step in path if step not in ("design", "survey", "brief")]
    if len(path) >= 4 and path[2] in ("widths", "heights"):
        return f"the wall's {path[2][:-1]} at {path[3]}"
    if path[:1] == ("survey",) and len(words) == 1:
        return f"the survey's {words[0].replace('_', ' ')}"
    keep = words[-2:] if len(words) > 1 and words[0] not in ("units", "obstacles") else words[-3:]
    keep = [
        step for step in keep if step not in ("units", "panels", "points", "obstacles", "seats", "windows")
    ]
    keep[-1:] = [_PLACES.get(step, step) for step in keep[-1:]]
    return " ".join(step.replace("_", " ") for step in keep) or "the job"


_PLACES = {"x": "place along the wall", "z": "height above the floor", "centre_x": "centre along the wall"}
"""Places that the file names by their axis."""


def shown(value: Any) -> str:
    """A value of the job in few words."""
    if value is None:
        return "automatic or not given"
    if value == "":
        return "not given"
    if isinstance(value, Length):
        return value.written or f"{value.mm:g} mm"
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = (
        _words(to_plain(value)) if is_dataclass(value) or isinstance(value, (tuple, Mapping)) else str(value)
    )
    if isinstance(value, float):
        text = f"{value:.10g}"
    return text if len(text) <= 120 else f"{text[:119]}…"


def both(was: Any, now: Any) -> tuple[str, str]:
    """A value before and after; of one length how sure it is, where nothing else of it differs."""
    if isinstance(was, Length) and isinstance(now, Length) and shown(was) == shown(now):
        sure = [one.state + (f" ± {one.tolerance:g} mm" if one.tolerance else "") for one in (was, now)]
        if sure[0] != sure[1]:
            return sure[0], sure[1]
        return f"{shown(was)} ({was.mm:g} mm)", f"{shown(now)} ({now.mm:g} mm)"
    return shown(was), shown(now)


def _words(value: Any) -> str:
    """Tables and lists as one says them: `amount 1300, keep none`; what is not given is left out."""
    if isinstance(value, Mapping):
        table = cast("Mapping[str, Any]", value)
        if "value" in table and set(table) <= {"value", "state", "tolerance"}:  # a length
            return " ".join(
                [_words(table["value"]), *([f"± {table['tolerance']:g}"] if table.get("tolerance") else [])]
            )
        given = {key: inner for key, inner in table.items() if inner not in (None, [], {}, "")}
        return ", ".join(f"{key.replace('_', ' ')} {_words(inner)}" for key, inner in given.items()) or "none"
    if isinstance(value, (list, tuple)):
        things = [_words(inner) for inner in cast("list[Any]", value)]
        return ("; " if any(", " in thing for thing in things) else ", ").join(things) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _compare(a: Any, b: Any, path: Path, out: Touched) -> None:
    if a == b:
        return
    if type(a) is type(b) and is_dataclass(a) and not isinstance(a, (Length, type)):
        for item in fields(a):
            _compare(getattr(a, item.name), getattr(b, item.name), (*path, item.name), out)
        return
    old, new = _by_name(a), _by_name(b)
    if old is None or new is None or _reordered(old, new):
        out[path] = (a, b)
        return
    for name in dict.fromkeys((*old, *new)):
        was, now = old.get(name, _GONE), new.get(name, _GONE)
        if was is _GONE or now is _GONE:
            out[*path, name] = (None if was is _GONE else was, None if now is _GONE else now)
        else:
            _compare(was, now, (*path, name), out)


def _by_name(value: Any) -> dict[str, Any] | None:
    """The entries of a table, or of a list of things, by what tells them apart; None for a single value."""
    if isinstance(value, Mapping):
        return {str(key): inner for key, inner in cast("Mapping[Any, Any]", value).items()}
    if not isinstance(value, tuple):
        return None
    things = cast("tuple[Any, ...]", value)
    for name in ("ref", "kind", "side", "at"):
        names = [_name(getattr(thing, name, None)) for thing in things]
        if all(names) and len(set(names)) == len(names):
            return dict(zip(names, things, strict=True))
    return None


def _name(value: Any) -> str:
    return f"{value.mm:g}" if isinstance(value, Length) else str(value or "")


def _reordered(old: Mapping[str, Any], new: Mapping[str, Any]) -> bool:
    return [name for name in old if name in new] != [name for name in new if name in old]
