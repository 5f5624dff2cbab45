import pytest

from wallwright.carcass.shelf import rod_count
from wallwright.core.units import Length
from wallwright.job.design import Panel, Unit


@pytest.mark.parametrize(("width", "rods"), [(300, 2), (400, 2), (401, 3), (800, 3), (850, 4)])
def test_rods_are_at_most_400_apart(width, rods):
    assert rod_count(width, 400) == rods


def test_a_shelf_is_one_board_and_spans_between_rods(wall):
    made = wall(Unit("S1", "shelf", width=Length(900)))
    (board,) = [part for part in made.carcass.parts if part.unit == "S1"]
    assert (board.role, board.length, board.width) == ("wall_shelf", 900, 250)
    (shelf,) = made.carcass.shelves
    assert shelf.span == pytest.approx(800 / 2)
    assert next(h for h in made.carcass.hardware if h.kind == "bracket").quantity == 3


def test_a_shelf_over_a_panel_begins_at_its_face(wall):
    made = wall(Unit("S1", "shelf", x=Length(1500), z=Length(2000)), panels=(Panel("W1"),))
    board = next(part for part in made.carcass.parts if part.unit == "S1")
    assert board.block.y + board.block.dy == pytest.approx(-made.setout.zones[0].build_up)
    assert board.width == pytest.approx(250 - made.setout.zones[0].build_up)
