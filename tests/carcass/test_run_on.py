"""Fronts whose figure runs on: one strip for a line along the grain, in its order."""

from __future__ import annotations

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Bay
from wallwright.job.edits import apply
from wallwright.job.read import read_job

JOB = read_job(demo_jobs()["living"])
OPEN, DOOR, TWO = Bay("open"), Bay("shutter"), Bay("drawers", drawers=2)


def marks(bays: tuple[Bay, ...], unit: str = "C1", **finish: str) -> dict[str, str]:
    job = apply(JOB, "set_unit_bays", {"ref": unit, "bays": bays})
    if finish:
        job = apply(job, "set_unit_finish", {"ref": unit, **finish})
    wall: Wall = derive(job)
    return {p.id: p.match for p in wall.carcass.parts if p.role == "front" and p.unit == unit}


def test_a_row_runs_across_a_console() -> None:
    found = marks((TWO, OPEN, TWO))
    assert found == {
        "C1.1-F1": "C1a >", "C1.1-F2": "C1b >", "C1.3-F1": "C1a >", "C1.3-F2": "C1b >",
    }  # fmt: skip


def test_drawers_alone_in_their_rows_lie_side_by_side() -> None:
    assert marks((OPEN, TWO, OPEN)) == {"C1.2-F1": "C1a", "C1.2-F2": "C1a"}


def test_a_tower_runs_up() -> None:
    assert marks((DOOR, OPEN, DOOR), "T1") == {"T1.1-F1": "T1a >", "T1.3-F1": "T1a >"}


def test_what_has_no_figure_or_no_neighbour_is_not_matched() -> None:
    assert set(marks((TWO, OPEN, TWO), finish="laminate_off_white").values()) == {""}
    assert set(marks((TWO, OPEN, TWO), finish="sprayed_off_white").values()) == {""}
    assert set(marks((OPEN, Bay("drawers"), OPEN)).values()) == {""}


def test_the_rest_of_a_wall_carries_no_mark() -> None:
    wall = derive(JOB)
    assert {p.match for p in wall.carcass.parts if p.role != "front"} == {""}
    assert {p.id: p.match for p in wall.carcass.parts if p.match} == {"C1.1-F1": "C1a >", "C1.3-F1": "C1a >"}
