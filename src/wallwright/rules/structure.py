"""Rules of structure: shelves that stay straight, things that stay on the wall, towers that stay up."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from wallwright.carcass.record import UnitBox
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.bays import front_edit, split_edit
from wallwright.rules.bearing import can_be_made_of, may_stand, stand_edit
from wallwright.rules.fixing_cures import one_line, rods, too_few
from wallwright.rules.registry import rule
from wallwright.structure.record import CladdingCheck, FixingCheck, ShelfCheck
from wallwright.structure.rows import evenly
from wallwright.structure.wall import FRAMED, NO_RODS, THIN, UNFOUND


def _stiffer_board(wall: Wall, unit: str, now: str, times: float, tried: dict[tuple[str, str], bool]) -> str:
    """The board whose E·t³ is at least `times` that of `now`, the least stiff first, and of which the unit can be made; "" where
    none is.
    """
    boards = load.boards()
    need = boards[now].modulus * boards[now].thickness ** 3 * times
    fit = [
        board
        for board in boards.values()
        if board.modulus * board.thickness**3 >= need and board.thickness >= 15
    ]
    by_stiffness = sorted(fit, key=lambda board: board.modulus * board.thickness**3)
    return next((board.key for board in by_stiffness if can_be_made_of(wall, unit, board.key, tried)), "")


@rule("structure.shelf_sag")
def shelf_sag(wall: Wall) -> Iterator[Finding]:
    """A loaded shelf looks straight today and after years."""
    now, later = wall.limits["structure.sag_ratio"], wall.limits["structure.sag_later_ratio"]
    boards = {shelf.ref: shelf.board for shelf in wall.carcass.shelves}
    places = {shelf.ref: shelf.box for shelf in wall.carcass.shelves}
    tried: dict[tuple[str, str], bool] = {}
    for shelf in wall.structure.shelves:
        first = shelf.span / shelf.sag if shelf.sag else float("inf")
        last = shelf.span / shelf.sag_later if shelf.sag_later else float("inf")
        if first >= now.value and last >= later.value:
            continue
        limit = later if last < later.value else now
        short = max(now.value / first, later.value / last)
        board = boards.get(shelf.ref, "")
        # a board that creeps less helps twice; the margin leaves room for its own heavier weight
        times = short * wall.limits.value("structure.stiffer")
        pick = _stiffer_board(wall, shelf.unit, board, times, tried) if board else ""
        edit = edit_call("set_unit_board", ref=shelf.unit, board=pick) if pick else _shorter(wall, shelf)
        yield finding(
            "structure.shelf_sag",
            "fix",
            shelf.ref,
            f"shelf {shelf.ref} sags {shelf.sag:.1f} mm at once and {shelf.sag_later:.1f} mm in time over {shelf.span:.0f} mm",
            measured=round(last if limit is later else first),
            limit=limit,
            at=places.get(shelf.ref),
            cure=f"keep the span below {shelf.longest:.0f} mm with an upright"
            + (f", or make it of {load.boards()[pick].name}" if pick else "")
            + (
                f", or make it {dict(edit.values)['width']} mm wide"
                if edit and edit.edit == "resize_unit"
                else ""
            ),
            edits=[edit] if edit else [],
        )


def _shorter(wall: Wall, shelf: ShelfCheck) -> EditCall | None:
    """Where no board of the library is stiff enough: uprights in its bay, else a narrower tower. None for a board on rods."""
    unit = wall.setout.unit(shelf.unit)
    if not unit.cabinet:
        return None
    if split := split_edit(wall, shelf.ref.rpartition("-")[0], shelf.span, shelf.longest):
        return split
    least = min(
        one.longest - one.span for one in wall.structure.shelves if one.unit == unit.ref and one.span > 0
    )
    narrower = math.floor(unit.box.width + least - 1)
    return edit_call("resize_unit", ref=unit.ref, width=narrower) if narrower >= 200 else None


@rule("structure.fixing")
def fixing(wall: Wall) -> Iterator[Finding]:
    """What hangs on the wall is held by enough fixings of the right kind, in sound material."""
    limit = wall.limits["rule.fixing_used"]
    for check in wall.structure.fixings:
        unit = next((item for item in wall.setout.units if item.ref == check.ref), None)
        at = unit.box if unit else wall.sight.screen.frame
        if check.anchor in (UNFOUND, NO_RODS):
            continue  # structure.studs_unknown, structure.rods say so
        if check.into:
            yield _not_the_wall(wall, check, at)
        elif check.capacity_pull <= 0:
            thin = check.anchor == THIN
            yield Finding(
                "structure.fixing",
                "danger",
                check.ref,
                f"{check.what} ({check.mass:.0f} kg, pull {check.pull:.0f} N) cannot be fixed: "
                + ("this wall is too thin for any fixing" if thin else "nobody knows what this wall holds"),
                round(check.pull),
                "a thicker wall" if thin else "a known wall",
                "N",
                "common practice: no capacity without a known base material, nor where a hole bursts the far face",
                "common practice",
                ("stand it on the floor; " if unit and may_stand(unit) else "hang it elsewhere; ")
                + "bolts right through to a plate on the far side are an engineer's to design"
                if thin
                else "identify the wall first: knock (dull is solid, hollow is boarding), look at the dust of a fine test hole "
                "behind the screen, measure the leaf at a door or a box; then the fixings are chosen",
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
                cure=_by_cause(wall, check, unit),
                edits=stand_edit(unit) if unit else [],
            )


def _by_cause(wall: Wall, check: FixingCheck, unit: UnitBox | None) -> str:
    """What helps fixings that are used too far: by what uses them most."""
    ways = _ways(check, wall.job.survey.wall.substrate, _set_evenly(wall, check, unit), unit)
    if unit is not None and may_stand(unit):
        ways.append("stand it on the floor")
    elif unit is not None and unit.hung:
        ways.append("make it shallower, or share it between two units")
    return ", or ".join(ways)


def _set_evenly(wall: Wall, check: FixingCheck, unit: UnitBox | None) -> float:
    """How far its worst fixing would be used if as many lines of holes stood evenly along it, like supports of a beam; a plate of steel
    shares alike then.
    """
    lines = len({round(x, 1) for x, _ in check.holes})
    if lines < 2:
        return check.used
    end = wall.limits.value("structure.hole_end")
    best = 1.0 if unit is None else evenly(lines, (unit.box.x, unit.box.right), end)
    return check.used * check.group / check.uneven * min(best, check.uneven)


def _ways(check: FixingCheck, substrate: str, even: float, unit: UnitBox | None = None) -> list[str]:
    """The cause first: one line of holes, bending across packing, an edge or one another too near, one side, too few, too weak.

    even : how far its worst fixing would be used with its holes set out evenly, clear of one another
    """
    framed = substrate in FRAMED and not check.on
    if len({round(x, 1) for x, _ in check.holes}) < 2:
        return [one_line(check, unit, framed=framed)]
    if check.rods:
        return rods()
    if check.bending > check.bending_most > 0:
        return [
            f"leave the panel out behind it, so that it bears on the wall: its fixings bend across {check.packing:.0f} mm of build-up"
            + (
                f"; {check.needed} would do, where there is room for them"
                if check.needed > check.count
                else ""
            )
        ]
    if check.group <= 0:
        return ["move it: a hole falls into an opening of the wall"]
    alone = check.used * check.group
    if alone <= 1:
        near = f"its {check.count} fixings keep {check.group:.0%} beside one another or an edge: they want {check.spacing:.0f} mm"
        return [
            f"{near}; take a larger plate or a wider unit" if check.ref == "screen" else f"{near}; widen it"
        ]
    if even <= 1:
        near = "move it over the studs" if framed else "move it clear of what its fixings have to miss"
        return [f"its fixings stand to one side, the worst takes {check.uneven:.1f} × the mean: {near}"]
    backer = ["let a backer into the wall"] if framed and check.backer is None else []
    if check.needed > check.count:
        few = too_few(check, unit, substrate)
        return few if check.ref == "screen" or (unit and unit.tall) else [*few, *backer]
    return ["make it lighter", *backer]


def _not_the_wall(wall: Wall, check: FixingCheck, at: Box) -> Finding:
    """A column, beam or pipe stands where the fixings would go: what it is must be known first, and it must take all of them."""
    names = " and ".join(check.into)
    known = {thing.ref for thing in wall.job.survey.obstacles if thing.substrate != "unknown"}
    if known.issuperset(check.into):
        return Finding(
            "structure.fixing",
            "danger",
            check.ref,
            f"{check.what} (pull {check.pull:.0f} N) cannot be fixed: its fixings fall partly on {names}, partly beside it",
            round(check.pull),
            "one base behind it",
            "N",
            "common practice: a plate's fixings are alike, and each base asks for its own",
            "common practice",
            f"move it wholly onto {names} or wholly off it",
            at=at,
        )
    return Finding(
        "structure.fixing",
        "danger",
        check.ref,
        f"{check.what} (pull {check.pull:.0f} N) cannot be fixed: {names} stands where its fixings go, and nobody knows what that is",
        round(check.pull),
        "a known wall",
        "N",
        "common practice: a column is no wall: concrete, steel or a boxed-in pipe, each held otherwise or not at all",
        "common practice",
        f"find out what {names} is, and enter a column's or beam's substrate: one of the building's frame is its engineer's to allow "
        "a hole in, a boxed-in pipe takes none; or move it so that the wall itself is behind its fixings, or screw it to a neighbour that is fixed",
        at=at,
    )


@rule("structure.fixing_spacing")
def fixing_spacing(wall: Wall) -> Iterator[Finding]:
    """Holes of a row keep the distance from which fixings lose nothing to one another; far under it they burst what is between."""
    limit = wall.limits["structure.least_spacing"]
    for check in wall.structure.fixings:
        gap = _nearest(check)
        if gap >= check.spacing - 0.1:
            continue
        unit = next((item for item in wall.setout.units if item.ref == check.ref), None)
        share = gap / check.spacing
        yield finding(
            "structure.fixing_spacing",
            "consider" if share >= limit.value else "danger",
            check.ref,
            f"two holes of {check.what} are {gap:.0f} mm apart in a row, where its fixing wants {check.spacing:.0f} mm",
            measured=round(share, 2),
            limit=limit,
            at=unit.box if unit else wall.sight.screen.frame,
            cure=f"make it {check.spacing - gap:.0f} mm wider; or keep to the nearest spacing that the fixing's maker allows"
            if share >= limit.value
            else f"make it {check.spacing - gap:.0f} mm wider, or fix it to what stands beside it",
            edits=[
                edit_call("resize_unit", ref=check.ref, width=math.ceil(unit.box.width + check.spacing - gap))
            ]
            if unit
            else [],
        )


def _nearest(check: FixingCheck) -> float:
    """The least distance between two holes of a row [mm]."""
    rows: dict[float, list[float]] = {}
    for x, z in check.holes:
        rows.setdefault(round(z), []).append(x)
    return min((b - a for xs in rows.values() for a, b in pairwise(sorted(xs))), default=float("inf"))


@rule("structure.studs_unknown")
def studs_unknown(wall: Wall) -> Iterator[Finding]:
    """On a framed wall no hole is set out before its studs, or a backer, have been found."""
    blind = [check for check in wall.structure.fixings if check.anchor == UNFOUND]
    if not blind:
        return
    yield Finding(
        "structure.studs_unknown",
        "danger",
        "wall",
        f"nobody has found the studs of this wall: {', '.join(check.what for check in blind)} cannot be fixed",
        0,
        "studs found",
        "",
        "common practice: on a framed wall only studs and backers hold; boarding alone does not",
        "common practice",
        "find the studs (magnet on the board's screws, detector, a fine test hole behind the screen), mark their middles and "
        "enter each x; or enter the backer that is in the wall, once it has been seen",
        at=wall.face.box,
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
            "in this order: "
            + "; ".join(f"{way.name} ({way.mass_per_m2:.0f} kg/m²)" for way in check.ways if way.passes),
            _lighter(check),
            at=zone.box,
        )


def _lighter(check: CladdingCheck) -> tuple[EditCall, ...]:
    """The edit to the first lighter facing that the layer behind carries."""
    way = next((way for way in check.ways if way.passes and way.finish), None)
    return (edit_call("set_panel_finish", ref=check.ref, finish=way.finish),) if way else ()


@rule("structure.climb")
def climb(wall: Wall) -> Iterator[Finding]:
    """Where a small child lives, nothing under or beside the screen is a ladder: neither open shelves nor drawers in a stack."""
    age = wall.limits["rule.child_age"]
    limit = wall.limits["rule.climb_height"]
    children = [
        person for person in wall.job.brief.people if person.age is not None and person.age < age.value
    ]
    if not children:
        return
    for bay in wall.carcass.bays:
        shelves = bay.front == "open" and bay.shelves >= 1
        if bay.box.z > limit.value or not (shelves or bay.drawers >= 2):
            continue
        what = "open shelves" if shelves else "drawers, pulled out,"
        yield finding(
            "structure.climb",
            "danger" if shelves else "consider",
            bay.ref,
            f"the {what} of {bay.ref} are steps to the screen for a child of {children[0].age:.0f}",
            measured=round(bay.box.z),
            limit=limit,
            at=bay.box,
            cure="close the bay with a door and a child-proof catch; leave open only what begins higher than a child steps",
            edits=[front_edit(wall, bay.ref, "shutter")],
        )
