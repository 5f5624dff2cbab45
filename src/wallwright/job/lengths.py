"""Every length that a part of the job holds, by its path."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, cast

from wallwright.core.units import Length


def lengths(value: Any, path: str) -> Iterator[tuple[str, Length]]:
    """(path, length) of all that are there, in the order of the file. path : of the value itself"""
    if isinstance(value, Length):
        yield path, value
    elif isinstance(value, tuple):
        for i, inner in enumerate(cast("tuple[Any, ...]", value)):
            if not isinstance(inner, (str, int, float)):
                yield from lengths(inner, f"{path}[{i}]")
    elif is_dataclass(value):
        for name in _names(type(value)):
            inner = getattr(value, name)
            if inner is not None and not isinstance(inner, (str, bool, int, float)):
                yield from lengths(inner, f"{path}.{name}")


@cache
def _names(kind: type[Any]) -> tuple[str, ...]:
    return tuple(item.name for item in fields(kind))
