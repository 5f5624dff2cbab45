"""What moves, and the room it sweeps in front of the wall."""

from __future__ import annotations

from wallwright.carcass.fronts import Front
from wallwright.carcass.record import Drawn, UnitBox
from wallwright.core.shape import Block


def mover(unit: UnitBox, front: Front, face: float, runner: float) -> Drawn:
    """The swept block of a front from closed to open.

    face : y of the fronts' face [mm] · runner : how far a drawer comes out [mm]. A door sweeps a quarter round of its width, a
    flap (hinged at its foot) one of its height; the block holds it.
    """
    box = front.box
    out = {"drawer": runner, "door": box.width, "flap": box.height}[front.kind]
    swept = Block(box.x, face - out, box.z, box.width, out, box.height)
    return Drawn(f"{unit.ref}.{front.cell.number}-F{front.number}", unit.ref, front.kind, box, swept)
