"""The look in tables: every figure is the record's own, and what is not validated says so."""

from __future__ import annotations

from functools import cache

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.tables.look import beside_screen, dusting, palettes, surfaces, switch_legend, two_walls


@cache
def living() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def test_faces_cover_the_wall_and_carry_their_lab() -> None:
    wall = living()
    rows = surfaces(wall).rows
    assert sum(float(row[2] or 0) for row in rows) == pytest.approx(wall.face.box.area / 1e6, rel=0.02)
    screen = next(row for row in rows if row[0] == "screen")
    assert float(screen[4] or 0) < 10  # a screen that is off is nearly black


def test_two_walls_shares_add_up_and_the_caveat_is_there() -> None:
    wall = living()
    table = two_walls(wall)
    assert len(table.rows) == 4
    for _, _, off, on, other, share_off, share_on in table.rows:
        for own, share in ((off, share_off), (on, share_on)):
            whole = float(own or 0) + float(other or 0)
            if whole:
                assert float(share or 0) == pytest.approx(100 * float(own or 0) / whole, abs=0.01)
    assert any("no published model" in note for note in table.notes)


def test_light_beside_the_screen_and_switches() -> None:
    wall = living()
    for row, record in zip(beside_screen(wall).rows, wall.light.beside, strict=True):
        assert row[4] == pytest.approx(record.room + record.bias)
    assert {ref for row in switch_legend(wall).rows for ref in str(row[1]).split(", ")} == {
        run.ref for run in wall.light.runs
    }


def test_a_palette_that_is_applied_comes_first() -> None:
    wall = living()
    last = wall.look.palettes[-1][0]
    dressed = derive(apply(wall.job, "apply_palette", {"palette": last}))
    assert dressed.look.palettes[0][0] == last
    assert palettes(dressed).rows[0][1] < palettes(wall).rows[-1][1]  # type: ignore[operator]


def test_grooves_cost_more_dusting_than_a_flat_face() -> None:
    flat = living()
    fluted = derive(apply(flat.job, "set_panel_kind", {"ref": "W1", "kind": "fluted"}))
    minutes = [
        next(float(row[4] or 0) for row in dusting(wall).rows if row[0] == "W1") for wall in (flat, fluted)
    ]
    assert minutes[1] > minutes[0]
