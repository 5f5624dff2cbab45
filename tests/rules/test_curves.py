"""Bands and bent linings on curves: told where they are too tight, with a radius that is not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Panel, Unit
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules import RULES
from wallwright.rules.curves import curves


def niche(width: float, bend: str = "kerf") -> Wall:
    job = read_job(demo_jobs()["bedroom"])
    unit = Unit("N1", "arched_niche", side="left", width=Length(width), height=Length(600), bend=bend)
    return derive(replace(job, design=replace(job.design, units=(*job.design.units, unit))))


@pytest.mark.parametrize(("width", "told"), [(140, True), (150, True), (170, False), (400, False)])
def test_a_thick_band_goes_round_50_mm(width: float, told: bool) -> None:
    """The clear span is the niche less two boards and two linings; half of it is the radius of its half round."""
    wall = niche(width)
    (curve,) = curves(wall)
    assert curve.radius == pytest.approx(curve.span / 2) and curve.bands == ("2.0",)
    assert (curve.radius < load.edges()["2.0"].least_radius - 0.5) == told
    found = list(RULES["materials.edge_radius"].find(wall))
    assert bool(found) == told
    for item in found:
        assert "0.8" in item.cure or "1 mm" in item.cure  # a thinner band of the same plastic goes round
        (edit,) = item.edits
        (eased,) = curves(derive(apply(wall.job, edit.edit, dict(edit.values))))
        assert 50 <= eased.radius < 60


def test_bending_plywood_only_where_it_bends() -> None:
    limit = load.limits().value("materials.bend_radius")
    for width in (300, 400):
        wall = niche(width, "flexible")
        (curve,) = curves(wall)
        assert bool(list(RULES["materials.bend_radius"].find(wall))) == (curve.radius < limit - 0.5)
    assert not list(RULES["materials.bend_radius"].find(niche(300, "kerf")))


def test_a_panel_s_arch_is_looked_at_too_and_keeps_its_form() -> None:
    job = read_job(demo_jobs()["bedroom"])
    made = replace(
        job,
        design=replace(job.design, panels=(Panel("W1", "flat", head="round", bend="flexible"),)),
        rules={**job.rules, "materials.bend_radius": 1000.0},
    )
    wall = derive(made)
    (item,) = RULES["materials.bend_radius"].find(wall)
    assert item.where == "W1"
    cured = derive(apply(wall.job, item.edits[0].edit, dict(item.edits[0].values)))
    assert not list(RULES["materials.bend_radius"].find(cured))
    assert cured.job.design.panels[0].head == "round" and cured.job.design.panels[0].bend == "kerf"
