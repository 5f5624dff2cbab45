"""Conduits that hold too much: by their fill, round their bends, and for the plugs; worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules.registry import RULES
from wallwright.services import chase


@pytest.fixture(scope="module")
def living() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def told(wall: Wall, ref: str, **changes: object) -> list[Finding]:
    """What is said of a run after these changes to it."""
    runs = tuple(replace(run, **changes) if run.ref == ref else run for run in wall.services.runs)  # type: ignore[arg-type]
    there = replace(wall, services=replace(wall.services, runs=runs))
    return [item for item in RULES["services.conduit_full"].find(there) if item.where == ref]


def test_the_demo_walls_conduits_hold_what_lies_in_them(living: Wall) -> None:
    for name in ("living", "bedroom"):
        wall = derive(read_job(demo_jobs()[name]))
        assert not list(RULES["services.conduit_full"].find(wall))


def test_ten_square_millimetres_do_not_go_into_a_20_mm_conduit(living: Wall) -> None:
    """Circle round three cores of 10 mm²: 14.4 across, 207 of 286 is 73 %; one cable takes 53 % (NEC chapter 9 table 1)."""
    (item,) = told(living, "M1", contents=(("single_10", 1),))
    assert (item.measured, item.limit, item.unit, item.severity) == (73, 53, "%", "fix")


def test_bends_between_two_boxes_are_reckoned(living: Wall) -> None:
    """3 × 6 mm² are 174: more than 159, what 20 mm holds over 2 m with four bends (On-Site Guide appendix E); 25 mm holds 292."""
    stairs = ((0.0, 0.0), (400.0, 0.0), (400.0, 400.0), (800.0, 400.0), (800.0, 800.0), (1200.0, 800.0))
    bent = {"path": stairs, "contents": (("single_6", 1),), "draw_boxes": ()}
    (item,) = told(living, "M1", **bent)
    assert item.limit == "25 mm" and "round its bends" in item.says
    assert not told(living, "M1", outside_diameter=25.0, bore=21.4, **bent)
    assert not told(living, "M1", **{**bent, "draw_boxes": (stairs[2],)})  # two bends over 1.2 m: 270
    # more bends than are tabulated: only draw boxes help
    more = (*stairs, (1200.0, 1200.0), (1600.0, 1200.0))
    (item,) = told(living, "M1", **{**bent, "path": more, "outside_diameter": 32.0, "bore": 27.8})
    assert item.limit == "over 32 mm"


def test_a_plug_goes_through_beside_the_cables_that_lie_there(living: Wall) -> None:
    """Diagonal of 21 × 12 is 24.2; with a cable of 7.5 beside it 31.7, over nine tenths of the bore: 35.2 (common practice)."""
    (item,) = told(living, "H1", outside_diameter=32.0, bore=34.0, contents=(("hdmi", 2),))
    assert (item.measured, item.limit) == (34.0, 35.2)
    assert not told(living, "H1", contents=(("hdmi", 2),))


def test_what_is_sized_thicker_gets_the_wider_conduit_before_it_is_drawn(living: Wall) -> None:
    """Sockets at 32 A in air of 40 °C: 10 mm² (57 A × 0.87 × 0.80 = 39.7 A; 6 mm² carries 28.5 A), 73 % of a 20 mm conduit, so
    they lie in 25 mm, and a wider conduit is chased deeper.
    """
    far = derive(apply(living.job, "set_limit", {"name": "circuits.in_sockets", "value": 32}))
    thick = {c.ref for c in far.services.circuits if c.cable_mm2 == 10}
    assert thick
    of = {p.ref: p.circuit for p in far.services.points}
    wide = {run.outside_diameter for run in far.services.runs if run.kind == "mains" and of[run.end] in thick}
    assert wide == {25.0}
    assert not list(RULES["services.conduit_full"].find(far))
    ordered = {order.key for order in far.services.orders}
    assert "conduit_25" in ordered


def test_the_living_demo_is_right_to_ask_how_the_games_consoles_picture_goes(living: Wall) -> None:
    """Its tower stands 581 mm from the panel. The 40 mm conduit that a plug goes through needs 52 mm; a leaf of 230 bears 38 level.
    So somebody must choose: trunking over the open wall, or the box beside the others. Nothing in the design can choose for them.
    """
    (item,) = RULES["services.between_units"].find(living)
    assert item.severity == "consider" and "CA3" in item.says
    units = {unit.ref: unit.box for unit in living.setout.units}
    (panel,) = living.setout.zones
    assert panel.box.x - units["T1"].right == pytest.approx(581)
    assert not any(p.kind == "conduit" and units["T1"].holds(p.box) for p in living.services.points)
    cut = chase.masonry_of(living.job.survey.wall, living.limits)
    assert cut is not None and not cut.may_cut(40, level=True) and cut.may_cut(40, level=False)
    assert chase.needed(40, cut.cover) == 52 and round(cut.level, 1) == 38.3  # 40 + 12; 230 / 6
    job = living.job
    for edit in item.edits:
        job = apply(job, edit.edit, dict(edit.values))
    cured = derive(job)
    assert not list(RULES["services.between_units"].find(cured))
    (trunked,) = [run for run in cured.services.runs if run.on_surface > 0]
    assert trunked.kind == "conduit" and not list(RULES["services.chase"].find(cured))
