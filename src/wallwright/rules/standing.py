"""Rules of where units and panels stand: clear of one another, within the wall, and of what is on it already."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from wallwright.carcass.record import PanelZone, UnitBox
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.job.survey import Obstacle
from wallwright.rules.registry import rule

TAKEN_AWAY = frozenset({"skirting", "cornice", "curtain", "other"})
"""What a joiner may take away without another trade: never a load-bearing part, an opening, a pipe, a cable or an appliance."""
FLAT = frozenset({"socket", "switch", "data_point", "cable", "skirting"})
"""What is not proud enough to be stood on: accessories and the skirting have rules of their own."""


PLACE = ("x", "z", "width", "height")
"""What may be given back to let two things part: where they stand and how large they are."""


def given_back(unit: UnitBox, *names: str) -> list[EditCall]:
    """The named pinned values of a unit given back to the program (all pinned ones where none are named)."""
    chosen = [name for name in sorted(unit.pinned) if not names or name in names]
    return [edit_call("release", field=f"design.units.{unit.ref}.{name}") for name in chosen]


def zone_given_back(zone: PanelZone, *names: str) -> list[EditCall]:
    """The named pinned measures of a panel given back to the program (all pinned ones where none are named)."""
    chosen = [name for name in sorted(zone.pinned) if not names or name in names]
    return [edit_call("release", field=f"design.panels.{zone.ref}.{name}") for name in chosen]


def _taken_away(thing: Obstacle) -> list[EditCall]:
    """The edit that takes an obstacle away, where a joiner may; nothing for what another trade must see first."""
    return (
        [edit_call("set_obstacle_state", ref=thing.ref, state="remove")] if thing.kind in TAKEN_AWAY else []
    )


def _built(wall: Wall) -> Iterator[tuple[str, Box, list[EditCall]]]:
    """Every unit and panel: its ref, its outline, and the edits that give its pinned measures back."""
    for unit in wall.setout.units:
        yield unit.ref, unit.box, given_back(unit, "x", "z", "width", "height")
    for zone in wall.setout.zones:
        yield zone.ref, zone.box, zone_given_back(zone, "x", "z", "width", "height")


@rule("carcass.units_meet")
def units_meet(wall: Wall) -> Iterator[Finding]:
    """No two units stand in the same place."""
    for one, other in combinations(wall.setout.units, 2):
        shared = one.box.shared(other.box)
        if shared is None or min(shared.width, shared.height) < 0.5:
            continue
        mover = one if one.pinned else other
        yield Finding(
            "carcass.units_meet",
            "fix",
            mover.ref,
            f"{one.ref} and {other.ref} overlap by {shared.width:.0f} × {shared.height:.0f} mm",
            round(min(shared.width, shared.height)),
            0,
            "mm",
            "geometry",
            "computed",
            f"let the program place {mover.ref} again",
            (*given_back(one, *PLACE), *given_back(other, *PLACE)),
            at=shared,
        )


@rule("carcass.outside_wall")
def outside_wall(wall: Wall) -> Iterator[Finding]:
    """Every unit and panel lies within the usable face of the wall."""
    face = wall.face.box.grown(0.5)
    for ref, box, edits in _built(wall):
        if face.holds(box):
            continue
        over = max(-box.x, box.right - wall.face.width, box.top - wall.face.height, -box.z)
        yield Finding(
            "carcass.outside_wall",
            "fix",
            ref,
            f"{ref} stands {over:.0f} mm beyond the wall",
            round(over),
            0,
            "mm",
            "geometry: the smallest width and height surveyed",
            "computed",
            f"let the program size and place {ref}",
            tuple(edits),
            at=box,
        )


@rule("carcass.unit_obstacle")
def unit_obstacle(wall: Wall) -> Iterator[Finding]:
    """No unit or panel stands on something that stays on the wall and is proud of it, nor covers an opening."""
    for ref, box, edits in _built(wall):
        for thing in wall.face.obstacles:
            shared = box.shared(obstacle_box(thing))
            if shared is None or thing.kind in FLAT or min(shared.width, shared.height) < 0.5:
                continue
            yield Finding(
                "carcass.unit_obstacle",
                "fix",
                ref,
                f"{ref} stands on the {thing.kind} {thing.ref} ({shared.width:.0f} × {shared.height:.0f} mm)",
                round(min(shared.width, shared.height)),
                0,
                "mm",
                "geometry",
                "computed",
                f"let the program place {ref} clear of it, or make {ref} narrower; {thing.ref} stays where it is"
                + (" unless it is taken away" if thing.kind in TAKEN_AWAY else ""),
                tuple(edits or _taken_away(thing)),
                at=shared,
            )


@rule("carcass.skirting_cut")
def skirting_cut(wall: Wall) -> Iterator[Finding]:
    """A standing unit goes to the wall: the skirting behind it is cut out, and the work is planned."""
    for ref, box, _ in _built(wall):
        for thing in wall.face.obstacles:
            shared = box.shared(obstacle_box(thing)) if thing.kind == "skirting" else None
            if shared is None or min(shared.width, shared.height) < 0.5:
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


@rule("carcass.drawer_clash")
def drawer_clash(wall: Wall) -> Iterator[Finding]:
    """Drawers, doors and flaps open without meeting another unit or anything proud of the wall."""
    blocks = [
        (thing, box, thing.projection.mm)
        for thing in wall.face.obstacles
        for box in [obstacle_box(thing)]
        if thing.projection.mm > 0
    ]
    for mover in wall.carcass.movers:
        for thing, box, out in blocks:
            ref, swept = thing.ref, mover.swept
            depth = -swept.y if swept.y < 0 else 0.0
            shared = swept.face.shared(box)
            if (
                shared is None
                or min(shared.width, shared.height) < 0.5
                or out <= -(swept.y + swept.dy)
                or depth <= 0
            ):
                continue
            unit = wall.setout.unit(mover.unit)
            yield Finding(
                "carcass.drawer_clash",
                "fix",
                mover.ref,
                f"{mover.kind} {mover.ref} meets {ref}, which stands {out:.0f} mm proud of the wall",
                round(min(shared.width, shared.height)),
                0,
                "mm",
                "geometry: swept volume",
                "computed",
                f"let the program place {unit.ref} clear of {ref}, or choose a front that opens less far",
                tuple(given_back(unit) or _taken_away(thing)),
                at=shared,
            )
