"""The working behind fixings, hung boxes, standing units and claddings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.limit import Certainty, Limits
from wallwright.core.why import Given, Why
from wallwright.job.face import Face
from wallwright.structure import anchor, fdmi, hung
from wallwright.structure.record import CladdingCheck, FixingCheck, HungBeam, StandCheck, TipCheck
from wallwright.structure.wall import board_alone

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox
    from wallwright.sight.record import Screen

BOARDED = {
    "single": "one layer of boarding would carry it",
    "double": "two layers of boarding would carry it",
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
        Given("wall", substrate),
    )
    unknown = check.capacity_pull <= 0
    out = [
        Why(f"{where}.pull", round(check.pull), "N", says, formula, given, source, certainty),
        Why(f"{where}.shear", round(check.shear), "N", "Weight and push, straight down.", "V = ΣW + P", given, source, certainty),
        Why(f"{where}.count", check.count, "fixings",
            "Nobody knows what this wall holds, or where: no fixing is offered." if unknown
            else f"{check.needed} needed; spread along the rail at most every 400 mm.",
            "T/(n·T_allow) + V/(n·V_allow) ≤ 1, the worst of three or more taking 1.25 × the mean", held,
            "fixings of the library", "common practice"),
        Why(f"{where}.used", round(check.used, 3), "share", check.anchor,
            "(pull share + shear share of the worst fixing) / share kept in the group", held,
            "fixings of the library; group: EN 1992-4, 7.2.1.4", "common practice"),
    ]  # fmt: skip
    if check.packing and not unknown:
        out.append(_packing(check))
    if check.bending:
        out.append(_bending(check, limits))
    if substrate == "concrete" and not unknown:
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
    factor = limits["structure.screen_factor"]
    says = f"{factor.value:g} times the screen's weight at its furthest reach."
    return says, "T = 4·W·e / h, an arm's × 1.3", factor.source, factor.certainty


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
    bent = limits["structure.bolt_bending"]
    return Why(
        f"fixing {check.ref}.bending", round(check.bending), "N/mm²",
        f"At most {check.bending_most:.0f}: of a bolt across packing by its steel, of a wood screw by its yield moment, of a shelf's rod "
        f"{limits.value('structure.rod_stress'):g}.",
        "V·(s + d/2) / 2 over πd³/32; rod: M / n",
        (Given("build-up", round(check.packing, 1), "mm"), Given("shear of one", round(check.shear / check.count), "N")),
        bent.source, bent.certainty,
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


def line(check: FixingCheck, unit: UnitBox, limits: Limits) -> Why:
    """On a stud wall: the weight along the wall, and whether the boarding alone would have carried it."""
    most = limits["structure.stud_line_load"]
    load = hung.line_load(check.mass, unit.box.width)
    return Why(
        f"fixing {check.ref}.line_load", round(load, 3), "kN/m",
        f"At most {most.value:g} on one layer of boarding: {BOARDED[board_alone(load, limits)]}.", "W / length",
        (Given("mass", round(check.mass, 1), "kg"), Given("length", unit.box.width, "mm")), most.source, most.certainty,
    )  # fmt: skip


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
