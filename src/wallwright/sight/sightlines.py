"""What stands between the eyes and the picture's foot: bed foot, backs and heads of nearer seats, soundbar, table.

All sight lines from one eye to the level lower edge of the picture lie in one plane, so how high they pass depends only on how
far from the wall: z = z_eye + (z_foot − z_eye)(d_eye − d)/(d_eye − d_foot). Plan: x along the wall, out from it; all mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

PICTURE = "picture"


@dataclass(frozen=True, slots=True)
class Foot:
    """The edge that must be seen: from left to right at this height, `out` from the wall. The picture's foot, or the IR eye's."""

    left: float
    right: float
    z: float
    out: float
    what: str = PICTURE


@dataclass(frozen=True, slots=True)
class Eyes:
    """An eye in its seat: x, distance from the wall, height."""

    seat: str
    x: float
    out: float
    z: float


@dataclass(frozen=True, slots=True)
class Ahead:
    """Something before the screen: its plan from left to right and from near to far (out from the wall), its top, and the clear
    height a sight line wants above it. seat : for this seat's eyes only, as the bed's own foot is; "" for all.
    """

    name: str
    left: float
    right: float
    near: float
    far: float
    top: float
    wants: float
    seat: str = ""


@dataclass(frozen=True, slots=True)
class SightLine:
    """A sight line over a thing. ray : its height there · clear : above the top (below 0: hidden) · out : where, from the wall ·
    hidden : how much of the picture's foot the thing hides [mm up from the edge]
    """

    seat: str
    over: str
    what: str
    out: float
    ray: float
    top: float
    clear: float
    wants: float
    hidden: float

    @property
    def good(self) -> bool:
        """Whether it passes as far above as it should."""
        return self.clear >= self.wants - 1e-9


def height(eye: Eyes, foot: Foot, out: float) -> float:
    """How high the sight lines to the edge pass, `out` from the wall."""
    return eye.z + (foot.z - eye.z) * (eye.out - out) / (eye.out - foot.out)


def line(eye: Eyes, foot: Foot, thing: Ahead) -> SightLine | None:
    """The lowest clearance of an eye's sight lines over a thing; None where none of them passes over it."""
    near, far = max(thing.near, foot.out), min(thing.far, eye.out)
    if near > far or eye.out <= foot.out or (thing.seat and thing.seat != eye.seat):
        return None
    meets = [out for out in (near, far) if _across(eye, foot, thing, out)]
    if not meets:
        return None
    out = min(meets, key=lambda out: height(eye, foot, out))
    ray = height(eye, foot, out)
    edges = [
        eye.z + (thing.top - eye.z) * (eye.out - foot.out) / (eye.out - at) - foot.z
        for at in meets
        if at < eye.out
    ]
    hidden = max(0.0, *edges) if edges and ray < thing.top else 0.0
    return SightLine(
        eye.seat, thing.name, foot.what, out, ray, thing.top, ray - thing.top, thing.wants, hidden
    )


def _across(eye: Eyes, foot: Foot, thing: Ahead, out: float) -> bool:
    """Whether the fan of sight lines meets the thing's width there."""
    share = (eye.out - out) / (eye.out - foot.out)
    left, right = (eye.x + (x - eye.x) * share for x in (foot.left, foot.right))
    return left < thing.right and thing.left < right


def lines(eyes: Sequence[Eyes], feet: Sequence[Foot], things: Sequence[Ahead]) -> tuple[SightLine, ...]:
    """Every sight line that passes over something, the tightest first."""
    found = [
        seen
        for eye in eyes
        for foot in feet
        for thing in things
        if (seen := line(eye, foot, thing)) is not None
    ]
    return tuple(sorted(found, key=lambda seen: seen.clear - seen.wants))


def foot_needed(eye: Eyes, foot: Foot, thing: Ahead, out: float) -> float:
    """The height that the edge must have for this eye's sight line to pass as far above the thing as it should."""
    return eye.z + (thing.top + thing.wants - eye.z) * (eye.out - foot.out) / (eye.out - out)
