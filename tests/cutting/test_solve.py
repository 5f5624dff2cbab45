from __future__ import annotations

import random
import runpy
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.cutting import warm
from wallwright.cutting.improve import Progress
from wallwright.cutting.model import Piece, Plan, Problem, Saw, Sheet
from wallwright.cutting.read import read_replay, replay_text
from wallwright.cutting.solve import light, quick, solve
from wallwright.cutting.tree import tasks
from wallwright.cutting.verify import verify

helpers: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("problems.py")))
problems, broken_sheets = helpers["problems"], helpers["broken_sheets"]


def same(plan: Plan) -> Plan:
    return replace(plan, seconds=0.0)


@given(problems())
@settings(max_examples=120, deadline=None)
def test_a_plan_at_once_has_no_fault(problem: Problem) -> None:
    plan = quick(problem)
    assert verify(problem, plan) == []


@given(problems(), st.integers(0, 99))
@settings(max_examples=60, deadline=None)
def test_a_searched_plan_has_no_fault_and_is_never_dearer(problem: Problem, seed: int) -> None:
    first, plan = quick(problem), solve(problem, iterations=120, seed=seed)
    assert verify(problem, plan) == []
    lost = sum(p.length * p.width * p.quantity for p in plan.unplaced)
    first_lost = sum(p.length * p.width * p.quantity for p in first.unplaced)
    assert plan.unplaced or not first.unplaced or lost < first_lost
    if not first.unplaced:
        assert not plan.unplaced
        assert plan.price <= first.price


@given(problems())
@settings(max_examples=30, deadline=None)
def test_every_part_once(problem: Problem) -> None:
    plan = solve(problem, iterations=40)
    made: Counter[str] = Counter()
    for layout in plan.sheets:
        for part in layout.placed:
            made[layout.sheet.material + part.name] += layout.count
    for piece in plan.unplaced:
        made[piece.material + piece.name] += piece.quantity
    assert made == Counter({p.material + p.name: p.quantity for p in problem.pieces})


@given(problems(), st.integers(0, 3))
@settings(max_examples=20, deadline=None)
def test_same_seed_and_steps_same_plan(problem: Problem, seed: int) -> None:
    assert same(solve(problem, iterations=80, seed=seed)) == same(solve(problem, iterations=80, seed=seed))


@pytest.mark.parametrize("saw", [Saw(0, 0), Saw(32, 100)])
@pytest.mark.parametrize("seed", range(6))
def test_sheets_sawn_to_pieces_go_together_again(seed: int, saw: Saw) -> None:
    problem = broken_sheets(seed, 3, saw)
    plan = solve(problem, iterations=1500, seed=seed)
    assert verify(problem, plan) == []
    assert plan.lower_bound <= 3  # by construction: the parts were sawn from three sheets
    assert plan.used <= 4


def test_the_search_finds_what_the_first_plan_misses() -> None:
    gained = 0
    for seed in range(4):
        rng = random.Random(seed)
        sizes = [(rng.randint(1000, 12000), rng.randint(1000, 9000)) for _ in range(60)]
        pieces = tuple(Piece(f"p{i}", "ply", a, b) for i, (a, b) in enumerate(sizes))
        problem = Problem(pieces, (Sheet("8x4", "ply", 24400, 12200, 1.0),), Saw(32, 100))
        gained += quick(problem).used - solve(problem, iterations=3000).used
    assert gained >= 2


@pytest.mark.parametrize(("kerf", "trim", "size", "sheets"), [
    (0, 0, 5000, 1),  # 2 x 500 = 1000
    (40, 0, 4980, 1),  # 498 + 4 + 498 = 1000
    (40, 0, 4981, 4),  # a tenth too much in both directions
    (40, 100, 4880, 1),  # 10 + 488 + 4 + 488 + 10 = 1000
    (40, 100, 4881, 4),
])  # fmt: skip
def test_kerf_and_trim_to_the_tenth(kerf: int, trim: int, size: int, sheets: int) -> None:
    problem = Problem(
        (Piece("q", "ply", size, size, 4),), (Sheet("s", "ply", 10000, 10000, 1.0),), Saw(kerf, trim)
    )
    for plan in (quick(problem), solve(problem, iterations=100)):
        assert verify(problem, plan) == []
        assert plan.used == sheets


def test_the_last_part_may_touch_the_edge_with_less_than_a_blade_left() -> None:
    problem = Problem(
        (Piece("q", "ply", 4970, 10000, 2),), (Sheet("s", "ply", 10000, 10000, 1.0),), Saw(40, 0)
    )
    plan = quick(problem)
    assert (plan.used, verify(problem, plan)) == (1, [])
    # 497 + 4 + 497 = 998: the second cut takes the last 2 mm as dust and leaves no panel above the blade
    assert [c.second is None for c in plan.sheets[0].cuts] == [False, True]


@pytest.mark.parametrize(("grain", "sheets"), [("none", 1), ("length", 1), ("width", 2)])
def test_grain_decides_how_a_part_lies(grain: str, sheets: int) -> None:
    # two parts 1000 x 300 on 1000 x 700 along the grain: one sheet; across it no two stand side by side on 700
    pieces = (Piece("door", "oak", 6900, 5000, 2, grain),)  # type: ignore[arg-type]
    problem = Problem(
        pieces, (Sheet("s", "oak", 7000, 10000, 1.0), Sheet("t", "oak", 7000, 7000, 0.9)), Saw(0, 0)
    )
    plan = solve(problem, iterations=100)
    assert verify(problem, plan) == []
    assert plan.used == sheets
    assert {p.turned for layout in plan.sheets for p in layout.placed} == (
        {True} if grain == "width" else {False}
    )


def test_two_stages_need_more_than_three() -> None:
    # a column of 40 beside rows of 60: in the column pieces of 30, 30, 40 high, of which one is split again
    parts = ((60, 50, 2), (40, 60, 1), (20, 40, 2))
    pieces = tuple(Piece(f"p{i}", "ply", a * 100, b * 100, n, "length") for i, (a, b, n) in enumerate(parts))
    sheet = (Sheet("s", "ply", 10000, 10000, 1.0),)
    used = {
        stages: solve(Problem(pieces, sheet, Saw(0, 0, stages)), iterations=400).used for stages in (2, 3)
    }
    assert used == {2: 2, 3: 1}


def test_the_dearer_sheet_is_left_when_the_cheaper_will_do() -> None:
    pieces = (Piece("a", "ply", 9000, 9000, 1), Piece("b", "ply", 4000, 4000, 1))
    sheets = (Sheet("big", "ply", 10000, 10000, 10.0), Sheet("small", "ply", 5000, 5000, 4.0))
    problem = Problem(pieces, sheets, Saw(40, 100))
    for plan in (quick(problem), solve(problem, iterations=200)):
        assert Counter(s.sheet.name for s in plan.sheets) == {"big": 1, "small": 1}
        assert plan.price == 14.0


def test_short_stock_leaves_parts_unplaced_and_says_so() -> None:
    problem = Problem((Piece("a", "ply", 6000, 6000, 3),), (Sheet("s", "ply", 10000, 10000, 1.0, 2),))
    plan = solve(problem, iterations=50)
    assert verify(problem, plan) == []
    assert (plan.used, plan.unplaced, plan.proved) == (2, (Piece("a", "ply", 6000, 6000, 1),), False)


def test_equal_layouts_are_joined() -> None:
    problem = Problem((Piece("a", "ply", 9000, 9000, 12),), (Sheet("s", "ply", 10000, 10000, 1.0),))
    (layout,) = quick(problem).sheets
    assert layout.count == 12


def test_polishing_gathers_the_rest_into_one_offcut() -> None:
    problem = broken_sheets(5, 2, Saw(32, 100))
    problem = replace(problem, pieces=problem.pieces[:-3])

    def largest(plan: Plan) -> int:
        return max(o.length * o.width for layout in plan.sheets for o in layout.offcuts)

    first, plan = quick(problem), solve(problem, iterations=2500)
    assert plan.used == first.used
    assert largest(plan) > largest(first)


def test_the_caller_hears_and_can_stop() -> None:
    heard: list[Progress] = []

    def listen(progress: Progress) -> bool:
        heard.append(progress)
        return len(heard) < 3

    problem = broken_sheets(2, 6, Saw(32, 100))
    plan = solve(problem, iterations=100_000, progress=listen)
    assert len(heard) == 3
    assert plan.iterations < 10_000
    assert verify(problem, plan) == []
    assert heard[0].used >= plan.used >= heard[0].lower_bound


def test_no_time_still_gives_a_plan() -> None:
    problem = broken_sheets(1, 2, Saw())
    assert verify(problem, solve(problem, seconds=0)) == []
    with pytest.raises(ValueError, match="seconds"):
        solve(problem, seconds=float("nan"))


def test_nothing_to_cut() -> None:
    problem = Problem((), (Sheet("s", "ply", 10000, 10000, 1.0),))
    plan = solve(problem, iterations=10)
    assert (plan.used, plan.sheets, verify(problem, plan)) == (0, (), [])


@given(st.lists(st.tuples(st.integers(5, 90), st.integers(5, 90)), min_size=1, max_size=14))
@settings(max_examples=40, deadline=None)
def test_no_more_than_one_sheet_behind_another_packer(sizes: list[tuple[int, int]]) -> None:
    rectpack = pytest.importorskip("rectpack")
    pieces = tuple(Piece(f"p{i}", "ply", a, b) for i, (a, b) in enumerate(sizes))
    plan = solve(Problem(pieces, (Sheet("s", "ply", 100, 100, 1.0),), Saw(0, 0)), iterations=150)
    theirs: list[int] = []
    for packing in (rectpack.GuillotineBssfSas, rectpack.GuillotineBafLas, rectpack.GuillotineBlsfMaxas):
        packer = rectpack.newPacker(rotation=True, pack_algo=packing, sort_algo=rectpack.SORT_LSIDE)
        packer.add_bin(100, 100, float("inf"))
        for a, b in sizes:
            packer.add_rect(a, b)
        packer.pack()
        theirs.append(len(packer))
    assert plan.used <= min(theirs) + 1
    assert plan.lower_bound <= min(theirs)  # our bound holds for anyone's plan


def test_a_light_search_is_repeatable_and_never_dearer() -> None:
    problem = broken_sheets(7, 4, Saw(32, 100))
    plan = light(problem, 400, seed=3)
    assert verify(problem, plan) == []
    assert same(plan) == same(light(problem, 400, seed=3))
    assert plan.price <= quick(problem).price


def test_equal_parts_of_many_names_each_get_their_own() -> None:
    # 3 names in one size: 60 parts on 10 equal sheets, every name exactly as often as wanted
    pieces = tuple(Piece(name, "ply", 4000, 3000, n) for name, n in (("a", 31), ("b", 9), ("c", 20)))
    problem = Problem(pieces, (Sheet("s", "ply", 9000, 8100, 1.0),), Saw(32, 0, 3))
    plan = quick(problem)
    assert verify(problem, plan) == []
    assert len(plan.sheets) <= 6  # joined again into as few layouts as the names allow
    assert verify(problem, solve(problem, iterations=2000)) == []


def test_an_offcut_in_stock_is_taken_before_a_new_sheet() -> None:
    # offcuts of an earlier job, edges sawn already: exactly large enough because nothing is trimmed off them
    pieces = (Piece("shelf", "ply", 8000, 3000, 3),)
    sheets = (Sheet("new", "ply", 28000, 20700, 60.0), Sheet("offcut 7", "ply", 8000, 6032, 2.0, 1, 0))
    problem = Problem(pieces, sheets, Saw(32, 100, 3))
    plan = solve(problem, iterations=3000)
    assert verify(problem, plan) == []
    used = Counter({s.sheet.name: s.count for s in plan.sheets})
    assert used["offcut 7"] <= 1
    two = replace(problem, pieces=(replace(pieces[0], quantity=2),))
    plan = solve(two, iterations=3000)
    assert verify(two, plan) == []
    assert ([s.sheet.name for s in plan.sheets], plan.price, plan.proved) == (["offcut 7"], 2.0, True)


def test_many_parts_of_few_sizes_come_to_the_bound() -> None:
    rng = random.Random(1)
    sizes = [(rng.randint(800, 14000), rng.randint(800, 9000)) for _ in range(12)]
    pieces = tuple(
        Piece(f"p{i}", "ply", a, b, rng.randint(100, 900), "length") for i, (a, b) in enumerate(sizes)
    )
    problem = Problem(pieces, (Sheet("s", "ply", 28000, 20700, 1.0),), Saw(32, 100, 3))
    plan = solve(problem, iterations=150_000)
    assert verify(problem, plan) == []
    assert plan.lower_bound <= plan.used <= plan.lower_bound + 1
    first = quick(problem)
    assert verify(problem, first) == []
    assert first.used > plan.used


def test_two_sheet_sizes_have_a_strong_bound() -> None:
    rng = random.Random(2)
    sizes = [(rng.randint(800, 14000), rng.randint(800, 9000)) for _ in range(10)]
    pieces = tuple(Piece(f"p{i}", "ply", a, b, rng.randint(20, 60)) for i, (a, b) in enumerate(sizes))
    sheets = (Sheet("large", "ply", 28000, 20700, 580.0), Sheet("small", "ply", 24400, 12200, 310.0))
    problem = Problem(pieces, sheets, Saw(32, 100, 3))
    plan = solve(problem, iterations=120_000)
    assert verify(problem, plan) == []
    assert plan.price_bound > quick(problem).price_bound
    assert plan.price - plan.price_bound < 580.0  # less than one sheet


exact: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("exact.py")))


@given(st.data())
@settings(max_examples=25, deadline=None)
def test_five_parts_on_the_fewest_sheets_there_can_be(data: st.DataObject) -> None:
    x, y = data.draw(st.integers(6, 14)), data.draw(st.integers(6, 14))
    stages, kerf = data.draw(st.sampled_from([2, 3])), data.draw(st.sampled_from([0, 1]))
    pieces = tuple(
        Piece(f"p{i}", "ply", data.draw(st.integers(1, x)), data.draw(st.integers(1, y)), 1, "length")
        for i in range(data.draw(st.integers(2, 5)))
    )
    problem = Problem(pieces, (Sheet("s", "ply", x, y, 1.0),), Saw(kerf, 0, stages, 1))
    (task,) = tasks(problem)
    least = exact["fewest"](exact["lies_of"](task), task.stock[0].x, task.stock[0].y, stages)
    plan = solve(problem, iterations=4000)
    assert verify(problem, plan) == []
    assert plan.lower_bound <= least == plan.used


def test_steps_say_what_makes_the_plan_again() -> None:
    problem = broken_sheets(3, 3, Saw(32, 100))
    plan = solve(problem, iterations=30_000, seed=5)
    assert plan.iterations <= plan.steps == 30_000  # it may be done sooner: what was asked for repeats it
    again = solve(problem, iterations=plan.steps, seed=plan.seed)
    assert same(again) == same(plan)
    assert again.iterations == plan.iterations


def test_the_clock_and_the_caller_leave_no_steps() -> None:
    problem = broken_sheets(3, 3, Saw(32, 100))
    assert solve(problem, seconds=0.05).steps is None
    assert solve(problem, seconds=0.05, iterations=100).steps is None
    assert solve(problem, iterations=10**7, progress=lambda now: now.iteration < 2000).steps is None


def test_a_plan_ended_by_the_clock_can_be_made_again() -> None:
    """Two materials, one of which is never proved: where the clock ended it is in the plan, and a slower run ends there too."""
    rng = random.Random(5)
    pieces = tuple(
        Piece(f"p{i}", material, rng.randint(150, 900), rng.randint(100, 600), rng.randint(1, 4))
        for i, material in enumerate(["ply", "mdf"] * 20)
    )
    sheets = (
        Sheet("s", "ply", 2000, 1000, 1.0),
        Sheet("m", "mdf", 2000, 1000, 1.0),
    )
    problem = Problem(pieces, sheets, Saw(3, 10, 3))
    warm.load()  # where they come late, the slow search helps out, and no run need do the same again
    plan = solve(problem, seconds=1.5, seed=3)
    assert plan.steps is None
    assert plan.replay is not None
    assert any(plan.replay)
    again = solve(problem, seed=3, replay=read_replay(replay_text(plan.replay)))
    assert again.sheets == plan.sheets
    assert again.iterations == plan.iterations
    assert again.replay == plan.replay
    earlier = solve(problem, seed=3, replay=[(max(1, row[-1] // 3),) for row in plan.replay])
    assert earlier.iterations < plan.iterations  # the record does the work: another one ends elsewhere


def test_a_replay_must_fit_the_problem_and_stand_alone() -> None:
    problem = Problem((Piece("p", "ply", 500, 300),), (Sheet("s", "ply", 1000, 1000),), Saw(3, 0, 3))
    with pytest.raises(ValueError, match="one list for each of 1 material"):
        solve(problem, replay=[[1], [2]])
    with pytest.raises(ValueError, match="without seconds"):
        solve(problem, seconds=1.0, replay=[[1]])
    with pytest.raises(ValueError, match="--replay 3;4: write it as"):
        read_replay("3;4")
