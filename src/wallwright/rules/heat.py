"""Rules of heat: no bay much warmer than the room, none warmer than its devices bear, hot devices apart."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.cooling.record import BayHeat
from wallwright.cooling.stand import FAN, compartments
from wallwright.core.finding import Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.heat_cures import cooler
from wallwright.rules.registry import rule


@rule("services.hot_bay")
def hot_bay(wall: Wall) -> Iterator[Finding]:
    """No bay with devices gets much warmer than the room."""
    consider, fix = wall.limits["rule.rise_consider"], wall.limits["rule.rise_fix"]
    boxes = {bay.ref: bay.box for bay in wall.carcass.bays}
    inside = {bay.ref: "their compartment" for bay in wall.carcass.bays if bay.shelves}
    for bay in wall.cooling.bays:
        if bay.rise <= consider.value + 0.05 or heaters_in(wall, bay):
            continue
        hot = bay.rise > fix.value
        cure, edits = cooler(wall, bay, "hot")
        yield finding(
            "services.hot_bay",
            "fix" if hot else "consider",
            bay.bay,
            f"{bay.watts:.0f} W in {bay.bay} warm {inside.get(bay.bay, 'it')} {bay.rise:.1f} K above the room "
            f"(closed: {bay.rise_closed:.0f} K)",
            measured=round(bay.rise, 1),
            limit=fix if hot else consider,
            at=boxes.get(bay.bay),
            cure=cure,
            edits=edits,
        )


def heaters_in(wall: Wall, bay: BayHeat) -> tuple[str, ...]:
    """The heaters that somebody put into a bay: no opening cures that, so the rules of heaters speak of it."""
    kinds = load.devices()
    by_ref = {device.ref: device for device in wall.services.devices}
    return tuple(ref for ref in bay.devices if kinds[by_ref[ref].kind].heater)


@rule("cooling.device_air")
def device_air(wall: Wall) -> Iterator[Finding]:
    """The air round each device is no warmer than its maker allows."""
    kinds, room = load.devices(), wall.limits["cooling.room_temperature"]
    boxes = {bay.ref: bay.box for bay in wall.carcass.bays}
    kind_of = {device.ref: device.kind for device in wall.services.devices}
    for bay in wall.cooling.bays:
        least = min(
            (kinds[kind_of[ref]] for ref in bay.devices), key=lambda kind: kind.air_most, default=None
        )
        air = room.value + bay.rise
        if least is None or air <= least.air_most + 0.05 or heaters_in(wall, bay):
            continue
        cure, edits = cooler(wall, bay, "air")
        yield Finding(
            "cooling.device_air",
            "consider",
            bay.bay,
            f"the air in {bay.bay} comes to {air:.0f} °C in a room of {room.value:g} °C; {least.name} bears {least.air_most:g} °C",
            round(air, 1),
            least.air_most,
            "°C",
            f"{least.source} of {least.name}; enter the maker's",
            least.certainty,
            cure,
            edits,
            at=boxes.get(bay.bay),
        )


@rule("cooling.hot_together")
def hot_together(wall: Wall) -> Iterator[Finding]:
    """Hot devices stand apart: no two of them in one compartment."""
    limit, side = wall.limits["cooling.hot_device"], wall.limits.value("services.device_side_clear")
    bays = {bay.ref: bay for bay in wall.carcass.bays}
    by_ref = {device.ref: device for device in wall.services.devices}
    for heat in wall.cooling.bays:
        bay = bays[heat.bay]
        for level in compartments(bay, [by_ref[ref] for ref in heat.devices], side):
            hot = sorted(
                (d for d in level if d.watts >= limit.value and d.kind != FAN), key=lambda d: -d.watts
            )
            if len(hot) < 2:
                continue
            second = hot[1]
            elsewhere = "cabinet" if second.place == "tower" else "tower"
            kind = "console" if elsewhere == "cabinet" else "tower"
            there = any(unit.kind == kind for unit in wall.setout.units)
            yield finding(
                "cooling.hot_together",
                "consider",
                bay.ref,
                f"{hot[0].name} ({hot[0].watts:.0f} W) and {second.name} ({second.watts:.0f} W) stand together in {bay.ref}",
                measured=round(second.watts),
                limit=limit,
                at=bay.box,
                cure=f"stand {second.ref} in a {kind}"
                if there
                else f"divide {bay.ref}, one for each of them",
                edits=[edit_call("set_device", ref=second.ref, place=elsewhere)] if there else [],
            )
