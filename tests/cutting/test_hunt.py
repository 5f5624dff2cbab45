"""The long search: proven values of public instances by a counted number of steps, and a warm machine afterwards."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

import pytest

from wallwright.cutting import warm
from wallwright.cutting.improve import Progress
from wallwright.cutting.solve import solve
from wallwright.cutting.verify import verify

columns: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("test_columns.py")))
instance, INSTANCES = columns["instance"], columns["INSTANCES"]


# bounds of a program apart from this package (see cutting_set.json); a plan that meets one is optimal
@pytest.mark.parametrize(("name", "steps"), [
    ("cl07_060_06", 200_000), ("A_a19", 200_000), ("A_a38", 300_000), ("C1_gcut8d", 100_000), ("I_BVY", 400_000),
])  # fmt: skip
def test_public_instances_proved_optimal(name: str, steps: int) -> None:
    problem = instance(name)
    plan = solve(problem, iterations=steps)
    assert verify(problem, plan) == []
    assert plan.used == plan.lower_bound == INSTANCES[name]["bound"]["turning"]
    assert plan.proved


def test_three_sheet_sizes_close_to_the_bound() -> None:
    problem = instance("CV_gcut6d")
    plan = solve(problem, iterations=60_000)
    assert verify(problem, plan) == []
    assert plan.price_bound == INSTANCES["CV_gcut6d"]["bound"]["turning"]
    assert plan.price <= 1.001 * plan.price_bound


def test_the_plan_only_gets_better_while_it_is_told() -> None:
    heard: list[Progress] = []
    solve(instance("A_a38"), iterations=60_000, progress=lambda now: heard.append(now))
    assert heard[0].iteration == 0
    assert [h.used for h in heard] == sorted((h.used for h in heard), reverse=True)
    assert [h.lower_bound for h in heard] == sorted(h.lower_bound for h in heard)
    assert all(h.lower_bound <= h.used for h in heard)


def test_cancelled_at_once_is_still_a_plan() -> None:
    problem = instance("I_BVY")
    plan = solve(problem, iterations=10**9, progress=lambda _: False)
    assert verify(problem, plan) == []
    assert plan.iterations == 0


def test_after_a_search_the_kernels_are_kept() -> None:
    solve(instance("cl07_060_06"), iterations=120_000)
    assert warm.ready()
