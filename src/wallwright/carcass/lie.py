"""How a board lies: its datum corner, which way its length and width run from there in the room, and which of its faces is inside.

Boards are bored from the corner that is marked on them, front lower for what stands, front left for what lies: then a left and a
right side have the same figures and differ only in hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.carcass.record import Part
from wallwright.core.shape import Block

Axis = Literal["x", "y", "z"]
Point3 = tuple[float, float, float]
PLACE = {"x": 0, "y": 1, "z": 2}


@dataclass(frozen=True, slots=True)
class Lie:
    """A board's own axes in the room.

    along, across, through : the room's axes of its length, width and thickness · origin : its datum corner on the inside face ·
    ways : 1 or -1 along each of the three, from the datum corner; the third points from the inside face into the board ·
    corner : that corner in words · size : length, width and thickness as drawn [mm]
    """

    along: Axis
    across: Axis
    through: Axis
    origin: Point3
    ways: tuple[int, int, int]
    corner: str
    size: Point3

    @property
    def as_drawn(self) -> bool:
        """Whether it looks as it is drawn, its length to the right and its width up, when one looks at its inside face; else it is
        the handed one of a pair.
        """
        a, b, c = (
            _unit(axis, way)
            for axis, way in zip((self.along, self.across, self.through), self.ways, strict=True)
        )
        cross = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
        return sum(p * q for p, q in zip(cross, c, strict=True)) < 0

    def room(self, x: float, y: float, deep: float = 0.0) -> Point3:
        """A point of the board in the room: x along its length, y across it, `deep` below its inside face [mm]."""
        out = list(self.origin)
        for axis, way, value in zip(
            (self.along, self.across, self.through), self.ways, (x, y, deep), strict=True
        ):
            out[PLACE[axis]] += way * value
        return out[0], out[1], out[2]

    def own(self, at: Point3) -> Point3:
        """A point of the room in the board's own axes: x, y, and how deep below the inside face [mm]."""
        x, y, deep = (
            (at[PLACE[axis]] - self.origin[PLACE[axis]]) * way
            for axis, way in zip((self.along, self.across, self.through), self.ways, strict=True)
        )
        return x, y, deep


def _unit(axis: Axis, way: int) -> Point3:
    return tuple(way if name == axis else 0 for name in ("x", "y", "z"))  # type: ignore[return-value]


def lie(part: Part, *, inside: int = 0, right: bool = False) -> Lie:
    """How a part lies. inside : on which side of it along its thickness its inside face is, 1 or -1; 0 = as usual for its role ·
    right : its datum corner is at its right-hand end in the room (a door that hinges there).
    """
    block = part.block
    through = _through(part)
    along = _along(part, through)
    across: Axis = next(axis for axis in ("x", "y", "z") if axis not in (along, through))  # type: ignore[assignment]
    face = inside or _inside(part, through)
    ways: dict[Axis, int] = {axis: 1 for axis in ("x", "y", "z")}  # type: ignore[misc]
    if right:
        ways["x"] = -1
    bevelled = part.role == "rail" and "45" in part.name
    if bevelled:  # measured from its square edge
        ways["z"] = -1
    ways[through] = -face
    origin = tuple(
        _low(block, axis) if ways[axis] > 0 else _low(block, axis) + _size(block, axis)
        for axis in ("x", "y", "z")
    )
    corner = "upper left corner, seen from the room" if bevelled else _corner(through, right=right)
    return Lie(
        along, across, through, (origin[0], origin[1], origin[2]), (ways[along], ways[across], ways[through]), corner,
        (_size(block, along), _size(block, across), _size(block, through)),
    )  # fmt: skip


def _corner(through: Axis, *, right: bool) -> str:
    if through == "x":
        return "front lower corner"
    if through == "z":
        return f"front {'right' if right else 'left'} corner, seen from above"
    return f"lower {'right' if right else 'left'} corner, seen from the room"


def _through(part: Part) -> Axis:
    """The axis of its thickness: by its role where two sizes are alike."""
    by_role: dict[str, Axis] = {
        "side": "x", "drawer_side": "x", "top": "z", "bottom": "z", "shelf": "z", "drawer_bottom": "z", "front": "y", "back": "y",
        "rail": "y", "cleat": "y", "drawer_end": "y", "gap_rail": "y", "filler": "y", "backer": "y",
    }  # fmt: skip
    known = by_role.get(part.role)
    if known:
        return known
    axes: tuple[Axis, ...] = ("x", "y", "z")
    return min(axes, key=lambda axis: abs(_size(part.block, axis) - part.thickness))


def _along(part: Part, through: Axis) -> Axis:
    """The axis of its length: of the two that are left, the one whose size is its length, or nearer to it."""
    rest: list[Axis] = [axis for axis in ("x", "y", "z") if axis != through]  # type: ignore[misc]
    if through == "x":
        rest.reverse()  # a square side stands
    return min(rest, key=lambda axis: abs(_size(part.block, axis) - part.length))


def _inside(part: Part, through: Axis) -> int:
    """Where its inside face looks: of a left side to the right, of a bottom up, of a front and a drawer's front end to the wall."""
    if part.role == "side":
        return 1 if part.id.endswith("-L") else -1
    if part.role == "drawer_side":
        return 1 if part.id.endswith("L") else -1
    if part.role == "top":
        return -1
    if part.role == "drawer_end":
        return 1 if part.id.endswith("F") else -1
    if part.role == "frame":
        return -1 if part.id.endswith("OB") else 1
    if part.role in ("front", "cleat", "rail", "back"):
        return {"front": 1}.get(part.role, -1)
    if part.role == "plinth":
        return -1 if part.id.endswith(("P2", "P4")) else 1
    return 1 if through != "y" else -1


def _low(block: Block, axis: Axis) -> float:
    return {"x": block.x, "y": block.y, "z": block.z}[axis]


def _size(block: Block, axis: Axis) -> float:
    return {"x": block.dx, "y": block.dy, "z": block.dz}[axis]
