"""Flat sheets, check sheets and labels: everything on the paper, nothing over the foot, hand and figures right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from wallwright.core.drawing import Text
from wallwright.core.finding import Finding
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.job.survey import Reading
from wallwright.rules.check import check
from wallwright.rules.registry import untried
from wallwright.sheets import tower_flat, tower_floor, tower_labels
from wallwright.sheets.ink import extent, text_box
from wallwright.sheets.paper import Sheet
from wallwright.tower.fit import Fit
from wallwright.tower.mirror import mirrored
from wallwright.tower.record import Exception_, Flat, Measured, TowerFile

TOWER = TowerFile("Invented tower", (), (), designer="Demo studio")
FOOT = 29.0


@pytest.fixture(scope="module")
def walls() -> dict[str, Wall]:
    demos = demo_jobs()
    jobs = {name: read_job(demos[name]) for name in ("living", "bedroom", "living_faults")}
    return {**{name: derive(job) for name, job in jobs.items()}, "mirrored": derive(mirrored(jobs["living"]))}


_found: dict[int, tuple[Finding, ...]] = {}


def found(wall: Wall) -> tuple[Finding, ...]:
    """What every rule says of it, asked once."""
    if id(wall) not in _found:
        with untried():
            _found[id(wall)] = check(wall)
    return _found[id(wall)]


def one(wall: Wall, **more: Any) -> tower_flat.FlatWall:
    """A flat with as much to say as one may have."""
    flat = Flat("0304-LONGEST-ID", "Mezzanine 3", "L", "right", "ordered", "DELIVERY-12")
    own = tuple(
        Exception_("resize_unit", {"ref": "C1", "depth": 380}, "narrow passage beside the door")
        for _ in range(3)
    )
    why = ("the filler at the left end would be 3 mm: at least 5 mm is wanted to scribe",) * 5
    whole = tower_flat.FlatWall(
        replace(flat, exceptions=own),
        wall,
        found(wall),
        False,
        Fit(False, why, why, (("left", 3.0),)),
        (("left", 3.0), ("right", 27.26)),
    )
    return replace(whole, **more)


def texts(sheet: Sheet) -> Iterator[tuple[Text, Box]]:
    for mark in sheet.paper.marks:
        if isinstance(mark, Text):
            yield mark, text_box(mark, 1.0)


@pytest.mark.parametrize("name", ["living", "bedroom", "living_faults", "mirrored"])
def test_a_flat_sheet_stands_on_its_page(walls: dict[str, Wall], name: str) -> None:
    """And what does not go on it on a second one."""
    pages = tower_flat.sheets(one(walls[name]), TOWER)
    assert len(pages) == 2
    for page in pages:
        for mark, box in texts(page):
            assert 14.0 <= box.x <= box.right <= 196.5, mark.text
            assert 3.0 <= box.z <= box.top <= 292.0, mark.text
        lists = [box for mark, box in texts(page) if mark.layer == "notes"]
        assert lists
        assert min(box.z for box in lists) >= FOOT
        assert not any("more in the schedules" in mark.text for mark, _ in texts(page))
    (view,) = pages[0].views
    drawn = extent(view.drawing)
    low, high = view.on_paper((drawn.x, drawn.z)), view.on_paper((drawn.right, drawn.top))
    assert low[0] >= 13.0
    assert high[0] <= 197.0
    assert high[1] <= tower_flat.HEAD.z
    assert max(box.top for mark, box in texts(pages[0]) if mark.layer == "notes") <= low[1] + 0.5


def test_a_flat_sheet_says_whose_it_is_and_what_is_otherwise(walls: dict[str, Wall]) -> None:
    said = " ".join(
        mark.text for page in tower_flat.sheets(one(walls["mirrored"]), TOWER) for mark, _ in texts(page)
    )
    for words in (
        "Flat 0304-LONGEST-ID",
        "RIGHT HAND",
        "state: ordered",
        "delivery: DELIVERY-12",
        "MADE TO MEASURE",
        "Otherwise in this flat",
    ):
        assert words in said
    plain = one(walls["living"], flat=Flat("0101", "1", "L"), series=True, fit=None, findings=())
    (page,) = tower_flat.sheets(plain, TOWER)
    said = " ".join(mark.text for mark, _ in texts(page))
    assert "LEFT HAND" in said
    assert "as drawn" in said
    assert "To put right" not in said


def test_an_open_danger_stamps_the_page(walls: dict[str, Wall]) -> None:
    faulty = tower_flat.sheets(one(walls["living_faults"]), TOWER)[0]
    assert faulty.dangers > 0
    assert "NOT FOR CONSTRUCTION" in " ".join(mark.text for mark, _ in texts(faulty))


def test_outlets_are_measured_from_the_flats_own_corner(walls: dict[str, Wall]) -> None:
    wall = walls["mirrored"]
    table = tower_flat._points(one(wall))
    assert [(row[0], row[2], row[3]) for row in table.rows] == [
        (point.ref, round(point.x), round(point.z))
        for point in wall.services.points[: tower_flat.MOST_POINTS]
    ]


@pytest.mark.parametrize("count", [1, 11, 12, 30])
def test_a_check_sheet_has_every_flat_in_a_row_and_a_box_for_every_tick(
    walls: dict[str, Wall], count: int
) -> None:
    flats = [replace(one(walls["living"]), flat=Flat(f"{i:04d}", "3", "L")) for i in range(count)]
    pages = tower_floor.sheets("3", flats, TOWER)
    assert len(pages) == -(-count // tower_floor.A_PAGE)
    said = [mark.text for page in pages for mark, _ in texts(page)]
    assert all(said.count(f"{i:04d}") == 1 for i in range(count))
    for page in pages:
        for mark, box in texts(page):
            assert 14.0 <= box.x <= box.right <= 283.0, mark.text
            assert 3.0 <= box.z <= box.top <= 206.0, mark.text
        rows = [box for mark, box in texts(page) if mark.layer == "text"]
        assert min(box.z for box in rows) >= FOOT


def test_words_in_the_check_sheet_stay_in_their_cells(walls: dict[str, Wall]) -> None:
    (page,) = tower_floor.sheets(
        "3", [one(walls["living"], flat=replace(one(walls["living"]).flat, id="0304"))], TOWER
    )
    edges = [tower_floor.LEFT]
    for _, wide in tower_floor.COLUMNS:
        edges.append(edges[-1] + wide)
    step = (tower_floor.LEFT + tower_floor.WIDE - edges[-1]) / len(tower_floor.TICKS)
    edges += [edges[-1] + step * (i + 1) for i in range(len(tower_floor.TICKS))]
    for mark, box in texts(page):
        if mark.layer == "text" and box.top < tower_floor.TOP - 4.0:
            assert not any(box.x < edge - 0.05 < box.right - 0.1 for edge in edges), mark.text


def test_unmeasured_fillers_stand_in_brackets(walls: dict[str, Wall]) -> None:
    drawn = one(walls["living"], flat=Flat("0101", "1", "L"), fit=None, fillers=(("left", 25.0),))
    cells = tower_floor._cells(drawn)
    assert (cells[3], cells[4]) == (["(25)"], ["free"])
    high = replace(drawn, fit=Fit(True, (), (), (("left", 25.0),)))  # nobody measured a width
    assert tower_floor._cells(high)[3] == ["(25)"]
    wide = Measured(widths=(Reading(Length(100.0), Length(4200.0)),))
    assert tower_floor._cells(replace(high, flat=replace(high.flat, measured=wide)))[3] == ["25"]


def test_what_is_not_said_is_not_told_as_made(walls: dict[str, Wall]) -> None:
    """Ordered, it does not take its unit, and nobody said by what it was made: neither as drawn nor to measure."""
    open_ = one(
        walls["living"], undecided=True, flat=replace(one(walls["living"]).flat, id="0304", floor="3")
    )
    said = [mark.text for page in tower_flat.sheets(open_, TOWER) for mark, _ in texts(page)]
    assert any("TO MEASURE? NOT SAID" in text for text in said)
    assert not any("MADE TO MEASURE" in text or "as drawn ·" in text for text in said)
    assert tower_floor._cells(open_)[8][0] == "TO MEASURE? NOT SAID"


def test_labels_carry_flat_and_part(walls: dict[str, Wall]) -> None:
    parts = {f"0304/{part.id}": part for part in walls["living"].carcass.parts}
    pages = tower_labels.sheets("DEL1", (), parts, TOWER)
    said = [mark.text for page in pages for mark, _ in texts(page)]
    assert all(name in said for name in parts)
