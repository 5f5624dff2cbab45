"""An architect's IFC model read into a survey: one wall with its height, its openings, what stands on it, and the room before it.

Nothing that is read counts as measured: a model shows what was intended, often to the structural floor. Every length comes in as
assumed, and what was read, what was guessed and what was left is said in words, for the designer to correct on site.
"""

from __future__ import annotations

import json
import pickle
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wallwright.core.units import Length
from wallwright.export.ifc_shapes import Building, Frame, Shape, Slab, named, opened, shaper, slab
from wallwright.export.ifc_things import LEAST, NEAR, THINGS, length, numbered, openings, things, windows
from wallwright.job.problem import JobError, fail
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall

STRAIGHT = 0.97  # a wall that fills less of its own box is bent, or has corners
KEEP_OUT_OF = (
    "IfcWall", "IfcSlab", "IfcRoof", "IfcSpace", "IfcOpeningElement", "IfcDoor", "IfcWindow", "IfcSite", "IfcBuilding",
    "IfcBuildingStorey", "IfcGrid", "IfcAnnotation", "IfcBuildingElementPart",
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


def read_room_apart(
    path: str | Path, wall: str = "", space: str = "", *, other_side: bool = False
) -> RoomRead:
    """As `read_room`, in a process of its own: a spoiled file can end the reading library, and the process with it. JobError."""
    asked = json.dumps([str(path), wall, space, other_side])
    ran = subprocess.run(
        [sys.executable, "-m", "wallwright.export.ifc_read"],
        input=asked.encode(),
        stdout=subprocess.PIPE,
        check=False,
    )
    if ran.returncode != 0:
        raise fail(
            "file", None, "is broken: the reading library came to grief on it; export it again", str(path)
        )
    found = pickle.loads(ran.stdout)  # of our own process
    if isinstance(found, RoomRead):
        return found
    raise JobError(*found)


def _apart() -> None:
    path, wall, space, other_side = json.load(sys.stdin)
    try:
        from wallwright.export import ifc_read  # under its own name, by which the answer is known again

        found: Any = ifc_read.read_room(path, wall, space, other_side=other_side)
    except JobError as error:
        found = error.problems, error.name
    sys.stdout.buffer.write(pickle.dumps(found))


def _model(path: str | Path) -> Building:
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
    return Building(file, shape, tuple(walls), tuple(spaces), tuple(dumb))


def _listed(model: Building) -> tuple[FoundWall, ...]:
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


def _beside(model: Building, body: Slab) -> list[tuple[Any, Shape, int]]:
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
    model: Building, found: tuple[FoundWall, ...], chosen: FoundWall, element: Any, body: Slab, asked: str, other: bool
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
    guessed += _before(model, found, element, frame, width, height)
    obstacles = [
        *openings(model, element, body, frame, width, height, taken),
        *things(model, frame, width, height, taken),
    ]
    daylight = windows(model, element, frame, (width, height, depth), taken) if depth else []
    material = _material(element)
    guessed.append(
        f"what the wall is made of is left unknown{f' (the file says {material!r})' if material else ''}: probe it before any fixing"
    )
    survey = Survey(
        room=Room(
            name=named(room[0])[:400] if room else "Living room", depth=length(depth) if depth else None
        ),
        wall=SurveyedWall(
            widths=(Reading(Length(min(1000.0, height / 2)), length(width)),),
            heights=(Reading(Length(width / 2), length(height)),),
            leaf=length(body.thickness),
            outside=_outside(element),
        ),
        obstacles=tuple(numbered(obstacles)),
        windows=tuple(daylight),
    )
    return RoomRead(survey, chosen, found, tuple(taken), tuple(guessed), tuple(_left(model, survey)))


LINED = 400.0
"""A wall so near before the one that is read may be its lining [mm]: boards on studs, with what runs behind them."""


def _before(
    model: Building, found: tuple[FoundWall, ...], element: Any, frame: Frame, width: float, height: float
) -> Iterator[str]:  # fmt: skip
    """Other walls that stand close before the face that is read, along a good part of it."""
    for one, (other, body) in zip(found, model.walls, strict=True):
        if other == element:
            continue
        along, away, up = frame.spans(body.shape.points)
        shared = min(along[1], width) - max(along[0], 0.0)
        if (
            away[0] >= -NEAR
            and LEAST < away[1] <= LINED
            and shared > width / 4
            and up[0] < height
            and up[1] > LEAST
        ):
            yield (
                f"wall {one.number} {one.name!r} stands before this face, {max(away[0], 0.0):.0f} to {away[1]:.0f} mm into the room: "
                "where it is a lining that stays, read that wall instead"
            )


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


def _left(model: Building, survey: Survey) -> Iterator[str]:
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


if __name__ == "__main__":
    _apart()
