"""The pack-out map: a figure at every crossing, the high spot, the flatness, and what stands where nothing was read."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import pytest

from wallwright.carcass import relief
from wallwright.core.drawing import Circle, Text
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.job.survey import Relief
from wallwright.sheets.beside import Notes
from wallwright.sheets.ink import text_box
from wallwright.sheets.pack_out import _beside, along, crossings, drawing, flatness_table, readings, sheets


@lru_cache(maxsize=2)
def made(name: str) -> Wall:
    jobs = demo_jobs()
    return derive(
        read_job(
            jobs[name] if name in jobs else (Path(__file__).parent / "made" / f"{name}.toml").read_text()
        )
    )


def read(wall: Wall, *found: tuple[float, float, float]) -> Wall:
    """The wall with these readings of its relief."""
    survey = replace(
        wall.job.survey,
        wall=replace(wall.job.survey.wall, relief=tuple(Relief(*(Length(v) for v in one)) for one in found)),
    )
    return replace(wall, job=replace(wall.job, survey=survey))


def notes(wall: Wall) -> str:
    return " ".join(line for block in _beside(wall) if isinstance(block, Notes) for line in block.lines)


def test_a_figure_stands_at_every_crossing_of_every_batten() -> None:
    wall = made("every_panel")
    figures = [m for m in drawing(wall, 20.0).marks if isinstance(m, Text) and m.ref == "pack"]
    assert len(figures) == len(crossings(wall))
    wanted = sorted(round(one.pack) for one in relief.packing(readings(wall), crossings(wall)))
    assert sorted(int(m.text) for m in figures) == wanted
    for part in wall.carcass.parts:
        if part.role == "batten":
            places = along(part)
            assert all(part.block.face.grown(0.01).x <= x <= part.block.face.right for x, _ in places)
            xs = [x for x, _ in places]
            assert max((b - a for a, b in pairwise(xs)), default=0) <= 600.0 + 1e-6


def test_the_high_spot_is_ringed_and_packed_nothing() -> None:
    wall = made("every_panel")
    ring = next(m for m in drawing(wall, 20.0).marks if isinstance(m, Circle) and m.ref == "high spot")
    found = relief.packing(readings(wall), crossings(wall))
    assert next(one.pack for one in found if (one.x, one.z) == ring.centre) == 0.0
    outs = [relief.stands_out(readings(wall), x, z) for x, z in crossings(wall)]
    assert relief.stands_out(readings(wall), *ring.centre) == max(outs)


def test_a_wall_that_was_not_read_says_so() -> None:
    """Only its lean is known: 4 over its height, top behind; the lowest crossing is the high spot."""
    wall = read(made("living"))
    assert "relief was not read" in notes(wall) and "4 over its height" in notes(wall)
    found = relief.packing(readings(wall), crossings(wall))
    assert min(found, key=lambda one: one.pack).z == min(z for _, z in crossings(wall))
    flat = read(wall, (0, 0, 0), (4200, 0, 0), (0, 2700, 0), (4200, 2700, 0))
    assert "not read" not in notes(flat)
    assert {one.pack for one in relief.packing(readings(flat), crossings(flat))} == {0.0}


def test_too_much_packing_stops() -> None:
    wall = made("living")
    deep = read(wall, (0, 0, 0), (4200, 0, 0), (0, 2700, -40), (4200, 2700, -40))
    assert "MORE THAN 20 mm" in notes(deep)
    assert "MORE THAN" not in notes(wall)


@pytest.mark.parametrize(("bump", "keeps"), [(4.0, "stricter"), (6.0, "usual"), (12.0, "NOT FLAT")])
def test_flatness_is_classed(bump: float, keeps: str) -> None:
    """Over 2 m: line 7 bears 4.7, line 6 6.7 (DIN 18202 table 3, between 1 and 4 m)."""
    wall = read(made("living"), (1000, 1000, 0), (2000, 1000, bump), (3000, 1000, 0))
    assert flatness_table(wall).rows[0][-1] == keeps


def test_no_map_where_nothing_is_packed() -> None:
    wall = made("living")
    bare = replace(wall, carcass=replace(wall.carcass, parts=()))
    assert sheets(bare) == () and len(sheets(wall)) == 1


def test_a_reading_stands_clear_of_every_packing() -> None:
    """A reading at each crossing: all keep a millimetre of paper from the packings, and stand at their own circles."""
    wall = made("living")
    x, z = crossings(wall)[0]
    for dx, dz in ((0.0, -65.0), (40.0, 20.0), (-80.0, 60.0), (-120.0, 30.0)):
        drawn = drawing(read(wall, (x + dx, z + dz, -4.0), (2100.0, 300.0, 2.0), (3000.0, 1500.0, 1.0)), 20.0)
        texts = [mark for mark in drawn.marks if isinstance(mark, Text)]
        packs = [text_box(mark, 20.0).grown(20.0) for mark in texts if mark.ref == "pack"]
        given = [mark for mark in texts if mark.ref == "reading"]
        assert {mark.text for mark in given} == {"-4", "+2", "+1"} and packs
        assert not any(text_box(mark, 20.0).meets(box) for mark in given for box in packs)
        four = text_box(next(mark for mark in given if mark.text == "-4"), 20.0)
        assert four.grown(3.0 * 20.0).holds(Box(x + dx, z + dz, 0, 0))
