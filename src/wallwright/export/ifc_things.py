"""What an IFC file has on a wall, in it and round its room, as the survey's own things: holes, what hangs there, other windows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.export.ifc_shapes import Building, Frame, Slab, Span, named
from wallwright.job.survey import Obstacle, ObstacleKind, Side, Window

NEAR = 150.0
"""So near a wall's face [mm] a space begins that it bounds: finishes and skirtings are drawn or not."""
BEFORE = 400.0  # what begins so near before the wall stands or hangs on it [mm]
LEAST = 20.0  # what covers less of the wall is not shown [mm]
THINGS: dict[str, ObstacleKind] = {
    "IfcColumn": "column", "IfcBeam": "beam", "IfcSpaceHeater": "radiator", "IfcOutlet": "socket", "IfcPipeSegment": "pipe",
    "IfcSwitchingDevice": "switch", "IfcUnitaryEquipment": "ac", "IfcFlowTerminal": "other", "IfcFlowSegment": "pipe",
    "IfcCableCarrierSegment": "cable", "IfcCableSegment": "cable", "IfcEnergyConversionDevice": "radiator",
}  # fmt: skip
COVERINGS: dict[str, ObstacleKind] = {"SKIRTINGBOARD": "skirting", "MOLDING": "cornice"}


def length(mm: float) -> Length:
    """A length out of a model: nobody has measured it."""
    return Length(round(mm, 1), state="assumed")


def openings(  # noqa: PLR0913
    model: Building, element: Any, body: Slab, frame: Frame, width: float, height: float, taken: list[str]
) -> Iterator[Obstacle]:  # fmt: skip
    """Holes in the wall: doors, windows, niches, and passages that nothing fills."""
    for relation in element.HasOpenings or ():
        hole = relation.RelatedOpeningElement
        filled = [one.RelatedBuildingElement for one in hole.HasFillings or ()]
        shape = model.shape(hole) or next((made for one in filled if (made := model.shape(one))), None)
        if shape is None:
            continue
        along, away, up = frame.spans(shape.points)
        box = _clipped(along, up, width, height)
        if box is None:
            continue
        kind: ObstacleKind = "door"
        note = "opening without a door"
        if filled:
            kind = "window" if filled[0].is_a("IfcWindow") else "door"
            note = named(filled[0])
        elif away[0] > -body.thickness + LEAST:
            if away[1] < -LEAST:
                continue  # a recess of the wall's other face
            kind, note = "niche", f"recess {-away[0]:.0f} deep"
        elif up[0] > 300:
            kind, note = "window", "opening without a window"
        taken.append(
            f"{kind} at x {box.x:.0f}, z {box.z:.0f}: {box.width:.0f} × {box.height:.0f} mm ({note})"
        )
        yield _obstacle(kind, box, 0.0, note)


def things(
    model: Building, frame: Frame, width: float, height: float, taken: list[str]
) -> Iterator[Obstacle]:
    """What stands or hangs on the wall, or is let into it."""
    for element in model.file.by_type("IfcElement"):
        kind: ObstacleKind | None = next(
            (ours for theirs, ours in THINGS.items() if element.is_a(theirs)), None
        )
        if element.is_a("IfcCovering"):
            kind = COVERINGS.get(str(element.PredefinedType))
        shape = model.shape(element) if kind else None
        if kind is None or shape is None:
            continue
        along, away, up = frame.spans(shape.points)
        box = _clipped(along, up, width, height)
        if box is None or away[1] < -LEAST or away[0] > BEFORE:
            continue
        if away[0] < -BEFORE and kind in ("pipe", "cable"):
            continue  # it goes through the wall elsewhere in the building
        taken.append(
            f"{kind} {shape.name!r} at x {box.x:.0f}, z {box.z:.0f}, {max(away[1], 0):.0f} mm into the room"
        )
        yield _obstacle(kind, box, max(away[1], 0.0), shape.name)


def windows(
    model: Building, element: Any, frame: Frame, room: tuple[float, float, float], taken: list[str]
) -> list[Window]:  # fmt: skip
    """Windows in the room's other walls, for daylight and reflections; room : its width, height and depth [mm]."""
    width, height, depth = room
    out: list[Window] = []
    for other in model.file.by_type("IfcWall"):
        if other.GlobalId == element.GlobalId:
            continue
        for relation in other.HasOpenings or ():
            hole = relation.RelatedOpeningElement
            if not any(one.RelatedBuildingElement.is_a("IfcWindow") for one in hole.HasFillings or ()):
                continue
            shape = model.shape(hole)
            if shape is None:
                continue
            along, away, up = frame.spans(shape.points)
            side = _side(along, away, width, depth)
            if side is None or up[1] < LEAST or up[0] > height - LEAST:  # those of other storeys
                continue
            span = along if side == "opposite" else away
            ref = f"WN{len(out) + 1}"
            out.append(
                Window(
                    ref,
                    side,
                    length(max(span[0], 0.0)),
                    length(max(up[0], 0.0)),
                    length(span[1] - span[0]),
                    length(up[1] - up[0]),
                )
            )
            taken.append(f"window {ref} in the wall {side if side == 'opposite' else f'on the {side}'}")
    return out


def _side(along: Span, away: Span, width: float, depth: float) -> Side | None:
    """In which of the room's other walls a hole is; None where it is none of this room's."""
    across, through = (along[0] + along[1]) / 2, (away[0] + away[1]) / 2
    far = 600.0  # a thick outside wall with its finishes
    if 0 < across < width and depth - NEAR < through < depth + far:
        return "opposite"
    if 0 < through < depth and -far < across < NEAR:
        return "left"
    if 0 < through < depth and width - NEAR < across < width + far:
        return "right"
    return None


def _clipped(along: Span, up: Span, width: float, height: float) -> Box | None:
    """What of it is before the wall's face; None where that is nothing to speak of."""
    x, right = max(along[0], 0.0), min(along[1], width)
    z, top = max(up[0], 0.0), min(up[1], height)
    return Box(x, z, right - x, top - z) if right - x > LEAST and top - z > LEAST else None


def _obstacle(kind: ObstacleKind, box: Box, projection: float, note: str) -> Obstacle:
    return Obstacle(
        "?", kind, length(box.x), length(box.z), length(box.width), length(box.height), length(projection), note=note[:400]
    )  # fmt: skip


def numbered(obstacles: list[Obstacle]) -> Iterator[Obstacle]:
    """Each with a reference of its kind, from left to right."""
    count: Counter[str] = Counter()
    for thing in sorted(obstacles, key=lambda one: (one.kind, one.x.mm, one.z.mm)):
        count[thing.kind] += 1
        yield replace(thing, ref=f"{thing.kind}_{count[thing.kind]}")
