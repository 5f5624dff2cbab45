"""Lists and notes that may be longer than their sheet: whole beside the drawing, or on sheets of their own, never cut short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.drawing import Mark, Text
from wallwright.core.shape import Box
from wallwright.core.table import Table
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.ink import extent_of
from wallwright.sheets.paper import Fields, Sheet
from wallwright.sheets.room import FULL

if TYPE_CHECKING:
    from wallwright.derive import Wall

_GAP = 4.0  # paper mm between two columns
_CLEAR = 4.6  # paper mm inside the frame, clear of its centring marks


def whole(marks: Sequence[Mark]) -> bool:
    """Whether every row stands there: what does not fit is told under a table."""
    return not any(isinstance(mark, Text) and "more in the schedules" in mark.text for mark in marks)


def columns(count: int) -> tuple[Box, ...]:
    """So many columns side by side over the whole sheet."""
    wide = (FULL.width - 2 * _CLEAR - (count - 1) * _GAP) / count
    return tuple(Box(FULL.x + _CLEAR + i * (wide + _GAP), FULL.z, wide, FULL.height) for i in range(count))


def pages(table: Table, head: Sequence[Block] = (), rooms: tuple[Box, ...] = ()) -> list[tuple[Mark, ...]]:
    """The table on as many sheets as it needs, in two columns; head : repeated before it on each."""
    rooms = rooms or columns(2)
    out: list[tuple[Mark, ...]] = []
    rows = table.rows
    while rows:
        n = len(rows)
        while n > 1 and not whole(column([*head, replace(table, rows=rows[:n])], rooms)):
            n -= 1
        out.append(column([*head, replace(table, rows=rows[:n])], rooms))
        rows = rows[n:]
    return out


def stands(marks: tuple[Mark, ...], rooms: Sequence[Box]) -> bool:
    """Whether all of it is there and nothing hangs out below its rooms."""
    return not marks or (whole(marks) and extent_of(marks, 1.0).z >= min(room.z for room in rooms) - 0.5)


FOUR = (1.0, 1.0, 1.0, 1.0)
SHARES = ((1.0, 1.0, 1.0), FOUR, (1.0, 2.0), (2.0, 1.0), (1.0, 1.0))
"""How a strip below a wide view is parted into columns: the first way in which all of its words stand."""


def parted(blocks: Sequence[Block], rooms: tuple[Box, ...]) -> tuple[Box, ...] | None:
    """The rooms in which all of the blocks stand: as given, or a strip of three parted otherwise. None where there are none."""
    for shares in SHARES if _strip(rooms) else ():
        tried = _shared(rooms, shares)
        if stands(column(blocks, tried), tried):
            return tried
    return rooms if not _strip(rooms) and stands(column(blocks, rooms), rooms) else None


def _strip(rooms: tuple[Box, ...]) -> bool:
    """Whether they lie side by side at one height."""
    return len(rooms) > 2 and len({(room.z, room.height) for room in rooms}) == 1


def _shared(rooms: tuple[Box, ...], shares: tuple[float, ...]) -> tuple[Box, ...]:
    left, right, gap = rooms[0].x, rooms[-1].right, rooms[1].x - rooms[0].right
    part = (right - left - gap * (len(shares) - 1)) / sum(shares)
    out: list[Box] = []
    for share in shares:
        out.append(Box(left, rooms[0].z, part * share, rooms[0].height))
        left = out[-1].right + gap
    return tuple(out)


def beside_and_after(first: Sheet, blocks: Sequence[Block], rooms: tuple[Box, ...]) -> tuple[Sheet, ...]:
    """A sheet with as many of the blocks beside its drawing as go in, its legend first and lists last, and sheets after it with the
    others.
    """
    all_in = parted(blocks, rooms)
    if all_in is None:
        blocks = sorted(blocks, key=lambda block: (not isinstance(block, Legend), isinstance(block, Table)))
        all_in = parted(blocks, rooms)
    ways = [all_in] if all_in else [rooms, *([_shared(rooms, FOUR)] if _strip(rooms) else [])]
    rooms, kept = max(((way, _kept(blocks, way)) for way in ways), key=lambda found: len(found[1]))
    rest = [block for block in blocks if block not in kept]
    marks = column([*kept, *_told(rest)], rooms)
    if not stands(marks, rooms):
        marks = column(kept, rooms) if kept else ()
    more = _after(rest)
    title = f"{first.title}, list"
    return (
        replace(first, marks=(*first.marks, *marks)),
        *(
            replace(
                first, name=f"{first.name}{k}", title=f"{title} {k - 1} of {len(more)}" if len(more) > 1 else title,
                views=(), marks=drawn,
            )
            for k, drawn in enumerate(more, 2)
        ),
    )  # fmt: skip


def _kept(blocks: Sequence[Block], rooms: tuple[Box, ...]) -> list[Block]:
    """Those that go on the first sheet, each asked in turn."""
    kept: list[Block] = []
    for block in blocks:
        if stands(column([*kept, block], rooms), rooms):
            kept.append(block)
    return kept


def _told(rest: Sequence[Block]) -> list[Notes]:
    return [Notes("On the next sheet", (f"{_titles(rest)}.",))] if rest else []


def _titles(blocks: Sequence[Block]) -> str:
    names = [block.title if isinstance(block, Table) else block.heading for block in blocks]
    return ", ".join(names).capitalize()


def _after(blocks: Sequence[Block]) -> list[tuple[Mark, ...]]:
    """The blocks on sheets of their own; a list longer than a sheet goes over several."""
    out: list[tuple[Mark, ...]] = []
    left, rooms = list(blocks), columns(2)
    while left:
        n = next((n for n in range(len(left), 0, -1) if stands(column(left[:n], rooms), rooms)), 0)
        head = left[0]
        out += (
            [column(left[:n], rooms)]
            if n
            else pages(head)
            if isinstance(head, Table)
            else [column([head], rooms)]
        )
        left = left[max(n, 1) :]
    return out


def listed(  # noqa: PLR0913
    wall: Wall, name: tuple[str, str], kind: str, cautions: tuple[str, ...], table: Table, head: Sequence[Block] = (),
    first: int = 2,
) -> tuple[Sheet, ...]:  # fmt: skip
    """Sheets that hold a table alone. name : of the sheet they belong to, and its title · first : the number the first one takes; 1: there is no
    sheet but these
    """
    made = pages(table, head)
    alone = name[1] if first == 1 else f"{name[1]}, list"
    return tuple(
        Sheet(
            f"{name[0]}{n}", f"{alone} {n - first + 1} of {len(made)}" if len(made) > 1 else alone, kind, (),
            marks, Fields.of(wall.job), cautions, job_title=wall.job.title,
        )
        for n, marks in enumerate(made, first)
    )  # fmt: skip
