"""What a button says it does, and why findings stand together, in words."""

from __future__ import annotations

import pytest

from wallwright.core.finding import Finding, edit_call
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.rules.bays import bays_of, front_edit
from wallwright.studio.groups import does, groups


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def test_one_bay_opened_is_said_as_that_and_not_as_a_new_division(wall: Wall) -> None:
    unit = next(unit for unit in wall.job.design.units if not unit.bays and len(bays_of(wall, unit.ref)) > 1)
    now = bays_of(wall, unit.ref)
    at = next(i for i, bay in enumerate(now) if bay["front"] != "open")
    said = does([front_edit(wall, f"{unit.ref}.{at + 1}", "open")], wall)
    assert said.startswith(f"make {unit.ref}.{at + 1} open, without a front; ")
    assert said.endswith("keep its other bays as they are") and "anew" not in said
    more = [*now, now[0]]
    said = does([edit_call("set_unit_bays", ref=unit.ref, bays=more)], wall)
    assert said == f"divide {unit.ref} anew into {len(more)} bays (now {len(now)})"


def test_a_group_names_what_its_cures_share_in_words(wall: Wall) -> None:
    def finding(*edits: object) -> Finding:
        return Finding("a.rule", "consider", "C1", "it is so", 1, 2, "", "", "computed", "cure it", edits)  # type: ignore[arg-type]

    bays = edit_call("set_unit_bays", ref="C1", bays=bays_of(wall, "C1"))
    books, toys = (edit_call("set_thing", kind=kind, count=3) for kind in ("picture_books", "toy_bins"))
    group, other = groups([finding(bays, books), finding(books), finding(toys)])
    assert group.findings == [0, 1] and other.findings == [2]
    assert (
        group.why
        == "One cause: the cures change the same values (the count of picture books). Do one, then look again."
    )
    lay, cable = edit_call("set_wiring", lay="mixed"), edit_call("set_wiring", lay="surface")
    assert "(the lay of the wiring)" in groups([finding(lay), finding(cable)])[0].why


def test_a_button_says_what_is_done_and_not_which_fields_are_set(wall: Wall) -> None:
    fans = [edit_call("add_device", ref=f"fan{n}", kind="cabinet_fan", place="tower") for n in (1, 2)]
    flow = wall.limits.value("cooling.fan_flow")
    assert does(fans, wall) == f"put 2 quiet fans in a tower, {flow:g} m³/h each"
    assert does(fans[:1], wall) == f"put a quiet fan in a tower, {flow:g} m³/h"
    freed = [edit_call("release", field=f"design.units.T1.{name}") for name in ("depth", "width", "x")]
    assert does(freed, wall) == "make T1 depth, width and left end automatic"
    white = [edit_call("set_panel_finish", ref="W1", finish="laminate_off_white")]
    white += [edit_call("set_unit_finish", ref=ref, finish="laminate_off_white") for ref in ("C1", "T1")]
    assert does(white, wall).startswith("finish W1, C1 and T1 in Laminate, off-white")
    device = wall.job.brief.devices[0]
    said = does([edit_call("set_device", ref=device.ref, place="tower")], wall)
    assert said.startswith("move the ") and said.endswith(f"({device.ref}) into a tower")
