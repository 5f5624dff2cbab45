"""Distance to a palette and families of hue; the library's own palettes."""

from __future__ import annotations

import pytest

from wallwright.library import load
from wallwright.look.colour import chroma, difference, lab
from wallwright.look.palette import distance, hue_families


def test_distance_by_hand() -> None:
    """3 m² of a tone itself and 1 m² of white: a quarter of the white's ΔE00 to the nearer tone."""
    tones = ("#808080", "#404040")
    off = min(difference(lab("#FFFFFF"), lab(tone)) for tone in tones)
    assert distance([(3, lab("#404040")), (1, lab("#FFFFFF"))], tones) == pytest.approx(off / 4)
    assert distance([], tones) == 0


def test_hue_families() -> None:
    """Lab hues at 0, 20, 90, 350 deg: 350 to 20 lie together over the turn, 90 stands apart (gap 35)."""
    import math

    def at(angle: float, c: float = 30.0) -> tuple[float, tuple[float, float, float]]:
        return 1.0, (50.0, c * math.cos(math.radians(angle)), c * math.sin(math.radians(angle)))

    assert hue_families([at(0), at(20), at(90), at(350)], 10, 35) == 2
    assert hue_families([at(0), at(90), at(180), at(270)], 10, 35) == 4
    assert hue_families([at(40), at(60)], 10, 35) == 1 and hue_families([at(40)], 10, 35) == 1
    assert hue_families([at(0, 5), at(90, 5)], 10, 35) == 0  # near-greys have no hue to speak of
    assert (
        hue_families([at(angle) for angle in range(0, 360, 20)], 10, 35) == 1
    )  # round and round without a gap


def test_the_librarys_palettes() -> None:
    """Their finishes are in the library, calm, matt or satin, and are their own tones; common practice."""
    finishes = load.finishes()
    assert len(load.palettes()) >= 5
    for row in load.palettes().values():
        for key in (row.wall, row.panel, row.fronts):
            finish = finishes[key]
            assert finish.colour in row.tones
            assert not finish.bold and finish.gloss in ("matt", "satin")
        assert chroma(lab(finishes[row.panel].colour)) < load.limits().value(
            "rule.bold_chroma"
        )  # it hangs behind the screen
