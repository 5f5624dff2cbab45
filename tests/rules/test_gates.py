"""What each gate waits for: one thing at a time is put wrong on a well-made wall, and only the gates that rest on it say so."""

from __future__ import annotations

import pytest

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.rules.gates import Standing, gates

WELL = read_job(demo_jobs()["living"])
REFS = ("G0", "G1", "G2", "G3", "G4", "G5", "G6")


def standing(job: Job) -> dict[str, Standing]:
    wall = derive(job)
    return {one.ref: one for one in gates(wall, check(wall))}


def signed(job: Job, *refs: str) -> Job:
    for ref in refs:
        job = apply(job, "sign_gate", {"ref": ref, "by": "Invented client", "date": "2026-04-01"})
    return job


def own(one: Standing) -> list[str]:
    """What it waits for besides the gates before it."""
    return [line for line in one.waits if not line.endswith("to be signed")]


def test_on_paper_nothing_holds_up_the_first_three() -> None:
    found = standing(WELL)
    assert tuple(found) == REFS
    assert [own(found[ref]) for ref in REFS[:3]] == [[], [], []]
    assert own(found["G3"]) == ["the first fix is not set"]
    assert own(found["G5"]) == ["no test is recorded"]
    assert found["G4"].waits == ("G0, G1, G2, G3 to be signed",)


def test_what_is_signed_is_said_with_by_whom_and_frees_the_next() -> None:
    found = standing(signed(WELL, "G0", "G1"))
    assert found["G1"].signed == "Invented client, 2026-04-01"
    assert found["G2"].waits == () and found["G2"].signed == ""
    assert found["G3"].waits[0] == "G2 to be signed"


@pytest.mark.parametrize(
    ("edit", "values", "gate", "says"),
    [
        ("set_substrate", {"kind": "unknown"}, "G1", "wall"),
        ("release", {"field": "design.screen.diagonal"}, "G2", "the screen's size is open"),
        ("set_screen_niche", {"width": 1500, "height": 900}, "G2", "niche"),
        ("set_finish_complete", {"complete": False}, "G3", "survey.finish_complete"),
        ("set_access", {"door_width": 300}, "G4", "T1"),
        ("add_snag", {"ref": "S1", "says": "door scrapes", "where": "T1"}, "G6", "progress.snags"),
        ("add_variation", {"ref": "V1", "says": "75 in for 65 in"}, "G6", "V1"),
    ],
)  # fmt: skip
def test_each_fault_holds_up_its_gate(edit: str, values: dict[str, object], gate: str, says: str) -> None:
    before, after = standing(WELL), standing(apply(WELL, edit, values))
    new = [line for line in own(after[gate]) if line not in own(before[gate])]
    assert any(says in line for line in new), after[gate]
    assert not [ref for ref in REFS if ref < gate and own(after[ref]) != own(before[ref])]


def test_a_failed_test_holds_up_the_commissioning() -> None:
    good, bad = (
        apply(WELL, "record_test", {"check": "polarity", "ref": "P1", "passed": passed})
        for passed in (True, False)
    )
    assert own(standing(good)["G5"]) == []
    assert any("polarity on P1" in line or "did not pass" in line for line in own(standing(bad)["G5"]))


def test_what_the_edit_refuses_the_gate_names() -> None:
    """The reason that `sign_gate` gives is the one that is told here beforehand."""
    open_floor = apply(WELL, "set_floor", {"finished": False, "to_come": {"value": 12, "state": "assumed"}})
    told = own(standing(open_floor)["G2"])
    with pytest.raises(JobError) as refused:
        signed(open_floor, "G2")
    assert any(refused.value.problems[0].says in line for line in told)


def test_a_gate_that_was_skipped_is_named_with_the_one_to_take_back() -> None:
    (item,) = [one for one in check(derive(signed(WELL, "G1", "G3"))) if one.rule == "order.gate_skipped"]
    assert item.says == "G3 is signed, and G2 before it is not"
    assert [dict(call.values) for call in item.edits] == [{"ref": "G3"}]
    assert not [one for one in check(derive(signed(WELL, "G1", "G2"))) if one.rule == "order.gate_skipped"]


def test_one_box_in_the_wall_is_as_early_as_all() -> None:
    """A box alone, before G2; what is cut in the workshop is another rule's."""
    box, part = (apply(WELL, "set_made", {"ref": ref, "state": "set"}) for ref in ("P1", "T1"))
    (item,) = [one for one in check(derive(box)) if one.rule == "order.first_fix_release"]
    assert item.where == "P1" and item.says.startswith("P1 is in the wall")
    assert not [one for one in check(derive(part)) if one.rule == "order.first_fix_release"]
