"""Edits of the survey: the room, the wall, what stands on it, the seats and the windows."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal

from pydantic import Field

from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.edit import add, change, change_in, edit, remove
from wallwright.job.fields import (
    Clear,
    Colour,
    Degrees,
    Layers,
    NotNegative,
    Number,
    Offset,
    Positive,
    Ref,
    Share,
    Size,
    Upward,
    Words,
)
from wallwright.job.path import get, put
from wallwright.job.problem import fail
from wallwright.job.reconcile import measures, outline
from wallwright.job.survey import (
    Backer,
    Between,
    CableWay,
    Glow,
    Keep,
    Lamp,
    LampKind,
    Obstacle,
    ObstacleKind,
    OtherWall,
    Posture,
    Reading,
    Relief,
    Seat,
    SeatKind,
    Side,
    Substrate,
    WallPart,
    Window,
)
from wallwright.library import load

OBSTACLES, SEATS, WINDOWS = "survey.obstacles", "survey.seats", "survey.windows"
BETWEEN, LAMPS = "survey.between", "survey.lamps"
FLAT = Length(0.0)
USUAL_SEAT = Length(420.0)


@edit
def set_room(
    job: Job,
    name: Words | None = None,
    kind: Literal["living", "bedroom", "studio"] | None = None,
    depth: Size | None = None,
) -> Job:
    """Set the room's name, kind and depth."""
    return change(job, "survey.room", name=name, kind=kind, depth=depth)


@edit
def set_floor(job: Job, finished: bool | None = None, to_come: Clear | None = None) -> Job:
    """Say whether the floor finish is laid, and how much is still to come."""
    return change(job, "survey.room", floor_finished=finished, floor_to_come=to_come)


@edit
def set_finish_complete(job: Job, complete: bool = True) -> Job:
    """Say that nothing more will be added to wall, floor or ceiling."""
    return change(job, "survey", finish_complete=complete)


@edit
def set_survey_date(job: Job, date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")]) -> Job:
    """Set the day of the survey."""
    return change(job, "survey", date=date)


@edit
def set_place(
    job: Job,
    city: Words | None = None,
    rules: Literal["IN", "UK", "US", "EU", "none"] | None = None,
    latitude: Number | None = None,
    longitude: Number | None = None,
    bearing: Degrees | None = None,
    hot_humid: bool | None = None,
    utc_offset: Number | None = None,
) -> Job:
    """Set where the building stands, which way the wall faces, its clock and its electrical rule set."""
    return change(
        job,
        "survey.place",
        city=city,
        rules=rules,
        latitude=latitude,
        longitude=longitude,
        bearing=bearing,
        hot_humid=hot_humid,
        utc_offset=utc_offset,
    )


@edit
def set_access(  # noqa: PLR0913
    job: Job,
    door_width: Size | None = None,
    door_height: Size | None = None,
    lift_width: Size | None = None,
    lift_depth: Size | None = None,
    lift_height: Size | None = None,
    lift_door_width: Size | None = None,
    lift_door_height: Size | None = None,
    stair_width: Size | None = None,
    stair_headroom: Size | None = None,
    landing_width: Size | None = None,
) -> Job:
    """Set the narrowest door, the lift and the stair on the way in."""
    return change(
        job, "survey.access",
        door_width=door_width, door_height=door_height, lift_width=lift_width, lift_depth=lift_depth, lift_height=lift_height,
        lift_door_width=lift_door_width, lift_door_height=lift_door_height,
        stair_width=stair_width, stair_headroom=stair_headroom, landing_width=landing_width,
    )  # fmt: skip


@edit
def set_substrate(job: Job, kind: Substrate, leaf: Size | None = None) -> Job:
    """Say what the wall is made of."""
    return change(job, "survey.wall", substrate=kind, leaf=leaf)


@edit
def set_studs(job: Job, spacing: Size | None = None, studs: tuple[Clear, ...] | None = None) -> Job:
    """Set the stud centres and where studs were found."""
    return change(job, "survey.wall", stud_spacing=spacing, studs=studs)


@edit
def set_boarding(job: Job, layers: Layers) -> Job:
    """Enter how many layers of boarding a stud wall has on this side, once they have been counted at a cut box."""
    return change(job, "survey.wall", boarding_layers=layers)


@edit
def set_backers(job: Job, backers: tuple[Backer, ...]) -> Job:
    """Enter the backers that are in a framed wall, once they have been seen there."""
    return put(job, ("survey", "wall", "backers"), backers)


@edit
def set_wall_finish(job: Job, finish: Literal["plaster", "skim", "plasterboard", "bare", "tile"]) -> Job:
    """Say what lies on the wall now."""
    return change(job, "survey.wall", finish=finish)


@edit
def set_wall_reading(job: Job, which: Literal["width", "height"], at: Clear, value: Size) -> Job:
    """Enter a tape reading of the wall; one taken at the same place is replaced."""
    steps = ("survey", "wall", f"{which}s")
    kept = tuple(reading for reading in get(job, steps) if reading.at.mm != at.mm)
    return put(job, steps, tuple(sorted((*kept, Reading(at, value)), key=lambda reading: reading.at.mm)))


@edit
def remove_wall_reading(job: Job, which: Literal["width", "height"], at: Clear) -> Job:
    """Take out the tape reading taken at this place."""
    steps = ("survey", "wall", f"{which}s")
    readings: tuple[Reading, ...] = get(job, steps)
    kept = tuple(reading for reading in readings if reading.at.mm != at.mm)
    if len(kept) == len(readings):
        places = ", ".join(f"{reading.at.mm:g}" for reading in readings)
        raise fail("at", f"{at.mm:g}", f"no {which} was taken there; there are readings at {places}")
    return put(job, steps, kept)


@edit
def set_diagonals(job: Job, rising: Size, falling: Size) -> Job:
    """Enter the wall's two diagonals, bottom left to top right first."""
    return change(job, "survey.wall", diagonals=(rising, falling))


@edit
def use_outline(job: Job, adjusted: bool = True) -> Job:
    """Draw the wall by the most likely outline of all its measures, or by the smallest reading again."""
    if adjusted:
        limits = load.limits_of(job.survey.place.rules).overridden(job.rules)
        found = outline(measures(job.survey.wall, limits), limits)
        if found is None or found.spare < 1:
            raise fail(
                "survey.wall",
                None,
                "has too few measures to adjust: take both diagonals, and a third width and height",
            )
        if found.suspects:
            first = found.suspects[0].measure
            raise fail(
                first.path,
                f"{first.value:g}",
                "does not close with the rest: an outline is not drawn by it; measure it again",
            )
    return change(job, "survey.wall", adjusted=adjusted)


@edit
def set_plumb(job: Job, out_of_plumb: Offset) -> Job:
    """Enter how far the wall's top stands behind its bottom."""
    return change(job, "survey.wall", out_of_plumb=out_of_plumb)


@edit
def set_relief(job: Job, relief: tuple[Relief, ...]) -> Job:
    """Enter how far the wall stands out at each place of a grid, against one plumb plane."""
    return put(job, ("survey", "wall", "relief"), relief)


@edit
def set_damp(job: Job, damp: Literal["dry", "damp", "wet", "unknown"], outside: bool | None = None) -> Job:
    """Enter the damp-meter class of the wall."""
    return change(job, "survey.wall", damp=damp, outside=outside)


@edit
def add_obstacle(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: ObstacleKind,
    x: Offset,
    z: Clear,
    width: Size,
    height: Size,
    projection: Clear = FLAT,
    state: Keep = "keep",
    note: Words = "",
) -> Job:
    """Put something that stands on the wall into the survey."""
    return add(job, OBSTACLES, Obstacle(ref, kind, x, z, width, height, projection, state, note))


@edit
def move_obstacle(job: Job, ref: Ref, x: Offset | None = None, z: Clear | None = None) -> Job:
    """Move an obstacle on the wall."""
    return change_in(job, OBSTACLES, ref, x=x, z=z)


@edit
def resize_obstacle(
    job: Job, ref: Ref, width: Size | None = None, height: Size | None = None, projection: Clear | None = None
) -> Job:
    """Set an obstacle's size."""
    return change_in(job, OBSTACLES, ref, width=width, height=height, projection=projection)


@edit
def set_obstacle_state(job: Job, ref: Ref, state: Keep) -> Job:
    """Say whether an obstacle stays, moves, goes or is new."""
    return change_in(job, OBSTACLES, ref, state=state)


@edit
def set_obstacle_dead(job: Job, ref: Ref, dead: bool = True) -> Job:
    """Say that a cable on the wall was traced and made dead by the electrician (a pipe: by the plumber)."""
    return change_in(job, OBSTACLES, ref, dead=dead)


@edit
def set_obstacle_cable(job: Job, ref: Ref, cable: CableWay) -> Job:
    """Say which way the cable of a socket, switch or data point was traced to run: upright or level."""
    return change_in(job, OBSTACLES, ref, cable=cable)


@edit
def set_obstacle_substrate(job: Job, ref: Ref, substrate: Substrate) -> Job:
    """Say what a column or beam is made of, once somebody has made sure: its fixings follow."""
    return change_in(job, OBSTACLES, ref, substrate=substrate)


@edit
def remove_obstacle(job: Job, ref: Ref) -> Job:
    """Take an obstacle out of the survey."""
    return remove(job, OBSTACLES, ref)


@edit
def add_seat(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: SeatKind,
    x: Offset,
    distance: Size,
    seat_height: Clear = USUAL_SEAT,
    posture: Posture = "upright",
    recline: Degrees | None = None,
    hours: NotNegative = 7.0,
    person: Ref | None = None,
    eye_height: Size | None = None,
) -> Job:
    """Add a place to watch from."""
    return add(
        job, SEATS, Seat(ref, kind, x, distance, seat_height, posture, recline, hours, person, eye_height)
    )


@edit
def set_seat(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: SeatKind | None = None,
    x: Offset | None = None,
    distance: Size | None = None,
    seat_height: Clear | None = None,
    posture: Posture | None = None,
    recline: Degrees | None = None,
    hours: NotNegative | None = None,
    person: Ref | None = None,
    eye_height: Size | None = None,
    back_height: Size | None = None,
    foot_height: Size | None = None,
) -> Job:
    """Change a seat: where it stands, how one sits, how long, and who."""
    return change_in(
        job, SEATS, ref,
        kind=kind, x=x, distance=distance, seat_height=seat_height, posture=posture, recline=recline, hours=hours,
        person=person, eye_height=eye_height, back_height=back_height, foot_height=foot_height,
    )  # fmt: skip


@edit
def remove_seat(job: Job, ref: Ref) -> Job:
    """Take a seat out of the survey."""
    return remove(job, SEATS, ref)


@edit
def add_between(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: Literal["table", "stool", "plant", "lamp", "other"],
    x: Offset,
    distance: Clear,
    width: Size,
    depth: Size,
    height: Size,
) -> Job:
    """Add furniture that stands between the seats and the screen."""
    return add(job, BETWEEN, Between(ref, kind, x, distance, width, depth, height))


@edit
def set_between(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: Literal["table", "stool", "plant", "lamp", "other"] | None = None,
    x: Offset | None = None,
    distance: Clear | None = None,
    width: Size | None = None,
    depth: Size | None = None,
    height: Size | None = None,
) -> Job:
    """Change furniture that stands between the seats and the screen: where it stands, its sizes."""
    return change_in(
        job, BETWEEN, ref, kind=kind, x=x, distance=distance, width=width, depth=depth, height=height
    )


@edit
def remove_between(job: Job, ref: Ref) -> Job:
    """Take furniture between the seats and the screen out of the survey."""
    return remove(job, BETWEEN, ref)


@edit
def add_window(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    wall: Side,
    along: Offset,
    sill: Clear,
    width: Size,
    height: Size,
    blind: Share = 1.0,
    reveal: Clear = FLAT,
    overhang: Clear = FLAT,
    horizon: Upward = 0.0,
) -> Job:
    """Add a window of another wall."""
    return add(job, WINDOWS, Window(ref, wall, along, sill, width, height, blind, reveal, overhang, horizon))


@edit
def set_window(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    along: Offset | None = None,
    sill: Clear | None = None,
    width: Size | None = None,
    height: Size | None = None,
    reveal: Clear | None = None,
    overhang: Clear | None = None,
    horizon: Upward | None = None,
) -> Job:
    """Set a window's place and size, and what shades it outside."""
    return change_in(
        job, WINDOWS, ref,
        along=along, sill=sill, width=width, height=height, reveal=reveal, overhang=overhang, horizon=horizon,
    )  # fmt: skip


@edit
def set_window_blind(job: Job, ref: Ref, blind: Share) -> Job:
    """Set how much light a window's blind lets through."""
    return change_in(job, WINDOWS, ref, blind=blind)


@edit
def remove_window(job: Job, ref: Ref) -> Job:
    """Take a window out of the survey."""
    return remove(job, WINDOWS, ref)


@edit
def add_lamp(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: LampKind,
    x: Offset,
    distance: Clear,
    z: Size,
    diameter: Size | None = None,
    width: Size | None = None,
    height: Size | None = None,
    runs: Literal["across", "away"] = "across",
    glow: Glow | None = None,
    luminance: Positive | None = None,
    cut_off: Upward | None = None,
    on_at_night: bool = True,
) -> Job:
    """Add a lamp of the room."""
    return add(
        job, LAMPS,
        Lamp(ref, kind, x, distance, z, diameter, width, height, runs, glow, luminance, cut_off, on_at_night),
    )  # fmt: skip


@edit
def set_lamp(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    x: Offset | None = None,
    distance: Clear | None = None,
    z: Size | None = None,
    diameter: Size | None = None,
    width: Size | None = None,
    height: Size | None = None,
    glow: Glow | None = None,
    luminance: Positive | None = None,
    cut_off: Upward | None = None,
    on_at_night: bool | None = None,
) -> Job:
    """Change a lamp: where it hangs, its size, how bright it looks, and when it is lit."""
    return change_in(
        job, LAMPS, ref,
        x=x, distance=distance, z=z, diameter=diameter, width=width, height=height, glow=glow, luminance=luminance,
        cut_off=cut_off, on_at_night=on_at_night,
    )  # fmt: skip


@edit
def remove_lamp(job: Job, ref: Ref) -> Job:
    """Take a lamp out of the survey."""
    return remove(job, LAMPS, ref)


@edit
def set_other_wall(  # noqa: PLR0913
    job: Job,
    side: Side,
    finish: Words | None = None,
    weight: Literal["plain", "some", "heavy"] | None = None,
    colour: Colour | None = None,
    width: Size | None = None,
    height: Size | None = None,
    lux: NotNegative | None = None,
    parts: tuple[WallPart, ...] | None = None,
) -> Job:
    """Describe another wall of the room: its ground, its light, and what stands or hangs on it."""
    walls = job.survey.other_walls
    old = next((wall for wall in walls if wall.side == side), OtherWall(side))
    said = {
        "finish": finish, "weight": weight, "colour": colour, "width": width, "height": height, "lux": lux, "parts": parts,
    }  # fmt: skip
    new = replace(old, **{name: value for name, value in said.items() if value is not None})
    if old in walls:
        return put(job, ("survey", "other_walls"), tuple(new if wall is old else wall for wall in walls))
    return put(job, ("survey", "other_walls"), (*walls, new))
