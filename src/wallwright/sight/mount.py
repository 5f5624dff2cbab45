"""How the screen hangs: how sure its sizes are, where the plate goes for its holes, what plugs and hands need behind it, and what
the mount's arms cover.

Boxes are on the wall (x, z) in mm, as seen from the room.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wallwright.core.shape import Box, Point2
from wallwright.job.design import Patch, Port
from wallwright.job.design import Screen as Wanted

_SIZES = ("frame_width", "frame_height", "hole_width", "hole_height", "hole_offset")
SURE = ("maker_drawing", "measured")


@dataclass(frozen=True, slots=True)
class Confidence:
    """How sure the screen's sizes are. holes : the hole group, which a bracket height rests on · frame : the frame, which gaps
    rest on · differ : the largest disagreement of two sources [mm], None where there is only one
    """

    holes: bool
    frame: bool
    differ: float | None
    says: str


@dataclass(frozen=True, slots=True)
class Hanging:
    """Where the mount goes, for the sheets.

    verified : drill heights may be given · drill : what the templates must say instead of inviting to drill, "" when verified ·
    holes : the hole group's middle · plate_z : the plate's middle · hook_drop : hole group below plate; hook_given : by the job
    """

    verified: bool
    drill: str
    confidence: Confidence
    holes: Point2
    plate_z: float
    hook_drop: float
    hook_given: bool


@dataclass(frozen=True, slots=True)
class Behind:
    """The room behind the screen at a port: out [mm], wall to the screen's back there, tilt and all, and what is needed."""

    ref: str
    out: float
    needs: float


@dataclass(frozen=True, slots=True)
class Covered:
    """A port or vent that the mount covers: by the arms or the plate, over this area [mm²] and share of it."""

    ref: str
    kind: str
    by: str
    area: float
    share: float
    at: Box


def confidence(screen: Wanted, agree: float) -> Confidence:
    """How sure frame and holes are: measured, from the maker's drawing, or two sources that agree within `agree` mm."""
    second = screen.second
    apart: dict[str, float] = {}
    if second is not None:
        for name in _SIZES:
            one, two = getattr(screen, name), getattr(second, name)
            if one is not None and two is not None:
                apart[name] = abs(one.mm - two.mm)
    differ = max(apart.values(), default=0.0) if second is not None else None

    def sure(*names: str) -> bool:
        if any(getattr(screen, name) is None for name in names):
            return False
        if screen.source == "measured":
            return True
        if any(apart.get(name, 0.0) > agree for name in names):
            return False
        return screen.source in SURE or (screen.source != "typical" and all(name in apart for name in names))

    holes, frame = sure("hole_width", "hole_height", "hole_offset"), sure("frame_width", "frame_height")
    return Confidence(holes, frame, differ, _sure_says(screen, holes, differ, agree))


def _sure_says(screen: Wanted, holes: bool, differ: float | None, agree: float) -> str:
    source = screen.source.replace("_", " ")
    if screen.hole_width is None or screen.hole_height is None:
        return "the hole group is not entered: it is only typical of the size"
    if screen.hole_offset is None:
        return "the offset is not entered: how far the hole group stands above or below the screen's middle"
    if differ is not None and differ > agree:
        other = screen.second.source.replace("_", " ") if screen.second else ""
        says = f"{source} and {other} differ by {differ:.0f} mm"
        return says + ("; the screen itself was measured" if holes else "")
    if holes:
        return f"{source}; a second source agrees" if differ is not None else source
    return (
        f"a single {source}"
        if screen.second is None
        else f"{source}, and the second source does not give the holes"
    )


def hanging(screen: Wanted, centre: Point2, offset: float, drop: float | None, agree: float) -> Hanging:
    """Where holes and plate come: the holes at the screen's middle and their offset, the plate above them by the hook drop."""
    sure = confidence(screen, agree)
    holes = centre[0], centre[1] + offset
    drill = "" if sure.holes else f"DO NOT DRILL: bracket height unverified ({sure.says})"
    return Hanging(sure.holes, drill, sure, holes, holes[1] + (drop or 0.0), drop or 0.0, drop is not None)


def back_out(stand_off: float, tilt: float, above: float) -> float:
    """Wall to the screen's back at a point `above` the axis it tilts on: tilting forward brings what is below nearer."""
    return stand_off + above * math.sin(math.radians(tilt))


def behind(
    ports: Sequence[Port], stand_off: float, tilt: float, axis: float, wall: float, side: float
) -> tuple[Behind, ...]:
    """The room behind every port. axis : the tilting axis above the screen's middle · wall, side : what plugs need that point at
    the wall, and to a side.
    """
    return tuple(
        Behind(port.ref, back_out(stand_off, tilt, port.z.mm - axis), wall if port.faces == "wall" else side)
        for port in ports
    )


def stand_off_needed(rooms: Sequence[Behind], stand_off: float) -> float:
    """The stand-off at which every port has the room it needs."""
    return max((stand_off + room.needs - room.out for room in rooms), default=stand_off)


def arms(holes: Box, width: float, over: float) -> tuple[Box, Box]:
    """The mount's two upright arms on the screen's back: on the hole columns, a little longer than the hole group."""
    return (
        Box(holes.x - width / 2, holes.z - over, width, holes.height + 2 * over),
        Box(holes.right - width / 2, holes.z - over, width, holes.height + 2 * over),
    )


def on_wall(patch: Patch | Port, centre: Point2) -> Box:
    """A rectangle of the screen where it hangs."""
    return Box(centre[0] + patch.x.mm, centre[1] + patch.z.mm, patch.width.mm, patch.height.mm)


def covered(
    ports: Sequence[Port], vents: Sequence[Patch], centre: Point2, plate: Box, bars: Sequence[Box]
) -> tuple[Covered, ...]:
    """What the mount covers: ports and vents under its arms; by its plate, vents and ports whose plugs point at the wall."""
    out: list[Covered] = []
    for kind, patches in (("port", ports), ("vent", vents)):
        for patch in patches:
            box = on_wall(patch, centre)
            out += _under(patch.ref, kind, box, "arm", bars)
            if isinstance(patch, Patch) or patch.faces == "wall":
                out += _under(patch.ref, kind, box, "plate", (plate,))
    return tuple(out)


def _under(ref: str, kind: str, box: Box, by: str, over: Sequence[Box]) -> Iterator[Covered]:
    shared = [common for one in over if (common := box.shared(one))]
    total = sum(common.area for common in shared)
    if total > 0:
        yield Covered(ref, kind, by, total, total / box.area, shared[0])


def hand_room(
    frame: Box, sides: Sequence[tuple[str, Box]], width: float
) -> tuple[tuple[str, float], tuple[str, float]]:
    """The clear room left and right of the frame, and what bounds it: the wall's ends, or the nearest thing beside the frame."""
    left, right = ("the wall's end", frame.x), ("the wall's end", width - frame.right)
    for name, box in sides:
        if box.z >= frame.top or box.top <= frame.z:
            continue
        if box.right <= frame.x + 1e-6:
            left = min(left, (name, frame.x - box.right), key=lambda side: side[1])
        elif box.x >= frame.right - 1e-6:
            right = min(right, (name, box.x - frame.right), key=lambda side: side[1])
    return left, right
