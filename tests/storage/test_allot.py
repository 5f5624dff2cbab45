"""What goes where: no level holds what it may not, small cases as well as trying everything, the exact way never worse."""

from __future__ import annotations

import itertools
from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.core.shape import Box
from wallwright.job.brief import Person, Thing
from wallwright.library import load
from wallwright.storage.allot import allot, counts_of, fits_of, run_used
from wallwright.storage.best import allot_best
from wallwright.storage.demand import demands
from wallwright.storage.fit import Terms, failing, score, terms_of
from wallwright.storage.levels import levels
from wallwright.storage.reach import reach_of
from wallwright.storage.record import Bay, Demand, Level, Placed, Reach, Room

LIMITS = load.limits()
TERMS = terms_of(Reach(1200, 0, (700, 1400), 1900, 2130), LIMITS)
FAMILY = terms_of(reach_of((Person("A", None, 30), Person("B", None, 4)), LIMITS), LIMITS)


def level(
    ref: str,
    z: float,
    run: float = 500,
    height: float = 400,
    depth: float = 350,
    load: float = 30,
    **more: object,
) -> Level:
    return Level(
        ref, ref, "T1", Box(0, z, run, height), depth, run, load, str(more.pop("front", "open")), **more
    )  # type: ignore[arg-type]


def things(*rows: tuple[str, int], low: bool = False) -> tuple[Demand, ...]:
    return demands(tuple(Thing(kind, count, low) for kind, count in rows), LIMITS)


def held(placed: tuple[Placed, ...]) -> dict[tuple[str, str], int]:
    return {(item.kind, item.level): item.count for item in placed}


def test_heavy_things_go_low_and_light_ones_high() -> None:
    where = held(
        allot(
            things(("tool_box", 1), ("cushion", 1)),
            (level("low", 100), level("high", 1700, height=500)),
            TERMS,
        )
    )
    assert ("tool_box", "low") in where and ("cushion", "high") in where


def test_daily_things_take_the_height_that_is_reached_without_effort() -> None:
    wanted = things(("clothes_pile", 1), ("linen", 1))
    where = held(allot(wanted, (level("floor", 20, depth=400), level("waist", 900, depth=400)), TERMS))
    assert where == {("clothes_pile", "waist"): 1, ("linen", "floor"): 1}


def test_low_things_stay_within_a_child_s_reach_or_are_left_over() -> None:
    (bins,) = things(("toy_bin", 5), low=True)
    placed = allot((bins,), (level("a", 0, 800), level("b", 1300, 3000)), TERMS)
    assert held(placed) == {("toy_bin", "a"): 2}  # 2 × 340 ≤ 800


def test_what_breaks_or_hurts_is_out_of_small_hands() -> None:
    wanted = things(("medicine_box", 1), ("plate", 10))
    shelves = (level("low", 900), level("high", 1600))
    assert {item.level for item in allot(wanted, shelves, FAMILY)} == {"high"}
    assert {item.level for item in allot(wanted, shelves, TERMS)} == {"low"}  # nobody small lives there
    assert [name for name, _ in failing(wanted[0], shelves[0], FAMILY)] == ["child"]


def test_heat_harms_records_but_not_books() -> None:
    wanted = things(("vinyl_record", 10), ("hardback", 4))
    beside = (level("warm", 900, warm=True), level("cool", 100))
    assert {item.level for item in allot(wanted, beside, TERMS)} == {"cool"}
    where = held(allot(wanted, beside[:1], TERMS))
    assert where == {("hardback", "warm"): 4}
    assert [name for name, _ in failing(wanted[0], beside[0], TERMS)] == ["warm"]


def test_a_level_carries_no_more_than_its_board() -> None:
    wanted = things(("vinyl_record", 100))  # 25 kg in 420 mm
    placed = allot(wanted, (level("a", 500, load=15),), TERMS)
    assert held(placed) == {("vinyl_record", "a"): 60}


def test_what_is_to_be_seen_stands_open_or_behind_glass() -> None:
    wanted = things(("ornament", 2))
    shut = (level("a", 1600, front="shutter"), level("b", 1600, front="drawers"))
    assert allot(wanted, shut, TERMS) == ()
    assert held(allot(wanted, (*shut, level("c", 1600, front="glass")), TERMS)) == {("ornament", "c"): 2}


def test_piles_and_stacks() -> None:
    (games,) = demands((Thing("board_game", 12),), LIMITS)
    cell = level("cell", 500, 377, 385, 370)  # upright 4 × 86.4; lying piles of (385 - 20) / 72 = 5 in 309
    assert held(allot((games,), (cell,), TERMS)) == {("board_game", "cell"): 5}
    (blankets,) = demands((Thing("blanket", 5),), LIMITS)
    assert held(allot((blankets,), (level("a", 500, 450, 500, 400),), TERMS)) == {
        ("blanket", "a"): 3
    }  # (500 - 20) / 150


def test_others_move_to_make_room() -> None:
    wanted = things(("file_box", 5), ("paperback", 16))
    deep = level("deep", 900, run=500)
    placed = allot(wanted, (deep, level("shallow", 100, run=500, height=250, depth=200)), TERMS)
    assert held(placed) == {("file_box", "deep"): 5, ("paperback", "shallow"): 16}


def best_by_trying(wanted: tuple[Demand, ...], there: tuple[Level, ...], terms: Terms) -> float:
    """The least score over every allotment there is."""
    fits = fits_of(wanted, there, terms)
    ways: list[list[dict[int, int]]] = []
    for k, demand in enumerate(wanted):
        ranges = [
            range(min(fits[k][i].most, demand.count) + 1) if i in fits[k] else range(1)
            for i in range(len(there))
        ]
        ways.append([dict(enumerate(way)) for way in itertools.product(*ranges) if sum(way) <= demand.count])
    least = float("inf")
    for way in itertools.product(*ways):
        run, mass = defaultdict[int, float](float), defaultdict[int, float](float)
        for k, counts in enumerate(way):
            for i, n in counts.items():
                if n:
                    run[i] += run_used(wanted[k], fits[k][i], n)
                    mass[i] += n * wanted[k].one
        if all(run[i] <= it.run + 1e-6 and mass[i] <= it.load + 1e-6 for i, it in enumerate(there)):
            least = min(least, score(wanted, there, list(way), terms))
    return least


KINDS = (
    "toy_bin",
    "file_box",
    "board_game",
    "blanket",
    "linen",
    "tool_box",
    "shoe_pair",
    "plant",
    "craft_box",
    "charger_box",
)
small = st.tuples(
    st.lists(st.tuples(st.sampled_from(KINDS), st.integers(1, 3)), min_size=1, max_size=3, unique_by=lambda row: row[0]),
    st.lists(
        st.tuples(st.integers(0, 2000), st.integers(250, 900), st.integers(150, 450), st.integers(5, 30), st.booleans()),
        min_size=1, max_size=3,
    ),
)  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(small)
def test_the_exact_way_finds_what_trying_everything_finds(
    case: tuple[list[tuple[str, int]], list[tuple[int, int, int, int, bool]]],
) -> None:
    wanted = things(*case[0])
    there = tuple(
        level(f"L{n}", z, run, height, load=kg, warm=warm)
        for n, (z, run, height, kg, warm) in enumerate(case[1])
    )
    least = best_by_trying(wanted, there, FAMILY)
    best = allot_best(wanted, there, FAMILY)
    assert best.score == pytest.approx(least, abs=0.02)
    assert best.bound <= best.score + 1e-6 and best.bound == pytest.approx(least, abs=0.05)
    quick = score(wanted, there, counts_of(wanted, there, allot(wanted, there, FAMILY)), FAMILY)
    assert quick >= best.score - 1e-6


rooms = st.lists(
    st.tuples(
        st.sampled_from(["open", "drawers", "flap", "glass"]), st.integers(0, 2000), st.integers(150, 1200),
        st.integers(150, 1500), st.integers(200, 500), st.integers(1, 4), st.integers(0, 5),
    ),
    max_size=4,
)  # fmt: skip
lists = st.lists(
    st.tuples(st.sampled_from(sorted(load.things())), st.integers(0, 40)),
    max_size=7,
    unique_by=lambda row: row[0],
)


def made(rows: list[tuple[str, int, int, int, int, int, int]]) -> tuple[Level, ...]:
    bays = tuple(
        Bay(f"T1.{n}", "T1", Box(0, z, width, height), depth, front, drawers, shelves)
        for n, (front, z, width, height, depth, drawers, shelves) in enumerate(rows, 1)
    )
    return levels(Room(bays), LIMITS)


def proved(wanted: tuple[Demand, ...], there: tuple[Level, ...], placed: tuple[Placed, ...]) -> None:
    """Nothing is on a level that may not be there, and no level holds more than its run, its height and its load."""
    kinds, at = {d.kind: d for d in wanted}, {it.ref: it for it in there}
    run, mass = defaultdict[str, float](float), defaultdict[str, float](float)
    count = defaultdict[str, int](int)
    for item in placed:
        demand, spot = kinds[item.kind], at[item.level]
        assert item.count > 0 and demand.depth <= spot.depth
        assert not demand.low or spot.z <= FAMILY.reach.child
        upright = demand.height <= spot.height
        pile = (
            demand.thickness * min(demand.flat, item.count) + TERMS.pile_clear <= spot.height
            if demand.flat
            else False
        )
        assert upright or demand.thickness + TERMS.pile_clear <= spot.height
        most = max(
            min(demand.stacks, max(1, int((spot.height - TERMS.pile_clear) / demand.upright + 1e-9)))
            if upright
            else 0,
            min(demand.flat, int((spot.height - TERMS.pile_clear) / demand.thickness + 1e-9))
            if demand.flat
            else 0,
        )
        narrow = min(demand.each, demand.along) if demand.flat else demand.each
        assert most >= 1 and (upright or pile or most >= 1)
        run[item.level] += narrow * -(-item.count // most)
        mass[item.level] += item.count * demand.one
        count[item.kind] += item.count
    assert all(count[d.kind] <= d.count for d in wanted)
    assert all(run[ref] <= at[ref].run + 1e-6 for ref in run)
    assert all(mass[ref] <= at[ref].load + 1e-6 for ref in mass)
    fits, counts = fits_of(wanted, there, FAMILY), counts_of(wanted, there, placed)
    for i, it in enumerate(there):
        taken = sum(run_used(d, fits[k][i], counts[k][i]) for k, d in enumerate(wanted) if i in counts[k])
        assert taken <= it.run + 1e-6


@settings(max_examples=150, deadline=None)
@given(lists, rooms)
def test_nothing_is_allotted_beyond_a_level(
    rows: list[tuple[str, int]], bays: list[tuple[str, int, int, int, int, int, int]]
) -> None:
    wanted, there = demands(tuple(Thing(k, n) for k, n in rows), LIMITS, children=True), made(bays)
    proved(wanted, there, allot(wanted, there, FAMILY))


@settings(max_examples=12, deadline=None)
@given(lists, rooms)
def test_nothing_is_allotted_beyond_a_level_the_exact_way_and_it_is_never_worse(
    rows: list[tuple[str, int]], bays: list[tuple[str, int, int, int, int, int, int]]
) -> None:
    wanted, there = demands(tuple(Thing(k, n) for k, n in rows), LIMITS, children=True), made(bays)
    best = allot_best(wanted, there, FAMILY, 0.2)
    proved(wanted, there, best.placed)
    quick = score(wanted, there, counts_of(wanted, there, allot(wanted, there, FAMILY)), FAMILY)
    assert best.score <= quick + 1e-6 and best.bound <= best.score + 1e-6
    assert best.placed == allot_best(wanted, there, FAMILY, 0.2).placed  # the same input, the same answer
