"""Chases, making good, protection, delivery and waste, worked by hand from the hand-made wall."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from wallwright.money import site
from wallwright.money.quantities import Measured


def by_key(found: Iterable[Measured]) -> dict[str, Measured]:
    got = list(found)
    assert len({item.key for item in got}) == len(got)
    return {item.key: item for item in got}


def with_wall(made: Any, substrate: str) -> Any:
    survey = made.job.survey
    return replace(made.job, survey=replace(survey, wall=replace(survey.wall, substrate=substrate)))


def test_chases_by_depth_and_made_good_as_long(made: Any) -> None:
    deep = replace(made.services.runs[2], in_void=False, outside_void=1000, cut=(((0, 0), (1000, 0)),))
    services = replace(made.services, runs=(*made.services.runs[:2], deep))
    got = by_key(site.chases(made.job, services, made.limits))
    assert (got["chase_shallow"].quantity, got["chase_shallow"].of) == (
        3.0,
        ("M1",),
    )  # 20 + 12 of cover, 3 of its 4 m
    assert (got["chase_deep"].quantity, got["chase_deep"].of) == (1.0, ("H1",))  # 40 + 12
    assert got["make_good"].quantity == 4.0


def test_a_chase_that_runs_share_is_cut_once_and_its_width_is_priced(made: Any) -> None:
    main, _, wide = made.services.runs  # 20 mm upright from 1000 to 4000
    same = replace(main, ref="M2", cut=(((0, 2000), (0, 4000)), ((0, 2000), (500, 2000))))
    deep = replace(wide, in_void=False, outside_void=500, cut=(((0, 3500), (0, 4000)),))
    services = replace(made.services, runs=(main, same, deep))
    got = by_key(site.chases(made.job, services, made.limits))
    # the 3 m upright: 1 m M1 alone, 1.5 m M1 and M2, 0.5 m all three, as deep as H1 asks; and 0.5 m level of M2 alone
    # 1.5 m are 40 wide where 20 would do for one: half as much more; 0.5 m are 80 wide where 40 would do
    assert (got["chase_shallow"].quantity, got["chase_shallow"].of) == (
        3.0 + 0.5 * 1.5,
        ("M1", "M2"),
    )  # each run where most of it is
    assert (got["chase_deep"].quantity, got["chase_deep"].of) == (0.5 + 0.5 * 0.5, ("H1",))
    assert got["make_good"].quantity == 3.5 + 1.5 + 0.5  # filled by the whole width
    assert "1.5 m of it shared, cut once, and 0.75 m counted more" in got["chase_shallow"].how
    dear = made.limits.overridden({"money.chase_width_share": 1.0})
    assert by_key(site.chases(made.job, services, dear))["chase_shallow"].quantity == 4.5  # as two of 1.5 m
    none = made.limits.overridden({"money.chase_width_share": 0.0})
    assert by_key(site.chases(made.job, services, none))["chase_shallow"].quantity == 3.0
    # rubble: (1.0 + 0.5) m x 20 x 32, 1.5 m x 40 x 32, 0.5 m x 80 x 52 mm
    cut = site.trenches(made.job, services, 12.0)
    assert sum(trench.volume for trench in cut) == pytest.approx(0.00096 + 0.00192 + 0.00208)


def test_runs_that_only_cross_share_nothing(made: Any) -> None:
    main = made.services.runs[0]
    across = replace(main, ref="M2", cut=(((-500, 2000), (500, 2000)),))
    services = replace(made.services, runs=(main, across))
    assert by_key(site.chases(made.job, services, made.limits))["make_good"].quantity == 4.0


@pytest.mark.parametrize("substrate", ["concrete", "metal_stud", "timber_stud"])
def test_walls_that_are_not_chased(made: Any, substrate: str) -> None:
    assert by_key(site.chases(with_wall(made, substrate), made.services, made.limits)) == {}


def test_an_unknown_wall_is_measured_but_not_priced(made: Any) -> None:
    got = by_key(site.chases(with_wall(made, "unknown"), made.services, made.limits))
    assert got["chase_unknown"].rates == ()
    assert got["chase_unknown"].of == ("M1",)
    assert "make_good" not in got


def test_backers_are_set_by_the_hour(made: Any) -> None:
    assert by_key(site.backers(made.carcass.parts, made.limits)) == {}
    backer = replace(made.carcass.parts[0], id="W1-K1", role="backer")
    got = by_key(site.backers((backer, replace(backer, id="W1-K2", role="packing")), made.limits))
    assert (got["labour_backer"].quantity, got["labour_backer"].of) == (1.0, ("W1-K1", "W1-K2"))  # 0.5 h each


def test_protection_delivery_and_waste(made: Any) -> None:
    assert by_key(site.protection(made.job, made.limits))["protection"].quantity == 8.0  # 4.0 x 2.0 m
    assert by_key(site.delivery(made.carcass, made.limits))["delivery"].quantity == 1  # 4 kg
    heavy = replace(made.carcass, parts=(replace(made.carcass.parts[0], mass=401.0),))
    assert by_key(site.delivery(heavy, made.limits))["delivery"].quantity == 2
    got = by_key(site.waste(made.job, made.services, (("ply18", 1, 0.5),), (("ply18", 3.0),), made.limits))
    # rubble 3 m x 20 x 32 mm = 0.00192, offcuts 3 x 0.5 x 18 mm = 0.027; x 1.6 + 0.3
    assert got["waste_removal"].quantity == pytest.approx(0.35)
