"""What to do where a box is not reached or has no room: a cloth front, a repeater, a wider unit, another unit."""

from __future__ import annotations

from dataclasses import replace

from wallwright.cooling.stand import stand
from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.box_added import brings
from wallwright.rules.places import boards_of, changed
from wallwright.rules.reach_paths import standing
from wallwright.rules.registry import tries

REPEATER_PLACES = (
    ("auto", "beside the screen, its box in the console"),
    ("tower", "beside the screen, its box in a tower"),
    ("on_console", "beside the screen, its box on the console"),
    ("screen", "beside the screen, its box behind it"),
)


def with_repeater(wall: Wall) -> tuple[str, tuple[EditCall, ...]]:
    """A repeater where its box and its plug bring nothing that must be mended, tried on the wall; the words alone where there is none."""
    taken = {device.ref for device in wall.services.devices}
    ref = next(name for n in range(1, 1000) if (name := f"eye{n}") not in taken)
    stopped = ""
    if not tries():
        return "", ()
    for place, where in REPEATER_PLACES:
        edit = edit_call("add_device", ref=ref, kind="infrared_repeater", place=place)
        trouble = brings(wall, (edit,))
        if trouble == "":
            return f"put an infrared repeater {where}", (edit,)
        stopped = stopped or trouble or ""
    return (
        f"put an infrared repeater beside the screen, once there is a place for its box and plug; now it would bring this: {stopped}",
        (),
    )


def reached_behind_cloth(wall: Wall, bay: str, device: str) -> bool:
    """Whether a box still stands where its beam passes once that bay has a cloth front: it draws other boxes, and one that was reached
    may push this one out.
    """
    bays = [replace(one, front="cloth", ir_open=True) if one.ref == bay else one for one in wall.carcass.bays]
    after = {
        ref.ref: there for there, inside in stand(bays, wall.services.devices, wall.limits) for ref in inside
    }
    asked = [d.ref for d in wall.services.devices if d.control == "ir" and d.ref in after]
    reached = {item.device.ref for item in standing(wall) if item.bay is not None and item.bay.ir_open}
    return all(after[ref].ir_open for ref in asked if ref == device or ref in reached)


def _elsewhere(wall: Wall, kind: str) -> str:
    """The other sort of unit, where there is one: tower or console."""
    other = "console" if kind == "tower" else "tower"
    return other if any(unit.kind == other for unit in wall.setout.units) else ""


def wider(wall: Wall, kind: str, device: str, count: int, needed: float) -> str:
    """Room for the boxes of a bay, in words. kind : of unit · device : the widest · count : of boxes · needed : clear width [mm]"""
    other = _elsewhere(wall, kind)
    if count > 1 and other:
        return f"stand {device} in the {other}; together they need {needed:.0f} mm clear"
    return f"make the bay of {device} wider, or the unit: {needed:.0f} mm clear are needed"


def wider_edits(wall: Wall, kind: str, device: str, count: int, lacks: float) -> list[EditCall]:
    """The edit for it. lacks : of clear width, for each box [mm]"""
    other = _elsewhere(wall, kind)
    if count > 1 and other:
        return [edit_call("set_device", ref=device, place="cabinet" if other == "console" else "tower")]
    unit = wall.setout.unit(next(d.unit for d in wall.services.devices if d.ref == device))
    bays = sum(bay.unit == unit.ref for bay in wall.carcass.bays) if kind == "console" else 1
    board, widest = load.boards()[unit.board].thickness, unit.box.width + count * lacks * bays
    edits = [
        edit_call("resize_unit", ref=unit.ref, width=round(widest + joints * 2 * board) + 1)
        for joints in range(3)
    ]
    if kind != "console":
        return edits[:1]
    # a console that is longer may be built of more boxes, whose sides take of its width
    return [next((edit for edit in edits if _goes_in(wall, edit, device)), edits[0])]


def _goes_in(wall: Wall, edit: EditCall, device: str) -> bool:
    """Whether some bay of the unit takes that box with the air beside it then."""
    job = changed(wall.job, (edit,))
    after = boards_of(job) if job else None
    unit, box = next((d.unit, d.width) for d in wall.services.devices if d.ref == device)
    least = box + wall.limits.value("services.device_side_clear") - 0.5
    return after is not None and any(
        bay.box.width >= least for bay in after.carcass.bays if bay.unit == unit and bay.front != "drawers"
    )
