"""A unit cut through: its boards where they stand, depths from the wall that close, heights from its lower edge."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from wallwright.core.drawing import Dim, Hatch, Level
from wallwright.core.shape import around
from wallwright.derive import Wall, derive
from wallwright.job.read import read_job
from wallwright.sheets.joinery import built, unit_sheet
from wallwright.sheets.joinery_cuts import _plan_height, _side_at, cut_sheet, plan_cut, side_cut


@lru_cache(maxsize=1)
def units() -> Wall:
    return derive(read_job((Path(__file__).parent / "made" / "every_unit.toml").read_text()))


def test_the_plan_shows_each_board_that_it_cuts_and_no_other() -> None:
    wall = units()
    for unit in built(wall):
        at = _plan_height(wall, unit)
        marks = plan_cut(wall, unit, 10.0).marks
        shown = {m.ref: around(m.points) for m in marks if isinstance(m, Hatch)}
        wanted = {
            p.id: p.block for p in wall.carcass.parts
            if p.unit == unit.ref and p.block.z < at < p.block.z + p.block.dz
            and p.role not in ("drawer_side", "drawer_end", "drawer_bottom", "frame", "lining", "face")
        }  # fmt: skip
        assert set(shown) == set(wanted)
        for ref, block in wanted.items():
            box = shown[ref]
            assert (box.x, box.z, box.width, box.height) == pytest.approx(
                (block.x - unit.box.x, block.y, block.dx, block.dy)
            )


def test_depths_close_on_the_units_depth_from_the_wall() -> None:
    wall = units()
    for unit in built(wall):
        for drawing, along in ((plan_cut(wall, unit, 10.0), "z"), (side_cut(wall, unit, 10.0), "x")):
            dims = [m for m in drawing.marks if isinstance(m, Dim) and m.ref == "depths" and m.along == along]
            assert sum(dim.value for dim in dims) == pytest.approx(unit.depth)
            assert sum(dim.shown or 0 for dim in dims) == round(unit.depth)
            ends = {round(e[1 if along == "z" else 0], 3) for dim in dims for e in (dim.start, dim.end)}
            assert {0.0, -unit.depth} <= ends


def test_heights_are_from_the_lower_edge_and_levels_from_the_floor() -> None:
    wall = units()
    for unit in built(wall):
        marks = side_cut(wall, unit, 10.0).marks
        dims = [m for m in marks if isinstance(m, Dim) and m.ref == "heights"]
        assert sum(dim.value for dim in dims) == pytest.approx(unit.box.height)
        assert min(e[1] for dim in dims for e in (dim.start, dim.end)) == 0.0
        levels = {m.text: m.mm for m in marks if isinstance(m, Level)}
        assert levels == {"under": unit.box.z, "top": unit.box.top}


def test_a_fixed_shelf_is_cut_and_dimensioned() -> None:
    wall = units()
    unit = wall.setout.unit("T1")
    shelf = next(p for p in wall.carcass.parts if p.id == "T1-V1")
    marks = side_cut(wall, unit, 10.0).marks
    assert "T1-V1" in {m.ref for m in marks if isinstance(m, Hatch)}
    stops = {
        round(e[1], 3) for m in marks if isinstance(m, Dim) and m.ref == "heights" for e in (m.start, m.end)
    }
    assert round(shelf.block.z - unit.box.z, 3) in stops


def test_the_cuts_go_through_no_shelf_and_no_division() -> None:
    wall = units()
    for unit in built(wall):
        own = [p for p in wall.carcass.parts if p.unit == unit.ref]
        at, x = _plan_height(wall, unit), _side_at(wall, unit)
        assert not any(p.role == "shelf" and p.block.z <= at <= p.block.z + p.block.dz for p in own), unit.ref
        assert not any(
            p.role == "division" and p.block.dx < 60 and p.block.x <= x <= p.block.x + p.block.dx for p in own
        )


def test_both_cuts_stand_on_the_sheet() -> None:
    wall = units()
    for unit in built(wall):
        assert [view.drawing.title for view in cut_sheet(wall, unit).views] == ["Plan cut", "Side cut"]


def test_a_unit_is_drawn_as_large_as_its_sheet_takes_it_and_all_its_words() -> None:
    """A niche 520 wide fills its sheet at 1:5; a tower 2.3 m high goes at 1:20."""
    wall = units()
    scales = {unit.ref: unit_sheet(wall, unit).views[0].drawing.scale for unit in built(wall)}
    assert {ref: scales[ref] for ref in ("N1", "N2", "S2", "C1", "T1")} == {
        "N1": 5,
        "N2": 5,
        "S2": 5,
        "C1": 10,
        "T1": 20,
    }
