"""The commissioning list, the snags and the variations."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.change.criteria import CRITERIA, passes, to_test
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules import RULES
from wallwright.sheets import snags as snag_sheets
from wallwright.sheets import variation
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.owner import finish_codes
from wallwright.sheets.roles import READERS, sheets_for
from wallwright.tables.handover import commissioning, snags, variations
from wallwright.tables.screen_room import later_screen

JOB = read_job(demo_jobs()["living"])
LIMITS = load.limits()


def wall_with(*edits: tuple[str, dict[str, Any]]) -> Wall:
    job = JOB
    for name, values in edits:
        job = apply(job, name, values)
    return derive(job)


@pytest.mark.parametrize(
    ("check", "measured", "good"),
    [
        ("insulation", 1.0, True), ("insulation", 0.99, False),  # BS 7671 Part 6: at least 1 MΩ at 500 V DC
        ("trip", 300, True), ("trip", 301, False), ("trip_five", 40, True), ("trip_five", 41, False),  # BS 7671: 300, 40 ms
        ("level", -1.0, True), ("level", 1.1, False), ("front_gap", -0.6, False), ("bay_rise", 10, True),
        ("outlet", 1, None), ("nothing", 1, None),
    ],
)  # fmt: skip
def test_what_passes(check: str, measured: float, good: bool | None) -> None:
    assert passes(check, measured, LIMITS) is good


def test_every_criterion_has_its_limit() -> None:
    assert all(one.limit in LIMITS for one in CRITERIA.values() if one.limit)


def test_the_list_holds_every_circuit_fixing_unit_seat_bay_and_strip() -> None:
    wall = derive(JOB)
    lines = [(line.criterion.check, line.ref) for line in to_test(wall)]
    assert len(lines) == len(set(lines))
    for check, refs in (
        ("insulation", [c.ref for c in wall.services.circuits]),
        ("anchor", [c.ref for c in wall.structure.fixings if c.count]),
        ("level", [*(u.ref for u in wall.setout.units), "screen"]),
        ("remote", [s.ref for s in wall.sight.seats]),
        ("bay_rise", [b.bay for b in wall.cooling.bays]),
        ("flicker", [r.ref for r in wall.light.runs]),
        ("data", [p.ref for p in wall.services.points if p.kind == "data"]),
    ):
        assert [ref for name, ref in lines if name == check] == refs
    order = [name for name, _ in lines]
    assert order.index("insulation") < order.index("anchor") < order.index("level") < order.index("trip")


def test_on_paper_there_is_nothing_to_test_yet() -> None:
    assert commissioning(derive(JOB)).rows == () and snag_sheets.sheets(derive(JOB)) == ()


def test_what_was_measured_is_judged_by_the_limit_not_by_the_tick() -> None:
    wall = wall_with(
        ("set_progress", {"points": "set"}),
        ("record_test", {"check": "insulation", "ref": "Q1", "measured": 0.4, "passed": True}),
        ("record_test", {"check": "level", "ref": "screen", "measured": 0.6}),
        ("record_test", {"check": "outlet", "ref": "Q2", "passed": False}),
    )
    good = {(row[0], row[2]): row[5] for row in commissioning(wall).rows}
    assert good["Q1", CRITERIA["insulation"].says] == "NOT GOOD"
    assert good["screen", CRITERIA["level"].says] == "good"
    assert good["Q2", CRITERIA["outlet"].says] == "NOT GOOD"
    assert good["Q2", CRITERIA["insulation"].says] == "______"


def test_snags_open_ones_first_with_criterion_and_trade() -> None:
    wall = wall_with(
        (
            "add_snag",
            {"ref": "N1", "where": "C1", "says": "front 1.2 off", "check": "front_gap", "measured": 1.2},
        ),
        ("add_snag", {"ref": "N2", "where": "W1", "says": "scratch", "trade": "painting"}),
        ("close_snag", {"ref": "N1", "date": "2026-05-09", "measured": 0.4}),
    )
    first, second = snags(wall).rows
    assert first[0] == "N2" and first[3] == "by eye" and first[5] == "painting"
    assert second[3:6] == ("at most 0.5 mm", "0.4 (passes)", "joinery") and second[7] == "2026-05-09"
    assert "1 snag open, 1 put right." in " ".join(
        getattr(mark, "text", "") for sheet in snag_sheets.sheets(wall) for mark in sheet.marks
    )


def test_a_variation_on_its_sheet_says_money_days_and_what_is_void() -> None:
    edits = (
        ("add_variation", {"ref": "V1", "says": "75 in for 65 in", "reason": "sale", "price": 310.5, "days": 3,
                           "documents": ["Elevation, finished"], "from_revision": "A"}),
        ("add_variation", {"ref": "V2", "says": "one more shelf"}),
    )  # fmt: skip
    wall = wall_with(*edits)
    rows = {row[0]: row for row in variations(wall).rows}
    assert rows["V1"][4:7] == ("¤\u00a0310.50", 3, "priced") and rows["V2"][4:7] == (
        "to be priced",
        None,
        "draft",
    )
    one, two = variation.sheets(wall)
    text = " ".join(getattr(mark, "text", "") for mark in one.marks)
    for said in (
        "75 in for 65 in",
        "sale",
        "310.50",
        "+3",
        "Elevation, finished",
        "Client: accepted, or refused",
    ):
        assert said in text
    assert "to be timed" in " ".join(getattr(mark, "text", "") for mark in two.marks)
    assert next(iter(RULES["order.variation_open"].find(wall))).where == "V1"


def test_the_last_gates_wait_for_tests_and_snags() -> None:
    sign = ("sign_gate", {"ref": "G6", "by": "Invented client", "date": "2026-05-10"})
    with pytest.raises(JobError, match="N1"):
        wall_with(("add_snag", {"ref": "N1", "where": "C1", "says": "scratch"}), sign)
    with pytest.raises(JobError, match="insulation on Q1"):
        wall_with(("record_test", {"check": "insulation", "ref": "Q1", "passed": False}), sign)
    assert wall_with(sign).job.progress.gates[0].ref == "G6"


def test_a_measured_snag_is_closed_by_its_measure() -> None:
    """1.2 where 0.5 may be: not by a date alone, nor by 0.6; by 0.5. One that is judged by eye needs none."""
    snag = (
        "add_snag",
        {"ref": "N1", "where": "C1", "says": "front off", "check": "front_gap", "measured": 1.2},
    )
    with pytest.raises(JobError, match="does not pass front_gap"):
        wall_with(snag, ("close_snag", {"ref": "N1", "date": "2026-05-09"}))
    with pytest.raises(JobError, match="does not pass front_gap"):
        wall_with(snag, ("close_snag", {"ref": "N1", "date": "2026-05-09", "measured": 0.6}))
    assert (
        wall_with(snag, ("close_snag", {"ref": "N1", "date": "2026-05-09", "measured": 0.5}))
        .job.progress.snags[0]
        .closed
    )
    eye = ("add_snag", {"ref": "N1", "where": "W1", "says": "scratch"})
    assert wall_with(eye, ("close_snag", {"ref": "N1", "date": "2026-05-09"})).job.progress.snags[0].closed


def test_a_test_that_was_ticked_but_measured_wrong_holds_the_gate() -> None:
    """0.4 MΩ where 1 is the least (BS 7671 part 6): the tick does not sign G5."""
    tick = ("record_test", {"check": "insulation", "ref": "Q1", "measured": 0.4, "passed": True})
    sign = ("sign_gate", {"ref": "G5", "by": "Invented client", "date": "2026-05-10"})
    with pytest.raises(JobError, match="insulation on Q1"):
        wall_with(tick, sign)
    assert wall_with(
        ("record_test", {"check": "insulation", "ref": "Q1", "measured": 2.0}), sign
    ).job.progress.gates


def test_the_handover_book_holds_what_the_next_one_needs() -> None:
    """Hidden services keyed to the wall, where not to drill, the largest next screen, care, and finish codes with colours."""
    wall = wall_with()
    book = sheets_for("owner", drawing_set(wall))
    names = {sheet.name for sheet in book}
    assert {"owner_book", "hidden_services", "no_drill_map"} <= names
    pages = [sheet for sheet in book if sheet.name.startswith("owner_")]
    words = [getattr(mark, "text", "") for sheet in pages for mark in sheet.marks]
    text = " ".join(" ".join((*words, *(line for sheet in pages for line in sheet.cautions))).split())
    for code in (str(row[0]) for row in finish_codes(wall).rows):
        assert code in text
    assert "dry microfibre" in text and "detector" in text
    largest = later_screen(wall).rows[0][1]
    assert f"The largest that this wall takes later: {largest:g} in" in text
    assert "How each is cleaned" in text
    assert {"no_drill", "points", "dusting"} <= set(READERS["owner"].tables)
