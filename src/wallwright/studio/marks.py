"""The marks of the height rod and the width rod: what stands where, what each is called, and which edit sets it.

A page moves a mark by its name to a place; what that means for the job is said here, so the page itself reckons nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from typing import Any, Literal, TypeVar

from wallwright.carcass.record import UnitBox
from wallwright.core.finding import EditCall, edit_call
from wallwright.core.units import read_length
from wallwright.derive import Wall
from wallwright.job.face import Face, obstacle_box
from wallwright.job.problem import fail, nearest
from wallwright.job.survey import Obstacle
from wallwright.studio.answers_wall import Mark, Rods
from wallwright.studio.divisions import division_edits, divisions

At = float | str
_T = TypeVar("_T", UnitBox, Obstacle)
FLAT = frozenset({"socket", "switch", "data_point", "cable", "skirting", "pipe"})
"""Obstacles that give a rod no mark: they lie in the wall or along the floor."""


def rods(wall: Wall, known: Iterable[str] | None = None, kept: Wall | None = None) -> Rods:
    """Both rods, each from its own end: floor up, left corner to the right.

    known : names of the whys that there are; None = the wall's · kept : units and obstacles that stand in it as they do here have
    no mark; None = every one has its marks
    """
    whys = set(known) if known is not None else {why.name for why in wall.whys}
    heights = sorted(_heights(wall, whys, kept), key=lambda mark: mark.at)
    widths = sorted(_widths(wall, whys, kept), key=lambda mark: mark.at)
    return Rods(heights=heights, widths=widths)


def edits_for(wall: Wall, name: str, at: At) -> list[EditCall]:
    """The edits that put the mark of that name there.

    JobError where there is no such mark, where it cannot be moved, or where the place is no length.
    at : mm, or a length as written, which the job then keeps as typed where the mark is the value itself
    """
    passed: list[str] = []
    for mark in chain(_heights(wall, set(), None), _widths(wall, set(), None), divisions(wall)):
        if mark.name == name:
            break
        passed.append(mark.name)
    else:
        raise fail("marks", name, f"there is no such mark; {nearest(name, passed)}", "marks")
    if not mark.editable:
        raise fail(
            f"marks.{name}", at, "is surveyed or follows from other values; it cannot be moved here", "marks"
        )
    try:
        mm = round(read_length(at), 2)
    except ValueError as problem:
        raise fail(f"marks.{name}", at, str(problem), "marks") from None
    value = at if isinstance(at, str) else _tidy(mm)
    of, _, which = name.rpartition(".")
    if "." in of:
        return division_edits(wall, of, mm)
    return (
        _screen_edits(wall, which, value, mm)
        if of == "screen"
        else _unit_edits(wall.setout.unit(of), which, value, mm)
    )


def _screen_edits(wall: Wall, which: str, value: At, mm: float) -> list[EditCall]:
    frame = wall.sight.screen.frame
    match which:
        case "centre_height":
            return [edit_call("set_screen_height", centre_height=value)]
        case "bottom":
            return [edit_call("set_screen_height", centre_height=_tidy(mm + frame.height / 2))]
        case "top":
            return [edit_call("set_screen_height", centre_height=_tidy(mm - frame.height / 2))]
        case _:
            return [edit_call("set_screen_x", centre_x=value)]


def _unit_edits(unit: UnitBox, which: str, value: At, mm: float) -> list[EditCall]:
    """A unit's underside and middle move it; its top and ends change its size, the far side staying where it is.

    A unit whose place is automatic keeps it: a console then grows about its middle, a tower from its end of the wall.
    """
    box, ref = unit.box, unit.ref
    held = "x" in unit.pinned
    about_middle = not held and not unit.tall
    match which:
        case "z":
            return [edit_call("move_unit", ref=ref, z=value)]
        case "middle":
            return [edit_call("move_unit", ref=ref, x=_tidy(mm - box.width / 2))]
        case "top":
            loose = unit.hung and "z" not in unit.pinned  # its underside would follow the new height
            stays = [edit_call("move_unit", ref=ref, z=_tidy(box.z))] if loose else []
            return [*stays, edit_call("resize_unit", ref=ref, height=_tidy(mm - box.z))]
        case "right":
            width = 2 * (mm - box.centre[0]) if about_middle else mm - box.x
            return [edit_call("resize_unit", ref=ref, width=_tidy(width))]
        case _:
            width = 2 * (box.centre[0] - mm) if about_middle else box.right - mm
            moved = [edit_call("move_unit", ref=ref, x=value)] if held else []
            return [*moved, edit_call("resize_unit", ref=ref, width=_tidy(width))]


def _tidy(mm: float) -> float:
    """To a tenth of a millimetre, and a whole number where it is one."""
    tenth = round(mm, 1)
    return int(tenth) if tenth == int(tenth) else tenth


def _mark(  # noqa: PLR0913
    name: str,
    of: str,
    says: str,
    at: float,
    whys: set[str],
    *,
    why: str = "",
    own: str = "",
    given: tuple[str, ...] = (),
    follows: str = "",
    editable: bool = True,
    assumed: bool = False,
    kind: Literal["decided", "surveyed", "eye", "datum"] = "decided",
) -> Mark:
    """A mark. own : the field whose value the mark is · given : given fields behind it · follows : what it follows, in words"""
    standing = (
        "surveyed" if kind in ("surveyed", "datum") or (kind == "eye" and not follows)
        else "pinned" if own and own in given
        else "follows" if given or follows
        else "automatic"
    )  # fmt: skip
    named = " and ".join(_FIELD.get(field.rpartition(".")[2], field.rpartition(".")[2]) for field in given)
    return Mark(
        name=name, of=of, says=says, at=round(at, 2), kind=kind, editable=editable, assumed=assumed, release=list(given),
        standing=standing, follows=(follows or named) if standing == "follows" else "", why=why if why in whys else "",
    )  # fmt: skip


_FIELD = {
    "z": "the underside", "x": "the left end", "width": "the width", "height": "the height",
    "centre_height": "the centre's height", "centre_x": "the centre",
}  # fmt: skip


def _given(unit: UnitBox, *names: str) -> tuple[str, ...]:
    """The fields of a unit among these that are given."""
    return tuple(f"design.units.{unit.ref}.{name}" for name in names if name in unit.pinned)


def _otherwise(things: Sequence[_T], kept: Sequence[_T]) -> Iterator[_T]:
    """Those that are not the same as they were."""
    were = {thing.ref: thing for thing in kept}
    return (thing for thing in things if were.get(thing.ref) != thing)


def _heights(wall: Wall, whys: set[str], kept: Wall | None) -> Iterator[Mark]:
    face, screen = wall.face, wall.sight.screen
    assumed = any(name.startswith("survey.wall.heights") for name in face.assumed)
    yield _mark("floor", "ffl", "Finished floor", 0.0, whys, editable=False, kind="datum")
    yield _mark("datum", "datum", "Datum line", 1000.0, whys, editable=False, kind="datum")
    yield _mark(
        "ceiling", "wall", "Ceiling", face.height, whys, editable=False, assumed=assumed, kind="surveyed"
    )
    field, why = "design.screen.centre_height", "screen.centre_height"
    given = (field,) if "centre_height" in screen.pinned else ()
    edge: dict[str, Any] = {"why": why, "given": given, "follows": "the centre's height and the frame"}
    yield _mark("screen.top", "screen", "Screen top", screen.frame.top, whys, **edge)
    yield _mark(
        "screen.centre_height",
        "screen",
        "Screen centre",
        screen.centre[1],
        whys,
        why=why,
        own=field,
        given=given,
    )
    yield _mark("screen.bottom", "screen", "Screen underside", screen.frame.z, whys, **edge)
    for unit in _otherwise(wall.setout.units, kept.setout.units if kept else ()):
        named, of = f"{unit.kind} {unit.ref}", f"design.units.{unit.ref}."
        stands = not unit.hung and unit.box.z == 0
        if not stands:  # what stands on the floor has its foot at the floor's own mark
            yield _mark(
                f"{unit.ref}.z", unit.ref, f"{unit.ref} underside", unit.box.z, whys, why=f"{named}.z", own=f"{of}z",
                given=_given(unit, "z"), editable=unit.hung,
            )  # fmt: skip
        yield _mark(
            f"{unit.ref}.top", unit.ref, f"{unit.ref} top", unit.box.top, whys, why=f"{named}.height",
            own=f"{of}height" if stands else "", given=_given(unit, "z", "height"), editable=not unit.board_only,
        )  # fmt: skip
    for seat in wall.sight.seats:
        yield _mark(
            f"eye.{seat.ref}", seat.ref, f"Eye, {seat.ref}", seat.eye[2], whys, why=f"seat {seat.ref}.eye_height",
            editable=False, assumed=not seat.eye_measured, kind="eye",
            follows="" if seat.eye_measured else "the seat, the posture and the person",
        )  # fmt: skip
    for thing in _otherwise(face.obstacles, kept.face.obstacles if kept else ()):
        if thing.kind not in FLAT and thing.z.mm > 0:
            yield _mark(
                f"{thing.ref}.z", thing.ref, f"{_named(thing, face)} underside", thing.z.mm, whys, editable=False,
                assumed=not thing.z.taped, kind="surveyed",
            )  # fmt: skip


def _widths(wall: Wall, whys: set[str], kept: Wall | None) -> Iterator[Mark]:
    face, screen = wall.face, wall.sight.screen
    assumed = any(name.startswith("survey.wall.widths") for name in face.assumed)
    yield _mark("left", "wall", "Left corner", 0.0, whys, editable=False, kind="datum")
    yield _mark(
        "right", "wall", "Right corner", face.width, whys, editable=False, assumed=assumed, kind="surveyed"
    )
    field = "design.screen.centre_x"
    given = (field,) if "centre_x" in screen.pinned else ()
    edge: dict[str, Any] = {"editable": False, "given": given, "follows": "the centre and the frame"}
    yield _mark("screen.left", "screen", "Screen left", screen.frame.x, whys, **edge)
    yield _mark(
        "screen.centre_x",
        "screen",
        "Screen centre",
        screen.centre[0],
        whys,
        why="screen.centre_x",
        own=field,
        given=given,
    )
    yield _mark("screen.right", "screen", "Screen right", screen.frame.right, whys, **edge)
    for unit in _otherwise(wall.setout.units, kept.setout.units if kept else ()):
        box, named, own = unit.box, f"{unit.kind} {unit.ref}", f"design.units.{unit.ref}.x"
        outer = unit.side if unit.tall and "x" not in unit.pinned else ""
        for end, at in (("left", box.x), ("right", box.right)):
            # the end that a free tower holds to the wall does not follow its width
            behind = (
                ()
                if end == outer
                else ("x",)
                if end == "left" and own in _given(unit, "x")
                else ("x", "width")
            )
            yield _mark(
                f"{unit.ref}.{end}", unit.ref, f"{unit.ref} {end} end", at, whys, why=f"{named}.width",
                own=own if end == "left" else "", given=_given(unit, *behind), editable=end != outer,
            )  # fmt: skip
        yield _mark(
            f"{unit.ref}.middle", unit.ref, f"{unit.ref} middle", box.centre[0], whys, why=f"{named}.x",
            given=_given(unit, "x", "width") if "x" in unit.pinned or outer else (),
        )  # fmt: skip
    for thing in _otherwise(face.obstacles, kept.face.obstacles if kept else ()):
        if thing.kind in FLAT:
            continue
        box = obstacle_box(thing)
        for end, at, length in (("left", box.x, thing.x), ("right", box.right, thing.width)):
            if 0 < at < face.width:
                yield _mark(
                    f"{thing.ref}.{end}", thing.ref, f"{_named(thing, face)} {end}", at, whys, editable=False,
                    assumed=not length.taped, kind="surveyed",
                )  # fmt: skip


def _named(thing: Obstacle, face: Face) -> str:
    """An obstacle as the trade says it, with its ref where there is more than one of its kind."""
    word = {"ac": "AC"}.get(thing.kind, thing.kind.replace("_", " ").capitalize())
    alone = sum(other.kind == thing.kind for other in face.obstacles) == 1
    return word if alone else f"{word} {thing.ref}"
