"""What a photo told, as lists: the measured points against one another, and how sure the wall is read from it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.table import Cell, Column, Table

if TYPE_CHECKING:
    from wallwright.photo.boxes import SeenBox
    from wallwright.photo.straight import Sure
    from wallwright.photo.taken import Taken


def points(taken: Taken) -> Table:
    """Each measured point: what is left over, and what the others make of it."""
    others, bad = {one.ref: one for one in taken.points}, {one.ref for one in taken.suspects}
    rows: list[tuple[Cell, ...]] = []
    for one, (dx, dz) in zip(taken.fit.marked, taken.fit.residuals, strict=True):
        left = others.get(one.ref)
        says = "MEASURE AGAIN" if one.ref in bad else "" if left else "nothing checks it"
        off = tuple(round(v, 1) + 0.0 for v in left.off) if left else (None, None)
        rows.append((one.ref, *one.at, round(dx, 1) + 0.0, round(dz, 1) + 0.0, *off, says))
    cols = (
        Column("Point"), Column("x", "mm", 0, "right"), Column("z", "mm", 0, "right"), Column("Off in x", "mm", 1, "right"),
        Column("Off in z", "mm", 1, "right"), Column("The others: x", "mm", 1, "right"), Column("z ", "mm", 1, "right"), Column("Says"),
    )  # fmt: skip
    notes = ("The others: how far the point lies from where all the others put it.",) if others else (
        "Four points check nothing, neither one another nor the lens: ± holds for a phone's main camera. Six or more do.",
    )  # fmt: skip
    return Table("photo_points", "Measured points", cols, tuple(rows), notes)


def sure(found: Sequence[Sure]) -> Table:
    """± with which a place is read, over the wall: a row a height, a column a distance from the left corner."""
    xs = sorted({one.x for one in found})
    by = {(one.x, one.z): one.sure for one in found}
    cols = (Column("± at z", "mm", 0, "right"), *(Column(f"x {x:.0f}", "mm", 1, "right") for x in xs))
    rows = tuple((z, *(by[x, z] for x in xs)) for z in sorted({one.z for one in found}, reverse=True))
    notes = ("95 %, one mark included; the wall's own plane only.",)
    return Table("photo_sure", "How sure the photo is", cols, rows, notes)


def boxes(seen: Sequence[SeenBox]) -> Table:
    """Boxes as the photo shows them."""
    cols = (
        Column("Box"), Column("x", "mm", 0, "right"), Column("z", "mm", 0, "right"), Column("±", "mm", 1, "right"),
        Column("Width", "mm", 0, "right"), Column("Height", "mm", 0, "right"),
    )  # fmt: skip
    rows = tuple((one.ref, one.x, one.z, one.sure, one.width, one.height) for one in seen)
    return Table("photo_boxes", "Boxes by the photo", cols, rows, ("A photo: no cut-out is made by it.",))
