"""Guides, alignments and lines beside the screen, by hand."""

from __future__ import annotations

import runpy
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.carcass.record import SetOut
from wallwright.core.shape import Box
from wallwright.look.guides import alignments, guides, nearest_lines, symmetry

MADE: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("wall_by_hand.py")))
CONSOLE, FACE, LEFT, LIMITS, RIGHT, SCREEN, WHOLE, ZONE = (
    MADE[name] for name in ["CONSOLE", "FACE", "LEFT", "LIMITS", "RIGHT", "SCREEN", "WHOLE", "ZONE"]
)
unit: Any = MADE["unit"]


def test_guides() -> None:
    """Wall 4000 × 2600, screen 1450 wide at 2000: thirds at 1333 and 2667; console ends at 2000 ± 870 and ± 1160."""
    lines = guides(SCREEN, WHOLE, FACE.box, 1950, LIMITS)
    at = {
        kind: sorted(round(g.at, 1) for g in lines if g.kind == kind and g.upright)
        for kind in {g.kind for g in lines}
    }
    assert at["axis"] == [2000] and at["seats"] == [1950] and at["edge"] == [1275, 2725]
    assert at["third"] == [1333.3, 2666.7]
    assert sorted(round(g.at, 1) for g in lines if g.kind == "third" and not g.upright) == [866.7, 1733.3]
    assert at["console"] == [840, 1130, 2870, 3160]  # 1.2 and 1.6 × 1450/2 = 870, 1160: common practice
    assert at["mirror"] == [0, 400, 3600, 4000]  # the towers are one another's mirror


def test_symmetry() -> None:
    assert symmetry(SCREEN, WHOLE) == pytest.approx(0)
    assert symmetry(SCREEN, SetOut((LEFT,), (), ())) is None
    wider = replace(RIGHT, box=Box(3550, 0, 450, 2300))
    assert symmetry(SCREEN, SetOut((LEFT, wider), (), ())) == pytest.approx(50)
    lower = replace(RIGHT, box=Box(3600, 0, 400, 2100))
    assert symmetry(SCREEN, SetOut((LEFT, lower), (), ())) == pytest.approx(200)


def test_alignments() -> None:
    """Shelf 1287 to 2700: its left end 12 right of the screen's left edge 1275, its middle 6.5 left of the axis."""
    shelf = unit("S1", "shelf", Box(1287, 1900, 1413, 25))
    found = {
        (a.ref, a.what): (a.to, a.gap)
        for a in alignments(SCREEN, SetOut((CONSOLE, shelf), (ZONE,), ()), (("G1", 1990),))
    }
    assert found["S1", "left end"] == ("left edge", 12)
    assert found["S1", "right end"] == ("right edge", -25)
    assert found["S1", "middle"] == ("axis", -6.5)
    assert found["C1", "middle"] == ("axis", 0)
    assert found["G1", "end of the light"] == ("axis", -10)
    assert found["W1", "joint"] == ("right edge", -25)


def test_lines_beside_the_screen() -> None:
    """Frame 1275..2725, 785..1615: a panel that ends at 2735 runs 10 beside it; the console's top is 235 below."""
    near = nearest_lines(
        SCREEN, SetOut((CONSOLE,), (replace(ZONE, box=Box(900, 0, 1835, 2300), joints=(1300,)),), ()), None
    )
    assert (near[0].ref, near[0].upright, near[0].gap) == ("W1", True, 10)
    assert ("C1", False, 235) in {(line.ref, line.upright, line.gap) for line in near}
    assert all(line.at != 1300 for line in near)  # hidden behind the screen
    niche = nearest_lines(SCREEN, SetOut((), (), ()), Box(1265, 775, 1470, 850))
    assert [line.gap for line in niche] == [10, 10, 10, 10]
