"""Our plans and bounds against the best values published for public instances (sources in cutting_public.py)."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

import pytest

from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.solve import quick, solve
from wallwright.cutting.verify import verify

INSTANCES: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("cutting_public.py")))["INSTANCES"]
CASES = [(name, variant) for name, instance in INSTANCES.items() for variant in instance[2]]


def problem(name: str, variant: str) -> Problem:
    length, width, _, parts = INSTANCES[name]
    grain = "none" if variant == "turning" else "length"
    pieces = tuple(Piece(f"p{i}", "board", a, b, n, grain) for i, (a, b, n) in enumerate(parts))
    return Problem(pieces, (Sheet("sheet", "board", length, width, 1.0),), Saw(0, 0, 3, 1))


@pytest.mark.parametrize(("name", "variant"), CASES)
def test_within_one_sheet_of_the_best_published_plan(name: str, variant: str) -> None:
    best = INSTANCES[name][2][variant]
    task = problem(name, variant)
    plan = solve(task, iterations=60_000)
    assert verify(task, plan) == []
    assert plan.lower_bound <= best
    assert plan.used <= best + 1


@pytest.mark.parametrize(("name", "variant"), CASES)
def test_a_plan_at_once_is_clean(name: str, variant: str) -> None:
    task = problem(name, variant)
    assert verify(task, quick(task)) == []


@pytest.mark.parametrize(
    ("name", "variant", "best"),
    [("cl01_060_04", "turning", 22), ("cl01_060_04", "fixed", 22), ("cl07_060_06", "turning", 13)],
)
def test_the_bound_proves_the_published_optimum(name: str, variant: str, best: int) -> None:
    # The parts' area alone proves 19 of the 22 in cl01_060_04: the dual-feasible functions carry the rest.
    assert solve(problem(name, variant), iterations=0).lower_bound == best
