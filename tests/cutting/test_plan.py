from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.carcass.record import Part
from wallwright.core.shape import Block
from wallwright.core.units import Length
from wallwright.cutting.plan import plan, search, sizes, to_buy
from wallwright.job.design import Design, StockSheet
from wallwright.job.document import Job
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall
from wallwright.library import load

READING = (Reading(Length(0), Length(3000)),)
JOB = Job("Wall", Survey(Room(), SurveyedWall(READING, READING)))


def part(ident: str, board: str, length: float, width: float) -> Part:
    block = Block(0, 0, 0, length, 18, width)
    return Part(
        ident,
        "C1",
        "side",
        "Side",
        board,
        "",
        length,
        width,
        18,
        length,
        width,
        "none",
        ("",) * 4,
        1.0,
        block,
    )


def test_sheets_to_buy_and_their_used_share() -> None:
    # two parts of 2000 x 700 do not lie side by side in 1220: one sheet each
    parts = [part("a", "ply18", 2000, 700), part("b", "ply18", 2000, 700), part("c", "ply9", 1000, 1000)]
    cuts = plan(JOB, parts, load.limits())
    assert cuts.sheets == (
        ("ply18", 2, pytest.approx(2 * 2.0 * 0.7 / (2 * 2.44 * 1.22))),
        ("ply9", 1, pytest.approx(1 / (2.44 * 1.22))),
    )
    assert dict(cuts.areas)["ply18"] == pytest.approx(2 * 2.44 * 1.22)
    assert {why.name: why.value for why in cuts.whys} == {"cutting.ply18.sheets": 2, "cutting.ply9.sheets": 1}
    own = cuts.plan_of("ply18")
    assert own is not None
    assert {p.name for sheet in own.sheets for p in sheet.placed} == {"a", "b"}
    assert cuts.plan_of("mdf18") is None


def test_a_part_too_long_is_left_out_and_said() -> None:
    cuts = plan(JOB, [part("a", "ply18", 2600, 300)], load.limits())
    assert cuts.sheets == ()
    assert cuts.unfit[0][0] == "a"


def test_nothing_to_cut() -> None:
    cuts = plan(JOB, [], load.limits())
    assert (cuts.plans, cuts.sheets, cuts.areas, cuts.unfit, cuts.whys) == ((), (), (), (), ())


def with_stock(*stock: StockSheet) -> Job:
    return replace(JOB, design=Design(stock=stock))


def test_an_offcut_of_an_earlier_job_costs_nothing() -> None:
    parts = [part("a", "ply18", 2000, 700), part("b", "ply18", 600, 300), part("c", "ply18", 2000, 700)]
    job = with_stock(StockSheet("R1", "ply18", Length(2000), Length(700), offcut=True))
    for how in (plan, search):
        cuts = how(job, parts, load.limits())
        assert [(board, count) for board, count, _ in cuts.sheets] == [("ply18", 1)]
        assert dict(cuts.areas)["ply18"] == pytest.approx(2.44 * 1.22)
        assert [count for _, count, _ in how(JOB, parts, load.limits()).sheets] == [2]
        own = cuts.plan_of("ply18")
        assert own is not None
        assert to_buy(own) == 1
        assert set(sizes(own).split("; ")) == {"1 of 2440 x 1220", "1 of R1, offcut: 2000 x 700"}


def test_a_sheet_in_stock_is_paid_for_and_not_bought() -> None:
    parts = [part("a", "ply18", 2000, 700), part("b", "ply18", 2000, 700)]
    cuts = search(with_stock(StockSheet("K1", "ply18", Length(2440), Length(1220))), parts, load.limits())
    own = cuts.plan_of("ply18")
    assert own is not None
    assert (cuts.sheets[0][1], own.used, to_buy(own)) == (2, 2, 1)


def test_what_the_rack_alone_could_give_and_does_not_is_said() -> None:
    job = with_stock(StockSheet("L1", "ply18", Length(3000), Length(1220)))
    parts = [part("a", "ply18", 2900, 1000), part("b", "ply18", 2900, 1000)]
    for how in (plan, search):
        cuts = how(job, parts, load.limits())
        assert cuts.plans[0][1].used == 1
        assert len(cuts.unfit) == 1
        assert "does not suffice" in cuts.unfit[0][1]


HARD = [
    (903, 452),
    (1101, 399),
    (802, 603),
    (704, 498),
    (1204, 305),
    (555, 557),
    (998, 402),
    (1302, 351),
    (610, 610),
] * 3


def test_the_quick_plan_says_that_it_is_an_upper_bound() -> None:
    parts = [part(f"p{i}", "ply18", *size) for i, size in enumerate(HARD)]
    at_once, searched = plan(JOB, parts, load.limits()), search(JOB, parts, load.limits())
    assert at_once.plans[0][1].used > at_once.plans[0][1].lower_bound
    assert at_once.at_most
    assert "at most" in at_once.whys[0].formula
    assert (searched.searched, searched.at_most) == (True, False)
    assert "at most" not in searched.whys[0].formula
    assert searched.sheets[0][1] <= at_once.sheets[0][1]
    assert not plan(JOB, parts[:1], load.limits()).at_most  # one sheet, proved at once
