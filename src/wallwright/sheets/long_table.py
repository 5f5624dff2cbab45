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


def beside_and_after(first: Sheet, blocks: Sequence[Block], rooms: tuple[Box, ...]) -> tuple[Sheet, ...]:
    """A sheet with as many of the blocks beside its drawing as go in, its legend first and lists last, and sheets after it with the
    others.
    """
    if not stands(column(blocks, rooms), rooms):
        blocks = sorted(blocks, key=lambda block: (not isinstance(block, Legend), isinstance(block, Table)))
    for n, say in ((n, say) for n in range(len(blocks), 0, -1) for say in (True, False)):
        told = [Notes("On the next sheet", (f"{_titles(blocks[n:])}.",))] if say and blocks[n:] else []
        marks = column([*blocks[:n], *told], rooms)
        if stands(marks, rooms):
            break
    else:
        n, marks = 0, ()
    more = _after(blocks[n:])
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
