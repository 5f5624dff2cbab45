"""The programme as a bar chart: who works when, what may slip, what waits for drying or delivery, and what must be signed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Hatch, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.programme.calendar import working_day
from wallwright.sheets.beside import Legend, Notes, column, height_of
from wallwright.sheets.lettering import fitted, text_width
from wallwright.sheets.long_table import columns
from wallwright.sheets.paper import Fields, Sheet
from wallwright.sheets.room import FULL

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.programme.record import Programme, Task

WORDS, NUMBERS = 104.0, 9.0  # widths of the tasks' names and of the column of hold numbers [paper mm]
HEAD, GATES = 13.0, 12.0  # heights of the row of weeks and of the row of gates [paper mm]
MOST_ROW, LEAST_ROW = 6.4, 4.2
BELOW = 62.0  # least height for holds, gates and legend below the chart [paper mm]
_WAITING = ("supply",)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The chart across the sheet, holds and gates below it, or on a sheet of their own where they are many."""
    programme = wall.programme
    tasks = sorted(programme.tasks, key=lambda task: (task.early_start, task.early_finish, task.ref))
    row = min(MOST_ROW, max(LEAST_ROW, (FULL.height - BELOW - HEAD - GATES) / max(len(tasks), 1)))
    high = HEAD + row * len(tasks) + GATES
    chart = Box(FULL.x + 6, FULL.top - high - 5, FULL.width - 12, high)  # clear of the centring marks
    marks = _chart(wall, tasks, chart, row)
    third = (FULL.width - 16.0) / 3
    rooms = tuple(Box(FULL.x + 3 + i * (third + 5), FULL.z, third, chart.z - FULL.z - 4) for i in range(3))
    held, gates = _held(tasks), Notes("Gates", _gate_words(wall))
    rest = _legend(), Notes("Notes", _notes(programme))
    if _crowded(wall, tasks, rooms[0]):
        held, gates = replace(held, lines=(_BEYOND,)), replace(gates, lines=(_BEYOND,))
    marks += [*column((held,), rooms[:1]), *column((gates,), rooms[1:2]), *column(rest, rooms[2:])]
    after: tuple[Sheet, ...] = ()
    if _crowded(wall, tasks, rooms[0]):
        beside = columns(2)
        words = (
            *column((_held(tasks),), beside[:1]),
            *column((Notes("Gates", _gate_words(wall)),), beside[1:]),
        )
        after = (_sheet(wall, "programme2", "Programme, holds and gates", words),)
    return _sheet(wall, "programme", "Programme", tuple(marks)), *after


_BEYOND = "They stand on the sheet that follows, by the numbers in the chart."


def _crowded(wall: Wall, tasks: list[Task], room: Box) -> bool:
    """Whether holds or gates need more height than the chart leaves."""
    blocks = _held(tasks), Notes("Gates", _gate_words(wall))
    return any(height_of(block, room.width) > room.height for block in blocks)


def _held(tasks: list[Task]) -> Notes:
    return Notes("Holds: signed before the next task starts", tuple(task.hold for task in _holds(tasks)))


def _sheet(wall: Wall, name: str, title: str, marks: tuple[Mark, ...]) -> Sheet:
    return Sheet(
        name, title, "Programme", (), marks, Fields.of(wall.job),
        ("Isolate and prove dead before work on boxes; two people lift the screen.",), job_title=wall.job.title,
    )  # fmt: skip


def _holds(tasks: list[Task]) -> list[Task]:
    """The tasks with a hold behind them, as they are numbered."""
    return [task for task in tasks if task.hold]


def _chart(wall: Wall, tasks: list[Task], box: Box, row: float) -> list[Mark]:
    programme = wall.programme
    left = box.x + WORDS + NUMBERS
    day = (box.right - left - 10.0) / max(
        programme.days, 1
    )  # the last gate's name stands beside the last day
    top = box.top - HEAD
    foot = top - row * len(tasks)
    marks: list[Mark] = [*_weeks(wall, left, day, Box(left, foot, box.right - left, box.top - foot))]
    numbers = {task.ref: i for i, task in enumerate(_holds(tasks), 1)}
    middle = {task.ref: top - row * (i + 0.5) for i, task in enumerate(tasks)}
    marks += _links(programme, middle, left, day)
    for task in tasks:
        marks += _row(
            task,
            task.ref in programme.critical,
            Box(box.x, middle[task.ref] - row / 2, WORDS, row),
            left,
            day,
        )
        if task.ref in numbers:
            marks.append(
                Text(
                    (left - 3.0, middle[task.ref] - 1.2),
                    str(numbers[task.ref]),
                    anchor="end",
                    layer="text",
                    ref=task.ref,
                )
            )
    marks += [
        Line(((box.x, top), (box.right, top)), "medium", layer="frame"),
        Line(((box.x, foot), (box.right, foot)), "medium", layer="frame"),
        Text((box.x, top + 2.0), "Task (trade, working days)", bold=True, layer="text"),
        Text((left - 3.0, top + 2.0), "hold", anchor="end", bold=True, layer="text"),
        Text((box.x, foot - 5.0), "Gates", bold=True, layer="text"),
    ]
    return marks + _gates(programme, left, day, foot)


def _row(task: Task, critical: bool, box: Box, left: float, day: float) -> list[Mark]:
    """A task's words, its bar, how far it may slip, and a diamond where it holds."""
    z, half = box.centre[1], min(1.7, box.height / 2 - 0.5)
    days = f"{task.name} ({task.trade}, {task.days})"
    words, height = fitted(days, WORDS - 2, (TEXT_SMALL,), bold=critical)
    marks: list[Mark] = [Text((box.x, z - 1.2), words, height, bold=critical, layer="text", ref=task.ref)]
    start, end = left + day * task.early_start, left + day * task.early_finish
    if task.slack:
        late = left + day * task.late_finish
        marks.append(Line(((end, z), (late, z)), "dashed", layer="outlines", ref=task.ref))
        marks.append(Line(((late, z - half), (late, z + half)), "thin", layer="outlines", ref=task.ref))
    if task.days:
        bar = Box(start, z - half, end - start, 2 * half)
        pattern = "light" if task.trade in _WAITING or task.ref == "dry" else "cut" if critical else None
        marks.append(rectangle(bar, "none", fill="#fff", layer="parts", ref=task.ref))
        if pattern:
            marks.append(Hatch(bar.corners, pattern, layer="hatch", ref=task.ref))
        marks.append(rectangle(bar, "extra" if critical else "thin", layer="parts", ref=task.ref))
    if task.hold:
        d = 1.3
        tip = ((end - d, z), (end, z + d), (end + d, z), (end, z - d))
        marks.append(Line(tip, "medium", closed=True, fill="#fff", layer="levels", ref=f"hold {task.ref}"))
    return marks


def _links(programme: Programme, middle: dict[str, float], left: float, day: float) -> list[Mark]:
    """From each critical task's end to the start of the critical ones that wait for it."""
    by = {task.ref: task for task in programme.tasks}
    return [
        Line(((left + day * by[ref].early_finish, middle[ref]), (left + day * task.early_start, middle[task.ref])), "medium",
             layer="runs", ref=f"{ref} {task.ref}")
        for task in programme.tasks if task.ref in programme.critical
        for ref in task.after if ref in programme.critical and by[ref].early_finish == task.early_start
    ]  # fmt: skip


def _weeks(wall: Wall, left: float, day: float, box: Box) -> list[Mark]:
    """Every week from the job's date with its first day; each second or fourth where they are narrow."""
    start = date.fromisoformat(wall.job.date)
    marks: list[Mark] = []
    wide = text_width("00 Mmm", TEXT_SMALL) + 3.0
    every = next(n for n in (1, 2, 4, 8, 16, 64) if n * 5 * day >= wide or n == 64)
    for week in range(0, wall.programme.days // 5 + 1):
        x = left + week * 5 * day
        labelled = week % every == 0
        top = box.top - 1.0 if labelled else box.top - HEAD
        marks.append(Line(((x, box.z), (x, top)), "thin", layer="dims", ref="week"))
        if labelled and x + wide < box.right + 6:
            on = working_day(start, week * 5)
            words = f"{on.day} {_MONTHS[on.month - 1]}"
            marks.append(Text((x + 0.8, box.top - 4.2), words, layer="text", ref="week"))
            marks.append(Text((x + 0.8, box.top - 8.8), f"day {week * 5 + 1}", layer="text", ref="week"))
    return marks


_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def _gates(programme: Programme, left: float, day: float, foot: float) -> list[Mark]:
    """Each gate a triangle below the chart on its day, its name beside it; in a second line where they crowd."""
    marks: list[Mark] = []
    free = [-1e9, -1e9]
    for gate in sorted(programme.gates, key=lambda gate: (gate.day, gate.ref)):
        x = left + day * gate.day
        line = 0 if x - 2.5 > free[0] else 1
        z = foot - 2.6 - 5.0 * line
        wide = text_width(gate.ref, TEXT_SMALL, True)
        at = max(x, free[line] + 2.5) if line else x
        marks.append(
            Line(((at, z + 1.4), (at - 1.3, z - 1.0), (at + 1.3, z - 1.0)), "medium", closed=True, fill="#000", layer="levels",
                 ref=gate.ref)
        )  # fmt: skip
        marks.append(Text((at + 2.0, z - 1.2), gate.ref, bold=True, layer="text", ref=gate.ref))
        free[line] = at + 2.0 + wide
    return marks


def _gate_words(wall: Wall) -> tuple[str, ...]:
    start = date.fromisoformat(wall.job.date)
    return tuple(
        f"{gate.ref} {gate.name}: day {gate.day}, {working_day(start, max(gate.day - 1, 0)).isoformat()}. Signed: ______________"
        for gate in wall.programme.gates
    )


def _legend() -> Legend:
    return Legend(
        (
            ("pen:extra", "critical: a day lost here is lost at the end"),
            ("pen:dashed", "may slip so far without moving the end"),
            ("hatch:light", "waiting: delivery or drying"),
        )
    )


def _notes(programme: Programme) -> tuple[str, ...]:
    return (
        f"{programme.days} working days, Monday to Friday, from the date of issue; holidays are not taken out.",
        "A diamond is a hold: the next task starts when it is signed. Drying and lead times are usual ones.",
    )
