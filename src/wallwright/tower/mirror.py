"""The other hand: survey, brief and design mirrored about the middle of the wall, so that everything is derived and checked anew.

What belongs to a product is not mirrored: the screen's sockets, openings and eye, the arm's joint. What the program chose
by a side of its own is pinned first (`settled`), so that the mirrored job chooses the other side.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Literal

from wallwright.core.units import Length
from wallwright.derive import built
from wallwright.job.face import wall_face
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.derive import Built
    from wallwright.job.brief import Brief, Device
    from wallwright.job.design import Bay, Design, Panel, Unit
    from wallwright.job.document import Job
    from wallwright.job.survey import Entry, Survey, SurveyedWall, Window

_SIDE: dict[Any, Any] = {"left": "right", "right": "left"}
_BESIDE = ("shelf", "ledge", "desk", "arched_niche")
"""Where these are said to stand in the centre they are placed right of the screen."""
_STACKED = ("tower",)
"""Its bays lie one above the other: they keep their order."""


def mirrored(job: Job) -> Job:
    """The job of the other hand.

    Places are W less themselves, W the least surveyed width. Mirrored twice it is `settled(job)` to within the rounding of a
    float; the texts as typed of places are lost, for no tape said them.

    Raises ValueError, naming the field, where the job cannot be built at all.
    """
    made = built(job)
    return _flipped(_settled(job, made), made)


def settled(job: Job) -> Job:
    """The job with those choices pinned that the program makes by a side of its own: the end a tower stands at, the side of a
    shelf, the hand of a single door in the middle of its unit.
    """
    return _settled(job, built(job))


def _settled(job: Job, made: Built) -> Job:
    units = tuple(_settled_unit(unit, made) for unit in job.design.units)
    return replace(job, design=replace(job.design, units=units))


def _settled_unit(unit: Unit, made: Built) -> Unit:
    box = made.setout.unit(unit.ref)
    side = unit.side
    if unit.side == "centre" and box.tall:
        side = _end(box.side)
    elif unit.side == "centre" and unit.kind in _BESIDE:
        side = "right"
    return replace(unit, side=side, bays=_settled_bays(unit, made))


def _end(side: str) -> Literal["left", "right"]:
    return "right" if side == "right" else "left"


def _settled_bays(unit: Unit, made: Built) -> tuple[Bay, ...]:
    """A door that stands in the middle of its unit turns on the side the program took: the other hand turns on the other."""
    box = made.setout.unit(unit.ref).box
    bays = [bay for bay in made.carcass.bays if bay.unit == unit.ref]
    if not unit.bays or len(bays) != len(unit.bays):
        return unit.bays
    out: list[Bay] = []
    for bay, there in zip(unit.bays, bays, strict=True):
        turns = {m.hand for m in made.carcass.movers if m.hand and m.ref.startswith(f"{there.ref}-")}
        middle = abs(there.box.centre[0] - box.centre[0]) < 1.0
        single = middle and bay.hinged is None and len(turns) == 1 and unit.kind not in _STACKED
        out.append(replace(bay, hinged=_end(next(iter(turns)))) if single else bay)
    return tuple(out)


def _flipped(job: Job, made: Built) -> Job:
    width = wall_face(job.survey, job.rules).width

    def over(place: Length | None, size: float = 0.0) -> Any:
        """A place seen from the other corner: of a left edge, that of what was its right one."""
        return None if place is None else _at(width - place.mm - size, place)

    return replace(
        job,
        survey=_survey(job.survey, over),
        brief=_brief(job.brief, over),
        design=_design(job.design, over, made),
    )


Over = Callable[..., Any]


def _at(mm: float, like: Length) -> Length:
    return Length(mm, "", like.state, like.tolerance)


def _survey(survey: Survey, over: Over) -> Survey:
    return replace(
        survey,
        wall=_wall(survey.wall, over),
        obstacles=tuple(replace(one, x=over(one.x, one.width.mm)) for one in survey.obstacles),
        seats=tuple(replace(one, x=over(one.x)) for one in survey.seats),
        windows=tuple(_window(one, over) for one in survey.windows),
        other_walls=tuple(replace(one, side=_SIDE.get(one.side, one.side)) for one in survey.other_walls),
        between=tuple(replace(one, x=over(one.x, one.width.mm)) for one in survey.between),
        lamps=tuple(replace(one, x=over(one.x)) for one in survey.lamps),
        supply=_entry(survey.supply, over),
        lines_in=_entry(survey.lines_in, over),
    )


def _wall(wall: SurveyedWall, over: Over) -> SurveyedWall:
    def within(place: Length) -> Length:
        """A reading taken beyond the narrowest width is kept at the corner."""
        flipped = over(place)
        return replace(flipped, mm=max(flipped.mm, 0.0))

    return replace(
        wall,
        heights=tuple(replace(one, at=within(one.at)) for one in wall.heights),
        diagonals=wall.diagonals[::-1],
        studs=tuple(within(one) for one in wall.studs[::-1]),
        backers=tuple(replace(one, x=over(one.x, one.width.mm)) for one in wall.backers),
        relief=tuple(replace(one, x=within(one.x)) for one in wall.relief),
    )


def _window(window: Window, over: Over) -> Window:
    if window.wall == "opposite":
        return replace(window, along=over(window.along, window.width.mm))
    return replace(window, wall=_SIDE[window.wall])


def _entry(entry: Entry | None, over: Over) -> Entry | None:
    return entry and replace(entry, comes=_SIDE.get(entry.comes, entry.comes), x=over(entry.x))


def _brief(brief: Brief, over: Over) -> Brief:
    return replace(brief, devices=tuple(_device(one, over) for one in brief.devices))


def _device(device: Device, over: Over) -> Device:
    if device.x is None:
        return device
    wide = device.width.mm if device.width else load.devices()[device.kind].width
    return replace(device, x=over(device.x, wide))


def _design(design: Design, over: Over, made: Built) -> Design:
    turn = design.mount.swivel
    return replace(
        design,
        screen=replace(design.screen, centre_x=over(design.screen.centre_x)),
        mount=replace(design.mount, swivel=-turn if turn else turn),
        units=tuple(_unit(one, over, made) for one in design.units),
        panels=tuple(_panel(one, over, made) for one in design.panels),
        points=tuple(replace(one, x=over(one.x)) for one in design.points),
    )


def _unit(unit: Unit, over: Over, made: Built) -> Unit:
    box = made.setout.unit(unit.ref).box
    wide = unit.width.mm if unit.width else box.width
    bays = unit.bays if unit.kind in _STACKED else unit.bays[::-1]
    return replace(
        unit,
        side=_SIDE.get(unit.side, unit.side),
        x=over(unit.x, wide),
        bays=tuple(replace(bay, hinged=_SIDE.get(bay.hinged)) for bay in bays),
    )


def _panel(panel: Panel, over: Over, made: Built) -> Panel:
    if panel.x is None:
        return panel
    zone = next(zone for zone in made.setout.zones if zone.ref == panel.ref)
    return replace(panel, x=over(panel.x, panel.width.mm if panel.width else zone.box.width))
