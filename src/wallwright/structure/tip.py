"""Standing units: what tips them, with drawers out and a child on them, and whether they can be stood up. N, mm, kg."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.structure.record import StandCheck, TipCheck

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, Carcass, Part, UnitBox

G = 9.80665
HANGS_ON = 50.0
"""A child's weight in front of the edge it hangs on [mm]."""


def push_to_tip(mass: float, lever: float, height: float) -> float:
    """Level push at `height` that tips a loose unit [N]: W·g·e/z; 0 where it falls by itself.

    lever : e, how far its centre of mass stands behind its front foot [mm]
    """
    return max(0.0, mass * G * lever / height)


def drawers_out(mass: float, lever: float, out: Sequence[tuple[float, float]]) -> float:
    """Standing moment over tipping moment about the front foot with drawers open; below 1 it falls.

    mass, lever : of what stays, and how far its centre stands behind the front foot [mm] · out : (kg, distance in front of the
    front foot [mm]), below 0 behind it. Infinite where nothing pulls forward, 0 where it falls by itself.
    """
    if lever <= 0:
        return 0.0
    tipping = sum(kg * x for kg, x in out)
    return math.inf if tipping <= 0 else mass * lever / tipping


def held_at(mass: float, lever: float, height: float, out: Sequence[tuple[float, float]]) -> float:
    """Pull that holds a unit at `height` against what stands out in front of its foot [N]; 0 where it stands alone.

    mass, lever : of what stays · out : (kg, distance in front of its front foot [mm])
    """
    return max(0.0, (sum(kg * x for kg, x in out) - mass * lever) * G / height)


def tilt_up(height: float, depth: float) -> float:
    """The height a box needs while it is tilted up [mm]: √(h² + d²)."""
    return math.hypot(height, depth)


def foot_line(parts: Sequence[Part], legs: float | None) -> float:
    """Y of the line about which a unit tips [mm]: its foremost plinth board's front edge, the middle of its front legs, else its
    own front edge. legs : how far these stand in from the carcass's front edge; None on a plinth.

    Feet stand behind the plinth's edge, but level it so near the floor that the edge bears first.
    """
    plinth = [part.block.y for part in parts if part.role == "plinth"]
    if plinth:
        return min(plinth)
    return front_edge(parts) + (legs or 0.0)


def front_edge(parts: Sequence[Part]) -> float:
    """Y of the carcass's front edge [mm]: of its bottoms and sides, without its fronts."""
    return min(part.block.y for part in parts if part.role in ("bottom", "side"))


def balance(parts: Iterable[Part], foot: float) -> tuple[float, float]:
    """Mass of boards [kg] and how far their centre stands behind the foot [mm]; 0 without boards."""
    own = [(part.mass, part.block.y + part.block.dy / 2 - foot) for part in parts]
    mass = sum(kg for kg, _ in own)
    return mass, sum(kg * y for kg, y in own) / mass if mass else 0.0


def tower(unit: UnitBox, carcass: Carcass, limits: Limits) -> TipCheck:
    """A standing tower, empty and loose: its own boards only. It is stood up box by box, so the tallest box counts."""
    parts = [part for part in carcass.parts if part.unit == unit.ref]
    boxes = [part.block for part in parts if part.role == "side"]
    mass, lever = balance(parts, foot_line(parts, _legs(unit, limits)))
    needs = max((tilt_up(block.dz, block.dy) for block in boxes), default=0.0)
    return TipCheck(unit.ref, mass, push_to_tip(mass, lever, unit.box.top), unit.anchored, needs, lever)


def standing(unit: UnitBox, carcass: Carcass, limits: Limits) -> StandCheck:
    """A unit on the floor, empty but for its drawers, which are full and all out; then with a child on the lowest one's front.

    A drawer takes its boards, its front and its volume's usual filling out with it. Without drawers the child hangs on the
    carcass's front edge.
    """
    value = limits.value
    parts = [part for part in carcass.parts if part.unit == unit.ref]
    foot = foot_line(parts, _legs(unit, limits))
    drawn = [(bay, _drawn(bay, parts)) for bay in carcass.bays if bay.unit == unit.ref and bay.drawers]
    out = [one for bay, moved in drawn for one in _out(bay, moved, foot, limits)]
    gone = {part.id for _, moved in drawn for part in moved}
    mass, lever = balance((part for part in parts if part.id not in gone), foot)
    reach = max([HANGS_ON, *(bay.depth * value("structure.climb_out") for bay, _ in drawn)])
    climbed = [*out, (value("structure.climber"), foot - front_edge(parts) + reach)]
    height = max(unit.box.top - unit.box.z - value("structure.tower_hole"), 1.0)
    force = held_at(mass, lever, height, climbed) * value("structure.anchor_margin")
    given = 2 * max(value("structure.tower_anchor"), force / 2) if unit.anchored else 0.0
    return StandCheck(
        unit.ref, unit.kind, sum(part.mass for part in parts), sum(bay.drawers for bay, _ in drawn), drawers_out(mass, lever, out),
        drawers_out(mass, lever, climbed), height, force, given, unit.anchored, lever,
    )  # fmt: skip


def _legs(unit: UnitBox, limits: Limits) -> float | None:
    """How far a unit's legs stand in; None where it has none."""
    return limits.value("carcass.leg_inset") if unit.base == "legs" and unit.box.z <= 0 else None


def _drawn(bay: BayBox, parts: Iterable[Part]) -> list[Part]:
    """What a bay's drawers take out with them: their boxes and fronts."""
    return [part for part in parts if part.id.startswith((f"{bay.ref}-D", f"{bay.ref}-F"))]


def _out(bay: BayBox, drawn: Sequence[Part], foot: float, limits: Limits) -> Iterator[tuple[float, float]]:
    """A bay's drawers drawn out and full: what of them [kg] stands how far in front of the foot [mm]."""
    ahead = foot + bay.depth * limits.value("structure.climb_out")
    yield from ((part.mass, ahead - part.block.y - part.block.dy / 2) for part in drawn)
    boxes = [part.block for part in drawn if part.role != "front"]
    if boxes:
        middle = (min(box.y for box in boxes) + max(box.y + box.dy for box in boxes)) / 2
        yield bay.box.area * bay.depth / 1e9 * limits.value("structure.drawer_contents"), ahead - middle
