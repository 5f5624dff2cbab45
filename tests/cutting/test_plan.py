from __future__ import annotations

import pytest

from wallwright.carcass.record import Part
from wallwright.core.shape import Block
from wallwright.core.units import Length
from wallwright.cutting.plan import plan
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
