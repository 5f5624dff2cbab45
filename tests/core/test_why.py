"""Every shown number says where it comes from."""

from __future__ import annotations

import pickle
from typing import Any, cast, get_args

import pytest

from wallwright.core.limit import Certainty
from wallwright.core.why import Later, Why
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job


def test_a_source_must_be_given() -> None:
    with pytest.raises(TypeError, match="source"):
        cast("Any", Why)("screen.mass", 22, "kg", "as given", "", ())


@pytest.mark.parametrize("demo", [*demo_jobs()])
def test_every_value_of_a_wall_has_its_source(demo: str) -> None:
    wall = derive(read_job(demo_jobs()[demo]))
    for why in wall.whys:
        assert why.source, why.name
        assert why.certainty in get_args(Certainty), why.name
        assert isinstance(why.inputs, tuple), why.name
        if why.certainty == "published":  # who published it: a name, a number or a year
            assert any(letter.isupper() or letter.isdigit() for letter in why.source), (why.name, why.source)
    ratios = [why for why in wall.whys if why.name.endswith(".fill")]
    assert ratios
    assert {why.certainty for why in ratios} == {"computed"}


def test_a_console_says_what_its_height_begins_with() -> None:
    whys = {why.name: why for why in derive(read_job(demo_jobs()["living"])).whys}
    names = {given.name for given in whys["console C1.z"].inputs}
    assert {"clear height under the screen", "carcass.body", "carcass.underside"} <= names
    assert whys["screen.stand_off"].source != whys["screen.mass"].source or whys["screen.mass"].pinned


def test_working_is_written_out_once_and_only_when_asked_for() -> None:
    written: list[str] = []

    def make() -> tuple[Why, ...]:
        written.append("once")
        return (Why("a", 1.0, "mm", "so", "", (), "a book", "computed"),)

    later = Later(make)
    assert not written
    assert [why.name for why in later] == ["a"]
    assert (len(later), later[0].value, later[:1]) == (1, 1.0, tuple(later))
    assert written == ["once"]
    assert later == make()
    assert later != ()
    assert pickle.loads(pickle.dumps(later)) == tuple(later)
