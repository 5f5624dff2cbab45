"""The arch at full size: on its curve to a twentieth of a millimetre, whole over all tiles, figures that are the curve's own."""

from __future__ import annotations

from itertools import pairwise
from math import dist, hypot, pi
from pathlib import Path

import pytest

from wallwright.carcass.arch import Arch
from wallwright.core.drawing import Line, Text
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets.arch_template import FLAT, arches, curve, sheets
from wallwright.sheets.paper import Sheet
from wallwright.sheets.tiles import LEAVES, Paper

MADE = Path(__file__).parent / "made"


@pytest.fixture(scope="module", params=["every_panel", "every_unit"])
def wall(request: pytest.FixtureRequest) -> Wall:
    """Arched panels 520 and 500 wide; a niche 453.6 wide, whose rise goes on one tile of A4 where its margin is small."""
    return derive(read_job((MADE / f"{request.param}.toml").read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    "arch", [Arch(0, 900, 2000, 450), Arch(100, 1200, 1800, 200), Arch(0, 400, 1000, 30)]
)
def test_no_chord_lies_off_the_curve(arch: Arch) -> None:
    """Its ends lie on the circle of (s²/4 + f²) / 2f, and so near one another that no middle is farther off than a line's width."""
    points = curve(arch)
    radius = (arch.span**2 / 4 + arch.rise**2) / (2 * arch.rise)
    middle = (0.0, arch.rise - radius)
    assert points[0] == pytest.approx((-arch.span / 2, 0.0), abs=1e-6)
    assert points[-1] == pytest.approx((0.0, arch.rise), abs=1e-6)
    for a, b in pairwise(points):
        assert dist(a, middle) == pytest.approx(radius)
        half = hypot((a[0] + b[0]) / 2 - middle[0], (a[1] + b[1]) / 2 - middle[1])
        assert radius - half <= FLAT + 1e-9


def test_the_tiles_hold_the_whole_half(wall: Wall) -> None:
    found = tuple(sheets(wall))
    assert arches(wall)
    for ref, arch in arches(wall):
        tiles = [sheet for sheet in found if sheet.name.startswith(f"arch_{ref}_")]
        long = sum(
            dist(a, b)
            for sheet in tiles
            for mark in sheet.views[0].drawing.marks
            if isinstance(mark, Line) and mark.pen == "wide" and mark.layer == "panels"
            for a, b in pairwise(mark.points)
        )
        assert long == pytest.approx(arch.length / 2, rel=1e-3)
        assert all(view.drawing.scale == 1.0 for sheet in tiles for view in sheet.views)


def test_a_half_round_is_a_quarter_circle_a_side() -> None:
    points = curve(Arch(0, 1000, 0, 500))
    assert sum(dist(a, b) for a, b in pairwise(points)) == pytest.approx(pi * 500 / 2, rel=1e-3)


def test_every_height_that_is_written_is_the_curves(wall: Wall) -> None:
    seen = 0
    for ref, arch in arches(wall):
        for sheet in sheets(wall):
            if not sheet.name.startswith(f"arch_{ref}_"):
                continue
            for mark in sheet.views[0].drawing.marks:
                if isinstance(mark, Text) and ": " in mark.text:
                    x, high = (float(part) for part in mark.text.split(": "))
                    inside = arch.radius**2 - x**2
                    assert high == pytest.approx(inside**0.5 + arch.rise - arch.radius, abs=0.051)
                    seen += 1
    assert seen >= 4


def reach(sheet: Sheet) -> float:
    """How far the lines of a tile reach, the longer way [mm]."""
    points = [p for mark in sheet.views[0].drawing.marks if isinstance(mark, Line) for p in mark.points]
    return max(max(p[i] for p in points) - min(p[i] for p in points) for i in (0, 1))


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_no_tile_holds_a_mere_sliver(wall: Wall, paper: Paper) -> None:
    """At 520 × 260 whole tiles from the middle outwards would leave 22 mm of the springing line on a sheet of A3 of its own."""
    for sheet in sheets(wall, LEAVES[paper]):
        assert reach(sheet) >= 30.0, sheet.name


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_tiles_join_on_crosses_that_are_there(wall: Wall, paper: Paper) -> None:
    """Two strokes at each of four corners, inside the paper; where two tiles join, both have the crosses on their seam."""
    corners: dict[tuple[str, str], set[tuple[float, float]]] = {}
    for sheet in sheets(wall, LEAVES[paper]):
        view = sheet.views[0]
        strokes = [mark for mark in sheet.marks if isinstance(mark, Line) and mark.layer == "frame"]
        assert len(strokes) == 8
        for x, z in (point for mark in strokes for point in mark.points):
            assert 0 < x < sheet.size[0] and 0 < z < sheet.size[1]
        mids = {tuple((a + b) / 2 for a, b in zip(*mark.points, strict=True)) for mark in strokes}
        _, ref, name = sheet.name.split("_")
        corners[ref, name] = {(round(x - view.x, 3), round(z - view.y, 3)) for x, z in mids}
        assert len(corners[ref, name]) == 4
    joined = 0
    for (ref, name), mine in corners.items():
        beside = corners.get((ref, f"{name[0]}{int(name[1:]) + 1}"))
        below = corners.get((ref, f"{chr(ord(name[0]) + 1)}{name[1:]}"))
        for other in (beside, below):
            joined += other is not None
            assert other is None or len(mine & other) == 2, (ref, name)
    assert joined >= (paper == "A4") and len(corners) <= 5


def test_no_arch_no_tile() -> None:
    assert tuple(sheets(derive(read_job(demo_jobs()["bedroom"])))) == ()
