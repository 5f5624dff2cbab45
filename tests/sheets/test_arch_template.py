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

MADE = Path(__file__).parent / "made"


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job((MADE / "every_panel.toml").read_text(encoding="utf-8")))


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
    assert seen >= 5


def test_tiles_join_on_crosses_that_are_there(wall: Wall) -> None:
    for sheet in sheets(wall):
        crosses = [mark for mark in sheet.marks if isinstance(mark, Line) and mark.layer == "frame"]
        assert len(crosses) == 8  # two strokes at each of four corners


def test_no_arch_no_tile() -> None:
    assert tuple(sheets(derive(read_job(demo_jobs()["bedroom"])))) == ()
