"""The transmittal: which sheets, lists and files come with a revision, which old prints are void, who gets what, who has it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.sheets.beside import Block, Notes
from wallwright.sheets.long_table import listed
from wallwright.sheets.paper import Sheet

if TYPE_CHECKING:
    from wallwright.change.impact import Document
    from wallwright.derive import Wall

CAUTIONS = (
    "Work from the sheets of this list alone. An old print of a sheet that is named here is void: mark it so, or destroy it.",
)
DOES = {"changed": "replace", "new": "add", "withdrawn": "take out, nothing replaces it"}


def transmittal(documents: Sequence[Document], revision: str, since: str) -> Table:
    """What comes and what is void."""
    cols = (
        Column("Sheet"), Column("Title"), Column("Kind"), Column("Was", "", 0), Column("Is", "", 0), Column("Do"),
        Column("Goes to"), Column("Received, date"),
    )  # fmt: skip
    rows = tuple(
        (
            f"{one.number:02d}" if one.number else "",
            one.title,
            one.kind,
            "" if one.what == "new" else since,
            "void" if one.what == "withdrawn" else revision,
            DOES[one.what],
            ", ".join(reader.replace("_", " ") for reader in one.readers) or "office",
            "________",
        )
        for one in documents
    )
    return Table("transmittal", f"Transmittal: revision {revision}, since {since}", cols, rows)


def sheets(
    wall: Wall, documents: Sequence[Document], since: str, stays: int, parts: Sequence[str] = ()
) -> tuple[Sheet, ...]:
    """The list on its sheets. stays : how many sheets are as they were · parts : those on which work stops, in words"""
    job = wall.job
    words = (
        f"{stays} sheets are not named here: they stay in force as they are, with the revision that they carry.",
        "What changed is clouded, words framed; the triangle beside a cloud holds the revision.",
        "Sign in the last column and send this sheet back before work goes on.",
    )
    head: list[Block] = [Notes("Read first", words)]
    if parts:
        head.append(Notes("Stop work on these parts and boxes: what becomes of each", tuple(parts)))
    table = transmittal(documents, job.revision, since)
    made = listed(wall, ("transmittal", "Transmittal"), "Transmittal", CAUTIONS, table, head, first=1)
    # counted by themselves, beside the set: TR1, never a sheet of the drawings
    return tuple(replace(sheet, number=k, of=len(made), series="TR") for k, sheet in enumerate(made, 1))
