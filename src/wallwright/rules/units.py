"""Rules of single units: what is built round a column, carried in, written on, or opened before something else."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass.bays import carcass_finish
from wallwright.carcass.record import UnitBox
from wallwright.carcass.stock import stock
from wallwright.core.along import Along
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Block
from wallwright.derive import Wall
from wallwright.rules.places import given_back
from wallwright.rules.registry import rule


@rule("carcass.column_depth")
def column_depth(wall: Wall) -> Iterator[Finding]:
    """In front of a column or pipe that a unit is built round there is depth left for what is kept there."""
    limit = wall.limits["carcass.column_depth"]
    for item in wall.carcass.behind:
        if item.left >= limit.value - 0.5:
            continue
        depth = math.ceil(wall.setout.unit(item.unit).depth + limit.value - item.left - 1e-6)
        yield finding(
            "carcass.column_depth",
            "consider",
            item.unit,
            f"{item.unit} has {item.left:.0f} mm inside in front of {item.thing}, which stands {item.proud:.0f} mm proud",
            measured=round(item.left),
            limit=limit,
            at=item.box,
            cure=f"keep only shallow things there, or make {item.unit} {depth} mm deep",
            edits=[edit_call("resize_unit", ref=item.unit, depth=depth)],
        )


@rule("carcass.carried_in")
def carried_in(wall: Wall) -> Iterator[Finding]:
    """Every box of a unit comes in by the surveyed door, lift or stair."""
    spare = wall.limits["carcass.carry_spare"]
    for item in wall.carcass.carried:
        if item.passes:
            continue
        unit = next((unit for unit in wall.setout.units if unit.ref == item.unit and unit.cabinet), None)
        boxes = {thing.ref: thing.box for thing in (*wall.setout.units, *wall.setout.zones)}
        what = "box" if unit else "board"
        yield finding(
            "carcass.carried_in",
            "fix",
            item.unit,
            f"{what} {item.box}, {item.width:.0f} × {item.height:.0f} × {item.depth:.0f} mm, does not come in by the surveyed way",
            measured=round(max(item.width, item.height)),
            limit=spare,
            at=boxes[item.unit],
            cure="divide it into more bays, so that it is built of shorter boxes; or make it on site from loose boards"
            if unit
            else "order it in shorter lengths with a joint where one is not seen",
            edits=_finer(wall, unit) if unit else [],
        )


def _finer(wall: Wall, unit: UnitBox) -> list[EditCall]:
    """Every bay of a unit halved along the way they follow one another, so that it parts in more places."""
    bays: list[dict[str, object]] = []
    for bay in wall.carcass.bays:
        if bay.unit == unit.ref:
            half: dict[str, object] = {
                "front": bay.front,
                "drawers": max(1, bay.drawers),
                "shelves": bay.shelves // 2,
            }
            bays += [half, dict(half)]
    return [edit_call("set_unit_bays", ref=unit.ref, bays=bays)] if bays else []


@rule("carcass.writing_height")
def writing_height(wall: Wall) -> Iterator[Finding]:
    """The flap of a desk, let down, lies at a height at which one writes."""
    low, high = wall.limits["carcass.writing_low"], wall.limits["carcass.writing_high"]
    for unit in wall.setout.units:
        if unit.kind != "desk":
            continue
        t = stock(unit.board, carcass_finish(unit.board)).thickness
        height = unit.box.z + t
        if low.value - 0.5 <= height <= high.value + 0.5:
            continue
        to = wall.limits.value("carcass.writing_height") - t
        yield finding(
            "carcass.writing_height",
            "consider",
            unit.ref,
            f"the flap of {unit.ref} lies {height:.0f} mm above the floor",
            measured=round(height),
            limit=low if height < low.value else high,
            at=unit.box,
            cure=f"hang it with its underside at {to:.0f} mm",
            edits=[edit_call("move_unit", ref=unit.ref, z=round(to, 1))],
        )


@rule("carcass.knee_room")
def knee_room(wall: Wall) -> Iterator[Finding]:
    """Knees go under a desk."""
    limit = wall.limits["carcass.knee_room"]
    for unit in wall.setout.units:
        if unit.kind != "desk":
            continue
        below = [
            other.box.top
            for other in wall.setout.units
            if other.ref != unit.ref
            and other.box.shared_span(unit.box) > 1
            and other.box.top <= unit.box.z + 0.5
        ]
        clear = unit.box.z if not below else unit.box.z - max(below)
        if clear >= limit.value - 0.5:
            continue
        to = (
            wall.limits.value("carcass.writing_height")
            - stock(unit.board, carcass_finish(unit.board)).thickness
        )
        free: list[EditCall] = [] if below else [edit_call("move_unit", ref=unit.ref, z=round(to, 1))]
        yield finding(
            "carcass.knee_room",
            "consider",
            unit.ref,
            f"{clear:.0f} mm are clear under {unit.ref}"
            + (", for another unit stands there" if below else ""),
            measured=round(clear),
            limit=limit,
            at=unit.box,
            cure="keep the floor under it free, and hang it higher"
            if not below
            else f"set {unit.ref} beside what stands there",
            edits=free or given_back(unit, "x", "z", "width"),
        )


@rule("carcass.opens_into")
def opens_into(wall: Wall) -> Iterator[Finding]:
    """Nothing that opens meets another unit that stands further into the room."""
    bodies = [
        (unit, Block(unit.box.x, -unit.depth, unit.box.z, unit.box.width, unit.depth, unit.box.height))
        for unit in wall.setout.units
    ]
    along = Along((unit.box.x, unit.box.right) for unit in wall.setout.units)
    for mover in wall.carcass.movers:
        face = -(mover.swept.y + mover.swept.dy)
        for k in along.about(mover.swept.x, mover.swept.x + mover.swept.dx):
            unit, body = bodies[k]
            if unit.depth <= face or unit.ref == mover.unit:
                continue
            if mover.swept.overlap(body) < 1000.0:  # a cubic centimetre: more than a touch
                continue
            own = wall.setout.unit(mover.unit)
            proud = unit.depth - face
            yield Finding(
                "carcass.opens_into",
                "fix",
                mover.ref,
                f"{mover.kind.replace('_', '-')} {mover.ref} meets {unit.ref}, which stands {proud:.0f} mm further into the room",
                round(proud),
                0,
                "mm",
                "geometry: swept volume",
                "computed",
                f"make {unit.ref} no deeper than {own.ref}, or set them apart",
                tuple(
                    given_back(own, "x", "z", "width", "height")
                    + given_back(unit, "x", "z", "width", "height", "depth")
                ),
                at=unit.box,
            )
