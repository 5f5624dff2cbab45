"""A unit's parts as a table on its sheet, equal ones in one row."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets.words import short_board

if TYPE_CHECKING:
    from wallwright.carcass.record import Part


def parts_table(parts: Iterable[Part], title: str = "Parts, finished sizes") -> Table:
    """The parts, equal ones in one row."""
    groups: dict[tuple[object, ...], list[Part]] = {}
    for part in parts:
        groups.setdefault(
            (part.role, part.board, part.length, part.width, part.thickness, part.edges, _front_name(part)),
            [],
        ).append(part)
    cols = (
        Column("Part"),
        Column("Name"),
        Column("No", "", 0, "right"),
        Column("L", "", 1, "right"),
        Column("W", "", 1, "right"),
        Column("T", "", 0, "right"),
        Column("Board"),
        Column("Edges"),
    )
    rows = tuple(
        (
            _refs(own),
            _common_name(own),
            len(own),
            size(own[0].length),
            size(own[0].width),
            size(own[0].thickness),
            short_board(own[0].board),
            edge_code(own[0]),
        )
        for own in groups.values()
    )
    return Table("parts_on_sheet", title, cols, rows)


def _front_name(part: Part) -> str:
    """What kind of front it is: fronts of one size need not be one thing."""
    return part.name if part.role == "front" else ""


def size(value: float) -> str:
    """A size of a part: whole mm, or one decimal where it is not nought."""
    return show_mm(value, 0 if abs(value - round(value)) < 0.05 else 1)


def _refs(parts: list[Part]) -> str:
    """Their references, short: the owner once, then the tags."""
    if len(parts) > 6:
        return f"{parts[0].id} … {parts[-1].id}"
    out: list[str] = []
    last = ""
    for part in parts:
        owner, _, tag = part.id.rpartition("-")
        out.append(tag if owner == last else part.id)
        last = owner
    return ", ".join(out)


def _common_name(parts: list[Part]) -> str:
    """The words that all their names share: left side and right side are sides."""
    words = [word.strip(",") for word in parts[0].name.split()]
    shared = [w for w in words if all(w in (v.strip(",") for v in part.name.split()) for part in parts)]
    name = " ".join(word for word in shared if not word.isdigit())
    return name if len(parts) > 1 and name else parts[0].name


def edge_code(part: Part) -> str:
    """How many long and short edges are banded: `2L 1S`; a dash where none is."""
    long = sum(1 for edge in part.edges[:2] if edge)
    short = sum(1 for edge in part.edges[2:] if edge)
    return " ".join([f"{long}L"] * bool(long) + [f"{short}S"] * bool(short)) or "-"
