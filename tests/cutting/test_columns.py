"""The bound against optima found by trying everything, and against values computed apart from this package."""

from __future__ import annotations

import json
import runpy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.cutting.columns import Columns
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.solve import quick
from wallwright.cutting.tree import tasks

exact: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("exact.py")))
SET = Path(__file__).parents[1] / "published" / "cutting_set.json"
INSTANCES = {i["id"]: i for i in json.loads(SET.read_text(encoding="utf-8"))["instances"]}


def instance(name: str, *, fixed: bool = False) -> Problem:
    own = INSTANCES[name]
    grain = "length" if fixed else "none"
    pieces = tuple(Piece(f"p{i}", "board", a, b, n, grain) for i, (a, b, n) in enumerate(own["parts"]))
    sheets = tuple(Sheet(f"s{i}", "board", a, b, c, n) for i, (a, b, c, n) in enumerate(own["sheets"]))
    return Problem(pieces, sheets, Saw(0, 0, 3, 1))


# values of a program apart from this package (see the note in cutting_set.json)
@pytest.mark.parametrize(
    "name", ["cl01_060_04", "cl03_100_02", "cl07_060_06", "A_a19", "C1_gcut8d", "I_BVY", "ATP39"]
)
@pytest.mark.parametrize("fixed", [False, True])
def test_linear_programme(name: str, fixed: bool) -> None:
    (task,) = tasks(instance(name, fixed=fixed))
    columns = Columns(task)
    bounds: list[float] = []
    while columns.round():
        bounds.append(columns.least)
    value = INSTANCES[name]["linear"]["fixed" if fixed else "turning"]
    assert columns.relaxed is not None
    assert columns.relaxed.cost == pytest.approx(value, abs=1e-4)
    assert columns.least == pytest.approx(value, rel=3e-5)
    assert bounds == sorted(bounds)
    assert columns.least_sheets() == INSTANCES[name]["bound"]["fixed" if fixed else "turning"]


def test_linear_programme_of_three_sheet_sizes() -> None:
    (task,) = tasks(instance("CV_gcut6d"))
    columns = Columns(task)
    while columns.round():
        pass
    value = INSTANCES["CV_gcut6d"]["linear"]["turning"]
    assert columns.least * columns.dearest / 100 == pytest.approx(value, rel=1e-5)
    assert columns.least_cost() >> 64 == 100 * INSTANCES["CV_gcut6d"]["bound"]["turning"]


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_never_above_the_true_optimum(data: st.DataObject) -> None:
    x, y = data.draw(st.integers(6, 16)), data.draw(st.integers(6, 16))
    stages = data.draw(st.sampled_from([2, 3]))
    kerf = data.draw(st.sampled_from([0, 1]))
    pieces = tuple(
        Piece(f"p{i}", "ply", data.draw(st.integers(1, x)), data.draw(st.integers(1, y)), 1, "length")
        for i in range(data.draw(st.integers(1, 5)))
    )
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", x, y, 1.0),), Saw(kerf, 0, stages)))
    columns = Columns(task)
    least = exact["fewest"](exact["lies_of"](task), task.stock[0].x, task.stock[0].y, stages)
    while columns.round():
        assert columns.least_sheets() <= least
    assert columns.least_sheets() <= least


def test_short_stock_of_the_cheap_sheet_raises_the_bound() -> None:
    # 4 parts fill a sheet each; two sheets at 1.00 are in stock, the others cost 3.00: 2 * 1 + 2 * 3
    pieces = (Piece("a", "ply", 900, 900, 4),)
    sheets = (Sheet("few", "ply", 1000, 1000, 1.0, 2), Sheet("dear", "ply", 1000, 1010, 3.0))
    (task,) = tasks(Problem(pieces, sheets, Saw(0, 0, 3)))
    columns = Columns(task)
    while columns.round():
        pass
    assert columns.least_cost() >> 64 == 800


def test_a_plan_can_start_it_and_the_bound_stays_below() -> None:
    problem = instance("A_a38")
    (task,) = tasks(problem)
    columns = Columns(task)
    columns.round()
    assert columns.least_sheets() <= quick(problem).used
