"""Parts to pieces and back: nothing lost, every rectangle under one part's id."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.carcass.record import Part
from wallwright.core.shape import Block
from wallwright.core.units import Length
from wallwright.cutting.model import Saw
from wallwright.cutting.pieces import named, part_area, pieces_of, saw_of, sheet_area, sorted_out
from wallwright.cutting.solve import quick
from wallwright.job.design import SawSetting

SAW = Saw(32, 100)


def part(ident: str, board: str, length: float, width: float, grain: str = "length") -> Part:
    block = Block(0, 0, 0, length, 18, width)
    return Part(
        ident, "C1", "side", "Side", board, "", length, width, 18, length, width, grain, ("",) * 4, 1.0, block
    )


def test_equal_parts_are_one_piece() -> None:
    parts = [
        part("C1-L", "ply18", 400, 350),
        part("C1-T", "ply18", 1764, 350),
        part("C1-R", "ply18", 400, 350),
    ]
    (problem,) = pieces_of(parts, SAW)
    assert [(p.name, p.quantity, p.length, p.width) for p in problem.pieces] == [
        ("C1-L+C1-R", 2, 4000, 3500),
        ("C1-T", 1, 17640, 3500),
    ]
    assert [sheet.name for sheet in problem.sheets] == ["2440 x 1220"]


def test_grain_and_board_keep_parts_apart() -> None:
    parts = [part("a", "ply18", 400, 350), part("b", "ply18", 400, 350, "none"), part("c", "mdf18", 400, 350)]
    problems = pieces_of(parts, SAW)
    assert [[p.name for p in problem.pieces] for problem in problems] == [["a", "b"], ["c"]]


def test_a_board_is_bought_in_the_size_that_gives_its_parts() -> None:
    small, tall = part("a", "mdf18", 2420, 1200, "none"), part("b", "mdf18", 2421, 600, "none")
    assert pieces_of([small], SAW)[0].sheets[0].name == "2440 x 1220"  # 2420 is what trimming by 10 leaves
    assert pieces_of([small, tall], SAW)[0].sheets[0].name == "2800 x 2070"


def test_what_no_sheet_gives_is_named() -> None:
    parts = [
        part("long", "ply18", 2421, 300),
        part("pane", "smoked_glass", 400, 300),
        part("ok", "ply18", 2420, 300),
    ]
    unfit = dict(sorted_out(parts, SAW)[1])
    assert set(unfit) == {"long"}  # a pane is ordered to size: no sheet is asked for it
    assert "larger than a trimmed sheet" in unfit["long"]
    assert [p.name for problem in pieces_of(parts, SAW) for p in problem.pieces] == ["ok"]
    assert pieces_of([parts[0]], SAW) == ()


sizes = st.tuples(st.integers(50, 900), st.integers(50, 600))


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(sizes, st.sampled_from(["ply18", "mdf18"]), st.integers(1, 5)), min_size=1, max_size=8)
)
def test_every_part_comes_out_once_under_its_own_id(rows: list[tuple[tuple[int, int], str, int]]) -> None:
    parts = [
        part(f"P{i}-{j}", board, max(size), min(size))
        for i, (size, board, count) in enumerate(rows)
        for j in range(count)
    ]
    placed: Counter[str] = Counter()
    for problem in pieces_of(parts, SAW):
        plan = named(quick(problem))
        assert all(sheet.count == 1 for sheet in plan.sheets)
        assert plan.used == len(plan.sheets)
        placed.update(p.name for sheet in plan.sheets for p in sheet.placed)
        own = {p.id: p for p in parts if p.board == problem.materials()[0]}
        for sheet in plan.sheets:
            for p in sheet.placed:  # lengthways: ply has its grain, and these parts asked to follow it
                assert (p.length, p.width, p.turned) == (
                    own[p.name].cut_length * 10,
                    own[p.name].cut_width * 10,
                    False,
                )
        assert (
            part_area(plan)
            == sum(round(p.cut_length * p.cut_width * 100) for p in own.values())
            <= sheet_area(plan)
        )
    assert placed == Counter(p.id for p in parts)


def test_the_workshops_saw() -> None:
    saw = saw_of(SawSetting(Length(3.2), Length(10.0), "2"), 100)
    assert (saw.kerf, saw.trim, saw.stages, saw.least_offcut) == (32, 100, 2, 1000)
    with pytest.raises(ValueError, match=r"design\.saw: .*kerf"):
        saw_of(SawSetting(Length(3200)), 100)
