"""The exploded sheet: true proportions, what is nearer hides what is farther, every part named at a point one sees."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import dist
from pathlib import Path

import pytest

from wallwright.core.drawing import Line, Text
from wallwright.core.shape import Block
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import exploded
from wallwright.sheets.assembly import step_of, steps, tag
from wallwright.sheets.crossed import inside
from wallwright.sheets.exploded import pairs
from wallwright.sheets.pulled import faces, on_paper, painted, pulled


@lru_cache(maxsize=3)
def made(name: str) -> Wall:
    jobs = demo_jobs()
    path = Path(__file__).parent / "made" / f"{name}.toml"
    return derive(read_job(jobs[name] if name in jobs else path.read_text()))


def test_all_three_axes_are_true_to_scale() -> None:
    """Cavalier: a step of 100 along any axis is 100 on the drawing; depth goes up at 30 degrees."""
    here = on_paper(0, 0, 0)
    assert [dist(here, on_paper(*step)) for step in ((100, 0, 0), (0, 100, 0), (0, 0, 100))] == pytest.approx(
        [100] * 3
    )
    assert on_paper(0, 100, 0)[1] == pytest.approx(50)


def test_what_is_nearer_is_painted_later() -> None:
    near = Block(0, -100, 0, 50, 20, 50)
    far = Block(0, 0, 0, 50, 20, 50)
    assert [(near, far)[i] for i in painted([near, far])] == [far, near]
    low, high = Block(0, 0, 0, 50, 50, 10), Block(0, 0, 20, 50, 50, 10)
    assert [(high, low)[i] for i in painted([high, low])] == [low, high]
    left, right = Block(0, 0, 0, 10, 50, 50), Block(20, 0, 0, 10, 50, 50)
    assert [(right, left)[i] for i in painted([right, left])] == [left, right]


def test_every_part_is_named_once_at_a_point_one_sees() -> None:
    for name in ("living", "every_unit"):
        wall = made(name)
        for unit, *_ in pairs(wall):
            parts = [part for part in wall.carcass.parts if part.unit == unit.ref]
            order = steps(unit, parts)
            drawing = exploded.drawing(unit, parts, order, 10.0)
            words = [m.text for m in drawing.marks if isinstance(m, Text) and m.bold]
            assert sorted(words) == sorted(tag(part) for part in parts), unit.ref
            last: dict[str, int] = {}
            shapes = [m for m in drawing.marks if isinstance(m, Line) and m.fill]
            for i, shape in enumerate(shapes):
                last[tag(next(p for p in parts if p.id == shape.ref))] = i
            for mark in drawing.marks:
                if isinstance(mark, Line) and mark.ref.startswith("leader "):
                    over = [s for s in shapes if inside(mark.points[0], s.points)]
                    assert over and tag(next(p for p in parts if p.id == over[-1].ref)) == mark.ref[7:]


def test_parts_do_not_lie_in_one_another_when_pulled_apart() -> None:
    wall = made("living")
    for unit, *_ in pairs(wall):
        parts = [part for part in wall.carcass.parts if part.unit == unit.ref]
        blocks = [pulled(unit, part, 140.0, parts) for part in parts]
        for i, a in enumerate(blocks):
            for b in blocks[i + 1 :]:
                assert a.overlap(b) < 1.0


def test_steps_come_in_order_and_leave_no_part_out() -> None:
    wall = made("every_unit")
    for unit, *_ in pairs(wall):
        parts = [part for part in wall.carcass.parts if part.unit == unit.ref]
        order = steps(unit, parts)
        assert all(step_of(part, order) for part in parts), unit.ref
        at = {part.role: step_of(part, order) for part in parts}
        for first, then in pairwise(
            [r for r in ("plinth", "side", "back", "rail", "cleat", "front") if r in at]
        ):
            assert at[first] <= at[then], (unit.ref, first, then)
        put_up = next(i for i, step in enumerate(order, 1) if not step.roles)
        assert put_up > at.get("back", 0) and put_up < at.get("front", 99)


def test_a_pair_has_one_sheet() -> None:
    """The living demo's towers differ inside; with the same bays they would share a sheet."""
    wall = made("living")
    assert [[u.ref for u in own] for own in pairs(wall)] == [["C1"], ["T1"], ["T2"]]
    job = read_job(demo_jobs()["living"])
    from dataclasses import replace

    by_ref = {unit.ref: unit for unit in job.design.units}
    alike = tuple(replace(u, bays=by_ref["T1"].bays) if u.ref == "T2" else u for u in job.design.units)
    twin = derive(replace(job, design=replace(job.design, units=alike)))
    assert ["T1", "T2"] in [[u.ref for u in own] for own in pairs(twin)]
    sheet = next(s for s in exploded.sheets(twin) if s.name == "exploded_T1")
    assert "T1 and T2" in sheet.title


def test_the_faces_of_a_block_are_its_sizes() -> None:
    top, right, front = faces(Block(1, 2, 3, 10, 20, 30))
    assert dist(front[0], front[1]) == pytest.approx(10) and dist(front[1], front[2]) == pytest.approx(30)
    assert dist(right[0], right[1]) == pytest.approx(20) and dist(top[1], top[2]) == pytest.approx(20)
