"""The verifier must find every fault that is planted in a clean plan."""

from __future__ import annotations

import runpy
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.cutting import reprice
from wallwright.cutting.model import (
    Cut,
    Offcut,
    Piece,
    Placed,
    Plan,
    Problem,
    Proof,
    Saw,
    Shares,
    Sheet,
    SheetPlan,
)
from wallwright.cutting.read import plan_json
from wallwright.cutting.solve import light, quick, solve
from wallwright.cutting.verify import examine, verify

broken_sheets: Any = runpy.run_path(str(Path(__file__).with_name("problems.py")))["broken_sheets"]

# A sheet of 100 x 60 mm, kerf 4, trim 2, by hand: a 50 x 56 part (whole height), beside it 42 x 30 and 42 x 22.
BOARD = Sheet("board", "oak", 1000, 600, 10.0)
PROBLEM = Problem(
    (Piece("a", "oak", 500, 560, 1, "length"), Piece("b", "oak", 300, 420), Piece("c", "oak", 420, 220)),
    (BOARD,),
    Saw(40, 20, 2, 0),
)
LAYOUT = SheetPlan(
    BOARD,
    1,
    (
        Placed("a", 20, 20, 500, 560, False),
        Placed("b", 560, 20, 420, 300, True),
        Placed("c", 560, 360, 420, 220, False),
    ),
    (
        Cut(0, "x", -20, 0, 600, 1, None, 2),
        Cut(0, "x", 980, 0, 600, 2, 3, None),
        Cut(0, "y", -20, 20, 980, 3, None, 4),
        Cut(0, "y", 580, 20, 980, 4, 5, None),
        Cut(1, "x", 520, 20, 580, 5, 6, 7),
        Cut(2, "y", 320, 560, 980, 7, 8, 9),
    ),
    (),
)
PLAN = Plan((LAYOUT,), 1, 1, 10.0, 10.0)


def test_the_plan_made_by_hand_is_clean() -> None:
    assert verify(PROBLEM, PLAN) == []


def layout(change: Callable[[SheetPlan], SheetPlan]) -> Plan:
    return replace(PLAN, sheets=(change(LAYOUT),))


def part(place: int, **fields: object) -> Plan:
    placed = list(LAYOUT.placed)
    placed[place] = replace(placed[place], **fields)  # type: ignore[arg-type]
    return layout(lambda s: replace(s, placed=tuple(placed)))


def cut(place: int, **fields: object) -> Plan:
    cuts = list(LAYOUT.cuts)
    cuts[place] = replace(cuts[place], **fields)  # type: ignore[arg-type]
    return layout(lambda s: replace(s, cuts=tuple(cuts)))


@pytest.mark.parametrize(
    ("plan", "said"),
    [
        (part(1, x=500), "less than a kerf"),
        (part(2, y=359), "less than a kerf"),
        (part(0, x=19), "not inside the trimmed sheet"),
        (part(2, y=361), "not inside the trimmed sheet"),
        (part(1, turned=False), "0 on the plan, 1 wanted"),
        (part(1, name="z"), "part z"),
        (part(1, length=419), "the cuts leave no panel"),
        (cut(4, at=519), "runs from 560 to 980"),
        (cut(4, start=0), "runs from 0 to 580"),
        (cut(4, panel=9), "no such panel"),
        (cut(4, second=6), "panel number 6 is taken"),
        (cut(4, at=990), "the blade misses the panel"),
        (cut(5, second=None), "cannot be"),
        (cut(5, axis="x", start=20, end=580, at=700), "called stage 2, is stage 1"),
        (cut(5, stage=1), "called stage 1, is stage 2"),
        (cut(0, stage=1), "not in sawing order"),
        (layout(lambda s: replace(s, cuts=s.cuts[:-1])), "the cuts leave no panel"),
        (layout(lambda s: replace(s, placed=s.placed[:-1])), "0 on the plan, 1 wanted"),
        (layout(lambda s: replace(s, placed=(*s.placed, s.placed[0]))), "2 on the plan, 1 wanted"),
        (layout(lambda s: replace(s, count=2)), "2 on the plan, 1 wanted"),
        (layout(lambda s: replace(s, offcuts=(Offcut(600, 400, 100, 100),))), "offcut"),
        (layout(lambda s: replace(s, sheet=replace(BOARD, name="other"))), "not on offer"),
        (replace(PLAN, used=2), "used: 2 said, 1 on the plan"),
        (replace(PLAN, price=9.0), "price: 9.0 said"),
        (replace(PLAN, price=float("nan")), "price: nan said"),
        (replace(PLAN, lower_bound=2), "lower bound 2 above"),
        (replace(PLAN, price_bound=10.5), "price bound 10.5 above"),
        (replace(PLAN, unplaced=(Piece("b", "oak", 300, 420),)), "still in stock"),
        (
            replace(PLAN, sheets=(), used=0, price=0.0, lower_bound=0, price_bound=0.0),
            "0 sheets used, fewer than the 1",
        ),
    ],
)
def test_a_planted_fault_is_found(plan: Plan, said: str) -> None:
    assert any(said in fault for fault in verify(PROBLEM, plan)), verify(PROBLEM, plan)


def test_a_part_across_the_grain_is_found() -> None:
    strict = replace(
        PROBLEM, pieces=(PROBLEM.pieces[0], replace(PROBLEM.pieces[1], grain="length"), PROBLEM.pieces[2])
    )
    assert verify(strict, PLAN) == ["part b: lies across the grain on board"]


def test_too_much_from_the_stock_is_found() -> None:
    short = replace(BOARD, quantity=0)
    plan = layout(lambda s: replace(s, sheet=short))
    assert any("1 used, 0 in stock" in fault for fault in verify(replace(PROBLEM, sheets=(short,)), plan))


def test_a_pinwheel_is_not_guillotine() -> None:
    # four 60 x 40 round a hole of 20 x 20: every straight cut right through a 100 x 100 sheet hits a part
    places = ((0, 0, 600, 400), (600, 0, 400, 600), (400, 600, 600, 400), (0, 400, 400, 600))
    placed = tuple(Placed("w", x, y, a, b, turned=b == 600) for x, y, a, b in places)
    sheet = Sheet("s", "oak", 1000, 1000, 1.0)
    problem = Problem((Piece("w", "oak", 600, 400, 4),), (sheet,), Saw(0, 0))
    faults = verify(problem, Plan((SheetPlan(sheet, 1, placed, (), ()),), 1, 1, 1.0, 1.0))
    assert any("not guillotine" in fault for fault in faults)


def test_stages_are_counted_from_the_coordinates_alone() -> None:
    # halves, one halved across, one of these halved again: three stages
    sheet = Sheet("s", "oak", 1000, 1000, 1.0)
    places = ((0, 0, 500, 1000), (500, 0, 500, 500), (500, 500, 250, 500), (750, 500, 250, 500))
    placed = tuple(Placed(f"p{i}", x, y, a, b, False) for i, (x, y, a, b) in enumerate(places))
    pieces = tuple(Piece(p.name, "oak", p.length, p.width) for p in placed)
    for stages, fault in ((2, True), (3, False)):
        problem = Problem(pieces, (sheet,), Saw(0, 0, stages))  # type: ignore[arg-type]
        faults = verify(problem, Plan((SheetPlan(sheet, 1, placed, (), ()),), 1, 1, 1.0, 1.0))
        assert any("needs 3 stages" in f for f in faults) is fault


def test_a_trimming_cut_may_free_one_part_only() -> None:
    # a column 50 wide; beside it 50 x 50 above two of 25 x 50, parted by a cut of stage 3
    sheet = Sheet("s", "oak", 1000, 1000, 1.0)
    places = ((0, 0, 500, 1000), (500, 0, 500, 500), (500, 500, 250, 500), (750, 500, 250, 500))
    placed = tuple(Placed(f"p{i}", x, y, a, b, False) for i, (x, y, a, b) in enumerate(places))
    cuts = (
        Cut(1, "x", 500, 0, 1000, 1, 2, 3),
        Cut(2, "y", 500, 500, 1000, 3, 4, 5),
        Cut(3, "x", 750, 500, 1000, 5, 6, 7),
    )
    layouts = (SheetPlan(sheet, 1, placed, cuts, ()),)
    pieces = tuple(Piece(p.name, "oak", p.length, p.width) for p in placed)
    plan = Plan(layouts, 1, 1, 1.0, 1.0)
    assert verify(Problem(pieces, (sheet,), Saw(0, 0, 3)), plan) == []
    faults = verify(Problem(pieces, (sheet,), Saw(0, 0, 2)), plan)
    assert "sheet 1 (s): cut of panel 5: a trimming cut that parts two parts" in faults
    # with one of the two left as waste the same cut is a trimming cut, and allowed
    trimmed = replace(plan, sheets=(replace(layouts[0], placed=placed[:3]),))
    assert verify(Problem(pieces[:3], (sheet,), Saw(0, 0, 2)), trimmed) == []


@pytest.mark.parametrize("kind", ["at", "kerf", "drop", "swap", "turn", "stages"])
def test_faults_planted_in_searched_plans(kind: str) -> None:
    problem = broken_sheets(6, 2, Saw(32, 100))
    plan = solve(problem, iterations=100)
    first = plan.sheets[0]
    assert verify(problem, plan) == []
    if kind == "stages":
        assert any("allows 2" in fault for fault in verify(replace(problem, saw=Saw(32, 100, 2)), plan))
        return
    if kind == "kerf":
        assert verify(replace(problem, saw=Saw(33, 100)), plan)
        return
    place = 4  # the first cut after the four edges
    cuts = list(first.cuts)
    if kind == "at":
        cuts[place] = replace(cuts[place], at=cuts[place].at + 1)
    if kind == "drop":
        del cuts[place]
    if kind == "swap":
        cuts[place] = replace(cuts[place], first=cuts[place].second, second=cuts[place].first)
    placed = list(first.placed)
    if kind == "turn":
        odd = next(i for i, p in enumerate(placed) if p.length != p.width)
        placed[odd] = replace(
            placed[odd], length=placed[odd].width, width=placed[odd].length, turned=not placed[odd].turned
        )
    broken = replace(first, cuts=tuple(cuts), placed=tuple(placed))
    assert verify(problem, replace(plan, sheets=(broken, *plan.sheets[1:])))


OWN = {"wallwright.cutting.verify", "wallwright.cutting.reprice", "wallwright.cutting.reprice_kernel"}
RECORDS = {
    "Cut", "Grain", "Offcut", "Piece", "Placed", "Plan", "Problem", "Proof", "Saw", "Sheet", "SheetPlan",
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(OWN))
def test_the_verifier_shares_no_code_with_the_solver(name: str) -> None:
    import ast
    import importlib

    tree = ast.parse(Path(str(importlib.import_module(name).__file__)).read_text())
    taken: set[tuple[str, str]] = {
        (n.module or "", a.name) for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) for a in n.names
    }
    inside = {(module, what) for module, what in taken if module.startswith("wallwright")}
    records = {(m, w) for m, w in inside if m == "wallwright.cutting.model"}
    assert {what for _, what in records} <= RECORDS
    assert all(m in OWN or f"{m}.{w}" in OWN for m, w in inside - records)


# --- bounds --------------------------------------------------------------------------------------


def priced(*parts: tuple[int, int, int], stock: int | None = None) -> tuple[Problem, Plan]:
    """Parts on sheets of 100 x 100 mm at 10 and 70 x 100 at 5; kerf 0: searched until the columns are priced."""
    pieces = tuple(Piece(f"p{i}", "oak", a, b, n, "length") for i, (a, b, n) in enumerate(parts))
    sheets = (Sheet("s", "oak", 1000, 1000, 10.0), Sheet("t", "oak", 700, 1000, 5.0, stock))
    problem = Problem(pieces, sheets, Saw(0, 0, 3))
    return problem, solve(problem, iterations=100_000)


PLENTY = ((350, 570, 7), (280, 430, 7), (500, 600, 7))
SHORT = ((440, 680, 6), (220, 360, 7), (510, 450, 5))


@pytest.mark.parametrize("stages", ["any", 2, 3])
@pytest.mark.parametrize("field", ["lower_bound", "price_bound"])
def test_a_bound_as_high_as_the_plan_is_not_believed(stages: Any, field: str) -> None:
    problem = broken_sheets(4, 3, Saw(32, 100, stages))
    problem = replace(problem, pieces=problem.pieces[:-1])
    for plan in (quick(problem), light(problem, 20)):
        assert verify(problem, plan) == []
        wasteful = doubled(plan)
        assert verify(replace(problem, pieces=twice(problem)), wasteful) == []
        said = {"lower_bound": wasteful.used, "price_bound": wasteful.price}[field]
        false = replace(wasteful, **{field: said})
        assert any("can be shown" in f for f in verify(replace(problem, pieces=twice(problem)), false))


def doubled(plan: Plan) -> Plan:
    """Every sheet cut twice, with the bounds of half the work."""
    layouts = tuple(replace(s, count=2 * s.count) for s in plan.sheets)
    return replace(plan, sheets=layouts, used=2 * plan.used, price=2 * plan.price)


def twice(problem: Problem) -> tuple[Piece, ...]:
    return tuple(replace(p, quantity=2 * p.quantity) for p in problem.pieces)


def test_the_values_of_the_columns_are_priced_again() -> None:
    problem, plan = priced(*PLENTY)
    (proof,) = plan.proofs
    assert plan.proved
    assert verify(problem, plan) == []
    weaker = replace(plan, proofs=(replace(proof, values=()),))
    assert any("price bound" in f for f in verify(problem, weaker))  # nothing else shows as much
    dear = replace(proof, values=tuple(w._replace(value=w.value * 1.2) for w in proof.values))
    claimed = replace(dear, worth=tuple((name, 1.2 * most) for name, most in dear.worth))
    for boast in (dear, claimed):
        false = replace(plan, sheets=(), price=70.0, price_bound=plan.price_bound + 5.0, proofs=(boast,))
        assert any("price bound 60.0" in f for f in verify(problem, false))


def test_what_a_short_sheet_is_worth_is_taken_off_once_for_each() -> None:
    problem, plan = priced(*SHORT, stock=2)
    assert verify(problem, plan) == []
    assert dict(plan.proofs[0].worth)["t"] > 500.0  # dearer than its price: the stock is short
    large, small = problem.sheets
    for stock in (3, 20, None):
        more = replace(problem, sheets=(large, replace(small, quantity=stock)))
        assert reprice.shown(more, plan).price < plan.price_bound


def test_shares_that_a_row_exceeds_prove_less() -> None:
    pieces = (Piece("a", "oak", 340, 1000, 4, "length"), Piece("b", "oak", 1000, 340, 1, "length"))
    problem = Problem(pieces, (Sheet("s", "oak", 1000, 1000, 10.0),), Saw(0, 0))
    plan = light(problem, 50)
    assert verify(problem, plan) == []
    honest = Proof("oak", (Shares("s", ((340, 0.5), (1000, 1.0)), ((340, 0.5), (1000, 1.0))),))
    # two of 340 fill the width: 4 * 1/2 + 1/2 = 2.5 sheets
    assert reprice.shown(problem, replace(plan, proofs=(honest,))).sheets == 3
    boast = Proof("oak", (Shares("s", ((340, 1.0), (1000, 1.0)), ((340, 1.0), (1000, 1.0))),))
    assert (
        reprice.shown(problem, replace(plan, proofs=(boast,))).sheets == 2
    )  # each row sums to 2: a quarter of five


def test_a_bound_too_much_work_to_price_is_named_and_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    problem, plan = priced(*PLENTY)
    assert examine(problem, plan) == ([], [])
    monkeypatch.setattr(reprice, "WORK", 0)
    assert examine(problem, plan) == ([], ["oak"])
    assert plan_json(plan)["proved"]
    assert not plan_json(plan, ["oak"])["proved"]


def test_parts_without_a_sheet_are_no_excuse_for_a_false_bound() -> None:
    sheet = Sheet("s", "oak", 1000, 1000, 10.0, 1)
    problem = Problem((Piece("a", "oak", 600, 600, 3),), (sheet,), Saw(0, 0))
    plan = quick(problem)
    assert plan.unplaced
    assert verify(problem, plan) == []
    assert any("lower bound" in f for f in verify(problem, replace(plan, lower_bound=2)))
    assert any("price bound" in f for f in verify(problem, replace(plan, price_bound=20.0)))
