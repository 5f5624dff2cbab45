"""Forms, things to choose, further pictures and layers: what the page shows without knowing a field by name."""

from __future__ import annotations

import re
from typing import Any

import pytest

from wallwright.core.units import read_length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import EDITS, apply
from wallwright.job.read import read_job
from wallwright.studio.form_kinds import ELSEWHERE, KINDS
from wallwright.studio.forms import forms
from wallwright.studio.pictures import hour_says, layer_svg, view_svg
from wallwright.studio.things import things


@pytest.fixture(scope="module")
def wall() -> Any:
    return derive(read_job(demo_jobs()["living"]))


def of(wall: Any, ident: str) -> Any:
    return next(form for form in forms(wall).forms if form.id == ident)


def test_no_edit_is_out_of_the_pages_reach() -> None:
    said = {name for kind in KINDS for name in (*kind.edits, *kind.also, kind.add, kind.remove) if name}
    bays = {"set_bay", "set_bay_hinge", "set_bay_vents", "set_unit_bays", "remove_wall_reading"}
    assert said | bays <= set(EDITS)
    assert set(EDITS) == said | bays | ELSEWHERE


def test_every_field_sets_what_it_shows(wall: Any) -> None:
    """The value of each field, sent back as it is told, leaves the job as it was: the right edit, key and companions."""
    tried = 0
    for form in forms(wall).forms:
        for field in form.fields:
            if field.value is None or form.kind == "reading":
                continue
            after = apply(wall.job, field.edit, {**field.values, field.key: field.value})
            assert after == wall.job, (form.id, field.name, field.edit)
            tried += 1
    assert tried > 120


def test_a_length_is_told_as_it_stands_and_as_it_was_derived(wall: Any) -> None:
    tower, console = of(wall, "T1"), of(wall, "C1")
    height = next(field for field in tower.fields if field.name == "height")
    assert (height.value, height.mm, height.release) == ("2.3 m", read_length("2.3 m"), True)
    width = next(field for field in console.fields if field.name == "width")
    assert width.value is None
    assert width.auto == pytest.approx(wall.setout.unit("C1").box.width, abs=0.05)
    assert not width.release


def test_what_nobody_measured_says_so(wall: Any) -> None:
    seat = {field.name: field.state for field in of(wall, "A").fields if field.state}
    assert seat["distance"] == "measured"
    assert seat["x"] == "assumed"


def test_things_are_put_elsewhere_by_the_edit_that_they_name(wall: Any) -> None:
    found = things(wall)
    moved = [thing for thing in (*found.wall, *found.plan) if thing.move and not thing.move.inward]
    assert {thing.kind for thing in moved} >= {"panel", "obstacle", "seat"}
    for thing in moved:
        move = thing.move
        assert move is not None
        put = {**move.values, move.across: move.at_across + 10, move.up: move.at_up + 10}
        later = things(derive(apply(wall.job, move.edit, put)))
        there = next(one for one in (*later.wall, *later.plan) if one.ref == thing.ref)
        assert there.box.x == pytest.approx(thing.box.x + 10, abs=0.6), thing.ref
        up = -10 if thing in found.plan else 10  # in plan, farther from the wall is down
        assert there.box.z == pytest.approx(thing.box.z + up, abs=0.6), thing.ref


def test_light_is_drawn_in_from_its_edge_and_furniture_moved_in_plan(wall: Any) -> None:
    job = apply(
        wall.job,
        "add_between",
        {
            "ref": "TB",
            "kind": "table",
            "x": 1500,
            "distance": 1800,
            "width": 900,
            "depth": 600,
            "height": 420,
        },
    )
    found = things(derive(job))
    behind = next(one for one in found.wall if one.kind == "light" and not one.move.deep)
    under = next(one for one in found.plan if one.kind == "light")
    for thing, face in ((behind, "wall"), (under, "plan")):
        assert thing.move.inward and thing.move.up == "setback"
        later = things(
            derive(apply(job, thing.move.edit, {**thing.move.values, "setback": thing.move.at_up - 20}))
        )
        there = next(one for one in getattr(later, face) if one.ref == thing.ref)
        if face == "wall":  # out to the panel's edge, on both sides
            assert (there.box.x, there.box.width) == pytest.approx((thing.box.x - 20, thing.box.width + 40))
        else:  # to the console's front: away from the wall
            assert there.box.z == pytest.approx(thing.box.z - 20)
        assert there.move.at_up == pytest.approx(thing.move.at_up - 20)
    table = next(one for one in found.plan if one.ref == "TB")
    put = {**table.move.values, table.move.across: 1400, table.move.up: 2000}
    there = next(one for one in things(derive(apply(job, table.move.edit, put))).plan if one.ref == "TB")
    assert (there.box.x, there.box.z) == (1400, -2600)


def test_light_along_a_unit_goes_back_to_the_wall_and_along_another_unit(wall: Any) -> None:
    job = wall.job
    seen: set[str] = set()
    for run in wall.light.runs:
        if run.lit == "facing":
            continue
        seen.add(run.along)
        thing = next(one for one in things(wall).wall if one.ref == run.ref)
        move = thing.move
        assert move.inward and move.deep and run.of in thing.says
        back = derive(apply(job, move.edit, {**move.values, move.up: move.most}))
        there = next(one for one in back.light.runs if one.ref == run.ref)
        assert there.setback == pytest.approx(move.most) and there.path == run.path
        carrying = {u.ref for u in wall.setout.units if u.kind != "niche"} - {run.of}
        assert {spot.values["of"] for spot in move.spots} == carrying
        for spot in move.spots:
            later = derive(apply(job, move.edit, {**move.values, **spot.values}))
            laid = next(one for one in later.light.runs if one.ref == run.ref)
            assert laid.of == spot.values["of"]
            xs, zs = [p[0] for p in laid.path], [p[1] for p in laid.path]
            assert (spot.box.x, spot.box.z) == pytest.approx((min(xs), min(zs)), abs=0.01)
            assert (spot.box.width, spot.box.height) == pytest.approx(
                (max(xs) - min(xs), max(zs) - min(zs)), abs=0.01
            )
    assert seen


@pytest.mark.parametrize("name", ["services", "no_drill", "storage", "reflections"])
def test_a_layer_lies_in_the_walls_own_millimetres(wall: Any, name: Any) -> None:
    svg = layer_svg(wall, name, 20, 3, 17)
    left, top, width, height = (
        float(n)
        for n in re.search(r'viewBox="(\S+) (\S+) (\S+) (\S+)"', svg).groups()  # type: ignore[union-attr]
    )
    assert left >= -500
    assert left + width <= wall.face.width + 500
    assert top >= -wall.face.height - 500
    assert top + height <= 500
    assert "<path" in svg


def test_reflections_follow_the_hour(wall: Any) -> None:
    day, night = hour_says(wall, 3, 17).says, hour_says(wall, 3, 23).says
    assert "WN1 mirrored" in " ".join(day)
    assert "the sun is down" in night[0]
    assert "WN1 mirrored" not in " ".join(night)


def test_views_are_drawn_and_an_unknown_seat_is_named(wall: Any) -> None:
    assert view_svg(wall, "seat", 25, "A", on=True) != view_svg(wall, "seat", 25, "A", on=False)
    assert "<svg" in view_svg(wall, "plan", 25)
    assert "<svg" in view_svg(wall, "section", 25)
    with pytest.raises(Exception, match="known here: A, B, C"):
        view_svg(wall, "seat", 25, "Q")
