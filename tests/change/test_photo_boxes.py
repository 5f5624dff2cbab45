"""Boxes read from a photo: answered only where the answer holds over the whole ±, and nothing of them is cut or set by."""

from __future__ import annotations

import pytest

from wallwright.change.asfound import as_found, taken
from wallwright.change.boxes import pinned
from wallwright.change.verdict import ANSWERS, worst
from wallwright.core.units import Length
from wallwright.derive import Wall
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.job.site import FoundBox, Site, read_site
from wallwright.job.write import write_job


def found(ref: str, x: float, z: float, sure: float) -> FoundBox:
    return FoundBox(ref, Length(x, state="photo", tolerance=sure), Length(z, state="photo", tolerance=sure))


def place(wall: Wall, ref: str) -> tuple[float, float]:
    point = next(one for one in wall.services.points if one.ref == ref)
    return point.x, point.z


@pytest.mark.parametrize(("off", "sure", "answer"), [
    (0.0, 4.0, "accept"), (2.0, 2.9, "accept"), (2.0, 3.1, "tape"), (4.9, 0.3, "tape"), (0.0, 6.0, "tape"), (7.0, 2.5, "tape"),
    (30.0, 4.0, "tape"),
])  # fmt: skip
def test_the_photos_own_error_is_in_the_answer(wall: Wall, off: float, sure: float, answer: str) -> None:
    """5 mm are allowed: off and ± together within it is accepted, never where they straddle it; what is certainly elsewhere is taped."""
    x, z = place(wall, "D1")
    one = as_found(wall, Site(boxes=(found("D1", x, z - off, sure),))).verdicts[0]
    assert (one.answer, one.edits, one.numbers) == (answer, (), ())
    assert bool(one.ask) == (answer == "tape") and ("by tape" in one.says) == (answer == "tape")
    assert one.off == pytest.approx(off)


def test_what_clashes_all_over_its_range_is_not_left_to_the_tape(wall: Wall) -> None:
    """Behind the mount's plate by a hand's breadth: wrong wherever in the ± it is, so the ways out are told; none is written."""
    plate = wall.sight.screen.plate
    one = as_found(wall, Site(boxes=(found("P1", *plate.centre, 6.0),))).verdicts[0]
    assert one.answer in ("adjust", "stop") and one.fixes
    assert one.edits == () and not any(fix.edits for fix in one.fixes) and one.numbers == ()


def test_what_clashes_at_one_end_of_its_range_is_taped(wall: Wall) -> None:
    """25 mm clear of the plate are asked: a box read just clear of it, ± 6, may be in it."""
    plate, box = wall.sight.screen.plate, next(p.box for p in wall.services.points if p.ref == "D1")
    x = plate.right + wall.limits.value("services.plate_clear") + box.width / 2 + 3.0
    one = as_found(wall, Site(boxes=(found("D1", x, plate.centre[1], 6.0),))).verdicts[0]
    assert one.answer == "tape" and "hangs on a few millimetres" in one.says


def test_nothing_from_a_photo_is_taken_into_the_job(wall: Wall, job: Job) -> None:
    x, z = place(wall, "D1")
    told = as_found(wall, Site(boxes=(found("D1", x, z - 30, 4.0), found("P1", *place(wall, "P1"), 2.0))))
    assert taken(job, told) == job
    assert (
        taken(job, as_found(wall, Site(boxes=(FoundBox("D1", Length(x), Length(z + 9)),)))) != job
    )  # by tape it is


def test_tape_stands_between_accept_and_adjust() -> None:
    assert ANSWERS == ("accept", "tape", "adjust", "stop")
    assert worst(()) == "accept"


def test_a_designed_size_from_a_photo_is_refused(job: Job) -> None:
    """In an edit and in a file: what is cut and set is taped first."""
    from_photo = {"value": 380, "state": "photo", "tolerance": 5}
    with pytest.raises(JobError, match="comes from a photo"):
        apply(job, "resize_unit", {"ref": "C1", "height": from_photo})
    with pytest.raises(JobError, match=r"design.points\[\d\].x = 1700: comes from a photo"):
        apply(job, "add_point", {"ref": "P9", "kind": "socket", "x": {**from_photo, "value": 1700}, "z": 300})
    with pytest.raises(JobError, match="comes from a photo"):
        apply(job, "set_length", {"field": "design.units[0].height", "value": from_photo})
    text = write_job(pinned_height(job)).replace("height = 379", 'height = { value = 379, state = "photo" }')
    with pytest.raises(JobError, match="hold a tape to it"):
        read_job(text)
    assert apply(job, "resize_unit", {"ref": "C1", "height": {**from_photo, "state": "measured"}})


def pinned_height(job: Job) -> Job:
    return apply(job, "resize_unit", {"ref": "C1", "height": 379})


def test_a_surveyed_size_from_a_photo_keeps_saying_so(job: Job) -> None:
    """It may stand in the survey; it counts as nobody's measure there, whatever it goes through, and no gate is signed on it."""
    loose = apply(
        job,
        "set_wall_reading",
        {"which": "width", "at": 1000, "value": {"value": 4203, "state": "photo", "tolerance": 9}},
    )
    again = read_job(write_job(loose))
    assert next(r.value for r in again.survey.wall.widths if r.at.mm == 1000).state == "photo"
    with pytest.raises(JobError, match="is assumed: G1"):
        apply(loose, "sign_gate", {"ref": "G1", "by": "N. N.", "date": "2026-04-02"})


def test_a_photo_is_not_laundered_by_the_site_file(wall: Wall, job: Job) -> None:
    site = read_site(
        'wallwright-site = 1\nwidths = [{ at = 1000, value = { value = 4203, state = "photo", tolerance = 9 } }]\n'
        'out_of_plumb = { value = 4, state = "photo" }\n'
    )
    told = as_found(wall, site)
    assert {v.what: v.answer for v in told.verdicts} == {"width": "tape", "plumb": "accept"}
    after = taken(job, told)
    assert after.survey.wall.widths == job.survey.wall.widths  # a tape's reading stays
    assert after.survey.wall.out_of_plumb.state == "photo"


def test_where_everything_stays_when_it_is_pinned(wall: Wall) -> None:
    assert {p.ref for p in wall.services.points if p.kind != "led_feed"} <= {
        p.ref for p in pinned(wall).design.points
    }
