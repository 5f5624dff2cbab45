"""The working behind fixings, hung boxes, standing units and claddings."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from wallwright.core.limit import Certainty, Limits
from wallwright.core.why import Given, Why
from wallwright.job.face import Face
from wallwright.structure import anchor, fdmi, hung, rods, rows
from wallwright.structure.record import CladdingCheck, FixingCheck, HungBeam, StandCheck, TipCheck
from wallwright.structure.wall import board_alone, stud_line

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox
    from wallwright.sight.record import Screen

BOARDED = {
    "single": "one layer of boarding carries it",
    "double": "two layers of boarding carry it",
    "rails": "only the backer, or cross rails built in, carries it",
    "floor": "it does not hang on metal studs: stand it on the floor",
}


def fixing(check: FixingCheck, substrate: str, limits: Limits) -> list[Why]:
    """Pull, shear, number and use of a thing's fixings; where it applies, their bending and the concrete's cone."""
    where = f"fixing {check.ref}"
    says, formula, source, certainty = _asked(check, limits)
    given = (
        Given("mass", round(check.mass, 1), "kg"),
        Given("push of a person", check.lean, "N"),
        Given("moment", round(check.moment / 1000, 1), "N·m"),
        Given("lever h", round(check.lever, 1), "mm"),
    )
    held = (
        Given("pull", round(check.pull), "N"),
        Given("shear", round(check.shear), "N"),
        Given("allowable pull of one", check.capacity_pull, "N"),
        Given("allowable shear of one", check.capacity_shear, "N"),
        Given("fixings", check.count),
        Given("worst over the mean", round(check.uneven, 3)),
        Given("share kept beside the others", round(check.group, 3)),
        Given(f"column or beam {check.on}" if check.on else "wall", substrate),
    )
    unknown = check.capacity_pull <= 0
    out = [
        Why(f"{where}.pull", round(check.pull), "N", says, formula, given, source, certainty),
        Why(f"{where}.shear", round(check.shear), "N", "Weight and push, straight down.", "V = ΣW + P", given, source, certainty),
        Why(f"{where}.count", check.count, "fixings",
            "Nobody knows what this wall holds, or where: no fixing is offered." if unknown
            else "One rod at most every 400 mm." if check.rods
            else f"{check.needed} needed; spread along the rail at most every 400 mm.",
            "two at least" if check.rods
            else "(T/T_allow + V/V_allow)·f/n ≤ 1, f: what the worst gets over the mean, a beam on its fixings or a stiff box on springs",
            held, "fixings of the library", "common practice"),
        Why(f"{where}.used", round(check.used, 3), "share", check.anchor,
            "the greater of its bending and of what its hole bears, over what it may be" if check.rods
            else "(pull share + shear share of the worst fixing) / share kept in the group", held,
            "fixings of the library; group: EN 1992-4, 7.2.1.4", "common practice"),
    ]  # fmt: skip
    if unknown:
        return out
    if check.packing:
        out.append(_packing(check))
    if check.rods:
        out.append(_rods(check, substrate, limits))
    elif check.bending:
        out.append(_bending(check, limits))
    if check.cone:
        out.append(_cone(check, limits))
    return out


def _asked(check: FixingCheck, limits: Limits) -> tuple[str, str, str, Certainty]:
    if check.ref != "screen":
        return (
            "The moment of its weight and of a person's push, over the height of the box.",
            "T = M / h",
            "statics of a hung box; lean: common practice",
            "computed",
        )
    added, W = limits["structure.screen_added"], check.mass * hung.G
    factor = limits["structure.screen_factor"]
    light = factor.value * W <= 2 * W + added.value
    says = (
        f"{factor.value:g} times the screen's weight at its furthest reach."
        if light
        else f"Twice the screen's weight and {added.value:g} N at its furthest reach: less than {factor.value:g} times its weight."
    )
    by = factor if light else added
    return says, "T = F·e / h, an arm's × 1.3; F = min(4·W, 2·W + 880 N)", by.source, by.certainty


def screws(screen: Screen) -> Why:
    """Which screws go into the screen's back, by its hole pattern."""
    wide, high = round(screen.holes.width, 1), round(screen.holes.height, 1)
    found = fdmi.pattern(wide, high)
    return Why(
        "fixing screen.screws", " or ".join(found.screws) if found else "to be measured", "",
        f"{found.name}, for screens up to {found.most:g} kg; their length by the maker." if found
        else "Its holes are of no standard pattern: try a screw by hand, never force one.",
        "by the hole pattern", (Given("holes", f"{wide:g} × {high:g}", "mm"), Given("mass", round(screen.mass, 1), "kg")),
        "FDMI hole patterns, from copies of the standard's table", "published",
    )  # fmt: skip


def _packing(check: FixingCheck) -> Why:
    return Why(
        f"fixing {check.ref}.length", round(check.length), "mm",
        "Through what lies before the wall (packing, the gap behind a back) and the plaster, which count for nothing, into the wall.",
        "build-up or gap + plaster + depth in the wall",
        (Given("build-up or gap", round(check.packing, 1), "mm"), Given("depth in the wall", check.hole_depth, "mm")),
        "geometry", "computed",
    )  # fmt: skip


def _bending(check: FixingCheck, limits: Limits) -> Why:
    """The bending of a bolt or screw across packing, with all that its formula asks for."""
    held = rows.PLATE if check.what == "screen" else "structure.packing_restraint"
    bent, restraint = limits["structure.bolt_bending"], limits.value(held)
    lever = check.packing + limits.value("structure.packing_bite") * check.rod
    worst = check.bending * math.pi * check.rod**3 / 32 * restraint / lever
    return Why(
        f"fixing {check.ref}.bending", round(check.bending), "N/mm²",
        f"At most {check.bending_most:.0f}: of a bolt across packing by its steel, of a wood screw by its yield moment.",
        f"V·(s + {limits.value('structure.packing_bite'):g}·d) / α_M over πd³/32",
        (Given("build-up s", round(check.packing, 2), "mm"), Given("V of the worst", round(worst, 2), "N"),
         Given("d", check.rod, "mm"), Given("α_M", restraint)),
        bent.source, bent.certainty,
    )  # fmt: skip


def _rods(check: FixingCheck, substrate: str, limits: Limits) -> Why:
    """The bending of a shelf's worst rod at the wall's face, and what its hole bears."""
    bent, bears = limits["structure.rod_stress"], limits[f"structure.rod_bearing_{rods.BEARS[substrate]}"]
    share = check.uneven / check.count
    skin = check.length - check.packing - check.hole_depth
    moment = (check.moment + check.shear * skin) * share
    pressed = rods.bearing(moment, check.shear * share, check.rod, check.hole_depth)
    return Why(
        f"fixing {check.ref}.bending", round(check.bending), "N/mm²",
        f"At most {bent.value:g}; its hole is pressed with {pressed:.2f} N/mm², at most {bears.value:g}.",
        "M / (πd³/32); (4·V·L + 6·M) / (d·L²)",
        (Given("M of the worst at the wall", round(moment / 1000, 3), "N·m"), Given("V of the worst", round(check.shear * share, 1), "N"),
         Given("d", check.rod, "mm"), Given("L in the wall", check.hole_depth, "mm")),
        f"{bent.source}; {bears.source}", bent.certainty,
    )  # fmt: skip


def _cone(check: FixingCheck, limits: Limits) -> Why:
    """What the concrete itself would allow one such fixing, from the characteristic cone down to daily use."""
    grade, gamma = limits.value("structure.concrete_grade"), limits["structure.cone_factor"]
    factor = limits.value("structure.load_factor")
    whole = anchor.cone(check.hole_depth, grade)
    return Why(
        f"fixing {check.ref}.cone", round(anchor.allowable(whole, gamma.value, factor)), "N",
        f"The concrete's own cone allows this; the library allows the fixing {check.capacity_pull:g} N. A design aid only.",
        "7.7·√f_ck·h_ef^1.5 / (γ_Mc·γ_F)",
        (Given("cone, characteristic", round(whole), "N"), Given("h_ef", check.hole_depth, "mm"), Given("f_ck", grade, "N/mm²"),
         Given("γ_Mc", gamma.value), Given("γ_F", factor)),
        "EN 1992-4, 7.2.1.4", "published",
    )  # fmt: skip


def line(check: FixingCheck, unit: UnitBox, layers: int | None, limits: Limits) -> Why:
    """On a stud wall: its weight and a person's on it along the wall, against what the boarding alone carries."""
    most = stud_line(layers, limits)
    load = line_of(check, unit)
    return Why(
        f"fixing {check.ref}.line_load", round(load, 3), "kN/m",
        f"At most {most.value:g} on {'two layers' if (layers or 1) > 1 else 'one layer'} of boarding: {BOARDED[board_alone(load, limits)]}.",
        "(W + P) / length",
        (Given("weight and a person's push", round(check.shear), "N"), Given("length", unit.box.width, "mm"),
         Given("layers of boarding", layers or "not entered: one")),
        most.source, most.certainty,
    )  # fmt: skip


def line_of(check: FixingCheck, unit: UnitBox) -> float:
    """What a hung thing loads a partition with along the wall, a person on it counted [kN/m]."""
    return check.shear / unit.box.width


def hung_box(beam: HungBeam, limits: Limits) -> Why:
    """How far a hung box stands out beyond its last fixing."""
    most = limits["structure.overhang"]
    return Why(
        f"fixing {beam.ref}.overhang", round(max(beam.out_left, beam.out_right)), "mm",
        f"At most {most.value:g} of its length; its box sags {beam.sag:.2f} mm, {beam.sag_later:.2f} mm in time.",
        "three-moment equation over the fixings; EI of top and bottom, a quarter of it for slip in the joints",
        (Given("length", round(beam.length), "mm"), Given("largest free span", round(beam.span), "mm")),
        most.source, most.certainty,
    )  # fmt: skip


def tower(check: TipCheck, unit: UnitBox, face: Face) -> tuple[Why, Why]:
    """The push that tips a tower, and the diagonal of its tallest box."""
    return (
        Why(f"tower {check.ref}.push_to_tip", round(check.push_to_tip, 1), "N", "A level push at its top, empty and loose.",
            "F = W·g·e / z, e from the front foot back to the centre of mass",
            (Given("mass", round(check.mass, 1), "kg"), Given("e", round(check.lever, 1), "mm"), Given("height", unit.box.top, "mm")),
            "statics", "computed"),
        Why(f"tower {check.ref}.tilt_up", round(check.tilt_up, 1), "mm", "The diagonal of its tallest box while it is stood up.",
            "√(h² + d²)", (Given("lowest ceiling", face.height, "mm"),), "geometry", "computed"),
    )  # fmt: skip


def standing(check: StandCheck, limits: Limits) -> Why:
    """What holds a standing unit with a child on its open drawers."""
    child = limits["structure.climber"]
    return Why(
        f"standing {check.ref}.climbed", round(min(check.climbed, 999.0), 2), "× tipping moment",
        f"With a child on its {'open drawers' if check.drawers else 'front edge'}; below 1 it falls unless it is fixed.",
        "W·e / ΣW_i·x_i about the front foot; drawers take their fronts out with them",
        (Given("mass", round(check.mass, 1), "kg"), Given("child", child.value, "kg"), Given("drawers", check.drawers),
         Given("e of what stays", round(check.lever, 1), "mm"),
         Given("with drawers only", round(min(check.open, 999.0), 2)), Given("holds it at its top", round(check.force), "N")),
        child.source, child.certainty,
    )  # fmt: skip


def clad(check: CladdingCheck) -> Why:
    """A zone's weight against its weakest layer."""
    return Why(
        f"panel {check.ref}.weight", round(check.mass_per_m2, 1), "kg/m²", f"Against what {check.layer} carries.",
        "board + facing + adhesive where it is glued",
        (Given("carries", round(check.carries, 1), "kg/m²"), Given("whole zone", round(check.mass, 1), "kg"),
         Given("on the floor", round(check.line, 2), "kN/m")),
        "masses of the board and finish library; layers: tile-trade tables after BS 5385-1; battens: screws a m² × shear",
        "computed",
    )  # fmt: skip
