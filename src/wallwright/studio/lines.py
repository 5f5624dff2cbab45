"""Where in the job file a field stands: so that a page, or a person with an editor, finds the line."""

from __future__ import annotations

import re
from collections.abc import Iterator

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
