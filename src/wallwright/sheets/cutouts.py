"""Cut-outs: where an outlet box, a conduit's end or an LED feed in the wall lies behind a board, from that board's edges."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Dim, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.sheets.chains import chain
from wallwright.sheets.ink import figure, rounded
from wallwright.sheets.lettering import text_width
from wallwright.sheets.words import point_words

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

FACING = ("panel", "back", "backer")
"""Boards that lie flat on the wall: an opening is cut in them."""
EDGE_ON = ("division", "side", "rail", "cleat")
"""Boards that only cross a box: notched at their rear edge, or the box is moved."""


@dataclass(frozen=True, slots=True)
class CutOut:
    """An opening in a board for a point. box : on the wall's axes, as much of the point's box as the board covers."""

    part: Part
    point: ServicePoint
    box: Box

    @property
    def left(self) -> float:
        """From the board's left edge [mm]."""
        return self.box.x - self.part.block.x

    @property
    def low(self) -> float:
        """From the board's lower edge [mm]."""
        return self.box.z - self.part.block.z


def cut_outs(wall: Wall, parts: Iterable[Part]) -> tuple[CutOut, ...]:
    """Every opening in these boards, board by board."""
    out: list[CutOut] = []
    for part in parts:
        if part.role not in FACING + EDGE_ON:
            continue
        for point in wall.services.points:
            common = part.block.face.shared(point.box)
            if common is not None and min(common.width, common.height) > 0.5:
                out.append(CutOut(part, point, common))
    return tuple(out)


def cut_out_table(found: Sequence[CutOut]) -> Table:
    """The openings as a table: whole mm, from the left and the lower edge of the board as it is fixed."""
    cols = (
        Column("Board"),
        Column("For"),
        Column("From left", "", 0, "right"),
        Column("From below", "", 0, "right"),
        Column("Wide", "", 0, "right"),
        Column("High", "", 0, "right"),
    )
    rows = tuple(
        (
            one.part.id,
            f"{one.point.ref} {point_words(one.point.kind)}",
            *(str(rounded(v)) for v in (one.left, one.low, one.box.width, one.box.height)),
        )
        for one in found
    )
    notes = (
        "Cut to the box as found on site, not larger than its plate covers. In backs and panels: openings; in boards on edge: "
        "notches at the rear.",
    )
    return Table("cut_outs_on_sheet", "Cut-outs, from the edges of the finished board", cols, rows, notes)


def cut_out_marks(found: Iterable[CutOut], dx: float = 0.0, dz: float = 0.0) -> tuple[list[Mark], list[Mark]]:
    """Their outlines dashed, and their references. dx, dz : moved by so much [mm]."""
    lines: list[Mark] = []
    labels: list[Mark] = []
    for one in found:
        box = Box(one.box.x + dx, one.box.z + dz, one.box.width, one.box.height)
        lines.append(rectangle(box, "dashed", layer="cutouts", ref=f"{one.part.id} {one.point.ref}"))
        if one.part.role in FACING:
            labels.append(
                Text(
                    (box.centre[0], box.centre[1]),
                    one.point.ref,
                    anchor="middle",
                    layer="text",
                    ref=one.point.ref,
                )
            )
    return lines, labels


def cut_out_dims(
    found: Sequence[CutOut],
    at: tuple[float, float],
    offset: tuple[float, float],
    scale: float,
    dx: float = 0.0,
    dz: float = 0.0,
) -> tuple[list[Dim], list[Dim]]:
    """Chains through the openings from edge to edge of their boards: across, and up. One that would be too crowded to read is left
    to the table, which has the same figures.

    at : the outline's z for the chain across, its x for the one up · offset : of each [paper mm]
    """
    faced = [one for one in found if one.part.role in FACING]
    if not faced:
        return [], []
    boards = [one.part.block.face for one in faced]
    across = [e + dx for b in (*boards, *(one.box for one in faced)) for e in (b.x, b.right)]
    up = [e + dz for b in (*boards, *(one.box for one in faced)) for e in (b.z, b.top)]
    level = chain(across, "x", at[0], offset[0], "cut-outs across")
    upright = chain(up, "z", at[1], offset[1], "cut-outs up")
    return [] if crowded(level, scale) else level, [] if crowded(upright, scale) else upright


CROWD = 3
"""So many neighbours in a chain, each too short for its own figure, cannot be told apart."""


def crowded(dims: Sequence[Dim], scale: float) -> bool:
    """Whether in a chain `CROWD` neighbours are each shorter on paper than their figures are wide."""
    short = [text_width(figure(dim), TEXT_SMALL) + 1.0 > dim.value / scale for dim in dims]
    return any(all(short[i : i + CROWD]) for i in range(len(short) - CROWD + 1))
