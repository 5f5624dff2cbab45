"""The rule of the way out of a strip's light: what fills the void behind a panel does not stand in it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass.cladding import longest_overhang
from wallwright.carcass.record import PanelZone
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.light.blocked import in_void, stretches
from wallwright.light.record import LightRun
from wallwright.rules.registry import rule


@rule("light.run_blocked")
def run_blocked(wall: Wall) -> Iterator[Finding]:
    """The light of a strip behind a panel comes out at the panel's edge: no batten and no packing stands in its way."""
    limit, profile = wall.limits["light.blocked"], wall.limits.value("light.profile_width")
    for run in wall.light.runs:
        parts = in_void(run, wall.carcass.parts)
        shut = [one for one in stretches(run, [part.block.face for part in parts], profile) if not one.clear]
        length = sum(one.length for one in shut)
        if length <= limit.value:
            continue
        zone = next(zone for zone in wall.setout.zones if zone.ref == run.of)
        battens = [part.block.face for part in parts if part.role == "batten"]
        by_battens = any(not one.clear for one in stretches(run, battens, profile))
        cure, edits = _cure(wall, run, zone, by_battens=by_battens)
        yield finding(
            "light.run_blocked",
            "fix" if by_battens else "consider",
            run.ref,
            f"{'battens stand' if by_battens else 'packing stands'} between {run.ref} and the edge of {zone.ref} along {length:.0f} of "
            f"{run.length:.0f} mm: no light comes out there",
            measured=round(length),
            limit=limit,
            at=zone.box,
            cure=cure,
            edits=edits,
        )


def _cure(wall: Wall, run: LightRun, zone: PanelZone, *, by_battens: bool) -> tuple[str, list[EditCall]]:
    """The strip nearer the edge, where the battens can make way for it and no eye meets it; else what a person settles."""
    if not by_battens:
        return "end the strip on both sides of the packing, or move what hangs there off the strip's line", []
    over = longest_overhang(zone, wall.limits)
    beside = wall.limits.value("light.profile_width") + wall.limits.value("carcass.light_clear")
    back = math.floor(over - beside)
    if 0 < back < run.setback and run.hide_setback is not None and back >= run.hide_setback:
        says = f"lay it {back} mm behind the edge: the battens then make way, and {zone.ref} stands out {over:.0f} mm past them at most"
        return says, [edit_call("set_light", ref=run.ref, setback=back)]
    return f"no batten can stand far enough in: make {zone.ref} wider, or lay the strip elsewhere", []
