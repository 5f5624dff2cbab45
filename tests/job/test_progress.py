"""Gates that are not signed on what is assumed, and a variation's way from draft to invoice."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.job.write import write_job

JOB = read_job(demo_jobs()["living"])


def sign(job: Job, ref: str) -> Job:
    return apply(job, "sign_gate", {"ref": ref, "by": "Invented client", "date": "2026-03-03"})


def changed(*edits: tuple[str, dict[str, Any]]) -> Job:
    job = JOB
    for name, values in edits:
        job = apply(job, name, values)
    return job


def test_no_gate_after_the_brief_while_a_size_is_assumed() -> None:
    job = changed(("set_length_state", {"field": "survey.wall.widths[1].value", "state": "assumed"}))
    assert sign(job, "G0").progress.gates[0].by == "Invented client"
    with pytest.raises(JobError, match=r"survey\.wall\.widths\.1.*assumed"):
        sign(job, "G1")


def test_heights_are_not_frozen_on_an_assumed_floor() -> None:
    """The datum is the finished floor: laid, or its thickness agreed."""
    job = changed(("set_floor", {"finished": False, "to_come": 12}))
    assert sign(job, "G1").progress.gates
    with pytest.raises(JobError, match="every height counts from the finished floor"):
        sign(job, "G2")
    agreed = apply(job, "set_floor", {"to_come": {"value": 12, "state": "measured"}})
    assert [gate.ref for gate in sign(sign(agreed, "G2"), "G1").progress.gates] == ["G1", "G2"]


def test_cutting_waits_for_the_finishes() -> None:
    with pytest.raises(JobError, match="measure three key sizes again"):
        sign(changed(("set_finish_complete", {"complete": False})), "G3")


def test_taking_a_signature_back_takes_those_after_it() -> None:
    job = sign(sign(sign(JOB, "G0"), "G1"), "G2")
    assert [gate.ref for gate in apply(job, "unsign_gate", {"ref": "G1"}).progress.gates] == ["G0"]
    with pytest.raises(JobError, match="not signed"):
        apply(job, "unsign_gate", {"ref": "G5"})


def test_a_variation_is_priced_before_it_is_accepted_and_accepted_before_it_is_done() -> None:
    signed = {"ref": "V1", "by": "Invented client", "date": "2026-03-03"}
    draft = changed(("add_variation", {"ref": "V1", "says": "75 in for 65 in"}))
    with pytest.raises(JobError, match="is draft; only one that is priced can be accepted"):
        apply(draft, "accept_variation", signed)
    priced = apply(draft, "price_variation", {"ref": "V1", "price": 120, "days": 2})
    with pytest.raises(JobError, match="only one that is approved can be done"):
        apply(priced, "finish_variation", {"ref": "V1"})
    done = apply(apply(priced, "accept_variation", signed), "finish_variation", {"ref": "V1"})
    assert (
        apply(done, "finish_variation", {"ref": "V1", "state": "invoiced"}).progress.variations[0].state
        == "invoiced"
    )
    with pytest.raises(JobError, match="is done; only one that is draft or priced"):
        apply(done, "refuse_variation", signed)
    with pytest.raises(JobError, match="next number"):
        apply(draft, "add_variation", {"ref": "V1", "says": "another"})


def test_each_thing_is_named_once_in_a_file() -> None:
    text = write_job(changed(("set_made", {"ref": "C1", "state": "cut"})))
    twice = text + '\n[[progress.made]]\nref = "C1"\nstate = "set"\n'
    with pytest.raises(JobError, match=r"progress\.made\[1\]\.ref.*name each once"):
        read_job(twice)
