"""The look stage: every face seen on the wall with its area and colour, axes, proportions and balance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.colour import reflectance
from wallwright.core.limit import Limits
from wallwright.core.shape import Box, box_around, cut_out
from wallwright.core.why import Later, Whys
from wallwright.job.document import Job
from wallwright.job.dress import Dress, front_dress, panel_dress, wall_dress
from wallwright.job.face import Face
from wallwright.library import load
from wallwright.look.balance import balance, left_right, visual_weight
from wallwright.look.cleaning import area_factor, effort
from wallwright.look.colour import Lab, chroma, difference, lab
from wallwright.look.guides import alignments, guides, nearest_lines, symmetry
from wallwright.look.palette import distance, hue_families
from wallwright.look.record import Cleaning, Look, Surface
from wallwright.look.walls import two_walls
from wallwright.look.why import whys

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, SetOut, UnitBox
    from wallwright.light.record import Light
    from wallwright.sight.record import Screen

SCREEN_OFF = "#0B0B0C"
"""A screen that is off: nearly black."""


def plan(  # noqa: PLR0913
    job: Job,
    face: Face,
    screen: Screen,
    setout: SetOut,
    axis: float,
    away: float,
    limits: Limits,
    light: Light,
    bays: Sequence[BayBox] = (),
) -> Look:
    """All of it. axis, away : x of the main seats' axis and how far they sit from the picture [mm]; away is 0 without seats.

    Pieces hide one another from the room inwards: the screen, then the units, then the panels, then the wall.
    """
    seen = _seen(face, screen, setout)
    surfaces = _surfaces(job, screen, setout, seen)
    ground = surfaces[0]
    parts = [(s.area, difference(ground.lab, s.lab)) for s in surfaces[1:]]
    pieces = [piece for ref, region in seen.items() if ref != "wall" for piece in region]

    faces = _behind(screen, setout, surfaces)
    behind = faces[0][0]
    beside = _beside(light, surfaces) or ((behind, 1.0),)
    least = limits.value("look.behind_share")
    offset = screen.centre[0] - axis
    middle = face.width / 2
    finishes = [(s.area, s.lab) for s in surfaces if s.ref != "screen"]
    ends = tuple(
        (run.ref, x) for run in light.runs if run.lit == "grazing" for x in (run.path[0][0], run.path[-1][0])
    )
    numbers = Look(
        surfaces=surfaces,
        axis_offset=offset,
        axis_angle=math.degrees(math.atan2(abs(offset), away)) if away else 0.0,
        console_ratio=_console_ratio(screen, setout),
        balance=balance(pieces, middle),
        weight=visual_weight(parts, face.box.area),
        behind=behind,
        behind_chroma=chroma(_mixed(beside)),
        faces_beside=beside,
        faces_behind=tuple((surface, share) for surface, share in faces if share >= least or surface is behind),
        joint_offsets=_joints(screen, setout),
        whys=(),
        two_walls=two_walls(job, face, screen, setout, surfaces, light.runs, bays, limits),
        guides=guides(screen, setout, face.box, axis, limits),
        alignments=alignments(screen, setout, ends),
        symmetry=symmetry(screen, setout),
        near_lines=nearest_lines(screen, setout, _niche(job, screen)),
        palettes=_palettes(finishes),
        hue_families=hue_families(
            [(area, colour) for area, colour in finishes if area >= face.box.area / 100],
            limits.value("look.hue_chroma"), limits.value("look.hue_gap"),
        ),
        cleaning=_cleaning(setout, seen, limits),
    )  # fmt: skip

    def told() -> Whys:
        return whys(numbers, behind, screen, away, left_right(pieces, middle), parts, middle, limits)

    return replace(numbers, whys=Later(told))


def _niche(job: Job, screen: Screen) -> Box | None:
    wish = job.design.screen
    if wish.niche_width is None or wish.niche_height is None:
        return None
    return box_around(screen.centre, wish.niche_width.mm, wish.niche_height.mm)


def _palettes(faces: Sequence[tuple[float, Lab]]) -> tuple[tuple[str, float], ...]:
    """Every palette of the library and how far the wall is from it, nearest first."""
    rows = ((key, distance(faces, row.tones)) for key, row in load.palettes().items())
    return tuple(sorted(rows, key=lambda row: (row[1], row[0])))


def _cleaning(setout: SetOut, seen: dict[str, tuple[Box, ...]], limits: Limits) -> tuple[Cleaning, ...]:
    """Panels and fronts; the painted wall and the screen are dusted anyway."""
    rib, depth = limits.value("carcass.flute_rib"), limits.value("carcass.flute_depth")
    factors = {
        zone.ref: area_factor(zone.flute_pitch, rib * zone.flute_pitch, depth)
        if zone.flutes and zone.flute_pitch
        else 1.0
        for zone in setout.zones
    }
    refs = [unit.ref for unit in setout.units] + list(factors)
    return tuple(effort(ref, seen[ref], factors.get(ref, 1.0), limits) for ref in refs)


def _seen(face: Face, screen: Screen, setout: SetOut) -> dict[str, tuple[Box, ...]]:
    """What is left to see of each thing, as boxes that do not overlap; the wall first."""
    layers = [("screen", (screen.frame,))]
    layers += [(unit.ref, _outline(unit)) for unit in sorted(setout.units, key=lambda unit: -unit.depth)]
    layers += [(zone.ref, (zone.box,)) for zone in sorted(setout.zones, key=lambda zone: -zone.build_up)]
    layers.append(("wall", (face.box,)))
    seen: dict[str, tuple[Box, ...]] = {}
    before: list[Box] = []
    for ref, region in layers:
        left = region
        # of one box only what meets it is cut out; of several `cut_out` asks for each piece
        hiding = [box for box in before if box.meets(region[0])] if len(region) == 1 else before
        for nearer in hiding:
            left = cut_out(left, nearer)
        seen[ref] = left
        before.extend(region)
    return {"wall": seen.pop("wall"), **seen}


def _outline(unit: UnitBox) -> tuple[Box, ...]:
    """What a unit covers: of a niche round the screen, the edges of its boards alone."""
    if not unit.round_screen:
        return (unit.box,)
    return cut_out((unit.box,), unit.box.grown(-load.boards()[unit.board].thickness))


def _surfaces(
    job: Job, screen: Screen, setout: SetOut, seen: dict[str, tuple[Box, ...]]
) -> tuple[Surface, ...]:
    """Wall, screen, fronts and panels, in this order."""
    dressed = [(unit.ref, front_dress(job, unit.ref, unit.front_finish)) for unit in setout.units]
    dressed += [(zone.ref, panel_dress(job, zone.ref, zone.finish)) for zone in setout.zones]
    return (
        _surface("wall", wall_dress(job), seen),
        _as_seen("screen", f"{screen.diagonal:g} in screen, off", SCREEN_OFF, "gloss", seen),
        *(_surface(ref, dress, seen) for ref, dress in dressed),
    )


def _surface(ref: str, dress: Dress, seen: dict[str, tuple[Box, ...]]) -> Surface:
    return _as_seen(ref, dress.finish.name, dress.colour, dress.finish.gloss, seen)


def _as_seen(ref: str, name: str, colour: str, gloss: str, seen: dict[str, tuple[Box, ...]]) -> Surface:
    area = sum(piece.area for piece in seen[ref])
    return Surface(ref, name, area, colour, lab(colour), reflectance(colour), gloss)


def _behind(screen: Screen, setout: SetOut, surfaces: Sequence[Surface]) -> tuple[tuple[Surface, float], ...]:
    """What the screen hangs before, and the share of its outline that each has, the largest first: panels, and the wall
    where none is.
    """
    shares: dict[str, float] = {}
    left: tuple[Box, ...] = (screen.frame,)
    for zone in sorted(setout.zones, key=lambda zone: -zone.build_up):
        rest = cut_out(left, zone.box)
        shares[zone.ref] = sum(box.area for box in left) - sum(box.area for box in rest)
        left = rest
    shares["wall"] = sum(box.area for box in left)
    met = [
        (surface, shares[surface.ref] / screen.frame.area)
        for surface in surfaces
        if shares.get(surface.ref, 0.0) > 0
    ]
    return tuple(sorted(met, key=lambda item: -item[1]))


def _beside(light: Light, surfaces: Sequence[Surface]) -> tuple[tuple[Surface, float], ...]:
    """The faces in the band of light round the screen, and the share of it that each has."""
    by_ref = {surface.ref: surface for surface in surfaces}
    return tuple((by_ref[ref], share) for ref, share in light.around if ref in by_ref)


def _mixed(faces: Sequence[tuple[Surface, float]]) -> Lab:
    """The colour of faces together, as a mean by area."""
    mean = [sum(share * surface.lab[k] for surface, share in faces) for k in range(3)]
    return mean[0], mean[1], mean[2]


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
