"""The sixty problems of the trade: each has its rules, each rule its walls; and on well-made walls none of them cries."""

from __future__ import annotations

import importlib.util
import sys
from functools import cache
from pathlib import Path
from types import ModuleType

import pytest

from tests.rules.test_cures import CASES
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules import RULES, check
from wallwright.rules.check import MUST

ROOT = Path(__file__).parents[1]
WELL = {
    **{name: demo_jobs()[name] for name in ("living", "bedroom")},
    **{
        path.stem: path.read_text("utf-8") for path in (ROOT / "tests" / "rules" / "well_made").glob("*.toml")
    },
}


@cache
def maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_problems", ROOT / "docs" / "make_problems.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["make_problems"] = module  # its dataclass looks itself up there
    spec.loader.exec_module(module)
    return module


def test_all_sixty_are_there_once_and_in_order() -> None:
    found = maker().problems()
    assert [problem.n for problem in found] == list(range(1, 61))
    assert len({problem.says for problem in found}) == 60


def test_each_is_caught_by_rules_that_exist_and_are_tested_on_their_walls() -> None:
    tested = {case.rule for case in CASES}
    for problem in maker().problems():
        assert problem.rules, problem.n
        assert len(set(problem.rules)) == len(problem.rules), problem.n
        assert set(problem.rules) <= set(RULES), (problem.n, set(problem.rules) - set(RULES))
        assert set(problem.rules) <= tested, (problem.n, set(problem.rules) - tested)


def test_each_says_against_what_and_how_sure_that_is() -> None:
    known = {limit.name for limit in load.limits()}
    sure = {"published", "computed", "derived", "common practice", "from memory"}
    for problem in maker().problems():
        assert set(problem.limits) <= known, (problem.n, set(problem.limits) - known)
        assert bool(problem.limits) != bool(problem.source), problem.n
        assert bool(problem.source) == (problem.certainty in sure), problem.n


def test_the_page_is_fresh() -> None:
    written = (ROOT / "docs" / "problems.md").read_text("utf-8")
    assert written == maker().page(), "run: python docs/make_problems.py"
    assert "(problems.md)" in (ROOT / "docs" / "index.md").read_text("utf-8")


def test_the_well_made_walls_differ() -> None:
    jobs = [read_job(text) for text in WELL.values()]
    made = {
        (*sorted(unit.kind for unit in job.design.units), *sorted(panel.kind for panel in job.design.panels))
        for job in jobs
    }
    assert len(made) >= 6
    assert len({job.survey.place.rules for job in jobs}) >= 4
    assert len({job.survey.wall.substrate for job in jobs}) >= 4


@pytest.mark.parametrize("name", sorted(WELL))
def test_a_well_made_wall_raises_neither_danger_nor_fix(name: str) -> None:
    found = check(derive(read_job(WELL[name])))
    assert [(item.rule, item.where, item.says) for item in found if item.severity in MUST] == []
    assert found, "a wall on which no rule has a word was not looked at"
