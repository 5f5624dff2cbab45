"""Parts to pieces and back: nothing lost, every rectangle under one part's id."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.carcass.record import Part
from wallwright.core.shape import Block
from wallwright.core.units import Length
from wallwright.cutting.model import Saw
from wallwright.cutting.pieces import (
    is_offcut,
    named,
    part_area,
    pieces_of,
    rack_first,
    saw_of,
    sheet_area,
    sorted_out,
)
from wallwright.cutting.solve import quick
from wallwright.cutting.verify import verify
from wallwright.job.design import SawSetting, StockSheet

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


def test_every_size_of_a_board_is_on_offer_at_its_price() -> None:
    small, tall = part("a", "mdf18", 2420, 1200, "none"), part("b", "mdf18", 2421, 600, "none")
    (problem,) = sorted_out([small, tall], SAW, (), {"mdf18": 10.0}).problems
    assert [(s.name, s.price, s.quantity, s.trim) for s in problem.sheets] == [
        ("2440 x 1220", 29.77, None, None),  # 2.9768 m² at 10
        ("2800 x 2070", 57.96, None, None),
    ]
    assert [
        s.sheet.name for s in quick(sorted_out([small], SAW, (), {"mdf18": 10.0}).problems[0]).sheets
    ] == ["2440 x 1220"]
    assert [s.sheet.name for s in quick(problem).sheets] == [
        "2800 x 2070"
    ]  # one large one is less than two sheets
    halves = [
        part(f"h{i}", "mdf18", 1500, 1100, "none") for i in range(3)
    ]  # two on a large sheet, one on a small
    plan = quick(sorted_out(halves, SAW, (), {"mdf18": 10.0}).problems[0])
    assert sorted(s.sheet.name for s in plan.sheets for _ in range(s.count)) == ["2440 x 1220", "2800 x 2070"]


def front(ident: str, length: float, width: float, match: str) -> Part:
    return replace(part(ident, "ply18", length, width), match=match)


def test_matched_fronts_are_one_set_in_their_order() -> None:
    parts = [front("F1", 600, 180, "C1a >"), part("side", "ply18", 600, 180), front("F2", 600, 180, "C1a >")]
    (problem,) = pieces_of(parts, SAW)
    assert {p.name: p.match for p in problem.pieces} == {"F1": "C1a >", "side": "", "F2": "C1a >"}
    plan = named(quick(problem))
    assert verify(problem, quick(problem)) == []
    (sheet,) = plan.sheets
    at = {p.name: p for p in sheet.placed}
    assert at["F2"].x == at["F1"].x + 6000 + SAW.kerf  # end to end, one blade apart
    assert at["F2"].y == at["F1"].y


def test_a_set_that_no_sheet_gives_is_parted_and_said() -> None:
    long = [front(f"F{i}", 900, 400, "T1a >") for i in range(3)]  # 2700 and two blades: more than 2420
    odd = [front("G1", 500, 300, "C1b"), front("G2", 600, 200, "C1b")]
    found = sorted_out([*long, *odd], SAW)
    assert {mark for mark, _ in found.parted} == {"T1a >", "C1b"}
    assert "2706.4" in dict(found.parted)["T1a >"]
    assert {p.match for p in found.problems[0].pieces} == {""}
    assert found.unfit == ()


RACK = (
    StockSheet("R1", "ply18", Length(820), Length(400), 1, offcut=True),
    StockSheet("K1", "ply18", Length(2440), Length(1220), 1),
    StockSheet("K0", "ply18", Length(2440), Length(1220), 0),
    StockSheet("M1", "mdf18", Length(2440), Length(1220), 4),
)


def test_the_rack_is_cut_first() -> None:
    parts = [part("small", "ply18", 820, 400), *(part(f"big{i}", "ply18", 2400, 1200) for i in range(2))]
    (problem,) = sorted_out(parts, SAW, RACK, {"ply18": 10.0}).problems
    offer = {s.name: (s.price, s.quantity, s.trim) for s in problem.sheets}
    assert offer == {
        "R1, offcut: 820 x 400": (0.0, 1, 0),
        "K1, in stock: 2440 x 1220": (29.77, 1, None),
        "2440 x 1220": (29.77, None, None),
    }
    plan = rack_first(quick(problem), problem.sheets)
    assert verify(problem, plan) == []
    assert Counter(s.sheet.name for s in plan.sheets) == Counter(
        [*offer]
    )  # the part is as large as the offcut: it is not trimmed
    assert [is_offcut(s) for s in problem.sheets] == [True, False, False]


def test_a_bought_sheet_gives_way_to_one_of_the_rack_of_its_size() -> None:
    parts = [part(f"big{i}", "ply18", 2400, 1200) for i in range(3)]
    (problem,) = sorted_out(parts, SAW, RACK, {"ply18": 10.0}).problems
    bought = next(s for s in problem.sheets if s.quantity is None)
    plan = quick(problem)
    all_bought = replace(plan, sheets=tuple(replace(s, sheet=bought) for s in plan.sheets))
    done = rack_first(all_bought, problem.sheets)
    assert Counter(s.sheet.name for s in done.sheets for _ in range(s.count)) == {
        "K1, in stock: 2440 x 1220": 1,
        "2440 x 1220": 2,
    }
    assert rack_first(done, problem.sheets) == done
    assert verify(problem, done) == []


def test_what_no_sheet_gives_is_named() -> None:
    parts = [
        part("long", "ply18", 2421, 300),
        part("pane", "smoked_glass", 400, 300),
        part("ok", "ply18", 2420, 300),
    ]
    unfit = dict(sorted_out(parts, SAW).unfit)
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
