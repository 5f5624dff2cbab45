"""The storage picture: every level is on it with its number and what it holds, nothing over anything, zones as the household reaches."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from wallwright.core.drawing import Hatch, Level, Line, Text
from wallwright.derive import Wall, derive
from wallwright.job.demos import DEMOS, demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.sheets.paper import Sheet
from wallwright.sheets.storage import drawing, heights, sheets
from wallwright.tables.storage import held_words, storage_levels


def wall(name: str, **counts: int) -> Wall:
    job = read_job(demo_jobs()[name])
    for kind, count in counts.items():
        job = apply(job, "set_thing", {"kind": kind, "count": count})
    return derive(job)


def words(of: Wall, ref: str) -> str:
    return " ".join(mark.text for mark in drawing(of, 20).marks if isinstance(mark, Text) and mark.ref == ref)


@pytest.mark.parametrize("name", DEMOS)
def test_it_is_clean_also_where_too_much_is_to_be_kept(
    name: str, sheet_faults: Callable[[Sheet], list[str]]
) -> None:
    for of in (wall(name), wall(name, paperback=300, board_game=30, vacuum=1, plate=12, linen=6)):
        made = sheets(of)
        assert made and [sheet_faults(sheet) for sheet in made] == [[]] * len(made)


def test_every_level_has_its_number_and_what_it_holds() -> None:
    of = wall("living")
    for number, level in enumerate(of.storage.levels, 1):
        said = words(of, level.ref)
        assert said.split()[0].rstrip(":") == str(number)
        held = held_words(of.storage, level)
        assert all(word in said for word in held) or "see table" in said
    table = storage_levels(of)
    assert [row[0] for row in table.rows] == list(range(1, len(of.storage.levels) + 1))
    all_held = sum(
        int(word.split(" × ")[0]) for row in table.rows for word in str(row[4]).split(", ") if " × " in word
    )
    assert all_held == sum(item.count for item in of.storage.placed)


def test_the_bar_is_as_long_as_the_run_that_is_taken() -> None:
    of = wall("living")
    bars = {
        mark.ref: mark.points[1][0] - mark.points[0][0]
        for mark in drawing(of, 20).marks
        if isinstance(mark, Hatch) and mark.layer == "levels"
    }
    for level in of.storage.levels:
        gone = level.box.width - of.storage.free_on(level)
        assert bars.get(level.ref, 0.0) == pytest.approx(gone, abs=0.01)


def test_full_levels_stand_out_where_something_has_no_place() -> None:
    def bold(of: Wall) -> set[str]:
        refs = {level.ref for level in of.storage.levels}
        return {
            m.ref for m in drawing(of, 20).marks if isinstance(m, Line) and m.pen == "extra" and m.ref in refs
        }

    assert bold(wall("living")) == set()
    over = wall("living", board_game=60)
    assert bold(over) and "board_game" in dict(over.storage.leftovers)


def test_the_heights_are_the_household_s() -> None:
    of = wall("living")
    marked = {mark.mm: mark.text for mark in drawing(of, 20).marks if isinstance(mark, Level)}
    assert {z: name for z, name in heights(of.storage.reach)}.items() <= marked.items()
    assert any("child" in name for name in marked.values())
    assert not any("child" in name for _, name in heights(wall("bedroom").storage.reach))


def test_no_sheet_without_things_or_levels(make_wall: Callable[..., Wall]) -> None:
    assert sheets(make_wall()) == ()
