"""The programme as a list: who works when, what may slip, what must be signed first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Task"),
    Column("Trade"),
    Column("Days", "", 0, "right"),
    Column("From day", "", 0, "right"),
    Column("To day", "", 0, "right"),
    Column("May slip", "days", 0, "right"),
    Column("Critical"),
    Column("After"),
    Column("Hold: signed before the next"),
)


def programme(wall: Wall) -> Table:
    """Tasks by earliest start. Working days, the first is 1; a task of one day starts and ends on the same day."""
    names = {task.ref: task.name for task in wall.programme.tasks}
    rows = tuple(
        (
            task.name, task.trade, task.days, task.early_start + 1, max(task.early_start + 1, task.early_finish), task.slack,
            "yes" if task.slack == 0 else "", ", ".join(names[ref] for ref in task.after), task.hold,
        )
        for task in sorted(wall.programme.tasks, key=lambda task: (task.early_start, task.early_finish))
    )  # fmt: skip
    notes = (
        f"{wall.programme.days} working days from survey to handover.",
        "Drying and lead times are usual ones: the moisture check and the supplier's word decide.",
        "Boards are cut only after the boxes are checked on the wall.",
    )
    return Table("programme", "Programme", COLUMNS, rows, notes)
