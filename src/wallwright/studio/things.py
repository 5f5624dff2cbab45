"""What can be chosen on the wall and in plan, and which edit puts each thing elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from wallwright.core.shape import Box, Point2
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.light.lay import CARRIED_BY, lay
from wallwright.sheets.room_plan import room_depth
from wallwright.studio.answers_forms import Move, Spot, Thing, Things
from wallwright.studio.answers_wall import BoxOut
from wallwright.studio.divisions import divisions
from wallwright.studio.form_inputs import words

if TYPE_CHECKING:
    from wallwright.job.design import Light
    from wallwright.light.record import LightRun
    from wallwright.services.record import ServicePoint

SEAT = 520.0
"""Side of the square by which a seat is grasped in plan [mm]."""
GRASP = 120.0
"""Least side of what is grasped in plan [mm]."""
_BY = {"under_console": "under", "under_shelf": "under", "tower_side": "beside"}


def things(wall: Wall) -> Things:
    """All of them."""
    return Things(wall=list(_on_wall(wall)), plan=list(_in_plan(wall)), room_depth=round(room_depth(wall), 1))


def _on_wall(wall: Wall) -> Iterator[Thing]:
    """From back to front: panels, what was surveyed, lights, bays, points."""
    job = wall.job
    for zone in wall.setout.zones:
        move = _move("move_panel", zone.ref, "x", "z", zone.box.x, zone.box.z)
        yield _thing(zone.ref, "panel", f"{words(zone.kind)} panel {zone.ref}", zone.box, move)
    for item in wall.face.obstacles:
        box = obstacle_box(item)
        assumed = any(not length.taped for length in (item.x, item.z, item.width, item.height))
        move = _move("move_obstacle", item.ref, "x", "z", item.x.mm, item.z.mm)
        yield _thing(item.ref, "obstacle", f"{words(item.kind)} {item.ref}", box, move, assumed=assumed)
    given = {light.ref for light in job.design.lights}
    for run in wall.light.runs:
        if run.ref in given and run.path:
            box = _about(run.path)
            move = _setback(wall, run)
            where = "" if run.lit == "facing" else f" {_BY[run.along]} {run.of}"
            yield _thing(run.ref, "light", f"light {run.ref}{where}", box, move)
    ends = {mark.of: mark for mark in divisions(wall)}
    for bay in wall.carcass.bays:
        thing = _thing(bay.ref, "bay", f"bay {bay.ref}, {words(bay.front)}", bay.box, None)
        yield thing.model_copy(update={"end": ends.get(bay.ref)})
    placed = {point.ref for point in job.design.points}
    for point in wall.services.points:
        move = _point_move(point, pinned=point.ref in placed)
        yield _thing(point.ref, "point", f"{words(point.kind)} {point.ref}", point.box, move)


def _point_move(point: ServicePoint, *, pinned: bool) -> Move | None:
    """A point that the program placed is pinned by being moved; a feed of light follows its strip."""
    if pinned:
        return _move("move_point", point.ref, "x", "z", point.x, point.z)
    if point.kind == "led_feed":
        return None
    return _move("add_point", point.ref, "x", "z", point.x, point.z, kind=point.kind)


def _in_plan(wall: Wall) -> Iterator[Thing]:
    """Seats, furniture before the wall, lamps, and light under units; the plan's second axis is y of the wall, negative in the room."""
    survey = wall.job.survey
    for item in survey.between:
        box = Box(item.x.mm, -item.distance.mm - item.depth.mm, item.width.mm, item.depth.mm)
        move = _move("set_between", item.ref, "x", "distance", item.x.mm, item.distance.mm)
        yield _thing(item.ref, "between", f"{words(item.kind)} {item.ref}", box, move)
    given = {light.ref for light in wall.job.design.lights}
    for run in wall.light.runs:
        if run.ref in given and run.path and run.along in ("under_console", "under_shelf"):
            left, right = run.path[0][0], run.path[-1][0]
            box = Box(left, run.y - GRASP / 4, right - left, GRASP / 2)
            yield _thing(run.ref, "light", f"light {run.ref} under {run.of}", box, _setback(wall, run))
    for lamp in survey.lamps:
        move = _move("set_lamp", lamp.ref, "x", "distance", lamp.x.mm, lamp.distance.mm)
        yield _thing(
            lamp.ref,
            "lamp",
            f"{words(lamp.kind)} {lamp.ref}",
            _square(lamp.x.mm, lamp.distance.mm, GRASP * 2),
            move,
        )
    for seat in survey.seats:
        move = _move("set_seat", seat.ref, "x", "distance", seat.x.mm, seat.distance.mm)
        assumed = not (seat.x.taped and seat.distance.taped)
        box = _square(seat.x.mm, seat.distance.mm, SEAT)
        yield _thing(seat.ref, "seat", f"{words(seat.kind)} {seat.ref}", box, move, assumed=assumed)


def _setback(wall: Wall, run: LightRun) -> Move:
    """A run of light is drawn in from the edge that hides it, or out towards it; one along a unit is also moved to another unit."""
    wish = next(light for light in wall.job.design.lights if light.ref == run.ref)
    laid = lay(wish, wall.sight.screen, wall.setout, wall.limits)
    most = None if isinstance(laid, str) else round(laid.room, 1)
    deep = run.lit != "facing"
    more = {
        "inward": True,
        "deep": deep,
        "most": most,
        "spots": list(_spots(wall, wish, run)) if deep else [],
    }
    return _move("set_light", run.ref, "", "setback", 0.0, run.setback).model_copy(update=more)


def _spots(wall: Wall, wish: Light, run: LightRun) -> Iterator[Spot]:
    """Along every other unit that can carry a run of light, from left to right."""
    for unit in sorted(wall.setout.units, key=lambda unit: unit.box.x):
        along = next((along for along, kinds in CARRIED_BY.items() if unit.kind in kinds), None)
        if along is None or unit.ref == run.of:
            continue
        laid = lay(replace(wish, along=along, of=unit.ref), wall.sight.screen, wall.setout, wall.limits)
        if not isinstance(laid, str):
            given = {
                "says": f"{_BY[along]} {unit.ref}",
                "box": _out(_about(laid.path)),
                "with": {"along": along, "of": unit.ref},
            }
            yield Spot.model_validate(given)


def _about(path: Sequence[Point2]) -> Box:
    """The box about a line."""
    xs, zs = [x for x, _ in path], [z for _, z in path]
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs))


def _square(x: float, away: float, side: float) -> Box:
    return Box(x - side / 2, -away - side / 2, side, side)


def _move(  # noqa: PLR0913
    edit: str, ref: str, across: str, up: str, at_across: float, at_up: float, **more: str
) -> Move:
    given: dict[str, Any] = {
        "edit": edit, "with": {"ref": ref, **more}, "across": across, "up": up, "at_across": round(at_across, 2),
        "at_up": round(at_up, 2), "inward": False, "deep": False, "most": None, "spots": [],
    }  # fmt: skip
    return Move.model_validate(given)


def _thing(ref: str, kind: str, says: str, box: Box, move: Move | None, *, assumed: bool = False) -> Thing:  # noqa: PLR0913
    return Thing(
        ref=ref,
        kind=kind,
        says=says[:1].upper() + says[1:],
        box=_out(box),
        assumed=assumed,
        move=move,
        end=None,
    )


def _out(box: Box) -> BoxOut:
    return BoxOut(
        x=round(box.x, 2), z=round(box.z, 2), width=round(box.width, 2), height=round(box.height, 2)
    )
