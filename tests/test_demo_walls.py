"""The demo jobs as walls: the good ones raise nothing that must be put right, the faulty one shows what the rules are for."""

from __future__ import annotations

import pytest

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.job.starter import ROOMS, starter
from wallwright.rules.check import check


def findings(text: str):
    return check(derive(read_job(text)))


@pytest.mark.parametrize("name", ["living", "bedroom"])
def test_a_good_demo_raises_nothing_that_must_be_put_right(name: str) -> None:
    urgent = [
        (it.rule, it.where, it.says) for it in findings(demo_jobs()[name]) if it.severity in ("danger", "fix")
    ]
    assert urgent == []


def test_the_faulty_demo_shows_each_of_its_faults() -> None:
    found = findings(demo_jobs()["living_faults"])
    rules = {it.rule for it in found}
    assert len(rules) >= 35
    assert rules >= {
        "survey.wall_unknown", "survey.floor_open", "survey.finish_open", "survey.assumed", "survey.out_of_true",
        "sight.height", "sight.top_edge", "sight.sideways", "sight.reflection", "sight.below_ac", "sight.unverified_frame",
        "services.behind_plate", "services.existing_outlet", "services.remote_blocked", "services.device_depth",
        "services.hot_bay", "services.plug_depth", "carcass.tilt_up", "carcass.damp_board", "carcass.console_height",
        "carcass.floor_gap", "carcass.console_narrow", "structure.fixing", "structure.loose_tower", "structure.shelf_sag",
        "structure.cladding", "light.drop", "light.dots", "light.driver_sealed", "light.bias_faint", "look.two_stars",
        "money.over_budget", "storage.left_over",
    }  # fmt: skip
    assert {it.severity for it in found} == {"danger", "fix", "consider", "note"}


@pytest.mark.parametrize("room", ROOMS)
def test_a_starter_asks_its_useful_questions(room: str) -> None:
    rules = {it.rule for it in findings(starter(room))}
    assert rules >= {"survey.wall_unknown", "survey.floor_open", "survey.finish_open", "survey.assumed"}
