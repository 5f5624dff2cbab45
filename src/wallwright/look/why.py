"""The working behind every number of the look stage."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.library import load
from wallwright.look.record import Look, Surface, TwoWalls
from wallwright.look.weigh import TERMS

if TYPE_CHECKING:
    from wallwright.sight.record import Screen

_DIFFERENCE = "CIEDE2000, ISO/CIE 11664-6"
_HONEST = "measured numbers side by side; no published model says which wall leads, the thresholds are ours and not validated"
_FORMULA = {
    "difference": "Σ area · ΔE00(ground, part) / area of the wall",
    "edges": "lines that one sees / area of the wall",
    "lit": "mean luminance of the wall / of the room",
    "entropy": "−Σ share · log2(share) of the areas of its finishes",
}
_UNIT = {"difference": "ΔE00", "edges": "m/m²", "lit": "times the room", "entropy": "bit"}


def whys(
    look: Look,
    behind: Surface,
    screen: Screen,
    away: float,
    sides: tuple[float, float],
    parts: Sequence[tuple[float, float]],
    middle: float,
    limits: Limits,
) -> tuple[Why, ...]:
    """All of it. sides : what the two halves carry · parts : area and ΔE00 of each face but the ground."""
    good, neutral, near = limits["look.balance_good"], limits["look.neutral_chroma"], limits["look.axis_near"]
    left, right = sides
    heavier = "left" if left > right else "right"
    whose = "the main seats' axis, weighted by hours" if away else "the wall's middle"
    out = [
        Why("look.axis_offset", look.axis_offset, "mm",
            f"the screen stands on {whose}" if abs(look.axis_offset) <= near.value
            else f"the screen stands {'right' if look.axis_offset > 0 else 'left'} of {whose}",
            "x of the screen's middle − x of the axis",
            (Given("screen's middle", screen.centre[0], "mm"), Given(whose, screen.centre[0] - look.axis_offset, "mm")),
            "plane geometry", "computed"),
        Why("look.axis_angle", look.axis_angle, "deg", "the same as seen from there", "atan(|offset|/d)",
            (Given("offset", abs(look.axis_offset), "mm"), Given("distance", round(away), "mm")),
            "plane geometry", "computed"),
        Why("look.console_ratio", look.console_ratio, "× screen's width",
            "the widest console over the screen's frame" if look.console_ratio else "there is no console",
            "console width / frame width",
            (Given("frame width", screen.frame.width, "mm"), Given("console width",
            round(look.console_ratio * screen.frame.width), "mm")),
            "plane geometry", "computed"),
        Why("look.balance", look.balance, "0..1",
            "both sides of the wall carry about the same" if look.balance >= good.value else f"the {heavier} side carries more",
            "1 − |L − R| / max(L, R); L, R = Σ area · distance from the wall's middle, of what is seen",
            (Given("left", round(left / 1e9, 4), "m³"), Given("right", round(right / 1e9, 4), "m³"),
            Given("wall's middle", middle, "mm")),
            "Ngo, Teo and Byrne 2000, balance, left against right only", "from memory"),
        Why("look.weight", look.weight, "ΔE00 over the wall", "how much this wall differs from its own ground, the screen off",
            "Σ area · ΔE00(ground, part) / area of the wall",
            tuple(Given(surface.ref, round(apart, 1), "ΔE00") for surface, (_, apart) in zip(look.surfaces[1:],
            parts, strict=True)),
            _DIFFERENCE, "published"),
        Why("look.behind", behind.name, "",
            f"the screen hangs before {behind.ref}, "
            + ("which is neutral" if look.behind_chroma < neutral.value else "which is coloured"),
            "the face with the largest share of the screen's outline",
            (Given("colour", behind.colour), Given("gloss", behind.gloss),
             *(Given(f"share of {face.ref}", round(share, 3)) for face, share in look.faces_behind)),
            "plane geometry", "computed"),
        Why("look.behind_chroma", look.behind_chroma, "C*ab", "how colourful that is", "√(a*² + b*²)",
            (Given("colour", behind.colour),), "CIELAB, ISO/CIE 11664-4", "published"),
    ]  # fmt: skip
    out += [
        Why(f"surface {surface.ref}.reflectance", round(surface.reflectance, 1), "of 100",
            "estimated from its screen colour; the maker's own value is measured", "CIE Y of the colour",
            (Given("colour", surface.colour), Given("seen", round(surface.area / 1e6, 3), "m²")), "IEC 61966-2-1", "published")
        for surface in look.surfaces
    ]  # fmt: skip
    out += [
        Why(f"joint {ref} {x:.0f}", apart, "mm", "from the panel's joint to the nearest upright edge of the screen or of a unit",
            "|x of the joint − x of the edge|", (Given("joint", x, "mm"),), "plane geometry", "computed")
        for ref, x, apart in look.joint_offsets
    ]  # fmt: skip
    return (
        *out,
        *_composed(look, screen, limits),
        *_of_walls(look.two_walls, limits),
        *_dusted(look, limits),
    )


def _composed(look: Look, screen: Screen, limits: Limits) -> list[Why]:
    out: list[Why] = []
    level, share = limits["look.level"], limits["rule.crooked_share"]
    for line in look.near_lines[:1]:
        along = screen.frame.height if line.upright else screen.frame.width
        out.append(
            Why("look.level", round(level.value * along / 1000, 2), "mm",
                f"hung level to {level.value:g} mm/m; against the line of {line.ref}, {line.gap:.0f} mm beside, that is "
                f"{level.value * along / 1000 / line.gap:.1%} of the gap (up to {share.value:.0%} passes unseen)",
                "mm/m · length of the edge", (Given("edge", along, "mm"), Given("gap", round(line.gap, 1), "mm")),
                level.source, level.certainty)
        )  # fmt: skip
    if look.symmetry is not None:
        out.append(
            Why("look.symmetry", round(look.symmetry, 1), "mm", "how far the towers are from being one another's mirror",
                "worst of |x + x′ − 2 · axis| of both edges, and of their tops and feet",
                (Given("axis", screen.centre[0], "mm"),), "plane geometry", "computed")
        )  # fmt: skip
    rows = load.palettes()
    for key, apart in look.palettes[:1]:
        out.append(
            Why("look.palette", rows[key].name, "", f"the nearest palette: {apart:.1f} ΔE00 away on the mean",
                "Σ area · ΔE00(face, nearest tone) / Σ area, the screen left out",
                tuple(Given(rows[other].name, round(value, 1), "ΔE00") for other, value in look.palettes[1:]),
                _DIFFERENCE, "published")
        )  # fmt: skip
    least, gap = limits["look.hue_chroma"], limits["look.hue_gap"]
    out.append(
        Why("look.hue_families", look.hue_families, "", "families of hue among the finishes; near-greys have none",
            f"a new one where neighbours on the circle of hues stand more than {gap.value:g}° apart",
            (Given("least chroma", least.value, least.unit),), gap.source, gap.certainty)
    )  # fmt: skip
    return out


def _of_walls(two: TwoWalls | None, limits: Limits) -> list[Why]:
    if two is None:
        return []
    ratio, terms = limits["look.star_ratio"], limits["look.star_terms"]
    out: list[Why] = []
    for state, this, shares, led in (
        ("off", two.off, two.dominance_off, two.star_off), ("on", two.on, two.dominance_on, two.star_on),
    ):  # fmt: skip
        for name, ours, theirs, share in zip(TERMS, this.each, two.other.each, shares, strict=True):
            out.append(
                Why(f"walls.{state}.{name}", round(ours, 3), _UNIT[name],
                    f"this wall, the screen {state}; the wall behind the seats {theirs:.2f}"
                    + ("" if two.measured else " (usual for the word said of it, not measured)")
                    + f"; this wall holds {share:.0%} of both",
                    _FORMULA[name], (Given("other wall", round(theirs, 3), _UNIT[name]),), _HONEST, "derived")
            )  # fmt: skip
        says = {
            "this": "this wall leads",
            "other": "the wall behind the seats leads",
            "": "neither wall leads",
        }[led]
        out.append(
            Why(f"walls.{state}.star", led or "neither", "", f"{says}, the screen {state}; a hint, not a verdict",
                f"at least {terms.value:g} of 4 terms by {ratio.value:g} : 1",
                tuple(Given(name, round(share, 3)) for name, share in zip(TERMS, shares, strict=True)),
                ratio.source, ratio.certainty)
        )  # fmt: skip
    return out


def _dusted(look: Look, limits: Limits) -> list[Why]:
    minutes = limits["look.dust_minutes"]
    out = [
        Why(f"surface {face.ref}.dusting", round(face.minutes, 1), "min a month",
            "an estimate" + (f": its face is {face.factor:.2f} times a flat one" if face.factor > 1 else ""),
            "(area in reach + area above · dearer) · groove factor · minutes a m²",
            (Given("area", round(face.area, 2), "m²"), Given("out of reach", round(face.high, 2), "m²"),
             Given("groove factor", round(face.factor, 3)), Given("minutes", minutes.value, minutes.unit)),
            minutes.source, minutes.certainty)
        for face in look.cleaning
    ]  # fmt: skip
    if look.cleaning:
        out.append(
            Why("look.dusting", round(look.dusting, 1), "min a month", "the whole wall, an estimate", "Σ of its faces", (),
                minutes.source, minutes.certainty)
        )  # fmt: skip
    return out
