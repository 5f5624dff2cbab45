"""FDMI (Flat Display Mounting Interface): hole patterns, screws and masses, from copies of the standard's table in encyclopaedias."""

import pytest

from wallwright.library import load
from wallwright.structure.fdmi import STEP, pattern

# MIS-D to 14 kg, MIS-E to 50 lb (22.7 kg), MIS-F to 113.6 kg (from memory)
TABLE = [
    (75, 75, "MIS-D", ("M4",), 14.0),
    (100, 100, "MIS-D", ("M4",), 14.0),
    (200, 100, "MIS-E", ("M4",), 22.7),
    (200, 200, "MIS-F", ("M6", "M8"), 113.6),
    (280, 150, "MIS-F", ("M6", "M8"), 113.6),
    (400, 200, "MIS-F", ("M6", "M8"), 113.6),
    (400, 400, "MIS-F", ("M6", "M8"), 113.6),
    (600, 200, "MIS-F", ("M6", "M8"), 113.6),
    (600, 400, "MIS-F", ("M6", "M8"), 113.6),
    (800, 400, "MIS-F", ("M6", "M8"), 113.6),
]


@pytest.mark.parametrize(("width", "height", "name", "screws", "most"), TABLE)
def test_patterns(width, height, name, screws, most):
    found = pattern(width, height)
    assert found is not None
    assert (found.name, found.screws, found.most) == (name, screws, most)


@pytest.mark.parametrize(
    ("width", "height"), [(100, 200), (200, 400), (300, 200), (100, 75), (0, 0), (250, 250)]
)
def test_what_is_no_pattern_has_no_class(width, height):
    assert pattern(width, height) is None


def test_mis_e_is_fifty_pounds():
    found = pattern(200, 100)
    assert found is not None and found.most == pytest.approx(50 * 0.45359237, abs=0.05)


def test_the_next_plate_is_a_step_larger():
    """MIS-F patterns are multiples of 200 mm: 600 × 400 is followed by 800 × 400."""
    assert load.limits().value("services.next_plate_growth") == STEP == 800 - 600


def test_the_library_s_screens_weigh_no_more_than_their_pattern_takes():
    """Each typical screen that has a pattern of the table; those of 300 mm between the holes have none."""
    of = {screen.key: pattern(screen.hole_width, screen.hole_height) for screen in load.screens().values()}
    assert any(of.values())
    for screen in load.screens().values():
        found = of[screen.key]
        assert found is None or screen.mass <= found.most
        assert found is not None or 300 in (screen.hole_width, screen.hole_height)
