"""Noggings, boards between studs, face-fixed plywood: size, place, count."""

from dataclasses import replace

import pytest

from wallwright.carcass.let_in import backed, backing_of, bays_between, nogging_rows
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job

STUDS = (300.0, 900.0, 1500.0, 2100.0)
OUTLINE = Box(300, 1000, 1200, 300)
HOLES = ((600.0, 1100.0), (600.0, 1250.0), (1200.0, 1100.0))


def framed(whole, substrate, backing=None, studs=STUDS):
    survey = replace(whole.job.survey.wall, substrate=substrate, studs=tuple(Length(x) for x in studs))
    return replace(
        whole.job,
        survey=replace(whole.job.survey, wall=survey),
        design=replace(whole.job.design, backing=backing),
    )


def made(whole, job, holes=HOLES):
    done = backed(whole.carcass, (OUTLINE,), job, whole.limits, holes)
    parts = [part for part in done.parts if part.unit == "wall"]
    return parts, {item.name: item.quantity for item in done.hardware if item.unit == "wall"}


def test_a_bay_is_clear_from_the_side_of_one_stud_to_the_side_of_the_next():
    assert bays_between(OUTLINE, STUDS, 45) == [(322.5, 877.5), (922.5, 1477.5)]
    assert bays_between(Box(350, 0, 500, 10), STUDS, 45) == [(350, 850)]  # no stud behind it: its own ends
    assert bays_between(Box(350, 0, 1150, 10), STUDS, 45) == [(350, 877.5), (922.5, 1477.5)]


@pytest.mark.parametrize(
    ("heights", "rows"),
    [
        ([1100], [1100]),
        ([1100, 1145], [1122.5]),
        ([1100, 1146], [1100, 1146]),
        ([1250, 1100, 1110], [1105, 1250]),
    ],
)
def test_fixings_45_apart_share_a_nogging_of_95(heights, rows):
    """25 in from both edges of 95 leaves 45."""
    assert nogging_rows(heights, 95, 25) == rows


def test_a_nogging_stands_between_two_studs_at_every_row_that_falls_there(whole):
    parts, bought = made(whole, framed(whole, "timber_stud"))
    at = [(p.block.x, p.block.z, p.length, p.width, p.thickness, p.board) for p in parts]
    assert at == [
        (322.5, 1052.5, 555, 95, 45, "nogging"),
        (322.5, 1202.5, 555, 95, 45, "nogging"),
        (922.5, 1052.5, 555, 95, 45, "nogging"),
    ]
    assert [p.id for p in parts] == ["NG1", "NG2", "NG3"] and all(p.block.y == 12.5 for p in parts)
    assert bought == {"Strip of boarding opened, closed and filled": 1, "Screw for the noggings": 12}


def test_boards_go_only_where_a_fixing_falls_between_the_studs(whole):
    parts, _ = made(whole, framed(whole, "metal_stud"), holes=HOLES[:2])
    assert [(p.block.x, p.length, p.width, p.board) for p in parts] == [(322.5, 555, 300, "ply18")]
    both, _ = made(whole, framed(whole, "metal_stud"))
    assert [p.block.x for p in both] == [322.5, 922.5]


def test_face_fixed_plywood_goes_50_beyond_the_outer_studs_and_stands_proud(whole):
    parts, bought = made(whole, framed(whole, "metal_stud", "face"))
    (one,) = parts
    assert (one.block.x, one.length, one.block.y) == (250, 1300, -18)
    assert bought == {"Screw for face-fixed plywood": 3 * 3}  # studs at 300, 900, 1500; 300 high, every 150


@pytest.mark.parametrize(
    ("substrate", "said", "method"),
    [("timber_stud", None, "noggings"), ("metal_stud", None, "boards"), ("timber_stud", "face", "face")],
)
def test_what_backs_a_wall(whole, substrate, said, method):
    assert backing_of(framed(whole, substrate, said)) == method


def test_noggings_of_a_whole_wall_are_cut_billed_and_on_the_carpenters_sheet():
    from wallwright.sheets.fixings import backer_table
    from wallwright.tables.cut_list import cut_list

    job = read_job(demo_jobs()["living"])
    for name, values in (
        ("set_substrate", {"kind": "metal_stud", "leaf": 100}),
        ("set_studs", {"spacing": 600, "studs": [300, 900, 1500, 2100, 2700, 3300, 3900]}),
        ("set_backing", {"backing": "noggings"}),
    ):
        job = apply(job, name, values)
    wall = derive(job)
    own = [part for part in wall.carcass.parts if part.board == "nogging"]
    holes = [hole for check in wall.structure.fixings if check.backer for hole in check.holes]
    assert own and not wall.cuts.unfit
    for x, z in holes:  # each in a nogging, or in a stud
        assert any(part.block.face.holds(Box(x, z, 0, 0)) for part in own) or any(
            abs(x - stud) <= 22.5 for stud in range(300, 4000, 600)
        ), (x, z)
    (line,) = [line for line in wall.money.lines if line.item.startswith("Nogging")]
    each = int(3000 // (max(part.length for part in own) + 4))  # so many from a batten of 3 m
    assert line.quantity == 3 * -(-len(own) // each) and line.unit == "m"
    listed = [row for row in backer_table(wall).rows if "nogging" in str(row[1])]
    assert len(listed) == len({(p.block.x, p.block.z) for p in own})
    assert any("nogging" in " ".join(map(str, row)) for row in cut_list(wall).rows)
