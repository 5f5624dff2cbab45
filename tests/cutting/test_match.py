"""Fronts cut from one strip in sequence, at every number of stages, and the verifier that would notice otherwise."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.cutting.match import whole
from wallwright.cutting.model import Piece, Placed, Plan, Problem, Saw, Sheet
from wallwright.cutting.solve import quick, solve
from wallwright.cutting.verify import verify

DOORS = tuple(
    Piece(f"door {i}", "oak", 7000, w, 1, "length", "left run") for i, w in enumerate((4000, 4500, 3800))
)
DRAWERS = tuple(
    Piece(f"drawer {i}", "oak", h, 8000, 1, "length", "chest") for i, h in enumerate((1800, 2500, 2500))
)
OTHERS = (Piece("side", "oak", 7200, 5600, 4, "length"), Piece("rail", "oak", 900, 8000, 5))
OAK = Sheet("oak 2800", "oak", 28000, 14000, 90.0)


def problem(stages: Any = 3, kerf: int = 32) -> Problem:
    return Problem((*OTHERS, *DOORS, *DRAWERS), (OAK,), Saw(kerf, 100, stages))


@pytest.mark.parametrize("stages", ["any", 2, 3])
@pytest.mark.parametrize("kerf", [0, 32])
def test_kept_together_in_order(stages: Any, kerf: int) -> None:
    own = problem(stages, kerf)
    for plan in (quick(own), solve(own, iterations=4000)):
        assert verify(own, plan) == []
        for names, axis in ((("door 0", "door 1", "door 2"), 1), (("drawer 0", "drawer 1", "drawer 2"), 0)):
            on = [
                {p.name: p for p in s.placed}
                for s in plan.sheets
                if any(p.name == names[0] for p in s.placed)
            ]
            assert len(on) == 1
            a, b, c = (on[0][n] for n in names)
            for one, two in ((a, b), (b, c)):  # doors side by side across the grain, drawer fronts end to end
                ends = one.y + one.width if axis == 1 else one.x + one.length
                assert (two.y if axis == 1 else two.x) == ends + kerf
                assert (one.x == two.x) if axis == 1 else (one.y == two.y)


@given(st.data())
@settings(max_examples=40, deadline=None)
def test_any_sets_any_saw(data: st.DataObject) -> None:
    saw = Saw(
        data.draw(st.sampled_from([0, 32])),
        data.draw(st.sampled_from([0, 100])),
        data.draw(st.sampled_from(["any", 2, 3])),
    )
    grain = data.draw(st.sampled_from(["none", "length", "width"]))
    pieces: list[Piece] = []
    for number in range(data.draw(st.integers(1, 3))):
        common = data.draw(st.integers(500, 6000))
        for i in range(data.draw(st.integers(1, 3))):
            other = data.draw(st.integers(500, 1800))
            size = (common, other) if number % 2 else (other, common)
            pieces.append(
                Piece(f"f{number}.{i}", "ply", *size, data.draw(st.integers(1, 2)), grain, f"set {number}")
            )
    pieces += [
        Piece(f"p{i}", "ply", data.draw(st.integers(300, 6000)), data.draw(st.integers(300, 6000)), 2)
        for i in range(data.draw(st.integers(0, 5)))
    ]
    own = Problem(tuple(pieces), (Sheet("s", "ply", 12500, 13500, 1.0),), saw)
    assert verify(own, quick(own)) == []
    assert verify(own, solve(own, iterations=300)) == []


def test_too_little_stock_leaves_the_set_out_whole() -> None:
    own = Problem(DOORS, (replace(OAK, quantity=0),), Saw())
    plan = quick(own)
    assert {p.name for p in plan.unplaced} == {p.name for p in DOORS}
    assert verify(own, plan) == []


def moved(plan: Plan, change: Callable[[Placed], Placed]) -> Plan:
    return replace(
        plan, sheets=tuple(replace(s, placed=tuple(change(p) for p in s.placed)) for s in plan.sheets)
    )


def test_the_verifier_sees_a_set_out_of_order() -> None:
    same = tuple(replace(p, width=4000) for p in DOORS)
    own = Problem(same, (OAK,), Saw(32, 100, 3))
    plan = quick(own)
    assert verify(own, plan) == []
    swap = {"door 0": "door 1", "door 1": "door 0"}
    bad = moved(plan, lambda p: replace(p, name=swap.get(p.name, p.name)))
    assert any("matched set left run" in fault for fault in verify(own, bad))


def test_the_verifier_sees_a_set_torn_apart() -> None:
    apart = Problem(tuple(replace(p, match="") for p in DOORS), (replace(OAK, width=9000),), Saw(32, 100, 3))
    plan = quick(apart)
    together = replace(
        apart, pieces=DOORS, sheets=(replace(OAK, width=9000), replace(OAK, name="wide", width=14000))
    )
    assert any("matched set left run" in fault for fault in verify(together, plan))


def test_a_set_is_as_long_as_its_parts_and_the_blades_between() -> None:
    one = whole(DOORS, 32)
    assert (one.length, one.width) == (7000, 4000 + 4500 + 3800 + 2 * 32)
    one = whole(DRAWERS, 32)
    assert (one.length, one.width) == (1800 + 2500 + 2500 + 2 * 32, 8000)


@pytest.mark.parametrize(("pieces", "says"), [
    ((Piece("a", "oak", 7000, 400, 1, "length", "m"), Piece("b", "oak", 6000, 500, 1, "length", "m")), "one length or all one width"),
    ((Piece("a", "oak", 7000, 400, 1, "length", "m"), Piece("b", "oak", 7000, 400, 1, "none", "m")), "grain"),
    ((Piece("a", "oak", 7000, 9000, 3, "length", "m"),), "larger than every sheet"),
    ((Piece("a", "oak", 7000, 900, 1, "length", "m"), Piece("a", "oak", 7000, 900, 1, "length")), "match"),
])  # fmt: skip
def test_sets_that_cannot_be(pieces: tuple[Piece, ...], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        Problem(pieces, (OAK,), Saw(32, 100))


@pytest.mark.parametrize(("name", "axis"), [("row >", 0), ("chest", 1)])
def test_equal_fronts_lie_as_the_name_of_their_set_says(name: str, axis: int) -> None:
    fronts = tuple(Piece(f"f{i}", "oak", 6000, 1800, 1, "length", name) for i in range(3))
    own = Problem(fronts, (OAK,), Saw(32, 100, 2))
    found = quick(own)
    assert verify(own, found) == []
    at = {p.name: (p.x, p.y) for p in found.sheets[0].placed}
    step = (6000 if axis == 0 else 1800) + 32
    assert [at[f"f{i}"][axis] - at["f0"][axis] for i in range(3)] == [0, step, 2 * step]
    assert len({at[f"f{i}"][1 - axis] for i in range(3)}) == 1
