"""Rods of flutes and set-outs of tiles: marks from the middle both ways, joints in grooves, cut sizes that close."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest

from wallwright.core.drawing import Text
from wallwright.core.shape import box_around
from wallwright.derive import Wall, derive
from wallwright.job.read import read_job
from wallwright.sheets.flute_rod import (
    both_ways,
    field_notes,
    field_sheet,
    flute_notes,
    flute_sheet,
    mark_table,
    patches,
    pieces_of,
    rib_of,
    sheets,
    size_table,
)


@lru_cache(maxsize=1)
def panels() -> Wall:
    return derive(read_job((Path(__file__).parent / "made" / "every_panel.toml").read_text()))


def test_the_marks_are_the_same_both_ways_and_close_on_the_width() -> None:
    wall = panels()
    zone = next(z for z in wall.setout.zones if z.flutes)
    rib = rib_of(wall, zone)
    marks = both_ways(zone, rib)
    assert len(marks) == zone.flutes + 1
    for (a, b), (c, d) in zip(marks, reversed(marks), strict=True):
        assert (a, b) == pytest.approx((-d, -c), abs=0.11)
    assert marks[-1][1] == pytest.approx(zone.box.width / 2, abs=0.051)
    # each mark is of its own: no rounding is carried on from flute to flute
    for k, (a, _) in enumerate(marks):
        assert abs(a + zone.box.width / 2 - k * zone.flute_pitch) <= 0.0501


def test_the_table_names_the_joint_in_its_groove() -> None:
    """53 grooves: one on the middle, the joint in it; 27 ribs each way, none of which is left out."""
    wall = panels()
    zone = next(z for z in wall.setout.zones if z.flutes)
    table = mark_table(zone, rib_of(wall, zone))
    assert zone.flutes == 53 and zone.joints == (zone.box.centre[0],)
    assert table.rows[0][1] == "0.0" and "joint" in str(table.rows[0][3])
    assert [row[0] for row in table.rows[1:]] == list(range(1, 28))
    rib = rib_of(wall, zone)
    box = replace(zone.box, width=52 * zone.flute_pitch + rib)
    even = replace(zone, flutes=52, box=box, joints=())
    rows = mark_table(even, rib).rows
    assert rows[0][3] == "on the middle" and rows[0][2] == f"{rib / 2:.1f}"
    assert len(rows) == 27 and rows[-1][2] == f"{box.width / 2:.1f}"


def test_a_box_on_the_field_gets_a_flat_patch_of_whole_ribs() -> None:
    wall = panels()
    zone = next(z for z in wall.setout.zones if z.flutes)
    point = replace(
        wall.services.points[0], ref="P9", box=box_around((zone.box.x + 200, zone.box.top - 150), 86, 86)
    )
    seen = replace(wall, services=replace(wall.services, points=(point,)))
    assert [ref for _, ref in patches(seen, zone)] == ["P9"]
    note = next(note for note in flute_notes(seen, zone) if note.startswith("Flat for P9"))
    low, high = (float(bit.replace("+", "")) for bit in (note.split()[4], note.split()[6]))
    rib, middle = rib_of(wall, zone), zone.box.width / 2
    for steps in ((low + middle) / zone.flute_pitch, (high + middle - rib) / zone.flute_pitch):
        assert steps == pytest.approx(round(steps), abs=0.01)
    spare = wall.limits.value("carcass.box_clear")
    assert low + middle <= 157 - spare and high + middle >= 243 + spare
    sheet = flute_sheet(seen, zone)
    assert any(getattr(m, "ref", "") == "flat P9" for m in sheet.views[0].drawing.marks)
    assert patches(wall, zone) == []


@pytest.mark.parametrize("ref", ["W5", "W6", "W7", "W8"])
def test_pieces_and_joints_close_on_the_zone(ref: str) -> None:
    wall = panels()
    zone = next(z for z in wall.setout.zones if z.ref == ref)
    boxes = pieces_of(zone)
    row = [box for box in boxes if box.z == boxes[0].z]
    column = [box for box in boxes if box.x == boxes[0].x]
    assert sum(b.width for b in row) + zone.joint * (len(row) - 1) == pytest.approx(zone.box.width)
    assert sum(b.height for b in column) + zone.joint * (len(column) - 1) == pytest.approx(zone.box.height)
    table = size_table(zone)
    assert sum(int(str(r[0])) for r in table.rows) == len(boxes)


def test_every_joint_has_its_figure_from_the_zones_edge() -> None:
    wall = panels()
    zone = next(z for z in wall.setout.zones if z.ref == "W5")
    texts = {m.text for m in field_sheet(wall, [zone]).views[0].drawing.marks if isinstance(m, Text)}
    for x in zone.joints:
        assert f"{x - zone.box.x:.0f}" in texts
    for z in zone.levels:
        assert f"{z - zone.box.z:.0f}" in texts


def test_fields_of_one_scale_share_a_sheet_and_none_is_left_out() -> None:
    """W7 alone goes at 1:10; the others are drawn at 1:20 and stand side by side, each with its place, its face and its sizes."""
    wall = panels()
    made = sheets(wall)
    assert [s.name for s in made] == ["flutes_W1", "set_out_W3", "set_out_W7"]
    drawn = [(view.drawing.name.split()[0], view.drawing.scale) for s in made[1:] for view in s.views]
    assert drawn == [("W3", 20), ("W4", 20), ("W8", 20), ("W7", 10)]
    said = {s.name: " ".join(m.text for m in s.marks if isinstance(m, Text)) for s in made}
    for zone in wall.setout.zones:
        if (zone.ref, 20) in drawn:
            for note in field_notes(zone):
                assert note in said["set_out_W3"]
            assert f"{zone.ref}: {size_table(zone).title.lower()}" in said["set_out_W3"]
