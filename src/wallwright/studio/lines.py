"""Where in the job file a field stands: so that a page, or a person with an editor, finds the line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

_HEADER = re.compile(r"^\s*(\[\[?)\s*([A-Za-z0-9_.-]+)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"^\s*([A-Za-z0-9_-]+(?:\.[A-Za-z0-9_-]+)*)\s*=")


def line_of(text: str, field: str) -> int:
    """The line, counted from 1, of a field by its path (`survey.obstacles[2].width`), or of the table it would stand in.

    0 where nothing of it is in the file. Only plain TOML as this program writes it is followed; a key inside a multi-line
    value is taken for one of its own.
    """
    best, length = 0, 0
    for path, line in _fields(text):
        inside = field == path or field.startswith((f"{path}.", f"{path}["))
        if inside and len(path) > length:
            best, length = line, len(path)
    return best


def tables_of(text: str, name: str) -> list[tuple[str, int, int]]:
    """The tables below a name, in the order of the file: path, first line, last line that says something."""
    return [one for one in _tables(text) if one[0] == name or one[0].startswith((f"{name}.", f"{name}["))]


@lru_cache(maxsize=4)
def _tables(text: str) -> tuple[tuple[str, int, int], ...]:
    out: list[tuple[str, int, int]] = []
    lines = text.splitlines()
    heads = [(path, line) for path, line in _fields(text) if _HEADER.match(lines[line - 1])]
    for i, (path, first) in enumerate(heads):
        last = heads[i + 1][1] - 1 if i + 1 < len(heads) else len(lines)
        while last > first and (not lines[last - 1].strip() or lines[last - 1].lstrip().startswith("#")):
            last -= 1
        out.append((path, first, last))
    return tuple(out)


def _fields(text: str) -> Iterator[tuple[str, int]]:
    """Every table and key with its line; entries of a list of tables by their place."""
    table, counted = "", dict[str, int]()
    for number, line in enumerate(text.splitlines(), 1):
        if head := _HEADER.match(line):
            table = head[2]
            if head[1] == "[[":
                counted[table] = counted.get(table, -1) + 1
                table = f"{table}[{counted[table]}]"
            yield table, number
        elif key := _KEY.match(line):
            yield (f"{table}.{key[1]}" if table else key[1]), number
