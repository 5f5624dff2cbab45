"""Rules of what bears: facings on the floor and in their bed, boards under a person, hung boxes, rods, units that tip."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass.record import UnitBox
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall, built
from wallwright.job.edits import apply
from wallwright.library import load
from wallwright.rules.registry import rule
from wallwright.structure.shelves import allowed, class_of, strength
from wallwright.structure.wall import NO_RODS, stud_line
from wallwright.structure.whys import line_of


@rule("structure.slab_line")
def slab_line(wall: Wall) -> Iterator[Finding]:
    """A cladding that loads the floor's edge more than a partition does is shown to an engineer first."""
    limit = wall.limits["structure.slab_line"]
    for check in wall.structure.cladding:
        if check.line <= limit.value:
            continue
        zone = next(zone for zone in wall.setout.zones if zone.ref == check.ref)
        veneer = next((key for key, one in load.finishes().items() if one.kind == "stone_veneer"), "")
        yield finding(
            "structure.slab_line",
            "fix",
            check.ref,
            f"{check.ref} loads the floor with {check.line:.2f} kN a metre of wall, {check.mass:.0f} kg in all",
            measured=round(check.line, 2),
            limit=limit,
            at=zone.box,
            cure="ask the engineer of the building before anything is ordered, or use flexible stone veneer",
            edits=[edit_call("set_panel_finish", ref=check.ref, finish=veneer)] if veneer else [],
        )


@rule("structure.solid_bed")
def solid_bed(wall: Wall) -> Iterator[Finding]:
    """A tile that uses most of what its background carries is bedded solidly, without hollow places behind it."""
    limit = wall.limits["structure.solid_bed"]
    for check in wall.structure.cladding:
        if not check.solid_bed or check.mass_per_m2 > check.carries:
            continue
        zone = next(zone for zone in wall.setout.zones if zone.ref == check.ref)
        yield finding(
            "structure.solid_bed",
            "consider",
            check.ref,
            f"{check.ref} with adhesive uses {check.mass_per_m2 / check.carries:.0%} of what {check.layer} carries",
            measured=round(check.mass_per_m2 / check.carries, 2),
            limit=limit,
            at=zone.box,
            cure="comb adhesive on wall and back and press it flat, no dabs; or take a lighter facing",
            edits=[edit_call("set_panel_finish", ref=check.ref, finish="stone_veneer_white")],
        )


@rule("structure.shelf_breaks")
def shelf_breaks(wall: Wall) -> Iterator[Finding]:
    """No board breaks: neither under what is stored on it for years, nor where somebody sits or leans in the middle of its span."""
    made = {shelf.ref: shelf for shelf in wall.carcass.shelves}
    air = "humid_" if wall.job.survey.place.hot_humid else ""
    tried: dict[tuple[str, str], bool] = {}
    for check in wall.structure.shelves:
        passing, stays = check.stress_point / check.strength, check.stress / check.strength_long
        if max(passing, stays) <= 1 or check.ref not in made:
            continue
        shelf, lasts = made[check.ref], "long" if stays > passing else "short"
        stress, most = (
            (check.stress, check.strength_long) if lasts == "long" else (check.stress_point, check.strength)
        )
        strong = _by_strength(wall, shelf.thickness, max(passing, stays), shelf.board, lasts)
        pick = next((key for key in strong if can_be_made_of(wall, check.unit, key, tried)), "")
        k_mod = wall.limits[f"structure.k_{lasts}_{air}{class_of(shelf.board)}"]
        yield Finding(
            "structure.shelf_breaks",
            "danger",
            check.ref,
            f"what is stored on {check.ref} stresses its board to {stress:.1f} N/mm² for years"
            if lasts == "long"
            else f"{check.point:.0f} N in the middle of {check.ref} stress its board to {stress:.1f} N/mm²",
            round(stress, 1),
            round(most, 1),
            "N/mm²",
            k_mod.source,
            k_mod.certainty,
            "put an upright under its middle"
            + (f", or make it of {load.boards()[pick].name}" if pick else ""),
            (edit_call("set_unit_board", ref=check.unit, board=pick),) if pick else (),
            at=shelf.box,
        )


def can_be_made_of(wall: Wall, unit: str, board: str, tried: dict[tuple[str, str], bool]) -> bool:
    """Whether a unit can still be built of another board. One that is no thicker always; a thicker one is tried: it may leave no
    inside, or no room for drawers or shelves. tried : what was found already, by unit and board.
    """
    now = wall.setout.unit(unit).board
    if load.boards()[board].thickness <= load.boards()[now].thickness:
        return True
    if (unit, board) not in tried:
        try:
            built(apply(wall.job, "set_unit_board", {"ref": unit, "board": board}))
            tried[unit, board] = True
        except ValueError:
            tried[unit, board] = False
    return tried[unit, board]


def _by_strength(wall: Wall, thick: float, times: float, now: str, lasts: str) -> Iterator[str]:
    """Boards of the library whose strength and section modulus are `times` those of `now`, the least first."""
    held_to = allowed(wall.limits, lasts, humid=wall.job.survey.place.hot_humid)
    need = strength(now, held_to) * thick**2 * times * 1.05
    fit = [
        (strength(key, held_to) * board.thickness**2, key)
        for key, board in load.boards().items()
        if board.thickness >= 15
    ]
    yield from (key for value, key in sorted(fit) if value >= need)


@rule("structure.overhang")
def overhang(wall: Wall) -> Iterator[Finding]:
    """A hung box is held near its ends: it does not stand out far beyond its last fixing."""
    limit = wall.limits["structure.overhang"]
    for beam in wall.structure.beams:
        out = max(beam.out_left, beam.out_right)
        if out <= limit.value * beam.length:
            continue
        unit = wall.setout.unit(beam.ref)
        yield finding(
            "structure.overhang",
            "fix",
            beam.ref,
            f"{beam.ref} stands out {out:.0f} mm of its {beam.length:.0f} mm beyond its last fixing",
            measured=round(out / beam.length, 2),
            limit=limit,
            at=unit.box,
            cure="let a backer into the wall to its end, or move it over another stud"
            + (", or stand it on the floor" if may_stand(unit) else ""),
            edits=stand_edit(unit),
        )


@rule("structure.stud_bench")
def stud_bench(wall: Wall) -> Iterator[Finding]:
    """On metal studs nothing heavy, and nothing that people sit on, hangs: the partition itself gives way."""
    survey = wall.job.survey.wall
    if survey.substrate != "metal_stud":
        return
    cross = wall.limits["structure.stud_line_cross"]
    for check in wall.structure.fixings:
        unit = next((item for item in wall.setout.units if item.ref == check.ref and item.hung), None)
        if unit is None:
            continue
        backed = check.count > 0 and check.backer is None
        limit = cross if backed else stud_line(survey.boarding_layers, wall.limits)
        line = line_of(check, unit)
        if line <= limit.value:
            continue
        layers = survey.boarding_layers or 1
        double = wall.limits.value("structure.stud_line_double")
        yield finding(
            "structure.stud_bench",
            "danger",
            check.ref,
            f"{check.what} loads the partition with {line:.2f} kN/m, a person on it counted"
            + ("" if backed else f", on {layers} layer{'s' if layers > 1 else ''} of boarding")
            + f"; its fixings are pulled with {check.pull / 1000:.2f} kN",
            measured=round(line, 2),
            limit=limit,
            at=unit.box,
            cure=("stand it on the floor on a recessed plinth; or " if may_stand(unit) else "make it lighter or longer; or ")
            + ("enter the second layer of boarding if there is one; or " if layers < 2 and line <= double else "")
            + ("hang it on another wall" if line > cross.value else "build cross rails into the partition and enter them as a backer"),
            edits=stand_edit(unit),
        )  # fmt: skip


@rule("structure.rods")
def rods(wall: Wall) -> Iterator[Finding]:
    """Hidden rods carry a shelf in solid masonry or concrete only, a hundred millimetres deep."""
    depth = wall.limits["structure.rod_depth"]
    for check in wall.structure.fixings:
        if not check.rods or check.anchor != NO_RODS:
            continue
        substrate = wall.job.survey.wall.substrate
        yield Finding(
            "structure.rods",
            "danger",
            check.ref,
            f"{check.ref} hangs on hidden rods, which this wall ({substrate.replace('_', ' ')}) does not hold",
            substrate,
            f"solid masonry or concrete, {depth.value:g} mm of it",
            "",
            "common practice: hidden rods go 100 mm into solid masonry; not into aerated or hollow block, nor boarding",
            "common practice",
            "hang it between two tall units, or leave it out; a bracket frame let into a stud wall before it is closed also holds, as its maker says",
            (edit_call("remove_unit", ref=check.ref),),
            at=wall.setout.unit(check.ref).box,
        )


def may_stand(unit: UnitBox) -> bool:
    """Whether a hung unit can be let down on the floor: a cabinet, and none under the ceiling."""
    return unit.hung and unit.cabinet and unit.kind != "loft"


def stand_edit(unit: UnitBox) -> list[EditCall]:
    """The edit that stands a hung unit on the floor; none for what cannot stand there."""
    return [edit_call("set_unit_hung", ref=unit.ref, hung=False)] if may_stand(unit) else []


@rule("structure.tips")
def tips(wall: Wall) -> Iterator[Finding]:
    """A low unit that a child can pull over with its drawers out is fixed to the wall."""
    margin = wall.limits["structure.tip_margin"]
    for check in wall.structure.standing:
        unit = wall.setout.unit(check.ref)
        if check.anchored or unit.tall or (check.climbed >= 1 and check.open >= margin.value):
            continue
        falls = check.climbed < 1
        yield finding(
            "structure.tips",
            "danger" if falls else "fix",
            check.ref,
            f"{check.ref} falls with a child on its drawers: fixed at its top it needs {check.force:.0f} N"
            if falls
            else f"{check.ref} with its drawers out stands only {check.open:.2f} × what tips it",
            measured=round(min(check.climbed, check.open), 2),
            limit=margin,
            at=unit.box,
            cure="fix it to the wall near its top in two places",
            edits=[edit_call("anchor_unit", ref=check.ref)],
        )
