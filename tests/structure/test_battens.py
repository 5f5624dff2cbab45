import itertools

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Panel
from wallwright.structure import battens
from wallwright.structure.battens import screw_places
from wallwright.structure.wall import Wall, anchors_for

L = Length


@pytest.mark.parametrize(("long", "count"), [(90, 1), (110, 2), (500, 2), (501, 3), (900, 3), (2048, 6)])
def test_screws_along_a_batten(long, count):
    """50 in from both ends, at most 400 apart (common practice)."""
    places = screw_places(Box(100, 700, long, 50), 400, 50)
    assert len(places) == count and {z for _, z in places} == {725}
    xs = [x for x, _ in places]
    if count > 1:
        assert xs[0] == 150 and xs[-1] == pytest.approx(100 + long - 50)
        assert max(b - a for a, b in itertools.pairwise(xs)) <= 400 + 1e-6


def test_an_upright_batten():
    assert screw_places(Box(100, 0, 50, 900), 400, 50) == ((125, 50), (125, 450), (125, 850))


def test_every_batten_of_a_panel_has_its_screws(wall):
    done = wall(panels=(Panel("W1", z=L(600), height=L(1800)),))
    boards = {part.id: part.block.face for part in done.carcass.parts if part.role == "batten"}
    rows = {row.what.removeprefix("batten "): row for row in done.structure.batten_rows}
    assert set(rows) == set(boards) and boards
    for ident, row in rows.items():
        assert row.ref == "W1" and row.hole_diameter > 0 and row.hole_depth > 0
        assert all(boards[ident].holds(Box(x - 15, z - 15, 30, 30)) for x, z in row.holes)


def test_screws_are_slid_off_a_cable(wall):
    done = wall(panels=(Panel("W1", z=L(600), height=L(1800)),))
    free = done.structure.batten_rows[0]
    cable = Box(free.holes[1][0] - 40, 0, 80, 2700)
    (row, *_) = battens.rows(done.carcass.parts, Wall("brick", (), 600, (cable,)), done.limits)
    half = row.hole_diameter / 2
    assert row.holes[1] != free.holes[1] and len(row.holes) == len(free.holes)
    assert not any(cable.x - half < x < cable.right + half for x, _ in row.holes)


def test_on_studs_they_go_into_studs_and_on_an_unknown_wall_nowhere(wall):
    panel = (Panel("W1", x=L(500), width=L(2000), z=L(600), height=L(1800)),)
    framed = wall(
        panels=panel, substrate="metal_stud", studs=(300, 900, 1500, 2100, 2700)
    ).structure.batten_rows
    assert framed and all({x for x, _ in row.holes} <= {900, 1500, 2100} for row in framed)
    assert wall(panels=panel, substrate="unknown").structure.batten_rows == ()


def test_screws_on_a_column_are_its_own_and_none_goes_into_an_unknown_one(wall):
    panel = (Panel("W1", z=L(600), height=L(1800)),)
    plain = wall(panels=panel)
    base = plain.structure.batten_rows
    on = Box(1000, 0, 900, 2700)
    inside = sum(on.x < x < on.right for row in base for x, _ in row.holes)
    assert inside

    def rows(known):
        return battens.rows(
            plain.carcass.parts, Wall("brick", (), 600, strange=(("CO", on),), known=known), plain.limits
        )

    concrete = rows({"CO": "concrete"})
    there = {row.anchor for row in concrete for x, _ in row.holes if on.x < x < on.right}
    assert there == {anchors_for("concrete")[0].name} and there != {base[0].anchor}
    assert sum(len(row.holes) for row in concrete) == sum(len(row.holes) for row in base)
    assert sum(len(row.holes) for row in rows({})) == sum(len(row.holes) for row in base) - inside
