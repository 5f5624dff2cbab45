"""The cut list: every piece of board, equal ones together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Cell, Column, Table
from wallwright.tables.names import code, finish_name

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall

COLUMNS = (
    Column("Part"),
    Column("Unit"),
    Column("Name"),
    Column("Board"),
    Column("Finish"),
    Column("Length", "mm", 1, "right"),
    Column("Width", "mm", 1, "right"),
    Column("Thickness", "mm", 1, "right"),
    Column("Cut length", "mm", 1, "right"),
    Column("Cut width", "mm", 1, "right"),
    Column("Quantity", "", 0, "right"),
    Column("Grain"),
    Column("Match"),
    Column("Edge long 1"),
    Column("Edge long 2"),
    Column("Edge short 1"),
    Column("Edge short 2"),
    Column("Mass each", "kg", 2, "right"),
)
MATCHED = (
    "Parts of one match are cut from one strip in the order of their ids, so that the figure runs on; a mark with > lies end to end along "
    "the grain, one without side by side. Mark each before the strip is parted."
)


def cut_list(wall: Wall) -> Table:
    """Finished and cut sizes of all parts; cut = finished less the edge bands. Parts that no sheet gives are in the notes."""
    groups: dict[tuple[Cell, ...], list[Part]] = {}
    for part in wall.carcass.parts:
        groups.setdefault(_alike(part), []).append(part)
    rows = tuple(_row(group) for group in groups.values())
    count, mass = len(wall.carcass.parts), sum(part.mass for part in wall.carcass.parts)
    notes = (
        f"{count} parts, {mass:.1f} kg of board.",
        "Length runs along the grain where there is one. Check the first of each before the rest is cut.",
        "Cutting board makes fine dust: extract at the saw and wear a mask.",
        *([MATCHED] if any(part.match for part in wall.carcass.parts) else []),
        *(f"{mark}: {why}." for mark, why in wall.cuts.parted),
        *(f"{ident}: {why}." for ident, why in wall.cuts.unfit),
    )
    return Table("cut_list", "Cut list", COLUMNS, rows, notes)


def _alike(part: Part) -> tuple[Cell, ...]:
    """All that must be equal for two parts to be one line."""
    sizes = (part.length, part.width, part.thickness, part.cut_length, part.cut_width)
    return (
        part.unit,
        part.name,
        part.board,
        part.finish,
        *(round(size, 2) for size in sizes),
        part.grain,
        part.match,
        *part.edges,
    )


def _row(group: list[Part]) -> tuple[Cell, ...]:
    part = group[0]
    return (
        ", ".join(one.id for one in group), part.unit, part.name, code(part.board), finish_name(part.finish), part.length, part.width,
        part.thickness, part.cut_length, part.cut_width, len(group), part.grain, part.match, *part.edges, part.mass,
    )  # fmt: skip
