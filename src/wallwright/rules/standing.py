"""Rules of where units and panels stand: clear of one another, within the wall, and of what is on it already."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass.cabinet import skirting_notched
from wallwright.core.finding import Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.rules.places import Fault, cure, faults
from wallwright.rules.registry import rule


def _built(wall: Wall) -> Iterator[tuple[str, Box]]:
    """Every unit and panel: its ref and its outline."""
    for thing in (*wall.setout.units, *wall.setout.zones):
        yield thing.ref, thing.box


def _told(wall: Wall, kind: str) -> Iterator[Fault]:
    return (fault for fault in faults(wall) if fault.kind == kind)


def _fix(
    wall: Wall, rule_name: str, fault: Fault, says: str, measured: float, source: str = "geometry"
) -> Finding:
    """What must be put right, with the first way out that was seen to work."""
    way = cure(wall, fault)
    return Finding(
        rule_name, "fix", fault.where, says, round(measured), 0, "mm", source, "computed", way.says, way.edits, at=fault.at
    )  # fmt: skip


@rule("carcass.units_meet")
def units_meet(wall: Wall) -> Iterator[Finding]:
    """No two units stand in the same place."""
    yield from _meeting(wall, "units", "carcass.units_meet")


@rule("carcass.panels_meet")
def panels_meet(wall: Wall) -> Iterator[Finding]:
    """No two panels lie on the same stretch of wall."""
    yield from _meeting(wall, "panels", "carcass.panels_meet")


def _meeting(wall: Wall, kind: str, rule_name: str) -> Iterator[Finding]:
    for fault in _told(wall, kind):
        at = fault.at
        says = f"{fault.other} and {fault.where} overlap by {at.width:.0f} × {at.height:.0f} mm"
        yield _fix(wall, rule_name, fault, says, min(at.width, at.height))


@rule("carcass.outside_wall")
def outside_wall(wall: Wall) -> Iterator[Finding]:
    """Every unit and panel lies within the usable face of the wall."""
    for fault in _told(wall, "beyond"):
        box = fault.at
        over = max(-box.x, box.right - wall.face.width, box.top - wall.face.height, -box.z)
        says = f"{fault.where} stands {over:.0f} mm beyond the wall"
        source = "geometry: the smallest width and height surveyed"
        yield _fix(wall, "carcass.outside_wall", fault, says, over, source)


@rule("carcass.unit_obstacle")
def unit_obstacle(wall: Wall) -> Iterator[Finding]:
    """No unit or panel stands on something that stays on the wall and is proud of it, nor covers an opening.

    A unit that is built round a column, beam or pipe stands well.
    """
    kinds = {thing.ref: thing.kind for thing in wall.face.obstacles}
    for fault in _told(wall, "on"):
        at = fault.at
        says = f"{fault.where} stands on the {kinds[fault.other]} {fault.other} ({at.width:.0f} × {at.height:.0f} mm)"
        yield _fix(wall, "carcass.unit_obstacle", fault, says, min(at.width, at.height))


@rule("carcass.skirting_cut")
def skirting_cut(wall: Wall) -> Iterator[Finding]:
    """A standing unit goes to the wall: the skirting behind it is cut out, and the work is planned, unless it is notched over it."""
    notched = {unit.ref for unit in wall.setout.units if skirting_notched(unit, wall.job)}
    for ref, box in _built(wall):
        for thing in wall.face.obstacles:
            shared = box.shared(obstacle_box(thing)) if thing.kind == "skirting" else None
            if shared is None or min(shared.width, shared.height) < 0.5 or ref in notched:
                continue
            out = thing.projection.mm
            yield Finding(
                "carcass.skirting_cut",
                "note",
                ref,
                f"{ref} stands where the skirting {thing.ref} is, {out:.0f} mm proud of the wall",
                round(out),
                0,
                "mm",
                "common practice: the skirting is cut out behind fitted furniture, its ends made good against the sides",
                "common practice",
                f"cut the skirting out from x {shared.x:.0f} to {shared.right:.0f} and make good its ends; when it is cut, enter "
                "what is left of it in the survey",
                at=shared,
            )


@rule("carcass.under_ac")
def under_ac(wall: Wall) -> Iterator[Finding]:
    """Nothing tall stands beneath an air conditioner: it drips, it blows on the boards, and it is serviced from below."""
    limit = wall.limits["carcass.ac_clear"]
    for thing in wall.face.obstacles:
        box = obstacle_box(thing)
        for unit in wall.setout.units:
            gap = box.z - unit.box.top
            if thing.kind != "ac" or unit.box.shared_span(box) < 0.5 or not 0 <= gap < limit.value:
                continue
            yield finding(
                "carcass.under_ac",
                "consider",
                unit.ref,
                f"{unit.ref} stands {gap:.0f} mm under the air conditioner {thing.ref}, {unit.box.shared_span(box):.0f} mm of it "
                "beneath: no filler is closed up there",
                measured=round(gap),
                limit=limit,
                at=Box(max(unit.box.x, box.x), unit.box.top, unit.box.shared_span(box), max(gap, 1.0)),
                cure=f"make {unit.ref} end {limit.value:.0f} mm below it, move the unit aside, or have {thing.ref} moved",
                edits=[edit_call("resize_unit", ref=unit.ref, height=int(box.z - limit.value - unit.box.z))]
                if box.z - limit.value - unit.box.z > 300
                else [],
            )
