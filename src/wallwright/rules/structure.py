"""Rules of structure: shelves that stay straight, things that stay on the wall, towers that stay up."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.finding import Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.bays import front_edit
from wallwright.rules.registry import rule


def _stiffer_board(now: str, times: float) -> str:
    """The cheapest-to-find board whose E·t³ is at least `times` that of `now`; "" where none is. Straight-grained ply first."""
    boards = load.boards()
    need = boards[now].modulus * boards[now].thickness ** 3 * times
    fit = [
        board
        for board in boards.values()
        if board.modulus * board.thickness**3 >= need and board.thickness >= 15
    ]
    return min(fit, key=lambda board: board.modulus * board.thickness**3).key if fit else ""


@rule("structure.shelf_sag")
def shelf_sag(wall: Wall) -> Iterator[Finding]:
    """A loaded shelf looks straight today and after years."""
    now, later = wall.limits["structure.sag_ratio"], wall.limits["structure.sag_later_ratio"]
    boards = {shelf.ref: shelf.board for shelf in wall.carcass.shelves}
    places = {shelf.ref: shelf.box for shelf in wall.carcass.shelves}
    for shelf in wall.structure.shelves:
        first = shelf.span / shelf.sag if shelf.sag else float("inf")
        last = shelf.span / shelf.sag_later if shelf.sag_later else float("inf")
        if first >= now.value and last >= later.value:
            continue
        limit = later if last < later.value else now
        short = max(now.value / first, later.value / last)
        board = boards.get(shelf.ref, "")
        # a board that creeps less helps twice; the factor 1.3 leaves room for its own heavier weight
        pick = _stiffer_board(board, short * 1.3) if board else ""
        yield finding(
            "structure.shelf_sag",
            "fix",
            shelf.ref,
            f"shelf {shelf.ref} sags {shelf.sag:.1f} mm at once and {shelf.sag_later:.1f} mm in time over {shelf.span:.0f} mm",
            measured=round(last if limit is later else first),
            limit=limit,
            at=places.get(shelf.ref),
            cure=f"keep the span below {shelf.longest:.0f} mm with an upright"
            + (f", or make it of {load.boards()[pick].name}" if pick else ""),
            edits=[edit_call("set_unit_board", ref=shelf.unit, board=pick)] if pick else [],
        )


@rule("structure.fixing")
def fixing(wall: Wall) -> Iterator[Finding]:
    """What hangs on the wall is held by enough fixings of the right kind, in sound material."""
    limit = wall.limits["rule.fixing_used"]
    for check in wall.structure.fixings:
        unit = next((item for item in wall.setout.units if item.ref == check.ref), None)
        at = unit.box if unit else wall.sight.screen.frame
        if check.capacity_pull <= 0:
            yield Finding(
                "structure.fixing",
                "danger",
                check.ref,
                f"{check.what} ({check.mass:.0f} kg, pull {check.pull:.0f} N) cannot be fixed: "
                "nobody knows what this wall holds",
                round(check.pull),
                "a known wall",
                "N",
                "common practice: no capacity without a known base material",
                "common practice",
                "identify the wall first; then the fixings are chosen",
                at=at,
            )
        elif check.used > limit.value:
            yield finding(
                "structure.fixing",
                "danger",
                check.ref,
                f"{check.what}: {check.count} fixings ({check.anchor}) are used to {check.used:.0%} of what they may carry "
                f"(pull {check.pull:.0f} N, shear {check.shear:.0f} N)",
                measured=round(check.used, 2),
                limit=limit,
                at=at,
                cure=f"use {check.needed} fixings, let a backer into the wall, or stand it on the floor",
                edits=[edit_call("set_unit_hung", ref=check.ref, hung=False)]
                if unit is not None and unit.hung and unit.kind != "shelf"
                else [],
            )


@rule("structure.loose_tower")
def loose_tower(wall: Wall) -> Iterator[Finding]:
    """Every tall unit is fixed to the wall near its top, whatever the age of the household."""
    limit = wall.limits["structure.tower_anchor_from"]
    for tower in wall.structure.towers:
        unit = wall.setout.unit(tower.ref)
        if tower.anchored or unit.box.top <= limit.value:
            continue
        yield finding(
            "structure.loose_tower",
            "danger",
            tower.ref,
            f"{tower.ref} ({tower.mass:.0f} kg) tips over at a push of {tower.push_to_tip:.0f} N at its top and is not anchored",
            measured=round(unit.box.top),
            limit=limit,
            at=unit.box,
            cure="fix it to the wall near its top in two places",
            edits=[edit_call("anchor_unit", ref=tower.ref)],
        )


@rule("structure.cladding")
def cladding(wall: Wall) -> Iterator[Finding]:
    """A facing is not heavier than the weakest layer behind it carries."""
    limit = wall.limits["rule.fixing_used"]
    for check in wall.structure.cladding:
        if check.mass_per_m2 <= check.carries:
            continue
        zone = next(zone for zone in wall.setout.zones if zone.ref == check.ref)
        yield Finding(
            "structure.cladding",
            "danger",
            check.ref,
            f"{check.ref} weighs {check.mass_per_m2:.0f} kg/m² with adhesive; {check.layer} carries {check.carries:.0f}",
            round(check.mass_per_m2, 1),
            check.carries,
            "kg/m²",
            f"tile trade tables after BS 5385-1 ({limit.name})",
            "published",
            "use flexible stone veneer on board, or a mechanically fixed frame designed by an engineer",
            (edit_call("set_panel_finish", ref=check.ref, finish="stone_veneer_white"),),
            at=zone.box,
        )


@rule("structure.climb")
def climb(wall: Wall) -> Iterator[Finding]:
    """Where a small child lives, nothing under or beside the screen is a ladder."""
    age = wall.limits["rule.child_age"]
    limit = wall.limits["rule.climb_height"]
    children = [
        person for person in wall.job.brief.people if person.age is not None and person.age < age.value
    ]
    if not children:
        return
    consoles = {unit.ref for unit in wall.setout.units if unit.kind == "console"}
    for bay in wall.carcass.bays:
        steps = bay.shelves + 1
        if bay.front != "open" or bay.unit not in consoles or bay.box.z >= limit.value or steps < 2:
            continue
        yield finding(
            "structure.climb",
            "danger",
            bay.ref,
            f"the open shelves of {bay.ref} are steps to the screen for a child of {children[0].age:.0f}",
            measured=round(bay.box.z),
            limit=limit,
            at=bay.box,
            cure="close the bay with drawers (restrictors) or a door",
            edits=[front_edit(wall, bay.ref, "drawers")],
        )


@rule("structure.rented")
def rented(wall: Wall) -> Iterator[Finding]:
    """In a rented flat the holes are few and can be made good."""
    if wall.job.brief.tenure != "rent":
        return
    limit = wall.limits["rule.holes_rented"]
    holes = sum(check.count for check in wall.structure.fixings)
    if holes <= limit.value:
        return
    hung = [unit for unit in wall.setout.units if unit.hung and unit.kind == "console"]
    yield finding(
        "structure.rented",
        "consider",
        "wall",
        f"{holes} holes in a rented wall",
        measured=holes,
        limit=limit,
        at=wall.face.box,
        cure="stand the console on the floor and fix only the screen; agree the rest with the landlord in writing",
        edits=[edit_call("set_unit_hung", ref=unit.ref, hung=False) for unit in hung],
    )
