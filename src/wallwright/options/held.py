"""What the design gives stays as it is: the check that a proposal moved none of it."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from wallwright.job.design import Design

LISTS = ("units", "panels", "points", "lights", "stock")


def broken(given: Design, made: Design) -> tuple[str, ...]:
    """The fields of the given design that the made one has otherwise; () where all of it stays. A value that is not given is free."""
    return tuple(_differences(given, made, "design"))


def _differences(given: Any, made: Any, where: str) -> list[str]:
    out: list[str] = []
    for item in fields(given):
        a, b = getattr(given, item.name), getattr(made, item.name)
        place = f"{where}.{item.name}"
        if item.name in LISTS and where == "design":
            there = {thing.ref: thing for thing in b}
            for thing in a:
                if thing.ref not in there:
                    out.append(f"{place}.{thing.ref}")
                else:
                    out += _differences(thing, there[thing.ref], f"{place}.{thing.ref}")
        elif is_dataclass(a) and not isinstance(a, type) and where == "design":
            out += _differences(a, b, place)
        elif a is not None and a != item.default and a != b:
            out.append(place)
    return out
