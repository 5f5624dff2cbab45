"""Clips on battens and screws of packing: where they go, and what they keep off."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import Wall as Whole
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Panel
from wallwright.job.read import read_job
from wallwright.rules.registry import RULES
from wallwright.structure import panel_rows
from wallwright.structure.record import HoleRow
from wallwright.structure.wall import Wall

L = Length
PANEL = (Panel("W1", z=L(600), height=L(1800)),)


@pytest.fixture(scope="module")
def living() -> Whole:
    return derive(read_job(demo_jobs()["living"]))


def clips(rows: tuple[HoleRow, ...]) -> list[HoleRow]:
    return [row for row in rows if row.into == "batten"]


def test_every_batten_has_its_clips_which_end_in_it(wall):
    done = wall(panels=PANEL)
    boards = {part.id: part for part in done.carcass.parts if part.role == "batten"}
    found = {row.what.rpartition(" ")[2]: row for row in clips(done.structure.panel_rows)}
    assert set(found) == set(boards) and boards
    own = {row.what.rpartition(" ")[2]: row for row in done.structure.batten_rows}
    for ident, row in found.items():
        box = boards[ident].block.face
        assert row.hole_depth <= boards[ident].block.dy
        assert all(box.holds(Box(x - 2, z - 2, 4, 4)) for x, z in row.holes)
        assert max((b[0] - a[0] for a, b in pairwise(row.holes)), default=0) <= 400 + 1e-6  # common practice
        # over the batten's own screws, not in them
        assert all(abs(z - other) >= 10 for _, z in row.holes for _, other in own[ident].holes)


def test_as_many_clips_are_bought_as_are_drilled_for(living):
    bought = sum(item.quantity for item in living.carcass.hardware if item.kind == "panel_clip")
    assert bought == sum(len(row.holes) for row in clips(living.structure.panel_rows)) > 0
    (line,) = [line for line in living.money.lines if line.ref == "hardware_panel_clip"]
    assert line.quantity == bought and line.rate > 0 and line.invented


def test_clips_and_packing_screws_slide_off_a_cable(wall):
    done = wall(panels=PANEL)
    free = clips(done.structure.panel_rows)[0]
    cable = Box(free.holes[1][0] - 40, 0, 80, 2700)
    rows = panel_rows.rows(done.carcass.parts, Wall("brick", (), 600, (cable,)), done.limits)
    assert clips(rows)[0].holes[1] != free.holes[1]
    for row in rows:
        half = row.hole_diameter / 2
        assert not any(cable.x - half < x < cable.right + half for x, _ in row.holes), row.what


def test_packing_is_screwed_to_the_wall_once_for_all_its_layers(wall):
    done = wall(panels=(Panel("W1", z=L(600), height=L(1800), void=L(60)),))
    layers = [part for part in done.carcass.parts if part.id.startswith("W1-G")]
    assert len(layers) >= 2
    (row,) = [row for row in done.structure.panel_rows if row.what.startswith("packing W1-G")]
    box = layers[0].block.face
    assert row.into == "wall" and row.hole_depth > 0 and len(row.holes) >= 4
    assert all(box.holds(Box(x, z, 0, 0)) for x, z in row.holes)


def test_on_studs_packing_goes_into_studs_and_on_an_unknown_wall_nothing_is_drilled(wall):
    framed = wall(
        panels=PANEL, substrate="metal_stud", studs=(300, 900, 1500, 2100, 2700)
    ).structure.panel_rows
    screws = [row for row in framed if row.into == "wall"]
    assert screws and all({x for x, _ in row.holes} <= {900, 1500, 2100} for row in screws)
    assert wall(panels=PANEL, substrate="unknown").structure.panel_rows == ()


def test_a_clip_meets_a_cable_in_the_void_and_never_one_in_the_wall_behind(living):
    """The void of W1 is 25 deep: a run of 10 mm lies in it, one of 40 mm in the wall, where no clip's screw comes."""
    row = clips(living.structure.panel_rows)[0]
    x, z = row.holes[1]

    def told(size: float) -> list[str]:
        run = replace(
            living.services.runs[0], ref="MX", path=((x, z - 300), (x, z + 300)), outside_diameter=size
        )
        there = replace(living, services=replace(living.services, runs=(run,)))
        return [item.says for item in RULES["services.drill_clash"].find(there) if "clip" in item.says]

    assert told(10.0) and "MX" in told(10.0)[0]
    assert not told(40.0)


def test_a_packing_screw_in_a_chased_cable_is_a_clash(living):
    row = next(row for row in living.structure.panel_rows if row.into == "wall")
    x, z = row.holes[0]
    run = replace(living.services.runs[0], ref="MX", path=((x, z - 300), (x, z + 300)), outside_diameter=20.0)
    there = replace(living, services=replace(living.services, runs=(run,)))
    assert any("packing" in item.says for item in RULES["services.drill_clash"].find(there))
