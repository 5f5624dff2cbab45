"""An architect's IFC model read into a survey: one wall with its height, its openings, what stands on it, and the room before it.

Nothing that is read counts as measured: a model shows what was intended, often to the structural floor. Every length comes in as
assumed, and what was read, what was guessed and what was left is said in words, for the designer to correct on site.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.export.ifc_shapes import Frame, Shape, Slab, Span, named, opened, shaper, slab
from wallwright.job.problem import fail
from wallwright.job.survey import Obstacle, ObstacleKind, Reading, Room, Side, Survey, SurveyedWall, Window

NEAR = 150.0
"""So near a wall's face [mm] a space begins that it bounds: finishes and skirtings are drawn or not."""
BEFORE = 400.0  # what begins so near before the wall stands or hangs on it [mm]
LEAST = 20.0  # what covers less of the wall is not shown [mm]
STRAIGHT = 0.97  # a wall that fills less of its own box is bent, or has corners
THINGS: dict[str, ObstacleKind] = {
    "IfcColumn": "column", "IfcBeam": "beam", "IfcSpaceHeater": "radiator", "IfcOutlet": "socket", "IfcPipeSegment": "pipe",
    "IfcSwitchingDevice": "switch", "IfcUnitaryEquipment": "ac", "IfcFlowTerminal": "other", "IfcFlowSegment": "pipe",
    "IfcCableCarrierSegment": "cable", "IfcCableSegment": "cable", "IfcEnergyConversionDevice": "radiator",
}  # fmt: skip
COVERINGS: dict[str, ObstacleKind] = {"SKIRTINGBOARD": "skirting", "MOLDING": "cornice"}
KEEP_OUT_OF = (
    "IfcWall", "IfcSlab", "IfcRoof", "IfcSpace", "IfcOpeningElement", "IfcDoor", "IfcWindow", "IfcSite", "IfcBuilding",
    "IfcBuildingStorey", "IfcGrid", "IfcAnnotation",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FoundWall:
    """A wall of the file: where it is listed, its name, storey, sizes [mm], and the spaces on its two sides."""

    number: int
    name: str
    ident: str
    storey: str
    length: float
    height: float
    thickness: float
    openings: int
    spaces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RoomRead:
    """What came out of a file: the survey, the walls there are, and what was read, guessed and left, in words."""

    survey: Survey
    wall: FoundWall
    walls: tuple[FoundWall, ...]
    taken: tuple[str, ...]
    guessed: tuple[str, ...]
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Model:
    """The file with its walls and spaces as shapes."""

    file: Any
    shape: Callable[[Any], Shape | None]
    walls: tuple[tuple[Any, Slab], ...]
    spaces: tuple[tuple[Any, Shape], ...]
    dumb: tuple[str, ...]


def list_walls(path: str | Path) -> tuple[FoundWall, ...]:
    """The straight walls of a file, the longest first. JobError where it cannot be read."""
    return _listed(_model(path))


def read_room(path: str | Path, wall: str = "", space: str = "", *, other_side: bool = False) -> RoomRead:
    """A survey from one wall of the file.

    Args:
        path: The IFC file (IFC2x3 or IFC4, STEP form).
        wall: Its name, identifier or number in the list; "" takes the longest that bounds the space, or of all.
        space: The room's name in the file; "" takes the larger of the spaces on the wall's two sides.
        other_side: Read the wall's other face.

    Raises:
        JobError: no such file, wall or space; says which there are.
    """
    model = _model(path)
    found = _listed(model)
    if not found:
        raise fail("file", None, "has no straight wall with a body; ask for an export with walls", str(path))
    chosen = _chosen(found, wall, space, str(path))
    element, body = next((e, s) for e, s in model.walls if s.shape.ident == chosen.ident)
    return _read(model, found, chosen, element, body, space, other_side)


def _model(path: str | Path) -> _Model:
    file, shape = opened(path), shaper()
    walls: list[tuple[Any, Slab]] = []
    dumb: list[str] = []
    for element in file.by_type("IfcWall"):
        made = shape(element)
        if made is None:
            dumb.append(f"wall {named(element)!r} has no body that can be read")
        else:
            walls.append((element, slab(made)))
    spaces = [(e, made) for e in file.by_type("IfcSpace") if (made := shape(e)) is not None]
    walls.sort(key=lambda pair: (-round(pair[1].length, 1), named(pair[0]), pair[1].shape.ident))
    return _Model(file, shape, tuple(walls), tuple(spaces), tuple(dumb))


def _listed(model: _Model) -> tuple[FoundWall, ...]:
    return tuple(
        FoundWall(
            i, named(element), body.shape.ident, _storey(element), body.length, body.height, body.thickness,
            len(element.HasOpenings or ()), tuple(named(e) for e, _, _ in _beside(model, body)),
        )
        for i, (element, body) in enumerate(model.walls, 1)
    )  # fmt: skip


def _storey(element: Any) -> str:
    for relation in getattr(element, "ContainedInStructure", None) or ():
        return named(relation.RelatingStructure)
    return ""


def _chosen(found: tuple[FoundWall, ...], wall: str, space: str, path: str) -> FoundWall:
    """The wall that was asked for."""
    spaces = dict.fromkeys(name for one in found for name in one.spaces)
    if space and space not in spaces:
        there = ", ".join(repr(name) for name in spaces) or "none beside a wall"
        raise fail("space", space, f"is beside no wall of this file; there are: {there}", path)
    if not wall:
        return next(one for one in found if not space or space in one.spaces)
    named_so = [one for one in found if wall in (one.name, one.ident, str(one.number))]
    if len(named_so) == 1:
        return named_so[0]
    if named_so:
        numbers = ", ".join(str(one.number) for one in named_so)
        raise fail("wall", wall, f"is the name of {len(named_so)} walls; give the number: {numbers}", path)
    there = ", ".join(f"{one.number} {one.name!r} ({one.length:.0f} mm)" for one in found[:12])
    raise fail("wall", wall, f"is no wall of this file; there are: {there}", path)


def _frame(body: Slab, out_sign: int, floor: float) -> Frame:
    """Wall axes on one face of a wall: looked at from the room, x runs to the right."""
    ux, uy = body.run
    out = (-uy * out_sign, ux * out_sign)
    right = (-out[1], out[0])
    half, thick = body.length / 2, body.thickness / 2
    x = body.middle[0] + out[0] * thick - right[0] * half
    y = body.middle[1] + out[1] * thick - right[1] * half
    return Frame((x, y, floor), right, out)


def _beside(model: _Model, body: Slab) -> list[tuple[Any, Shape, int]]:
    """The spaces that a wall bounds, the widest along it first, with the side each is on."""
    out: list[tuple[float, Any, Shape, int]] = []
    for element, space in model.spaces:
        for sign in (1, -1):
            along, away, up = _frame(body, sign, body.shape.low).spans(space.points)
            shared = min(along[1], body.length) - max(along[0], 0.0)
            if (
                abs(away[0]) <= NEAR
                and away[1] > NEAR
                and shared > LEAST
                and up[0] < body.height
                and up[1] > 0
            ):
                out.append((shared, element, space, sign))
    out.sort(key=lambda one: (-round(one[0], 1), named(one[1])))
    return [(element, space, sign) for _, element, space, sign in out]


def _read(  # noqa: PLR0913
    model: _Model, found: tuple[FoundWall, ...], chosen: FoundWall, element: Any, body: Slab, asked: str, other: bool
) -> RoomRead:  # fmt: skip
    beside = _beside(model, body)
    wanted = [one for one in beside if named(one[0]) == asked] or beside
    sign = wanted[0][2] if wanted else 1
    sign = -sign if other else sign
    on_side = [one for one in (*wanted, *beside) if one[2] == sign]
    room = on_side[0] if on_side else None
    floor = room[1].low if room else body.shape.low
    frame = _frame(body, sign, floor)
    taken: list[str] = [
        f"wall {chosen.number} {chosen.name!r}, {body.length:.0f} × {body.height:.0f} × {body.thickness:.0f} mm"
    ]
    guessed: list[str] = []
    width, height, depth = body.length, body.shape.high - floor, None
    if room:
        along, away, up = frame.spans(room[1].points)
        left, right = max(along[0], 0.0), min(along[1], body.length)
        moved = (frame.origin[0] + frame.right[0] * left, frame.origin[1] + frame.right[1] * left)
        out = (frame.out[0] * away[0], frame.out[1] * away[0])
        frame = Frame((moved[0] + out[0], moved[1] + out[1], floor), frame.right, frame.out)
        width, height, depth = right - left, up[1] - up[0], away[1] - away[0]
        taken.append(
            f"room {named(room[0])!r}: width, height and depth ({width:.0f} × {height:.0f} × {depth:.0f} mm) from its space"
        )
    else:
        guessed.append(
            "no space lies before this face: the width and height are the wall's own, the room's depth is not known"
        )
        guessed.append(
            "which face is the room's is a guess; ask for the other face where the picture is mirrored"
        )
    guessed.append(
        "FFL is taken at the foot of the "
        + ("space" if room else "wall")
        + ": it may be the structural floor"
    )
    if body.fill < STRAIGHT:
        guessed.append("the wall is bent or has corners: it was read as the box round it")
    obstacles = [
        *_openings(model, element, body, frame, width, height, taken),
        *_things(model, frame, width, height, taken),
    ]
    windows = _windows(model, element, frame, width, depth, taken) if depth else []
    material = _material(element)
    guessed.append(
        f"what the wall is made of is left unknown{f' (the file says {material!r})' if material else ''}: probe it before any fixing"
    )
    survey = Survey(
        room=Room(
            name=named(room[0])[:400] if room else "Living room", depth=_length(depth) if depth else None
        ),
        wall=SurveyedWall(
            widths=(Reading(Length(min(1000.0, height / 2)), _length(width)),),
            heights=(Reading(Length(width / 2), _length(height)),),
            leaf=_length(body.thickness),
            outside=_outside(element),
        ),
        obstacles=tuple(_numbered(obstacles)),
        windows=tuple(windows),
    )
    return RoomRead(survey, chosen, found, tuple(taken), tuple(guessed), tuple(_left(model, survey)))


def _length(mm: float) -> Length:
    """A length out of a model: nobody has measured it."""
    return Length(round(mm, 1), state="assumed")


def _openings(  # noqa: PLR0913
    model: _Model, element: Any, body: Slab, frame: Frame, width: float, height: float, taken: list[str]
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


def _things(model: _Model, frame: Frame, width: float, height: float, taken: list[str]) -> Iterator[Obstacle]:
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


def _windows(  # noqa: PLR0913
    model: _Model, element: Any, frame: Frame, width: float, depth: float, taken: list[str]
) -> list[Window]:  # fmt: skip
    """Windows in the room's other walls, for daylight and reflections."""
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
            if side is None or up[1] < 0:
                continue
            span = along if side == "opposite" else away
            ref = f"WN{len(out) + 1}"
            out.append(
                Window(
                    ref,
                    side,
                    _length(max(span[0], 0.0)),
                    _length(max(up[0], 0.0)),
                    _length(span[1] - span[0]),
                    _length(up[1] - up[0]),
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
        "?", kind, _length(box.x), _length(box.z), _length(box.width), _length(box.height), _length(projection), note=note[:400]
    )  # fmt: skip


def _numbered(obstacles: list[Obstacle]) -> Iterator[Obstacle]:
    """Each with a reference of its kind, from left to right."""
    from dataclasses import replace

    count: Counter[str] = Counter()
    for thing in sorted(obstacles, key=lambda one: (one.kind, one.x.mm, one.z.mm)):
        count[thing.kind] += 1
        yield replace(thing, ref=f"{thing.kind}_{count[thing.kind]}")


def _material(element: Any) -> str:
    """The materials that the file names for the wall."""
    from importlib import import_module

    found = import_module("ifcopenshell.util.element").get_materials(element)
    return ", ".join(
        dict.fromkeys(re.sub(r"\s+", " ", str(one.Name or "")).strip() for one in found if one.Name)
    )[:120]


def _outside(element: Any) -> bool:
    from importlib import import_module

    sets = import_module("ifcopenshell.util.element").get_psets(element)
    return bool(sets.get("Pset_WallCommon", {}).get("IsExternal"))


def _left(model: _Model, survey: Survey) -> Iterator[str]:
    """What the file holds and the survey does not."""
    yield from model.dumb
    others = Counter(
        e.is_a()
        for e in model.file.by_type("IfcElement")
        if not any(e.is_a(kind) for kind in (*KEEP_OUT_OF, *THINGS))
    )
    for kind, count in sorted(others.items()):
        yield f"{count} × {kind}: not read"
    yield "seats, lamps, devices, diagonals, plumb and relief: no model says them; survey them"
    if not survey.obstacles:
        yield "nothing was found on the wall: look for sockets, pipes, skirting and cornice on site"
