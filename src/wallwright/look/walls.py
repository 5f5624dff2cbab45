"""The two walls measured: this one from what is drawn on it, the one behind the seats from its survey."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.colour import reflectance
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.job.document import Job
from wallwright.job.dress import USUAL_WALL, finish_of
from wallwright.job.face import Face
from wallwright.job.survey import OtherWall
from wallwright.look.balance import visual_weight
from wallwright.look.colour import difference, lab
from wallwright.look.edges import Line, seen_length
from wallwright.look.record import Surface, Terms, TwoWalls
from wallwright.look.weigh import dominances, entropy, mean_luminance, star

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, PanelZone, SetOut
    from wallwright.light.record import LightRun
    from wallwright.sight.record import Screen

SCREEN_ON = "#777777"
"""A screen that is on, as one colour: the mean grey of ordinary pictures (18 % of its white)."""
WEIGHTS = ("plain", "some", "heavy")


def two_walls(  # noqa: PLR0913
    job: Job,
    face: Face,
    screen: Screen,
    setout: SetOut,
    surfaces: Sequence[Surface],
    runs: Sequence[LightRun],
    bays: Sequence[BayBox],
    limits: Limits,
) -> TwoWalls:
    """Both walls' terms, the screen off and on, and which of the two leads."""
    edges = seen_length(_layers(screen, setout, bays), face.box) / 1000 / (face.box.area / 1e6)
    off = _this(surfaces, edges, face, runs, 0.0, limits)
    lit = [_lit_up(surface) if surface.ref == "screen" else surface for surface in surfaces]
    on = _this(lit, edges, face, runs, limits.value("sight.picture_mean_night"), limits)
    wall = next((wall for wall in job.survey.other_walls if wall.side == "opposite"), None)
    measured = wall is not None and bool(wall.parts)
    other = _measured(wall, face, limits) if wall is not None and wall.parts else _by_word(job, wall, limits)
    ratio, terms = limits.value("look.star_ratio"), round(limits.value("look.star_terms"))
    return TwoWalls(
        off, on, other, measured, dominances(off, other), dominances(on, other),
        star(off, other, ratio, terms), star(on, other, ratio, terms),
    )  # fmt: skip


def _lit_up(screen: Surface) -> Surface:
    return Surface(
        screen.ref, screen.name, screen.area, SCREEN_ON, lab(SCREEN_ON), screen.reflectance, screen.gloss
    )


def _this(
    surfaces: Sequence[Surface],
    edges: float,
    face: Face,
    runs: Sequence[LightRun],
    picture: float,
    limits: Limits,
) -> Terms:
    ground, whole = surfaces[0], face.box.area
    parts = [(s.area, difference(ground.lab, s.lab)) for s in surfaces[1:]]
    by_colour: dict[str, float] = {}
    for surface in surfaces:
        by_colour[surface.colour] = by_colour.get(surface.colour, 0.0) + surface.area
    mood = limits.value("look.mood_level")
    strips = sum(
        run.visible_lumens * (run.dim_to if run.bias else mood) * run.reflectance / math.pi * 1e6
        for run in runs
    )
    picture_light = sum(s.area for s in surfaces if s.ref == "screen") * picture
    bright = mean_luminance(
        [(s.area, s.reflectance / 100) for s in surfaces], _lux(limits), strips + picture_light, whole
    )
    return Terms(visual_weight(parts, whole), edges, bright / _room(limits), entropy(by_colour.values()))


def _lux(limits: Limits) -> float:
    return limits.value("sight.room_light_night")


def _room(limits: Limits) -> float:
    """The room's mean luminance in the evening [cd/m²]."""
    return _lux(limits) * limits.value("look.room_reflectance") / math.pi


def _measured(wall: OtherWall, face: Face, limits: Limits) -> Terms:
    """Another wall from its parts: sizes, colours, lines inside them, and the light on it."""
    width = wall.width.mm if wall.width is not None else face.width
    height = wall.height.mm if wall.height is not None else face.height
    whole = width * height
    colour = wall.colour or finish_of(None, USUAL_WALL).colour
    ground = lab(colour)
    parts = [(part.width.mm * part.height.mm * part.count, part.colour) for part in wall.parts]
    bare = max(0.0, whole - sum(area for area, _ in parts))
    whole = bare + sum(area for area, _ in parts)  # parts that outgrow the wall are all there is of it
    lines = sum(
        part.count * 2 * (part.width.mm + part.height.mm) / 1000 + part.lines * area / 1e6
        for part, (area, _) in zip(wall.parts, parts, strict=True)
    )
    areas: dict[str, float] = {colour: bare}
    for area, tone in parts:
        areas[tone] = areas.get(tone, 0.0) + area
    lux = wall.lux if wall.lux is not None else _lux(limits)
    bright = mean_luminance(
        [(area, reflectance(tone) / 100) for tone, area in areas.items()], lux, 0.0, whole
    )
    return Terms(
        visual_weight([(area, difference(ground, lab(tone))) for area, tone in parts], whole),
        lines / (whole / 1e6), bright / _room(limits), entropy(areas.values()),
    )  # fmt: skip


def _by_word(job: Job, wall: OtherWall | None, limits: Limits) -> Terms:
    """What walls so named usually measure: the heavier of the survey's and the brief's word."""
    words = (job.brief.opposite_wall, wall.weight if wall is not None else "plain")
    word = max(words, key=WEIGHTS.index)
    difference_, edges, lit, bits = (
        limits.value(f"look.{word}_{term}") for term in ("difference", "edges", "lit", "entropy")
    )
    return Terms(difference_, edges, lit, bits)


def _layers(screen: Screen, setout: SetOut, bays: Sequence[BayBox]) -> list[tuple[Box, list[Line]]]:
    """What hides what, nearest first, each with its inner lines."""
    layers: list[tuple[Box, list[Line]]] = [(screen.frame, [])]
    of_unit: dict[str, list[BayBox]] = {}
    for bay in bays:
        of_unit.setdefault(bay.unit, []).append(bay)
    for unit in sorted(
        (unit for unit in setout.units if not unit.round_screen), key=lambda unit: -unit.depth
    ):
        own = of_unit.get(unit.ref, ())
        layers.append((unit.box, _front_lines(unit.box, own, level=unit.kind == "tower")))
    for zone in sorted(setout.zones, key=lambda zone: -zone.build_up):
        layers.append((zone.box, _panel_lines(zone)))
    return layers


def _front_lines(box: Box, bays: Sequence[BayBox], level: bool) -> list[Line]:
    """The gaps between a unit's bays, between the drawers of one, and the shelves that one sees."""
    lines: list[Line] = []
    first = min((bay.box.z if level else bay.box.x for bay in bays), default=0.0)
    for bay in bays:
        start = bay.box.z if level else bay.box.x
        if start > first:
            lines.append(Line(False, start, box.x, box.right) if level else Line(True, start, box.z, box.top))
        inner = (
            bay.drawers
            if bay.front == "drawers"
            else bay.shelves + 1
            if bay.front in ("open", "glass")
            else 1
        )
        for k in range(1, inner):
            lines.append(Line(False, bay.box.z + bay.box.height * k / inner, bay.box.x, bay.box.right))
    return lines


def _panel_lines(zone: PanelZone) -> list[Line]:
    """Joints, and one dark line a groove."""
    box = zone.box
    lines = [Line(True, x, box.z, box.top) for x in zone.joints]
    if zone.flutes:
        step = box.width / zone.flutes
        lines += [Line(True, box.x + step * (k + 0.5), box.z, box.top) for k in range(zone.flutes)]
    return lines
