"""Face material by a cutting plan of its pieces, tiles by their setting-out, battens by whole lengths."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest

from wallwright.carcass.record import PanelZone
from wallwright.core.shape import Box
from wallwright.cutting.faces import sheets
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.money.faces import FacePiece, laid, lengths, pieces, tiles

ZONE = PanelZone("W1", "tile", Box(0, 0, 1000, 900), "", "tile_stone_grey", 10, 0, (), 0, 0, 20, frozenset())


def piece(length: float, width: float, count: int = 1) -> FacePiece:
    return FacePiece("veneer_oak", length, width, count, along=True)


def test_sheets_are_those_of_a_plan_of_the_real_pieces() -> None:
    """Two of 1300 × 700 with the grain along it: neither two in a length of 2440 nor two in a width of 1220, so two sheets for 1.82 m²,
    where 25 % of waste would have bought 2.28 m² (arithmetic)."""
    size = {"veneer_oak": (2440.0, 1220.0)}
    ((_, count, used, area),) = sheets([piece(1300, 700, 2)], size, 3.2)
    assert (count, area) == (2, pytest.approx(2 * 2.44 * 1.22)) and used == pytest.approx(1.82 / area)
    assert sheets([piece(1200, 600, 4)], size, 3.2)[0][1] == 1  # four fill one sheet
    assert sheets([piece(1200, 600, 5)], size, 3.2)[0][1] == 2


def test_a_face_larger_than_its_sheet_is_jointed() -> None:
    part = SimpleNamespace(finish="laminate_oak", length=3000.0, width=500.0, role="front")
    (found,) = pieces(cast("Any", SimpleNamespace(zones=())), [cast("Any", part)], load.limits())
    assert (found.length, found.width, found.count) == (
        1510.0,
        510.0,
        4,
    )  # two halves a face, both faces, 10 over each way


def test_tiles_are_counted_whole_and_cut() -> None:
    """1000 by 900 with a joint of 2 at 301 and 603: 300, 300, 396; up 300 and 598 (by hand)."""
    zone = replace(ZONE, joints=(301.0, 603.0), levels=(301.0,), joint=2.0)
    assert [round(box.width) for box in laid(zone)[:3]] == [300, 300, 396] and len(laid(zone)) == 6
    found = tiles(zone, (396.0, 598.0))
    assert (found.whole, found.cut, found.bought) == (1, 5, 6)
    halves = tiles(
        replace(zone, joints=(150.0,), box=Box(0, 0, 300, 300), levels=(), joint=4.0), (300.0, 300.0)
    )
    assert (halves.whole, halves.cut, halves.bought) == (0, 2, 1)  # 148 and 148: two out of one
    assert halves.area == pytest.approx(0.09)


@pytest.mark.parametrize(
    ("runs", "count"),
    [((1500, 1400), 1), ((1500, 1500), 2), ((2000, 2000, 900, 900), 2), ((3500,), 2), ((), 0)],
)
def test_battens_come_in_whole_lengths(runs: tuple[float, ...], count: int) -> None:
    """3 m with 3.2 mm lost a cut: 1500 and 1500 do not come out of one (by hand)."""
    assert lengths(runs, 3000.0, 3.2) == count


def test_the_bill_buys_what_the_plan_says() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    for finish, count, _, area in wall.money.faces:
        line = next(line for line in wall.money.lines if line.ref == f"finish_{finish}")
        assert line.quantity == pytest.approx(area, abs=0.006) and f"{count} sheet" in line.measured
    tiled = apply(wall.job, "set_panel_kind", {"ref": "W1", "kind": "tile"})
    tile = derive(apply(tiled, "set_panel_finish", {"ref": "W1", "finish": "tile_stone_grey"}))
    (line,) = [line for line in tile.money.lines if line.ref == "finish_tile_stone_grey"]
    assert " tiles: " in line.measured and "whole" in line.measured
