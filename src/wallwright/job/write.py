"""Job -> TOML text: whole and canonical, or only the changes laid into the text a person keeps."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any, cast

from wallwright.job.document import VERSION, Job
from wallwright.job.migrate import KEY
from wallwright.job.path import keys_at
from wallwright.job.read import job_adapter, read_job

HEADER = """\
# A television wall: survey, brief, design. Lengths: a number is mm; a text is read as written ("9'-4 3/8\\"", "1.2 m").
# What the design leaves out is automatic: the program derives it and says why. What stands here is pinned.
"""
_PARSED: dict[str, Any] = {}
"""Texts that were just written, as the editor of TOML holds them: the next edit of one need not read it again."""
_MOST_PARSED = 16
_BARE = re.compile(r"^[A-Za-z0-9_-]+$")
_INLINE = 110
"""A small table goes on one line of at most so many characters."""

Table = dict[str, Any]


def plain(job: Job) -> Table:
    """The job as plain tables with its version key; lengths as typed; values equal to their default left out."""
    tables: Table = job_adapter().dump_python(job, mode="json", exclude_defaults=True)
    for key in ("rules", "rates"):
        if not tables.get(key, True):
            del tables[key]
    if "terms" in tables:
        tables["terms"] = {key: value for key, value in tables["terms"].items() if value != {}}
        if not tables["terms"]:
            del tables["terms"]
    return {KEY: VERSION, **tables}


def write_job(job: Job) -> str:
    """The job as TOML text. `read_job` of it gives an equal job, each length as it was typed."""
    lines = [HEADER]
    _write_table(plain(job), (), lines)
    return "\n".join(lines).rstrip("\n") + "\n"


def _write_table(table: Mapping[str, Any], path: tuple[str, ...], lines: list[str]) -> None:
    """A table's own values, then the tables inside it."""
    later: list[tuple[str, Any]] = []
    for key, value in table.items():
        if _has_header(key, value, path):
            later.append((key, value))
        else:
            lines.append(f"{_key(key)} = {_value(value, len(key) + 3)}")
    for key, value in later:
        inner = (*path, key)
        name = ".".join(_key(part) for part in inner)
        if isinstance(value, list):
            for item in cast("list[Table]", value):
                lines.extend(("", f"[[{name}]]"))
                _write_table(item, inner, lines)
        else:
            if not value or not all(_has_header(k, v, inner) for k, v in value.items()):
                lines.extend(("", f"[{name}]"))  # a table of nothing but tables needs no line of its own
            _write_table(value, inner, lines)


def _has_header(key: str, value: Any, path: tuple[str, ...]) -> bool:
    """Whether a value goes under a [header] of its own: the document's tables do; lengths and tape readings stay on a line."""
    if isinstance(value, dict):
        return bool(keys_at((*path, key))) or (not path and key in ("rules", "rates"))
    if not isinstance(value, list) or not value or not isinstance(value[0], dict):
        return False
    return bool(keys_at((*path, key))) and key not in ("widths", "heights", "bays", "things", "other_walls")


def _key(key: str) -> str:
    return key if _BARE.match(key) else _string(key)


def _value(value: Any, used: int = 0) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, dict):
        inner = ", ".join(f"{_key(key)} = {_value(item)}" for key, item in cast("Table", value).items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, list):
        items = [_value(item) for item in cast("list[Any]", value)]
        line = f"[{', '.join(items)}]"
        tables = any(isinstance(item, dict) for item in cast("list[Any]", value))
        if used + len(line) <= _INLINE and not tables:
            return line
        return "[\n" + "".join(f"    {item},\n" for item in items) + "]"
    return repr(int(value) if value == int(value) else value)


def _string(text: str) -> str:
    """A TOML string: plain quotes where they do, literal quotes for inches alone."""
    if '"' in text and "'" not in text and text.isprintable():
        return f"'{text}'"
    # JSON's escapes are TOML's, but for the delete character, which TOML wants escaped too.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def merge_into(text: str, job: Job, before: Job | None = None) -> str:
    """The user's own text with only what changed laid in: comments and order stay.

    before : the job that `text` says, where the caller has it

    Raises JobError where `text` itself is no job. Where the changes cannot be laid into this text faithfully (tables
    written in scattered order), the job is written anew: a file that says something else would be worse than a lost comment.
    """
    before = before or read_job(text)
    if before == job:
        return text
    merged = _laid_in(text, plain(before), plain(job))
    return merged if merged is not None and _says_the_same(merged, job) else write_job(job)


def _says_the_same(text: str, job: Job) -> bool:
    try:
        return read_job(text) == job
    except ValueError:
        return False


def _laid_in(text: str, before: Table, after: Table) -> str | None:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = _PARSED.pop(text, None) or tomlkit.parse(text)
        _merge_table(cast("Any", document), before, after, ())
        merged = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, IndexError, ValueError, TypeError, AttributeError):
        return None  # a shape that tomlkit cannot change in place
    if len(_PARSED) >= _MOST_PARSED:
        _PARSED.clear()
    _PARSED[merged] = document
    return merged


def _merge_table(here: Any, before: Table, after: Table, path: tuple[str, ...]) -> None:
    for key in before:
        if key not in after and key in here:
            del here[key]
    for key, value in after.items():
        old = before.get(key)
        if old == value and key in before:
            continue
        inner = (*path, key)
        if key in here and keys_at(inner) and isinstance(old, dict) and isinstance(value, dict):
            _merge_table(here[key], cast("Table", old), cast("Table", value), inner)
        elif key in here and _are_tables(old) and _are_tables(value):
            _merge_list(here, key, cast("list[Table]", old), cast("list[Table]", value), inner)
        else:
            _set(here, key, value, path)


def _are_tables(value: Any) -> bool:
    entries = cast("list[Any]", value) if isinstance(value, list) else []
    return bool(entries) and all(isinstance(item, dict) for item in entries)


def _merge_list(
    parent: Any, key: str, before: list[Table], after: list[Table], path: tuple[str, ...]
) -> None:
    """A list of tables: what stays is matched by its ref (or kind, side, place), so that its comments stay with it."""
    from tomlkit.items import AoT

    here = parent[key]
    old, new = _names(before), _names(after)
    if [name for name in old if name in new] != [name for name in new if name in old]:
        del parent[key]
        _set(parent, key, after, path[:-1])
        return
    for i in reversed(range(len(before))):
        if old[i] not in new:
            del here[i]
    kept = {name: before[i] for i, name in enumerate(old)}
    for i, (name, table) in enumerate(zip(new, after, strict=True)):
        if name in kept:
            _merge_table(here[i], kept[name], table, path)
        else:
            here.insert(
                i, _item(table, path, inline=not isinstance(here, AoT))
            )  # in the shape that the user chose


def _names(tables: list[Table]) -> list[str] | list[int]:
    """What tells the entries of a list apart: ref, else kind, else side, else where a reading was taken, else the place."""
    for key in ("ref", "kind", "side", "at"):
        names = [str(table.get(key, "")) for table in tables]
        if "" not in names and len(set(names)) == len(names):
            return names
    return list(range(len(tables)))


def _set(here: Any, key: str, value: Any, path: tuple[str, ...]) -> None:
    """Give a key its value; tomlkit keeps the comment behind the old value on its line."""
    here[key] = _item(value, (*path, key), inline=not _has_header(key, value, path))


def _item(value: Any, path: tuple[str, ...], *, inline: bool) -> Any:
    """A plain value as tomlkit holds it, in the same shape as `write_job` gives it."""
    import tomlkit

    if inline:
        return tomlkit.value(_value(value))
    if isinstance(value, dict):
        table = tomlkit.table()
        for key, inner in cast("Table", value).items():
            table.add(key, _item(inner, (*path, key), inline=not _has_header(key, inner, path)))
        return table
    tables: Any = tomlkit.aot()
    for entry in cast("list[Table]", value):
        tables.append(_item(entry, path, inline=False))
    return tables
