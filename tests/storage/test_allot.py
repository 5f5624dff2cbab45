from __future__ import annotations

from collections import Counter, defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.carcass.record import BayBox
from wallwright.core.shape import Box
from wallwright.job.brief import Thing
from wallwright.library import load
from wallwright.storage.allot import allot, levels, reserve
from wallwright.storage.demand import demands
from wallwright.storage.record import Demand

LIMITS = load.limits()


def bay(
    ref: str,
    front: str = "open",
    z: float = 0,
    width: float = 500,
    height: float = 2000,
    depth: float = 350,
    drawers: int = 1,
    shelves: int = 4,
) -> BayBox:
    return BayBox(ref, "T1", Box(0, z, width, height), depth, front, drawers, shelves, front == "open")


def test_levels_of_shelves_and_drawers() -> None:
    found = levels((bay("a"), bay("b", "drawers", height=400, drawers=2)), LIMITS)
    assert [(item.bay, item.z) for item in found] == [
        ("a", 0),
        ("a", 400),
        ("a", 800),
        ("a", 1200),
        ("a", 1600),
        ("b", 0),
        ("b", 200),
    ]
    assert sum(item.height for item in found if item.bay == "a") == pytest.approx(
        2000 - 4 * 18
    )  # four shelves of 18
    assert {(item.height, item.run) for item in found if item.bay == "b"} == {(160, 460)}
    assert all(item.run == 500 for item in found if item.bay == "a")


def test_heavy_things_go_low_and_light_ones_above() -> None:
    things = demands((Thing("paperback", 10), Thing("vinyl_record", 100)), LIMITS)
    free = levels(
        (bay("low", z=0, height=400, shelves=0), bay("high", z=1500, height=400, shelves=0)), LIMITS
    )
    placed, over = allot(things, free, 1200)
    assert not over
    assert {(item.kind, item.bay): item.count for item in placed} == {
        ("vinyl_record", "low"): 100, ("paperback", "low"): 2, ("paperback", "high"): 8,
    }  # fmt: skip


def test_low_things_stay_within_reach_or_are_left_over() -> None:
    (bins,) = demands((Thing("toy_bin", 5, low=True),), LIMITS)
    free = levels(
        (
            bay("a", z=0, width=800, height=400, shelves=0),
            bay("b", z=1300, width=3000, height=400, shelves=0),
        ),
        LIMITS,
    )
    placed, over = allot((bins,), free, 1200)
    assert [(item.bay, item.count) for item in placed] == [("a", 2)]  # 2 × 360 ≤ 800
    assert over == (("toy_bin", 3),)


def test_what_is_too_tall_or_too_deep_is_left_over() -> None:
    free = levels((bay("a", height=300, shelves=0, depth=250),), LIMITS)
    placed, over = allot(
        demands((Thing("vacuum", 1), Thing("vinyl_record", 5), Thing("disc", 5)), LIMITS), free, 1200
    )
    assert [(item.kind, item.count) for item in placed] == [("disc", 5)]
    assert dict(over) == {"vacuum": 1, "vinyl_record": 5}


def test_devices_take_shelves_not_drawers() -> None:
    free = levels((bay("a", "drawers", height=300), bay("b", height=300, shelves=0)), LIMITS)
    reserve(free, [(320, 280, 105), (320, 280, 105)])
    assert [item.run for item in free] == [460, 180]  # the second finds no shelf and takes nothing


things = st.lists(
    st.builds(
        Demand, st.sampled_from("abcdefgh"), st.just(""), st.integers(0, 40), st.integers(1, 4000), st.integers(0, 200),
        st.integers(50, 500), st.integers(50, 500), st.booleans(),
    ),
    max_size=6, unique_by=lambda demand: demand.kind,
)  # fmt: skip
bays = st.lists(
    st.builds(
        bay, st.sampled_from(["1", "2", "3", "4"]), st.sampled_from(["open", "drawers", "flap"]), st.integers(0, 2000),
        st.integers(50, 1200), st.integers(100, 1500), st.integers(200, 500), st.integers(1, 4), st.integers(0, 5),
    ),
    max_size=4, unique_by=lambda item: item.ref,
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(things, bays)
def test_nothing_is_lost_and_nothing_is_overfull(wanted: list[Demand], made: list[BayBox]) -> None:
    free = levels(made, LIMITS)
    before = {ref: sum(item.run for item in free if item.bay == ref) for ref in {item.bay for item in free}}
    placed, over = allot(wanted, free, 1200)
    count: Counter[str] = Counter()
    used: defaultdict[str, float] = defaultdict(float)
    kinds = {demand.kind: demand for demand in wanted}
    for item in placed:
        demand = kinds[item.kind]
        assert item.count > 0
        count[item.kind] += item.count
        used[item.bay] += demand.run / demand.count * item.count
        there = [level for level in levels(made, LIMITS) if level.bay == item.bay]
        assert any(
            level.height >= demand.height
            and level.depth >= demand.depth
            and (not demand.low or level.z <= 1200)
            for level in there
        )
    for kind, left in over:
        assert left > 0
        count[kind] += left
    assert count == Counter({d.kind: d.count for d in wanted if d.count})
    assert all(used[ref] <= run + 1e-6 for ref, run in before.items())
    assert all(level.run >= -1e-6 for level in free)
