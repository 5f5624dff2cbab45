"""A compartment too narrow for its boxes: what is there and what is needed are one pair of widths."""

from __future__ import annotations

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES

JOB = read_job(demo_jobs()["living"])


def test_the_clear_width_stands_against_the_width_needed() -> None:
    # a tower left to itself is made wide enough
    pinned = apply(JOB, "resize_unit", {"ref": "T1", "width": 450})
    wall = derive(apply(pinned, "set_device", {"ref": "game", "width": 400}))
    (item,) = (one for one in RULES["reach.device_width"].find(wall) if "game" in one.says)
    level = next(bay.box for bay in wall.carcass.bays if bay.ref == item.where)
    side = wall.limits.value("services.device_side_clear")
    names = item.says.split(" leave ")[0].split(" are ")[0].split(", ")
    wide = sum(device.width for device in wall.services.devices if device.ref in names)
    assert isinstance(item.limit, float) and item.limit - 1 < wide + side * len(names) <= item.limit
    assert isinstance(item.measured, int) and item.measured < item.limit
    assert item.measured <= round(level.width) and f"{item.measured} mm wide" in item.says
    assert f"{wide + side * len(names):.0f} mm clear" in item.cure
