"""Lines to compose by, and how near things come to them: the axis, thirds, the console's usual width, mirror places of towers.

Rules of thumb of the trade; the numbers say where a thing stands, not whether it is beautiful.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.look.record import Alignment, Guide, NearLine

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut, UnitBox
    from wallwright.sight.record import Screen


def guides(screen: Screen, setout: SetOut, face: Box, seats_axis: float, limits: Limits) -> tuple[Guide, ...]:
    """All lines: upright ones first."""
    middle, frame = screen.centre[0], screen.frame
    out = [
        Guide("axis", True, middle, face.z, face.top, "middle of the screen"),
        Guide("seats", True, seats_axis, face.z, face.top, "axis of the seats"),
        *(Guide("edge", True, x, face.z, face.top, "edge of the screen") for x in (frame.x, frame.right)),
        *(Guide("third", True, face.x + face.width * k / 3, face.z, face.top, "third of the wall") for k in (1, 2)),
        *(Guide("third", False, face.z + face.height * k / 3, face.x, face.right, "third of the wall") for k in (1, 2)),
    ]  # fmt: skip
    for console in (unit for unit in setout.units if unit.kind == "console"):
        for name in ("look.console_least", "look.console_most"):
            ratio = limits.value(name)
            half = ratio * frame.width / 2
            says = f"console {ratio:g} × the screen"
            out += [
                Guide("console", True, middle + side * half, console.box.z, console.box.top, says)
                for side in (-1, 1)
            ]
    out += [
        Guide(
            "mirror",
            True,
            2 * middle - edge,
            unit.box.z,
            unit.box.top,
            f"{unit.ref} mirrored in the screen's axis",
        )
        for unit in setout.units
        if unit.tall
        for edge in (unit.box.x, unit.box.right)
    ]
    return tuple(out)


def symmetry(screen: Screen, setout: SetOut) -> float | None:
    """How far towers left and right are from mirroring one another in the screen's axis [mm]: the worst of their edges and
    tops; None where they do not stand on both sides.
    """
    middle = screen.centre[0]
    towers = [unit for unit in setout.units if unit.tall]
    left = [unit for unit in towers if unit.box.centre[0] < middle]
    right = [unit for unit in towers if unit.box.centre[0] > middle]
    if not left or not right:
        return None
    return max(min(_unlike(one, two, middle) for two in right) for one in left)


def _unlike(one: UnitBox, two: UnitBox, middle: float) -> float:
    a, b = one.box, two.box
    return max(
        abs(a.x + b.right - 2 * middle), abs(a.right + b.x - 2 * middle), abs(a.top - b.top), abs(a.z - b.z)
    )


def alignments(
    screen: Screen, setout: SetOut, lights: tuple[tuple[str, float], ...]
) -> tuple[Alignment, ...]:
    """What stands nearest to which of the screen's three uprights: ends and middles of shelves, consoles and panels, joints,
    and ends of lights (ref, x).
    """
    frame = screen.frame
    edges = (("left edge", frame.x), ("right edge", frame.right))
    out: list[Alignment] = []
    things = [(unit.ref, unit.box) for unit in setout.units if not unit.tall]
    things += [(zone.ref, zone.box) for zone in setout.zones]
    for ref, box in things:
        ends = ((name, x, *_nearest(x, edges)) for name, x in (("left end", box.x), ("right end", box.right)))
        out += [Alignment(ref, name, x, to, gap) for name, x, to, gap in ends]
        out.append(Alignment(ref, "middle", box.centre[0], "axis", box.centre[0] - screen.centre[0]))
    lines = [(zone.ref, "joint", x) for zone in setout.zones for x in zone.joints]
    lines += [(ref, "end of the light", x) for ref, x in lights]
    for ref, name, x in lines:
        to, gap = _nearest(x, (*edges, ("axis", screen.centre[0])))
        out.append(Alignment(ref, name, x, to, gap))
    return tuple(out)


def _nearest(x: float, lines: tuple[tuple[str, float], ...]) -> tuple[str, float]:
    name, at = min(lines, key=lambda line: abs(x - line[1]))
    return name, x - at


def nearest_lines(screen: Screen, setout: SetOut, niche: Box | None) -> tuple[NearLine, ...]:
    """Lines that run beside the screen's edges, where a screen that hangs out of level shows against them; nearest first."""
    frame = screen.frame
    boxes = [(unit.ref, unit.box) for unit in setout.units] + [(zone.ref, zone.box) for zone in setout.zones]
    if niche is not None:
        boxes.append(("niche", niche))
    out: list[NearLine] = []
    for ref, box in boxes:
        if box.z < frame.top and box.top > frame.z:
            out += [NearLine(ref, True, x, _beside(x, frame.x, frame.right)) for x in (box.x, box.right)]
        if box.x < frame.right and box.right > frame.x:
            out += [NearLine(ref, False, z, _beside(z, frame.z, frame.top)) for z in (box.z, box.top)]
    for zone in setout.zones:
        if zone.box.meets(frame):
            out += [NearLine(zone.ref, True, x, _beside(x, frame.x, frame.right)) for x in zone.joints]
    return tuple(sorted((line for line in out if line.gap > 0), key=lambda line: line.gap))


def _beside(at: float, low: float, high: float) -> float:
    """How far outside; negative inside (hidden by the screen)."""
    return max(low - at, at - high)
