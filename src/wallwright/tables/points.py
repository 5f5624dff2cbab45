"""The point schedule: every box on the wall with its place and what it serves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

DESIGN_AID = "Design aid: to be checked, sized, installed and tested by the locally licensed electrician, to the local code."
COLUMNS = (
    Column("Ref"),
    Column("Kind"),
    Column("x to centre", "mm", 0, "right"),
    Column("Height to centre", "mm", 0, "right"),
    Column("Box width", "mm", 0, "right"),
    Column("Box height", "mm", 0, "right"),
    Column("Box depth", "mm", 0, "right"),
    Column("Zone"),
    Column("Circuit"),
    Column("Serves"),
    Column("Why here"),
    Column("Decided"),
)


def points(wall: Wall) -> Table:
    """All points; x from the wall's left corner, heights from FFL, both to the middle of the box."""
    rows = tuple(
        (
            p.ref, said(p.kind), p.x, p.z, p.box.width, p.box.height, p.box_depth, said(p.zone), p.circuit, ", ".join(p.serves),
            because(p.reason, p.kind), "by the designer" if p.pinned else "automatic",
        )
        for p in wall.services.points
    )  # fmt: skip
    notes = (
        DESIGN_AID,
        "x from the left corner of the wall, heights from finished floor level, both to the CENTRE of the box.",
        "Isolate and prove dead before any box is opened. Photograph the open wall with a tape in the picture.",
    )
    return Table("points", "Point schedule", COLUMNS, rows, notes)


def because(reason: str, kind: str) -> str:
    """Why a point stands where it does, the kind that it begins with in words."""
    rest = reason.removeprefix(f"{kind} ")
    return reason if rest == reason else f"{said(kind)} {rest}"


def said(word: str) -> str:
    """A key as words: twin_socket is twin socket."""
    return {"rf": "aerial", "elv": "low voltage"}.get(word, word.replace("_", " "))
