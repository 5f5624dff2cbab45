"""What does not go in beside a drawing goes on the next sheet: nothing lost, nothing over the edge, the drawing as large as it can be."""

from __future__ import annotations

from pathlib import Path

import pytest

from wallwright.core.drawing import Text
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.derive import Wall, derive
from wallwright.job.read import read_job
from wallwright.sheets import composition, elevation, fixings, hidden_services, services, setting_out, storage
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.ink import extent_of
from wallwright.sheets.long_table import beside_and_after, columns
from wallwright.sheets.paper import Fields, Sheet
from wallwright.sheets.room import layout, strip_below

FIELDS = Fields("D", "C", "1", "A", "2026-01-01", "D", "-", "Preliminary")


def empty() -> Sheet:
    return Sheet("thing", "Thing", "Elevation", (), (), FIELDS)


def said(sheet: Sheet) -> list[str]:
    return [mark.text for mark in sheet.marks if isinstance(mark, Text)]


def numbers(first: int, last: int) -> Table:
    return Table("t", "Numbers", (Column("No"),), tuple((f"row {i}",) for i in range(first, last)))


@pytest.mark.parametrize("count", [1, 5, 30, 60, 400])
def test_every_row_is_printed_once_and_none_below_its_room(count: int) -> None:
    blocks: list[Block] = [
        numbers(0, count),
        Notes("Notes", ("one", "two")),
        Legend((("pen:thin", "line"),)),
    ]
    _, rooms = strip_below(40.0)
    made = beside_and_after(empty(), blocks, rooms)
    rows = [text for sheet in made for text in said(sheet) if text.startswith("row ")]
    assert sorted(rows) == sorted(f"row {i}" for i in range(count))
    assert "line" in said(made[0])  # the legend stays with the drawing
    for sheet, room in ((made[0], rooms[0]), *((later, columns(2)[0]) for later in made[1:])):
        assert extent_of(sheet.marks, 1.0).z >= room.z - 0.5
    assert [sheet.name for sheet in made] == ["thing", *(f"thing{k}" for k in range(2, len(made) + 1))]
    assert ("On the next sheet" in said(made[0])) == (len(made) > 1)


@pytest.mark.parametrize("count", range(2, 10))
def test_no_row_of_a_list_stands_alone(count: int) -> None:
    """Under a heading or at the head of the next room; but where there is no more room, a row alone is better than one left out."""
    rooms = (Box(20.0, 60.0, 60.0, 32.0), Box(90.0, 60.0, 60.0, 32.0), Box(160.0, 60.0, 60.0, 32.0))
    marks = column((Notes("Notes", ("one", "two")), numbers(0, count)), rooms)
    rows = [mark for mark in marks if isinstance(mark, Text) and mark.text.startswith("row ")]
    alone = [room for room in rooms if sum(room.x <= mark.at[0] < room.right for mark in rows) == 1]
    assert len(rows) == count
    assert len(alone) == (count == 9)  # one, four and four: there is no other way


def test_a_legend_runs_on_in_the_next_room() -> None:
    legend = Legend(tuple(("pen:thin", f"kind {i}") for i in range(9)))
    _, rooms = strip_below(32.0)
    (only,) = beside_and_after(empty(), [legend], rooms)
    assert [text for text in said(only) if text.startswith("kind")] == [f"kind {i}" for i in range(9)]
    assert said(only).count("Legend, continued") == 2


def test_what_has_no_room_at_all_goes_whole_on_the_next_sheet() -> None:
    first, second = beside_and_after(empty(), [Notes("Notes", ("one",))], (Box(24.0, 54.0, 100.0, 3.0),))
    assert said(first) == [] and "one" in said(second)


@pytest.fixture(scope="module", params=["every_unit", "every_panel"])
def wide(request: pytest.FixtureRequest) -> Wall:
    return derive(read_job((Path(__file__).parent / "made" / f"{request.param}.toml").read_text()))


def test_a_wall_of_six_metres_is_drawn_at_1_20(wide: Wall) -> None:
    """6201 / 20 = 310 mm on an A3 sheet that has 388 between its frames; at 1:50 its figures would crowd."""
    assert wide.face.width > 6000
    assert layout(wide.face.width, wide.face.height, alone=True).scale == 20.0
    firsts = [
        elevation.sheets(wide)[0], services.sheets(wide)[0], composition.sheets(wide)[0], fixings.sheets(wide)[0],
        setting_out.sheets(wide)[0], hidden_services.sheets(wide)[0],
    ]  # fmt: skip
    assert [sheet.scale for sheet in firsts] == ["1:20"] * 6


def test_a_wall_of_five_metres_needs_no_second_sheet_for_its_words() -> None:
    """The drawing rises and the strip below it is parted as its words need: a list of nine lines takes no sheet of its own."""
    path = Path(__file__).parents[1] / "rules" / "well_made" / "two_towers.toml"
    wall = derive(read_job(path.read_text(encoding="utf-8")))
    for made in (elevation, services, composition, hidden_services, storage):
        names = [sheet.name for sheet in made.sheets(wall)]
        assert not [name for name in names if name[-1] == "2"], names
