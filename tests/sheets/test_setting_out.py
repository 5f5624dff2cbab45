"""The first-fix check list: its days are the programme's, written one way; a box line says how deep it sits."""

from __future__ import annotations

import re
from datetime import date

from wallwright.derive import Wall
from wallwright.programme.calendar import working_day
from wallwright.sheets.setting_out import checks


def test_the_set_out_is_checked_on_the_day_that_the_programme_sets_out(any_wall: Wall) -> None:
    rows = checks(any_wall).rows
    set_out = next((task for task in any_wall.programme.tasks if task.ref == "protect"), None)
    day = working_day(
        date.fromisoformat(any_wall.job.date), max(set_out.early_finish - 1, 0) if set_out else 0
    ).isoformat()
    assert next(row[2] for row in rows if row[0] == "Set-out") == day
    assert all(re.fullmatch(r"(\d{4}-\d\d-\d\d)?", str(row[2])) for row in rows)


def test_a_box_sits_flush_to_three_behind_the_finish(any_wall: Wall) -> None:
    boxes = [str(row[1]) for row in checks(any_wall).rows if "box level" in str(row[1])]
    assert len(boxes) == len(any_wall.services.points)
    assert all(text.endswith("flush to 3 mm behind the finish") for text in boxes)
