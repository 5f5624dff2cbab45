"""What moves, and the room it sweeps in front of the wall."""

from __future__ import annotations

import math

from wallwright.carcass.fronts import Front
from wallwright.carcass.record import Drawn, UnitBox
from wallwright.core.shape import Block

QUARTER = 90.0
"""How far doors and flaps open [degrees]: a flap is held level by its stays."""


def mover(unit: UnitBox, front: Front, face: float, runner: float, handle: float = 0.0) -> Drawn:
    """The swept block of a front from closed to open.

    face : y of the fronts' face [mm] · runner : how far a drawer or pull-out comes out [mm] · handle : how far a handle stands
    proud of the front [mm]. A door sweeps a quarter round of its width, a flap one of its height (hinged at its foot, or at its
    head where it lifts), its handle a little more; the block holds it. What is set in between the boards' edges turns at the same
    face and sweeps the same.
    """
    box = front.box
    drawn = front.kind in ("drawer", "pull_out")
    out = runner + handle if drawn else math.hypot(box.height if front.kind == "flap" else box.width, handle)
    swept = Block(box.x, face - out, box.z, box.width, out, box.height)
    ref = f"{unit.ref}.{front.cell.number}-F{front.number}"
    hand = ("left" if front.hung_left else "right") if front.kind == "door" else ""
    return Drawn(
        ref, unit.ref, front.kind, box, swept, 0.0 if drawn else QUARTER, hand, handle, lifts=front.lifts
    )
