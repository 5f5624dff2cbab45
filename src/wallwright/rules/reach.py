"""Rules of reach: remotes, radio, sound, room for boxes and their plugs, drivers that can be changed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from wallwright.cooling.stand import FAN, levels
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.bays import bare_edit, front_edit
from wallwright.rules.reach_cures import reached_behind_cloth, wider, wider_edits, with_repeater
from wallwright.rules.reach_paths import (
    Standing,
    beams,
    radio_loss,
    repeater,
    screen_beams,
    screen_eye,
    standing,
    works_by_radio,
)
from wallwright.rules.registry import rule

HEARD_THROUGH = ("open", "cloth")


@rule("services.remote_blocked")
def remote_blocked(wall: Wall) -> Iterator[Finding]:
    """A box with an infrared remote is reached from every seat: through its front, past what stands between, not too far aside."""
    if repeater(wall):
        return
    found, bays = beams(wall), {item.device.ref: item.bay for item in standing(wall)}
    cone = wall.limits.value("reach.ir_cone")
    by_repeater: tuple[str, tuple[EditCall, ...]] | None = None
    for device in wall.services.devices:
        theirs = [one for one in found if one.device == device.ref]
        stopped = [one for one in theirs if one.stopped]
        if not stopped:
            continue
        bay = bays[device.ref]
        cloth = (
            bay is not None
            and (not bay.ir_open or bay.front == "slatted")
            and all(one.angle <= cone for one in stopped)
        )
        cloth = cloth and bay is not None and reached_behind_cloth(wall, bay.ref, device.ref)
        if bay is not None and cloth:
            cure, edits = f"give {bay.ref} a cloth front", (front_edit(wall, bay.ref, "cloth"),)
        else:
            by_repeater = by_repeater or with_repeater(wall)
            cure, edits = by_repeater
            by_repeater = cure, ()  # one repeater serves them all
        yield Finding(
            "services.remote_blocked",
            "fix" if len(stopped) == len(theirs) else "consider",
            device.ref,
            f"{device.name} ({device.ref}) is worked by infrared; from seat {', '.join(one.seat for one in stopped)} its beam is "
            f"stopped by {stopped[0].stopped}",
            f"{len(theirs) - len(stopped)} of {len(theirs)} seats",
            "every seat",
            "",
            "common practice: glass, cloth or an open bay, slats in part; or a repeater eye",
            "common practice",
            cure,
            edits,
            at=bay.box if bay else None,
        )


@rule("reach.slats")
def slats(wall: Wall) -> Iterator[Finding]:
    """A remote that must work between slats is tried before the slats are made."""
    if repeater(wall):
        return
    found, bays = beams(wall), {item.device.ref: item.bay for item in standing(wall)}
    limit = wall.limits["carcass.slat_open"]
    for device in wall.services.devices:
        bay = bays.get(device.ref)
        theirs = [one for one in found if one.device == device.ref and not one.stopped]
        if bay is None or bay.front != "slatted" or not theirs:
            continue
        least = min(theirs, key=lambda one: one.share)
        yield finding(
            "reach.slats",
            "consider",
            device.ref,
            f"{device.name} ({device.ref}) is worked through the slats of {bay.ref}: from seat {least.seat} {100 * least.share:.0f} % of "
            "its beam passes",
            measured=round(least.share, 2),
            limit=limit,
            at=bay.box,
            cure=f"try its remote through a sample before the slats are made, or give {bay.ref} a cloth front",
            edits=[front_edit(wall, bay.ref, "cloth")],
        )


@rule("reach.screen_eye")
def eye_of_the_screen(wall: Wall) -> Iterator[Finding]:
    """The soundbar does not stand before the screen's own infrared eye."""
    limit = wall.limits["reach.screen_eye_clear"]
    low = [(clear, seat, gain) for seat, clear, gain in screen_beams(wall) if clear < limit.value - 0.5]
    if not low:
        return
    clear, seat, gain = min(low)
    eye, assumed = screen_eye(wall)
    rise = (limit.value - clear) * gain
    said = (
        "taken to be at the middle of its lower edge; enter the maker's drawing" if assumed else "as entered"
    )
    yield finding(
        "reach.screen_eye",
        "consider",
        "screen",
        f"from seat {seat} the remote's beam to the screen's eye ({said}) passes {clear:.0f} mm over the soundbar",
        measured=round(clear),
        limit=limit,
        at=eye,
        cure=f"hang the screen {rise:.0f} mm higher, or use a lower bar",
        edits=[edit_call("set_screen_height", centre_height=round(wall.sight.screen.centre[1] + rise) + 1)],
    )


@rule("reach.radio")
def radio(wall: Wall) -> Iterator[Finding]:
    """No metal, mirror, stone or screen stands between a radio and the room."""
    consider, fix = wall.limits["reach.radio_consider"], wall.limits["reach.radio_fix"]
    for item in standing(wall):
        if not works_by_radio(wall, item):
            continue
        loss, through = radio_loss(wall, item)
        if loss <= consider.value:
            continue
        bad = loss > fix.value
        cure, edits = _radio_cure(wall, item)
        yield finding(
            "reach.radio",
            "fix" if bad else "consider",
            item.device.ref,
            f"{item.device.name} ({item.device.ref}) loses {loss:.0f} dB through {' and '.join(through)}",
            measured=round(loss),
            limit=fix if bad else consider,
            at=item.box,
            cure=cure,
            edits=edits,
        )


def _radio_cure(wall: Wall, item: Standing) -> tuple[str, list[EditCall]]:
    """Another front where the front takes it; where the screen does, another place."""
    by_front = item.bay is not None and item.bay.front not in HEARD_THROUGH
    _, through = radio_loss(wall, item)
    if by_front and item.bay and not any("screen" in words for words in through):
        return f"give {item.bay.ref} a cloth front", [front_edit(wall, item.bay.ref, "cloth")]
    away = "tower" if any(unit.kind == "tower" for unit in wall.setout.units) else "cabinet"
    if item.device.place == away:
        return "move it more than 300 mm from the screen, or bring a data outlet to another place for it", []
    return f"stand {item.device.ref} in the {away}, or bring it a data cable", [
        edit_call("set_device", ref=item.device.ref, place=away)
    ]


@rule("services.device_depth")
def device_depth(wall: Wall) -> Iterator[Finding]:
    """Each box fits its bay in depth, with its plugs and their bend behind it."""
    limit = wall.limits["rule.plug_depth"]
    for item in standing(wall):
        if item.bay is None:
            continue
        device, unit = item.device, wall.setout.unit(item.bay.unit)
        spare = item.bay.depth - device.depth
        if spare >= limit.value - 0.5:
            continue
        to = unit.depth + limit.value - spare
        yield finding(
            "services.device_depth",
            "fix",
            device.ref,
            f"{device.name} is {device.depth:.0f} mm deep and leaves {spare:.0f} mm for plugs in {item.bay.ref}",
            measured=round(spare),
            limit=limit,
            at=unit.box,
            cure=f"make {unit.ref} {to:.0f} mm deep",
            edits=[edit_call("resize_unit", ref=unit.ref, depth=round(to) + 1)],
        )


@rule("reach.device_height")
def device_height(wall: Wall) -> Iterator[Finding]:
    """Each box has air over it in its compartment."""
    limit = wall.limits["services.device_top_clear"]
    for item in standing(wall):
        if item.bay is None or item.level is None:
            continue
        device, unit = item.device, wall.setout.unit(item.bay.unit)
        spare = item.level.height - device.height
        if spare >= (0.0 if device.kind == FAN else limit.value - 0.5):  # a fan hangs behind a grille
            continue
        bare = item.bay.shelves > 0 and item.bay.box.height - device.height >= limit.value
        lacks = (limit.value - spare) * levels(item.bay)
        to = unit.box.height + lacks
        yield finding(
            "reach.device_height",
            "fix",
            device.ref,
            f"{device.name} is {device.height:.0f} mm high and has {spare:.0f} mm over it in {item.bay.ref}",
            measured=round(spare),
            limit=limit,
            at=item.bay.box,
            cure=f"take the shelves out of {item.bay.ref}" if bare else f"make {unit.ref} {to:.0f} mm high",
            edits=[
                bare_edit(wall, item.bay.ref)
                if bare
                else edit_call("resize_unit", ref=unit.ref, height=round(to) + 1)
            ],
        )


@rule("reach.device_width")
def device_width(wall: Wall) -> Iterator[Finding]:
    """The boxes of one compartment stand side by side with air between them, and a hand can get at their plugs."""
    limit = wall.limits["services.device_side_clear"]
    there: dict[tuple[str, float], list[Standing]] = {}
    for item in standing(wall):
        if (
            item.bay is not None and item.level is not None and item.device.kind != FAN
        ):  # it hangs behind a grille
            there.setdefault((item.bay.ref, item.level.z), []).append(item)
    for items in there.values():
        bay, level = items[0].bay, items[0].level
        if bay is None or level is None:
            continue
        wide = sum(item.device.width for item in items)
        spare, needed = level.width - wide, wide + limit.value * len(items)
        each = spare / len(items)
        if each >= limit.value - 0.5:
            continue
        unit = wall.setout.unit(bay.unit)
        widest = max(items, key=lambda item: item.device.width).device
        names = ", ".join(item.device.ref for item in items)
        yield finding(
            "reach.device_width",
            "fix" if spare < 0 else "consider",
            bay.ref,
            f"{names} leave {max(each, 0):.0f} mm beside each in {bay.ref}, {level.width:.0f} mm wide"
            if spare >= 0
            else f"{bay.ref} is {level.width:.0f} mm wide inside, and {names} {wide:.0f} mm{' together' if len(items) > 1 else ''}",
            measured=round(level.width),
            limit=replace(limit, value=float(math.ceil(needed))),
            at=bay.box,
            cure=wider(wall, unit.kind, widest.ref, len(items), needed),
            edits=wider_edits(wall, unit.kind, widest.ref, len(items), limit.value - each),
        )


@rule("reach.sound_front")
def sound_front(wall: Wall) -> Iterator[Finding]:
    """What is heard stands behind cloth or in the open, not behind a board or glass."""
    for item in standing(wall):
        kind = load.devices()[item.device.kind]
        if (
            not kind.sound
            or item.device.kind == "subwoofer"
            or item.bay is None
            or item.bay.front in HEARD_THROUGH
        ):
            continue
        yield Finding(
            "reach.sound_front",
            "fix",
            item.device.ref,
            f"{item.device.name} ({item.device.ref}) stands behind the {item.bay.front} front of {item.bay.ref}",
            item.bay.front,
            "open or cloth",
            "",
            "common practice: a board or glass before a speaker takes the speech out of it",
            "common practice",
            f"give {item.bay.ref} a cloth front",
            (front_edit(wall, item.bay.ref, "cloth"),),
            at=item.bay.box,
        )


@rule("reach.sub_boom")
def sub_boom(wall: Wall) -> Iterator[Finding]:
    """No subwoofer stands in a closed bay: it booms, and panels buzz."""
    for item in standing(wall):
        if item.device.kind != "subwoofer" or item.bay is None or item.bay.front in HEARD_THROUGH:
            continue
        yield Finding(
            "reach.sub_boom",
            "consider",
            item.device.ref,
            f"{item.device.name} ({item.device.ref}) stands in {item.bay.ref}, closed by its {item.bay.front} front",
            item.bay.front,
            "open or cloth, on a foot of its own",
            "",
            "common practice: a closed bay booms and thin backs buzz",
            "common practice",
            f"give {item.bay.ref} a cloth front and stand it on soft feet, or beside the wall on the floor",
            (front_edit(wall, item.bay.ref, "cloth"),),
            at=item.bay.box,
        )


@rule("reach.driver")
def driver(wall: Wall) -> Iterator[Finding]:
    """Each LED driver is changed with one tool: in a bay that opens, or above a hatch."""
    for run in wall.light.runs:
        feed = next((p for p in wall.services.points if p.kind == "led_feed" and run.ref in p.serves), None)
        if run.driver_place == "ceiling":
            yield Finding(
                "reach.driver",
                "note",
                run.ref,
                f"the driver of {run.ref} is above the ceiling: it wants a hatch of 300 × 300 mm below it, on the ceiling plan",
                "above the ceiling",
                "reached with one tool",
                "",
                "common practice: drivers fail before strips; reach them with one tool, 50 mm of air around",
                "common practice",
                "draw the hatch, or put the driver in the cabinet",
                (edit_call("set_light", ref=run.ref, driver_place="cabinet"),),
            )
            continue
        if run.driver_place != "cabinet" or feed is None:
            continue
        place = Box(feed.x, feed.z, 0.0, 0.0)
        unit = next((unit for unit in wall.setout.units if unit.cabinet and unit.box.holds(place)), None)
        if unit is None or any(bay.box.holds(place) for bay in wall.carcass.bays):
            continue
        yield Finding(
            "reach.driver",
            "consider",
            run.ref,
            f"the driver of {run.ref} is fed at {feed.ref}, where no bay of {unit.ref} opens",
            "between boards",
            "in a bay",
            "",
            "common practice: drivers fail before strips; reach them with one tool, 50 mm of air around",
            "common practice",
            f"move {feed.ref} behind a bay of {unit.ref}",
            at=feed.box,
        )
