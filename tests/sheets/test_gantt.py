"""The bar chart: bars as long as their tasks, nothing over anything, inside the frame, for short and long programmes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from wallwright.core.drawing import Line, Text
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import gantt
from wallwright.sheets.crossed import crossed
from wallwright.sheets.paper import Sheet, numbered

CASES = {
    "living": {},
    "bedroom": {},
    "living_faults": {},
    "living, slow": {"programme.lead_boards_days": 190.0},
}


@pytest.fixture(scope="module", params=CASES)
def wall(request: pytest.FixtureRequest) -> Wall:
    job = read_job(demo_jobs()[request.param.split(",")[0]])
    return derive(replace(job, rules={**job.rules, **CASES[request.param]}))


def bars(sheet: Sheet) -> dict[str, tuple[float, float]]:
    out: dict[str, tuple[float, float]] = {}
    for mark in sheet.marks:
        if isinstance(mark, Line) and mark.layer == "parts" and mark.pen != "none":
            xs = [x for x, _ in mark.points]
            out[mark.ref] = (min(xs), max(xs))
    return out


def test_bars_are_to_scale_and_start_when_the_task_does(wall: Wall) -> None:
    found = bars(gantt.sheets(wall)[0])
    tasks = {task.ref: task for task in wall.programme.tasks}
    assert set(found) == {ref for ref, task in tasks.items() if task.days}
    first = tasks["survey"]
    start, end = found["survey"]
    day = (end - start) / first.days
    for ref, (left, right) in found.items():
        assert left == pytest.approx(start + day * tasks[ref].early_start, abs=1e-6)
        assert right - left == pytest.approx(day * tasks[ref].days, abs=1e-6)


def test_critical_bars_are_wide_and_slack_is_drawn(wall: Wall) -> None:
    sheet = gantt.sheets(wall)[0]
    wide = {m.ref for m in sheet.marks if isinstance(m, Line) and m.pen == "extra" and m.layer == "parts"}
    days = {task.ref: task for task in wall.programme.tasks}
    assert wide == {ref for ref in wall.programme.critical if days[ref].days}
    slack = {
        m.ref for m in sheet.marks if isinstance(m, Line) and m.pen == "dashed" and m.layer == "outlines"
    }
    assert slack == {ref for ref, task in days.items() if task.slack}


def test_every_gate_and_hold_is_on_it(wall: Wall) -> None:
    sheet = gantt.sheets(wall)[0]
    words = " ".join(m.text for m in sheet.marks if isinstance(m, Text))
    for gate in wall.programme.gates:
        assert f"{gate.ref} {gate.name.split(',')[0]}" in words
    diamonds = {m.ref for m in sheet.marks if isinstance(m, Line) and m.ref.startswith("hold ")}
    assert diamonds == {f"hold {task.ref}" for task in wall.programme.tasks if task.hold}


def test_nothing_over_anything(wall: Wall, sheet_faults: Callable[[Sheet], list[str]]) -> None:
    sheet = numbered((gantt.sheets(wall)[0],))[0]
    assert crossed(sheet) == ()
    assert sheet_faults(sheet) == []
