"""From the job to the wall, in the trade's order. This page is the table of contents of the trade.

Screen, heights, services, storage, carcass, structure, light, look, money: each stage is handed the job and what it needs of
the stages above it. This is the only place that knows who needs whom.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from wallwright.carcass import bays as carcass_bays
from wallwright.carcass import cladding, materials_why
from wallwright.carcass import plan as carcass_plan
from wallwright.carcass import setout as carcass_setout
from wallwright.carcass.record import Carcass, SetOut
from wallwright.cooling import plan as cooling_plan
from wallwright.cooling.record import Cooling
from wallwright.cooling.stand import side_by_side
from wallwright.core.limit import Limits
from wallwright.core.shape import Point2
from wallwright.core.why import Later, Why
from wallwright.cutting import faces as face_sheets
from wallwright.cutting import plan as cutting_plan
from wallwright.cutting.record import CutPlans
from wallwright.job.document import Job
from wallwright.job.face import Face, wall_face
from wallwright.library import load
from wallwright.light import plan as light_plan
from wallwright.light.record import Light
from wallwright.look import plan as look_plan
from wallwright.look.record import Look
from wallwright.money import faces as money_faces
from wallwright.money import plan as money_plan
from wallwright.money.record import Money
from wallwright.programme import plan as programme_plan
from wallwright.programme.record import Programme
from wallwright.services import drill, existing
from wallwright.services import plan as services_plan
from wallwright.services.plugs import SCREEN
from wallwright.services.record import Services
from wallwright.sight import fit, mirrored
from wallwright.sight import plan as sight_plan
from wallwright.sight.record import Reflection, Screen, Sight
from wallwright.sight.season import TWO_A_MONTH
from wallwright.storage import best as storage_best
from wallwright.storage import plan as storage_plan
from wallwright.storage.record import Placed, Storage
from wallwright.structure import plan as structure_plan
from wallwright.structure.lines import fixing_lines
from wallwright.structure.record import Structure

if TYPE_CHECKING:
    from wallwright.carcass.bays import Cell, Passes


@dataclass(frozen=True, slots=True)
class Wall:
    """Everything derived from a job. Thrown away and made anew at every change. sun_days : of each month, by which the rules
    reckon the sun's year; () = every day.
    """

    job: Job
    limits: Limits
    face: Face
    sight: Sight
    setout: SetOut
    services: Services
    carcass: Carcass
    cuts: CutPlans
    storage: Storage
    cooling: Cooling
    structure: Structure
    light: Light
    look: Look
    money: Money
    programme: Programme
    sun_days: tuple[int, ...] = TWO_A_MONTH

    @property
    def whys(self) -> Iterator[Why]:
        """The working behind every shown value, in the trade's order."""
        for stage in (
            self.sight, self.setout, self.services, self.carcass, self.cuts, self.storage, self.cooling, self.structure,
            self.light, self.look, self.money, self.programme,
        ):  # fmt: skip
            yield from stage.whys


def derive(
    job: Job, cuts: CutPlans | None = None, allotment: tuple[Placed, ...] | None = None, *, searched: bool = False
) -> Wall:  # fmt: skip
    """The whole wall from the job. cuts : cutting plans to be used as they are · allotment : what goes where, searched further than
    the quick one · searched : cutting plans searched as for issue, so that the price is the one that is quoted; else the quick ones,
    which never buy less.

    Raises ValueError, naming the field, where the job cannot be built at all; the user's own limits are named with it, for
    several of them may each be in range and leave no room together.
    """
    try:
        return _derived(job, cuts, allotment, searched)
    except ValueError as problem:
        if not job.rules:
            raise
        own = ", ".join(f"rules.{name} = {value:g}" for name, value in job.rules.items())
        raise ValueError(
            f"{problem} (your rule set has {own}; without it the library's limits hold)"
        ) from problem


class Built(NamedTuple):
    """The wall as far as it is made of board: what can be built at all, and what stands where, is known from it."""

    face: Face
    setout: SetOut
    carcass: Carcass


def built(job: Job) -> Built:
    """Screen, setting-out and boards alone, without what lies in the wall: a small part of the work, for a cure that is tried.

    Raises ValueError, as `derive` does, where the job cannot be built.
    """
    limits = load.limits_of(job.survey.place.rules).overridden(job.rules)
    face = wall_face(job.survey, job.rules)
    screen = sight_plan.screen_alone(job, face, limits)
    setout = carcass_setout.plan(job, face, screen.frame, limits)
    fixing_lines(setout.units, limits)
    passes = fit.passing(sight_plan.way_in(job.survey.access))
    return Built(
        face, setout, carcass_plan.plan(job, face, setout, limits, plate=screen.plate, passes=passes)
    )


def tried(job: Job, kept: Wall) -> Wall:
    """The wall with all that is in it and on it, and what holds it, as `derive` gives it, for a cure that is tried: how it looks, and
    what is cut, paid and waited for, are left as they are in `kept`.

    Raises ValueError, as `derive` does, where the job cannot be built.
    """
    return replace(kept, job=job, **_standing(job)._asdict())


def drawn(job: Job, kept: Wall) -> Wall:
    """The wall as it would look: what stands where, with its light and outlets, a third of the work or less, for each step of a
    drag. All that is not seen from the room (cables, load, storage, money) is left as it was in `kept`; so are the findings of
    it nobody's business.

    Raises ValueError, as `derive` does, where the job cannot be built.
    """
    limits, face, sight, setout, light, passes, cells = _outlined(job)
    screen = sight.screen
    services = services_plan.placed(
        kept.services, job, face, screen, setout, limits, cells=cells, strips=light.runs
    )
    boxes = tuple(point.box for point in services.points)
    carcass = carcass_plan.plan(job, face, setout, limits, boxes=boxes, plate=screen.plate, passes=passes)
    return replace(
        kept, job=job, limits=limits, face=face, sight=sight, setout=setout, light=light, services=services, carcass=carcass
    )  # fmt: skip


class _Outlined(NamedTuple):
    """Screen, heights, setting-out and light as it lies, before anything is wired or made of board."""

    limits: Limits
    face: Face
    sight: Sight
    setout: SetOut
    light: Light
    passes: Passes | None
    cells: Mapping[str, Sequence[Cell]]


def _outlined(job: Job) -> _Outlined:
    """The first stages, on which all others stand."""
    limits = load.limits_of(job.survey.place.rules).overridden(job.rules)
    face = wall_face(job.survey, job.rules)
    sight = sight_plan.plan(job, face, limits)
    setout = carcass_setout.plan(job, face, sight.screen.frame, limits)
    light = light_plan.plan(job, sight.screen, setout, sight.seats, limits)
    passes = fit.passing(sight_plan.way_in(job.survey.access))
    cells = carcass_bays.cells_of(setout.units, job, limits, passes)
    return _Outlined(limits, face, sight, setout, light, passes, cells)


class _Standing(NamedTuple):
    """The wall with all that is in it and on it, and what holds it: nothing is counted, looked at or paid yet."""

    limits: Limits
    face: Face
    sight: Sight
    setout: SetOut
    light: Light
    services: Services
    carcass: Carcass
    storage: Storage
    cooling: Cooling
    structure: Structure


def _standing(job: Job, allotment: tuple[Placed, ...] | None = None) -> _Standing:
    limits, face, sight, setout, light, passes, cells = _outlined(job)
    screen = sight.screen

    # services: the feeds of the light, and what its drivers draw; no level run where holes will be drilled
    sight = replace(sight, reflections=(*sight.reflections, *_strips_mirrored(job, sight, light, limits)))
    rows = (*fixing_lines(setout.units, limits), *cladding.batten_lines(setout.zones, limits))
    services = services_plan.plan(
        job, face, screen, setout, limits, cells=cells, strips=light.runs, rows=rows
    )

    # storage and carcass
    boxes = tuple(point.box for point in services.points)
    carcass = carcass_plan.plan(job, face, setout, limits, boxes=boxes, plate=screen.plate, passes=passes)
    cooling = cooling_plan.plan(
        job, carcass.bays, services.devices, limits, units=setout.units, parts=carcass.parts, ceiling=face.height,
        width=face.width, strips=light.runs, points=services.points,
    )  # fmt: skip
    places = _where_boxes_stand(services, cooling, carcass, setout, screen, limits)
    units = {unit.ref: unit.box for unit in setout.units}
    services = services_plan.plugged_in(services, places, units, limits)
    room = storage_plan.room_of(
        job, setout.units, carcass, cooling.bays, services.devices, face.height, limits
    )
    storage = storage_plan.plan(job, room, limits, allotment)

    carcass = carcass_plan.loaded(carcass, storage.in_drawers)

    # structure: no hole where a cable is planned, or where one is that nobody made dead
    cables = (
        *drill.keep_clear(
            ((run.path, run.outside_diameter) for run in services.runs),
            limits.value("services.drill_warn"),
        ),
        *existing.keep_clear(job.survey.obstacles, face.box, limits),
    )
    structure = structure_plan.plan(job, face, screen, setout, carcass, storage, limits, cables)
    missing = tuple(hole for check in structure.fixings if check.backer for hole in check.holes)
    carcass = carcass_plan.backed(carcass, structure.backers, job, limits, missing)
    boards = {part.board for part in carcass.parts}
    made = carcass.whys
    carcass = replace(carcass, whys=Later(lambda: (*made, *materials_why.whys(job, boards, limits))))
    return _Standing(limits, face, sight, setout, light, services, carcass, storage, cooling, structure)


def _derived(
    job: Job, cuts: CutPlans | None, allotment: tuple[Placed, ...] | None, searched: bool
) -> Wall:  # fmt: skip
    stands = _standing(job, allotment)
    limits, face, sight, setout, light, services, carcass, storage, cooling, structure = stands
    screen = sight.screen

    # look
    look = look_plan.plan(job, face, screen, setout, sight.axis, sight.away, limits, light, carcass.bays)

    # money and time
    cut = cutting_plan.search if searched else cutting_plan.plan
    cuts = cuts or cut(job, carcass.parts, limits)
    pieces = money_faces.pieces(setout, carcass.parts, limits)
    sizes = {piece.finish: money_faces.sheet_of(piece.finish, limits) for piece in pieces}
    faces = face_sheets.sheets(pieces, sizes, limits.value("money.face_kerf"))
    money = money_plan.plan(
        job, screen, setout, services, carcass, structure, light, limits, sheets=cuts.sheets, areas=cuts.areas,
        unfit=tuple(ident for ident, _ in cuts.unfit), openings=cooling.openings, faces=faces,
    )  # fmt: skip
    programme = programme_plan.plan(setout, money.lines, limits)

    return Wall(
        job,
        limits,
        face,
        sight,
        setout,
        services,
        carcass,
        cuts,
        storage,
        cooling,
        structure,
        light,
        look,
        money,
        programme,
    )


def _where_boxes_stand(  # noqa: PLR0913
    services: Services, cooling: Cooling, carcass: Carcass, setout: SetOut, screen: Screen, limits: Limits
) -> dict[str, Point2]:
    """The middle of each box on the wall's face, in its bay, on the console or behind the screen; and the screen's."""
    bays, by_ref = {bay.ref: bay for bay in carcass.bays}, {d.ref: d for d in services.devices}
    side = limits.value("services.device_side_clear")
    places = {SCREEN: screen.centre}
    for heat in cooling.bays:
        for device, box, _ in side_by_side(bays[heat.bay], [by_ref[ref] for ref in heat.devices], side):
            places[device.ref] = box.centre
    for device in services.devices:
        if device.opening is not None:
            places[device.ref] = device.opening.centre
        elif device.place == "on_console":
            places[device.ref] = screen.centre[0], setout.unit(device.unit).box.top + device.height / 2
    return places


def _strips_mirrored(job: Job, sight: Sight, light: Light, limits: Limits) -> tuple[Reflection, ...]:
    """The LED strips mirrored in the picture after dark, at full output: light is laid after sight, so it is told here."""
    face = limits.value("sight.strip_face")
    lines = [
        mirrored.Line(
            run.ref,
            (a[0], run.y, a[1]),
            (b[0], run.y, b[1]),
            face,
            mirrored.strip_luminance(run.lumens_per_m, face),
        )
        for run in light.runs
        if run.lit != "facing"  # a strip that looks at the wall behind the picture is not seen in it
        for a, b in pairwise(run.path)
    ]
    return mirrored.of_lines(
        lines, job.design.screen.surface, sight.seats, mirrored.glass_of(sight.screen), limits
    )


def derive_to_issue(job: Job) -> Wall:
    """The wall with its cutting plans searched and replayed, its things allotted the best way, and the sun looked at on every
    day of the year: what is drawn, bought and issued. Takes longer than `derive`.
    """
    wall = derive(job, searched=True)
    best = derive(job, allotment=storage_best.allotment(wall.storage, wall.limits), searched=True)
    return replace(best, sun_days=())
