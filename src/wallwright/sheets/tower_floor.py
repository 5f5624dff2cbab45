"""One floor on one page: every flat in a row, the figures that are checked there, and boxes to tick with a pencil."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.sheets.lettering import fitted, printable, wrap
from wallwright.sheets.paper import Sheet
from wallwright.sheets.tower_flat import MUST, FlatWall, fields_of

if TYPE_CHECKING:
    from wallwright.tower.record import TowerFile

A4_LYING = (297.0, 210.0)
TOP, LEFT, WIDE = 194.0, 15.0, 267.0
ROW, HEAD = 11.0, 12.5
A_PAGE = 11
"""Flats on one page."""
COLUMNS: tuple[tuple[str, float], ...] = (
    ("Flat", 20.0), ("Type, hand", 20.0), ("State, delivery", 25.0), ("Filler left", 13.5), ("Filler right", 13.5),
    ("Screen centre", 16.0), ("Console top", 18.0), ("Boxes", 14.0), ("Notes", 35.0),
)  # fmt: skip
TICKS = (
    "Boxes in place",
    "Level and fixed",
    "Fillers scribed",
    "Doors, hinge hand",
    "Power, tested",
    "Name, day",
)


def sheets(floor: str, flats: Sequence[FlatWall], tower: TowerFile) -> tuple[Sheet, ...]:
    """The floor's check sheet, more pages where it has many flats."""
    pages = [flats[i : i + A_PAGE] for i in range(0, len(flats), A_PAGE)]
    return tuple(_page(floor, page, tower, i, len(pages)) for i, page in enumerate(pages, 1))


def _page(floor: str, flats: Sequence[FlatWall], tower: TowerFile, page: int, of: int) -> Sheet:
    more = f", {page} of {of}" if of > 1 else ""
    marks: list[Mark] = [
        Text((LEFT, TOP), printable(f"Floor {floor}{more}: check sheet"), 5.0, bold=True, layer="text")
    ]
    marks += _row(TOP - 4.0, HEAD, [[name] for name, _ in COLUMNS], TICKS, head=True)
    for i, one in enumerate(flats):
        marks += _row(TOP - 4.0 - HEAD - i * ROW, ROW, _cells(one), ("",) * len(TICKS))
    return Sheet(
        f"floor_{floor}",
        f"Floor {floor}, check sheet{more}",
        "Check sheet",
        (),
        tuple(marks),
        fields_of(tower),
        (
            "Heights in mm from FFL; fillers at their narrowest as measured. A figure in brackets is as drawn: nobody measured there.",
            "Tick what is right; write what is not. Electrical tests by the locally licensed electrician.",
        ),
        size=A4_LYING,
        job_title=tower.title,
    )


def _cells(one: FlatWall) -> list[list[str]]:
    """The flat's figures, each in at most two lines."""
    flat, wall = one.flat, one.wall
    gaps = dict(one.fillers)
    tops = [unit.box.top for unit in wall.setout.units if unit.kind == "console"]

    def gap(end: str) -> str:
        if end not in gaps:
            return "free"
        return show_mm(gaps[end]) if one.measured else f"({show_mm(gaps[end])})"

    return [
        [flat.id],
        [flat.type, f"{flat.hand} hand"],
        [flat.state, flat.delivery or "not called for"],
        [gap("left")],
        [gap("right")],
        [show_mm(wall.sight.screen.centre[1])],
        [show_mm(max(tops))] if tops else ["none"],
        [str(len(wall.services.points))],
        _notes(one),
    ]


def _notes(one: FlatWall) -> list[str]:
    """What is not as the type: made to measure, exceptions, what must be put right."""
    said: list[str] = []
    if not one.series:
        said.append(one.made)
    elif one.fit and not one.fit.takes:
        said.append("DOES NOT TAKE IT AS DRAWN")
    if one.flat.exceptions:
        said.append(f"{counted(len(one.flat.exceptions), 'exception')}, see its sheet")
    must = sum(item.severity in MUST for item in one.findings)
    if must:
        said.append(f"{must} to put right first")
    return said


def _row(
    top: float, high: float, cells: list[list[str]], ticks: Sequence[str], *, head: bool = False
) -> list[Mark]:
    marks: list[Mark] = []
    x = LEFT
    for (_, wide), lines in zip(COLUMNS, cells, strict=True):
        marks.append(rectangle(Box(x, top - high, wide, high), "thin", layer="frame"))
        marks += _texts(Box(x + 1.2, top - high, wide - 2.4, high), lines, head=head, large=x == LEFT)
        x += wide
    wide = (LEFT + WIDE - x) / len(ticks)
    for words in ticks:
        marks.append(rectangle(Box(x, top - high, wide, high), "thin", layer="frame"))
        if words:
            marks += _texts(Box(x + 1.0, top - high, wide - 2.0, high), [words], head=True)
        elif words == "" and x + wide < LEFT + WIDE - 1.0:
            side = 4.4
            tick = Box(x + (wide - side) / 2, top - (high + side) / 2, side, side)
            marks.append(rectangle(tick, "medium", layer="frame"))
        x += wide
    marks.append(Line(((LEFT, top - high), (LEFT + WIDE, top - high)), "medium", layer="frame"))
    return marks


def _texts(room: Box, lines: list[str], *, head: bool, large: bool = False) -> list[Mark]:
    """Up to three lines in a cell, wrapped at words."""
    if large and not head and lines:
        text, height = fitted(printable(lines[0]), room.width, (TEXT_LABEL, TEXT_SMALL), bold=True)
        return [Text((room.x, room.centre[1] - height / 2), text, height, bold=True, layer="text")]
    wrapped = [part for line in lines for part in wrap(printable(line), room.width, TEXT_SMALL, bold=head)][
        :3
    ]
    step = 3.6
    first = room.centre[1] + step * (len(wrapped) - 1) / 2 - TEXT_SMALL / 2
    return [
        Text((room.x, first - i * step), fitted(line, room.width, (TEXT_SMALL,), bold=head)[0], TEXT_SMALL, bold=head, layer="text")
        for i, line in enumerate(wrapped)
    ]  # fmt: skip
