"""Where the air openings of a shut compartment go: one low where the room's air comes in, one high where the warm air leaves.

A bay that nothing stands under takes its air through the bottom board, behind the front edge (through the plinth, where there is
one); a bay that nothing stands on lets it out through the top board, before the back. Where there is a gap behind a unit that is
open above, the back's upper edge serves; every other opening is a grille in the front.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.cooling.record import VentOpening
from wallwright.core.limit import Limits
from wallwright.core.shape import Box

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, Part, UnitBox

CM2, M2 = 1e-2, 1e-6  # cm² and m² of a mm²


@dataclass(frozen=True, slots=True)
class Place:
    """Where an opening may be cut: the board, the face it goes through, and the field [mm] it may take.

    field : x from the wall's left corner and z above FFL; on a level board z is out from the wall · middle : its height above
    FFL · low : it lets air in
    """

    part: str
    face: str
    field: Box
    middle: float
    low: bool
    what: str


def places(
    bay: BayBox, tall: float, unit: UnitBox, parts: Sequence[Part], ceiling: float, limits: Limits
) -> tuple[Place, ...]:
    """One place low, one high, and the plinth's grille before a low one in the bottom. tall : of the compartment [mm], at the
    bottom of its bay. A place whose board is not there is left out.
    """
    whole = tall >= bay.box.height - 1.0
    under_shelf = 0.0 if whole else limits.value("cooling.board_thickness")
    level = Box(bay.box.x, bay.box.z, bay.box.width, min(tall, bay.box.height) - under_shelf)
    own = [part for part in parts if part.unit == bay.unit]
    low = (
        _through(own, "bottom", level, bay, limits) if _lowest(bay, own) and _air_below(unit, limits) else ()
    )
    high = (
        _through(own, "top", level, bay, limits)
        if whole and _air_above(bay, unit, own, ceiling, limits)
        else ()
    )
    back = () if high or unit.hung else _back(own, level, bay, limits)
    return (
        *(low or _front(own, level, bay, True, limits)),
        *(high or back or _front(own, level, bay, False, limits)),
    )


def cut(wanted: float, free: Sequence[Place], bay: str, limits: Limits) -> tuple[VentOpening, ...]:
    """The openings that give so much free area each, low and high [m²], or as much as their places hold."""
    share, step = limits.value("cooling.vent_free"), limits.value("cooling.vent_step")
    least = limits.value("cooling.vent_least")
    out: list[VentOpening] = []
    across: dict[tuple[str, bool], float] = {}
    for place in free:  # leaves of one front share what is wanted
        across[place.face, place.low] = across.get((place.face, place.low), 0.0) + place.field.width
    for place in free:
        most = math.floor(place.field.height / step + 1e-9) * step
        height = min(
            most, max(least, math.ceil(wanted / M2 / share / across[place.face, place.low] / step) * step)
        )
        if height < least:
            continue
        at_foot = place.low != (place.face == "bottom")  # a slot in the bottom lies by its front edge
        z = place.field.z if at_foot or place.face == "top" else place.field.top - height
        out.append(
            VentOpening(
                bay, place.part, place.face, place.field.x, z, place.field.width, height,
                f"{place.what}, {share * place.field.width * height * CM2:.0f} cm² free",
                share * place.field.width * height * CM2, place.low,
            )
        )  # fmt: skip
    return tuple(out)


def _air_below(unit: UnitBox, limits: Limits) -> bool:
    """Whether air comes to the underside of a unit: it hangs clear of the floor, or stands on a plinth or legs."""
    return unit.box.z <= 0 or unit.box.z >= limits.value("cooling.above_clear")


def _air_above(bay: BayBox, unit: UnitBox, own: Sequence[Part], ceiling: float, limits: Limits) -> bool:
    """Whether the bay is the top one of its unit, and its top has air over it."""
    above = max((part.block.z for part in own if part.role == "top"), default=0.0)
    return bay.box.top >= above - 2.0 and ceiling - unit.box.top >= limits.value("cooling.above_clear")


def _lowest(bay: BayBox, own: Sequence[Part]) -> bool:
    below = min((part.block.z + part.block.dz for part in own if part.role == "bottom"), default=math.inf)
    return bay.box.z <= below + 2.0


def _through(own: Sequence[Part], role: str, level: Box, bay: BayBox, limits: Limits) -> tuple[Place, ...]:
    """Through the bottom behind its front edge, or through the top before the back; with the plinth before it, where one is."""
    edge, set_back = limits.value("cooling.vent_edge"), limits.value("cooling.vent_front")
    board = next(
        (p for p in own if p.role == role and p.block.x <= level.x + 1 and p.block.x + p.block.dx >= level.right - 1),
        None,
    )  # fmt: skip
    if board is None or level.width <= 2 * edge:
        return ()
    front, back = -board.block.y, max(-board.block.y - bay.depth, 0.0)
    deep = limits.value("cooling.vent_deep") * bay.depth
    low = role == "bottom"
    near = front - set_back - deep if low else back + set_back
    field = Box(level.x + edge, near, level.width - 2 * edge, deep)
    middle = board.block.z + board.block.dz / 2
    where = "slot in the bottom behind the front edge" if low else "slot in the top before the back"
    made = (Place(board.id, role, field, middle, low, where),)
    return (*_plinth(own, field, level, edge), *made) if low else made


def _plinth(own: Sequence[Part], field: Box, level: Box, edge: float) -> tuple[Place, ...]:
    """The grille in a plinth before a slot in the bottom."""
    front = next((p for p in own if p.role == "plinth" and "front" in p.name), None)
    if front is None:
        return ()
    block = front.block
    x0, x1 = max(block.x + edge, level.x), min(block.x + block.dx - edge, level.right)
    high = max(block.dz - 2 * edge / 2, 0.0)
    grille = Box(x0, block.z + edge / 2, x1 - x0, high)
    return (
        (Place(front.id, "plinth", grille, grille.centre[1], True, "grille in the plinth"),)
        if x1 > x0 and high
        else ()
    )


def _back(own: Sequence[Part], level: Box, bay: BayBox, limits: Limits) -> tuple[Place, ...]:
    """The back's upper edge, into the gap behind it that is open above: no larger than that gap lets through."""
    edge, share = limits.value("cooling.vent_edge"), limits.value("cooling.vent_free")
    board = next((p for p in own if p.role == "back" and p.block.face.holds(level.grown(-1.0))), None)
    if board is None or level.width <= 2 * edge:
        return ()
    gap = -(board.block.y + board.block.dy)
    high = min(limits.value("cooling.vent_tall") * level.height, gap / share)
    field = Box(level.x + edge, level.top - high, level.width - 2 * edge, high)
    return (Place(board.id, "back", field, field.top, False, "slot in the back, into the gap behind"),)


def _front(own: Sequence[Part], level: Box, bay: BayBox, low: bool, limits: Limits) -> tuple[Place, ...]:
    """A grille in each leaf of the front, at its foot or its head."""
    edge, high = limits.value("cooling.vent_edge"), limits.value("cooling.vent_tall") * level.height
    where = "at the foot" if low else "at the head"
    out: list[Place] = []
    for part in own:
        face = part.block.face
        if part.role != "front" or not part.id.startswith(f"{bay.ref}-") or not face.meets(level.grown(-1.0)):
            continue
        x0, x1 = max(face.x, level.x) + edge, min(face.right, level.right) - edge
        tall = high - edge / 2
        if x1 > x0 and tall > 0:
            z = level.z + edge / 2 if low else level.top - high
            field = Box(x0, z, x1 - x0, tall)
            out.append(Place(part.id, "front", field, field.centre[1], low, f"grille in the front, {where}"))
    return tuple(out)


def passes(vents: Sequence[VentOpening], low: bool) -> float:
    """What the openings of one end pass [m²]: those of one face together, the tightest of faces one behind another."""
    faces: dict[str, float] = {}
    for vent in vents:
        if vent.low == low:
            faces[vent.face] = faces.get(vent.face, 0.0) + vent.free
    return min(faces.values(), default=0.0) / 1e4
