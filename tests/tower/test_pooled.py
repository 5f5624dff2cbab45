"""A delivery is cut together: every board of every flat on a sheet once, replayed, never dearer than flat by flat."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from wallwright.cutting.plan import search
from wallwright.cutting.verify import verify
from wallwright.derive import derive
from wallwright.library import load
from wallwright.tower import pooled as module
from wallwright.tower.pooled import Cutting, by_delivery, cut, flats_on, pooled
from wallwright.tower.run import run

pytestmark = pytest.mark.usefixtures("strips_alone")


@pytest.fixture(scope="module")
def worked(make: Any, flat: Any, tape: Any) -> Any:
    flats = [flat(f"01{i:02d}", "LB"[i % 2], ("left", "right")[i // 2 % 2], delivery="D1") for i in range(8)]
    flats += [flat(f"02{i:02d}", "L", delivery="D2") for i in range(3)]
    flats += [
        flat("0301", delivery="D2", state="cut"),
        flat("0302", "B"),
        flat("0303", delivery="D2", measured=tape(4230)),
    ]
    flats[2] = replace(flats[2], state="ordered")
    return run(make(*flats))


@pytest.fixture(scope="module")
def plans(worked: Any) -> Any:
    return pooled(worked, steps=60)


def test_every_board_of_every_flat_lies_on_one_sheet_once(worked: Any, plans: Any) -> None:
    boards = load.boards()
    wanted = {
        (delivery, part.board, f"{done.flat.id}/{part.id}")
        for delivery, flats in by_delivery(worked).items()
        for done in flats
        for part in done.parts
        if part.board in boards
    }
    laid = Counter(
        (one.delivery, one.board, placed.name)
        for one in plans.boards
        for sheet in one.plan.sheets
        for placed in sheet.placed
    )
    assert set(laid) == wanted
    assert set(laid.values()) == {1}
    assert not plans.unfit
    assert not plans.failed


def test_what_is_cut_is_not_cut_again_and_what_is_not_called_for_is_by_itself(worked: Any) -> None:
    groups = {name: [done.flat.id for done in flats] for name, flats in by_delivery(worked).items()}
    assert groups["D2"] == ["0200", "0201", "0202", "0303"]
    assert groups["not called for"] == ["0302"]
    assert "0102" in groups["D1"]  # ordered is not cut


def test_together_is_less_than_flat_by_flat_and_no_less_than_the_bound(worked: Any, plans: Any) -> None:
    assert plans.used < plans.alone
    assert plans.price < plans.alone_price
    for one in plans.boards:
        assert one.plan.lower_bound <= one.plan.used
        assert one.parts == sum(len(sheet.placed) for sheet in one.plan.sheets)
    alone = Counter()
    for done in worked.flats:
        if done.flat.state in ("drawn", "ordered"):
            wall = derive(worked.tower.jobs[done.flat.type])  # both hands have the same boards
            for board, sheets, _ in search(wall.job, wall.carcass.parts, wall.limits).sheets:
                alone[board] += sheets
    together = Counter()
    for one in plans.boards:
        together[one.board] += one.alone
    assert together == alone


def test_the_plans_are_replayed_and_a_false_one_is_refused(
    worked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    asks: list[Cutting] = []
    real = module.answers
    monkeypatch.setattr(module, "answers", lambda todo, *rest: asks.extend(todo) or real(todo, *rest))
    pooled(worked, steps=0)
    ask = next(one for one in asks if one.delivery == "D1")
    assert verify(ask.problem, module._best(ask.problem, 0)) == []
    short = replace(module._best(ask.problem, 0), sheets=module._best(ask.problem, 0).sheets[:-1])
    monkeypatch.setattr(module, "_best", lambda problem, steps: short)
    with pytest.raises(RuntimeError, match="failed its replay"):
        cut(ask)


def test_the_same_steps_give_the_same_plan_and_more_steps_none_dearer(worked: Any, plans: Any) -> None:
    again = pooled(worked, steps=60)
    assert [one.plan.sheets for one in again.boards] == [one.plan.sheets for one in plans.boards]
    assert plans.price <= pooled(worked, steps=0).price


def test_flats_with_another_saw_are_cut_apart(make: Any, flat: Any, jobs: Any) -> None:
    from wallwright.job.edits import apply

    other = apply(jobs["B"], "set_saw", {"kerf": 4.5})
    worked = run(
        make(flat("0101", delivery="D"), flat("0102", "B", delivery="D"), kinds={"L": jobs["L"], "B": other})
    )
    assert {name: [done.flat.id for done in flats] for name, flats in by_delivery(worked).items()} == {
        "D": ["0101"],
        "D.2": ["0102"],
    }
    sawn = {one.delivery for one in pooled(worked, steps=0).boards}
    assert sawn == {"D", "D.2"}


def test_a_placed_part_says_its_flat() -> None:
    assert flats_on("0304/C1-L") == ("0304", "C1-L")


def test_a_part_larger_than_any_sheet_is_named_with_its_flat(make: Any, flat: Any, jobs: Any) -> None:
    from wallwright.job.edits import apply

    wide = apply(jobs["L"], "resize_unit", {"ref": "S1", "width": 2600})
    found = pooled(run(make(flat("0101"), kinds={"L": wide})), steps=0)
    assert found.unfit
    assert {flat_id for flat_id, _, _ in found.unfit} == {"0101"}
    assert "larger than a trimmed sheet" in found.unfit[0][2]
