"""The user's own limits: refused by name where no wall can be reckoned, and never a crash where they are in range."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules.check import check

TEXT = demo_jobs()["living"]
JOB = read_job(TEXT)
LIMITS = tuple(load.limits())


@pytest.mark.parametrize(
    ("name", "value", "says"),
    [
        ("carcass.batten_pitch", "1e-9", "100 to 2000 mm"),
        ("carcass.runner_step", "0", "5 to 100 mm"),
        ("cooling.discharge", "0", "0.0065 to 1"),
        ("carcass.body", "-400", "220 to 2000 mm"),
        ("money.margin", "100", "0 to 90 %"),
        ("programme.points_per_day", "0", "nr/day"),
    ],
)
def test_out_of_range_is_refused_by_name_with_the_range(name: str, value: str, says: str) -> None:
    with pytest.raises(JobError) as caught:
        read_job(f'{TEXT}\n[rules]\n"{name}" = {value}\n')
    problem = caught.value.problems[0]
    assert problem.field == f"rules.{name}"
    assert float(problem.value) == float(value)
    assert says in problem.says


def test_the_ends_of_a_range_are_in_it() -> None:
    assert read_job(f'{TEXT}\n[rules]\n"carcass.batten_pitch" = 100\n').rules["carcass.batten_pitch"] == 100


def within(limit: load.Limit) -> st.SearchStrategy[tuple[str, float]]:
    ends = st.sampled_from((limit.least, limit.most))
    return st.tuples(st.just(limit.name), ends | st.floats(limit.least, limit.most))


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(LIMITS).flatmap(within), min_size=1, max_size=5))
def test_any_limits_in_range_give_a_wall_or_a_sentence(chosen: list[tuple[str, float]]) -> None:
    """Several of them may leave no room together: then the field and the rule set are named, and nothing breaks."""
    rules = dict(chosen)
    try:
        wall = derive(replace(JOB, rules=rules))
    except ValueError as problem:
        said = str(problem)
        assert said.startswith("design."), said
        assert all(f"rules.{name} = " in said for name in rules)
    else:
        assert wall.money.total > 0


def test_extremes_of_a_job_are_findings_or_sentences() -> None:
    """A tower deeper than the room is high; a viewer with the screen at the nose."""
    deep = derive(read_job(TEXT.replace('height = "2.3 m"\ndepth = 380', 'height = "2.3 m"\ndepth = 3000')))
    assert any(found.rule == "carcass.tilt_up" and found.severity == "fix" for found in check(deep))
    screen = derive(JOB).sight.screen
    seat = 'distance = { value = "3.3 m", state = "measured", tolerance = 20 }'
    assert seat in TEXT
    for distance in (screen.stand_off + screen.depth, screen.stand_off, 50.0):
        near = derive(read_job(TEXT.replace(seat, f"distance = {distance!r}")))
        assert any(found.rule.startswith("sight.") for found in check(near))
