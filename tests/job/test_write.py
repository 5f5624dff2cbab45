"""Writing keeps every value and every length as typed; merging keeps the user's comments too."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.core.units import Length
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.path import put
from wallwright.job.read import read_job
from wallwright.job.starter import ROOMS, starter
from wallwright.job.survey import Room
from wallwright.job.write import merge_into, plain, write_job

TEXTS = {**demo_jobs(), **{f"new {room}": starter(room) for room in ROOMS}}
LIVING = TEXTS["living"]
JOB = read_job(LIVING)


@pytest.mark.parametrize("name", TEXTS)
def test_what_is_written_reads_back_the_same(name: str) -> None:
    job = read_job(TEXTS[name])
    text = write_job(job)
    assert read_job(text) == job
    assert write_job(read_job(text)) == text
    assert tomllib.loads(text)["wallwright-job"] == 1


def test_lengths_are_written_as_typed() -> None:
    text = write_job(JOB)
    for typed in ('"13\'-9 3/8\\""', '"9\'-0 1/4\\""', '"420.1 cm"', '"2.752 m"', "'17 1/4\"'"):
        assert typed in text
    assert 'state = "verified", tolerance = 2 }' in text


def test_what_is_automatic_is_not_written() -> None:
    screen = plain(JOB)["design"]["screen"]
    assert "centre_height" not in screen
    assert plain(JOB)["design"]["units"][2] == {
        "ref": "T2",
        "kind": "tower",
        "side": "right",
        "height": "2.3 m",
        "depth": 380,
    }


def test_a_table_of_nothing_but_defaults_is_still_there() -> None:
    job = put(JOB, ("survey", "room"), Room())
    assert read_job(write_job(job)) == job


def test_a_rule_set_and_odd_numbers_survive() -> None:
    job = replace(JOB, rules={"rule.console_gap": 62.5}, title="A \"q\" \\ 'x' é ½\t#")
    job = put(job, ("survey", "wall", "out_of_plumb"), Length(-1e-7))
    assert read_job(write_job(job)) == job


words = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=30)
mm = st.floats(0.001, 99_999).map(lambda value: Length(value))


@settings(max_examples=50, deadline=None)
@given(words, mm, st.floats(0, 1), st.sampled_from(["assumed", "measured", "verified"]), st.floats(0, 50))
def test_any_words_and_numbers_survive(
    note: str, size: Length, share: float, state: str, tolerance: float
) -> None:
    job = put(JOB, ("survey", "obstacles", 0, "note"), note)
    job = put(job, ("survey", "obstacles", 0, "width"), replace(size, state=state, tolerance=tolerance))
    job = put(job, ("brief", "night_viewing"), share)
    assert read_job(write_job(job)) == job
    assert read_job(merge_into(LIVING, job)) == job


# --- merging (sequences of edits: tests/job/test_edits.py) -------------------------------------------------------------


@pytest.mark.parametrize("name", TEXTS)
def test_nothing_changed_is_the_same_text(name: str) -> None:
    assert merge_into(TEXTS[name], read_job(TEXTS[name])) == TEXTS[name]


def test_one_change_is_one_line() -> None:
    job = apply(JOB, "set_window_blind", {"ref": "WN1", "blind": 0.3})
    old, new = LIVING.splitlines(), merge_into(LIVING, job).splitlines()
    assert len(old) == len(new)
    [(before, after)] = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    assert before == "blind = 0.1                 # blackout-lined curtain"
    assert after.startswith("blind = 0.3 ") and after.endswith("# blackout-lined curtain")


def test_a_length_typed_in_feet_goes_in_as_typed() -> None:
    job = apply(JOB, "set_screen_height", {"centre_height": "3'-8 1/2\""})
    text = merge_into(LIVING, job)
    assert "3'-8 1/2" in text
    assert read_job(text) == job


def test_tables_in_scattered_order_are_still_right() -> None:
    text = LIVING.replace('[design.mount]\nkind = "tilt"\n', "") + '\n[design.mount]\nkind = "fixed"\n'
    job = apply(read_job(text), "set_tilt", {"tilt": 3})
    job = apply(job, "set_screen_height", {"centre_height": 1090})
    assert read_job(merge_into(text, job)) == job


def test_lists_the_user_wrote_inline_stay_inline() -> None:
    text = (
        "wallwright-job = 1\ntitle = 'x' # mine\n[survey]\nroom = {}\n"
        "seats = [{ ref = 'A', kind = 'sofa', x = 1, distance = 3000 }] # seats\n"
        "wall = { widths = [{ at = 1, value = 4000 }], heights = [{ at = 1, value = 2700 }] }\n"
    )
    job = read_job(text)
    for call in (
        ("add_seat", {"ref": "B", "kind": "chair", "x": 900, "distance": 2500}),
        ("set_seat", {"ref": "A", "x": 1500}),
        ("set_substrate", {"kind": "brick", "leaf": '9"'}),
    ):
        job = apply(job, *call)
    merged = merge_into(text, job)
    assert read_job(merged) == job
    assert "# mine" in merged and "[[survey.seats]]" not in merged
