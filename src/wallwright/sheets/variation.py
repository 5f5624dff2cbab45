"""A variation on one sheet: what changes, why, what it adds in money and days, which sheets it makes void, and the signatures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Line, Mark, Text
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.sheets.beside import Block, Notes, column
from wallwright.sheets.long_table import columns
from wallwright.sheets.paper import Fields, Sheet

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.progress import Variation

CAUTIONS = ("No work on it before both have signed. Unsigned, the drawings that are out stay in force.",)
STATES = {
    "draft": "not priced yet", "priced": "priced, waits for signatures", "approved": "accepted", "refused": "REFUSED",
    "done": "accepted and done", "invoiced": "accepted, done and invoiced",
}  # fmt: skip
_SIGN = 56.0  # height kept at the foot of a column for the signatures [paper mm]


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """One sheet for each variation."""
    return tuple(_sheet(wall, one) for one in wall.job.progress.variations)


def _sheet(wall: Wall, one: Variation) -> Sheet:
    left, right = columns(2)
    upper = Box(left.x, left.z + _SIGN, left.width, left.height - _SIGN)
    marks = [*column(_terms(wall, one), (upper,)), *column(_void(one), (right,)), *_signatures(left, one)]
    title = f"Variation {one.ref}: {STATES[one.state]}"
    return Sheet(
        f"variation_{one.ref}",
        title,
        "Variation",
        (),
        tuple(marks),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


def _terms(wall: Wall, one: Variation) -> list[Block]:
    money = wall.money.notation
    priced = one.state != "draft"
    adds = money.money(money.minor(one.price)) if priced else "to be priced"
    rows = (
        ("Number", one.ref),
        (
            "Asked for by",
            {"client": "the client", "site": "what the site found", "design": "the designer"}[one.origin],
        ),
        ("Changes revision", one.from_revision or "-"),
        ("Adds in money, all in", adds),
        ("Adds in working days", f"{one.days:+d}" if priced else "to be timed"),
        ("State", STATES[one.state]),
    )
    return [
        Notes("What changes", (one.says,)),
        *([Notes("Why", (one.reason,))] if one.reason else []),
        Table("terms", "Terms", (Column("Item"), Column("Said")), rows),
    ]


def _void(one: Variation) -> list[Block]:
    rows = tuple((title, "") for title in one.documents)
    if not rows:
        return [
            Notes(
                "What is issued again", ("Nothing was named: ask before anybody works from an older print.",)
            )
        ]
    return [
        Table(
            "void",
            "Void once it is signed, and issued again",
            (Column("Sheet, list or file"), Column("Handed back")),
            rows,
        )
    ]


def _signatures(room: Box, one: Variation) -> list[Mark]:
    """Two lines to be signed; filled in where it was."""
    out: list[Mark] = []
    for i, who in enumerate(("Client", "Designer")):
        z = room.z + _SIGN - 24.0 - 22.0 * i
        out.append(Line(((room.x, z), (room.x + 96.0, z)), "medium", layer="notes"))
        out.append(Line(((room.x + 102.0, z), (room.x + 140.0, z)), "medium", layer="notes"))
        out.append(
            Text((room.x, z - 4.2), f"{who}: accepted, or refused (strike out)", TEXT_SMALL, layer="notes")
        )
        out.append(Text((room.x + 102.0, z - 4.2), "Date", TEXT_SMALL, layer="notes"))
    if one.by:
        z = room.z + _SIGN - 24.0
        word = "refused" if one.state == "refused" else "accepted"
        out.append(
            Text(
                (room.x + 1.0, z + 1.4),
                f"{one.by} ({word}, entered in the job)",
                TEXT_SMALL,
                bold=True,
                layer="notes",
            )
        )
        out.append(Text((room.x + 103.0, z + 1.4), one.date, TEXT_SMALL, bold=True, layer="notes"))
    return out
