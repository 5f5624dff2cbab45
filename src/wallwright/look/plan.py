"""The look stage: every face seen on the wall with its area and colour, axes, proportions and balance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.colour import reflectance
from wallwright.core.limit import Limits
from wallwright.core.shape import Box, cut_out
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.library import load
from wallwright.library.load import Finish
from wallwright.look.balance import balance, left_right, visual_weight
from wallwright.look.colour import chroma, difference, lab
from wallwright.look.record import Look, Surface

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut
    from wallwright.sight.record import Screen, SeatView

SCREEN_OFF = "#0B0B0C"
"""A screen that is off: nearly black."""
USUAL_WALL = "paint_warm_white"
USUAL_FRONT = "laminate_off_white"
_DIFFERENCE = "CIEDE2000, ISO/CIE 11664-6"


def plan(
    job: Job, face: Face, screen: Screen, setout: SetOut, seats: tuple[SeatView, ...], limits: Limits
) -> Look:
    """All of it. Pieces hide one another from the room inwards: the screen, then the units, then the panels, then the wall."""
    seen = _seen(face, screen, setout)
    surfaces = _surfaces(job, screen, setout, seen)
    ground = surfaces[0]
    parts = [(s.area, difference(ground.lab, s.lab)) for s in surfaces[1:]]
    pieces = [piece for ref, region in seen.items() if ref != "wall" for piece in region]

    behind = _behind(screen, setout, surfaces)
    axis = sum(seat.share * seat.eye[0] for seat in seats) if seats else face.width / 2
    away = sum(seat.share * seat.distance for seat in seats)
    offset = screen.centre[0] - axis
    middle = face.width / 2
    whole = face.width * face.height
    numbers = Look(
        surfaces=surfaces,
        axis_offset=offset,
        axis_angle=math.degrees(math.atan2(abs(offset), away)) if seats else 0.0,
        console_ratio=_console_ratio(screen, setout),
        balance=balance(pieces, middle),
        weight=visual_weight(parts, whole),
        behind=behind,
        behind_chroma=chroma(behind.lab),
        joint_offsets=_joints(screen, setout),
        whys=(),
    )
    whys = _whys(numbers, behind, screen, away, left_right(pieces, middle), parts, middle, limits)
    return replace(numbers, whys=whys)


def _seen(face: Face, screen: Screen, setout: SetOut) -> dict[str, tuple[Box, ...]]:
    """What is left to see of each thing, as boxes that do not overlap; the wall first."""
    layers = [("screen", screen.frame)]
    layers += [(unit.ref, unit.box) for unit in sorted(setout.units, key=lambda unit: -unit.depth)]
    layers += [(zone.ref, zone.box) for zone in sorted(setout.zones, key=lambda zone: -zone.build_up)]
    layers.append(("wall", face.box))
    seen: dict[str, tuple[Box, ...]] = {}
    before: list[Box] = []
    for ref, box in layers:
        region: tuple[Box, ...] = (box,)
        for nearer in before:
            region = cut_out(region, nearer)
        seen[ref] = region
        before.append(box)
    return {"wall": seen.pop("wall"), **seen}


def _surfaces(
    job: Job, screen: Screen, setout: SetOut, seen: dict[str, tuple[Box, ...]]
) -> tuple[Surface, ...]:
    """Wall, screen, fronts and panels, in this order."""
    chosen = job.design.finishes
    wall = _finish(chosen.wall, USUAL_WALL)
    out = [
        _surface("wall", wall, chosen.wall_colour or wall.colour, seen),
        _as_seen("screen", f"{screen.diagonal:g} in screen, off", SCREEN_OFF, "gloss", seen),
    ]
    for unit in setout.units:
        finish = _finish(unit.front_finish, USUAL_FRONT)
        mixed = chosen.front_colour if _is_general(job, unit.ref) else None
        out.append(_surface(unit.ref, finish, mixed or finish.colour, seen))
    for zone in setout.zones:
        finish = _finish(zone.finish, USUAL_WALL)
        own = next((panel.finish for panel in job.design.panels if panel.ref == zone.ref), None)
        mixed = chosen.panel_colour if own is None else None
        out.append(_surface(zone.ref, finish, mixed or finish.colour, seen))
    return tuple(out)


def _is_general(job: Job, ref: str) -> bool:
    """Whether the unit takes the wall's general front finish, and with it a front colour mixed to order."""
    return all(unit.front_finish is None for unit in job.design.units if unit.ref == ref)


def _finish(key: str | None, usual: str) -> Finish:
    library = load.finishes()
    return library.get(key or usual) or library[usual]


def _surface(ref: str, finish: Finish, colour: str, seen: dict[str, tuple[Box, ...]]) -> Surface:
    return _as_seen(ref, finish.name, colour, finish.gloss, seen)


def _as_seen(ref: str, name: str, colour: str, gloss: str, seen: dict[str, tuple[Box, ...]]) -> Surface:
    area = sum(piece.area for piece in seen[ref])
    return Surface(ref, name, area, colour, lab(colour), reflectance(colour), gloss)


def _behind(screen: Screen, setout: SetOut, surfaces: Sequence[Surface]) -> Surface:
    """What the screen hangs before: the panel that shares most of its outline, else the wall."""
    ref, most = "wall", 0.0
    for zone in setout.zones:
        common = zone.box.shared(screen.frame)
        if common and common.area > most:
            ref, most = zone.ref, common.area
    return next(surface for surface in surfaces if surface.ref == ref)


def _console_ratio(screen: Screen, setout: SetOut) -> float:
    return (
        max((unit.box.width for unit in setout.units if unit.kind == "console"), default=0.0)
        / screen.frame.width
    )


def _joints(screen: Screen, setout: SetOut) -> tuple[tuple[str, float, float], ...]:
    """Each upright panel joint, and how far it stands from the nearest upright edge of the screen or of a unit
    beside the panel.
    """
    out: list[tuple[str, float, float]] = []
    for zone in setout.zones:
        edges = [screen.frame.x, screen.frame.right] if zone.box.meets(screen.frame) else []
        for unit in setout.units:
            if unit.box.z <= zone.box.top and zone.box.z <= unit.box.top:
                edges += [unit.box.x, unit.box.right]
        out += [(zone.ref, x, min((abs(x - edge) for edge in edges), default=math.inf)) for x in zone.joints]
    return tuple(item for item in out if item[2] < math.inf)


def _whys(
    look: Look,
    behind: Surface,
    screen: Screen,
    away: float,
    sides: tuple[float, float],
    parts: Sequence[tuple[float, float]],
    middle: float,
    limits: Limits,
) -> tuple[Why, ...]:
    good, neutral, near = limits["look.balance_good"], limits["look.neutral_chroma"], limits["look.axis_near"]
    left, right = sides
    heavier = "left" if left > right else "right"
    whose = "the seats' axis, weighted by hours" if away else "the wall's middle"
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
            "the panel that shares most of the screen's outline, else the wall",
            (Given("colour", behind.colour), Given("gloss", behind.gloss)), "plane geometry", "computed"),
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
    return tuple(out)
