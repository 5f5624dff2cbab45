"""Edits of the brief: people, devices, things to keep, money and habits."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from wallwright.job.brief import Budget, Device, Person, Thing
from wallwright.job.document import Job
from wallwright.job.edit import add, change, change_in, edit, remove
from wallwright.job.fields import Clear, Count, NotNegative, Number, Offset, Positive, Ref, Share, Size, Words
from wallwright.job.path import put

PEOPLE, DEVICES = "brief.people", "brief.devices"
Weight = Literal["plain", "some", "heavy"]
DevicePlace = Literal["auto", "screen", "cabinet", "on_console", "tower", "wall"]
Control = Literal["ir", "radio", "wired"]
Use = Literal["daily", "weekly", "monthly", "seldom"]
Care = Literal["none", "toy", "fragile", "dangerous"]


@edit
def add_person(
    job: Job,
    ref: Ref,
    stature: Size | None = None,
    age: NotNegative | None = None,
    wheelchair: bool = False,
    acuity: Positive | None = None,
) -> Job:
    """Add someone of the household."""
    return add(job, PEOPLE, Person(ref, stature, age, wheelchair, acuity))


@edit
def set_person(
    job: Job,
    ref: Ref,
    stature: Size | None = None,
    age: NotNegative | None = None,
    wheelchair: bool | None = None,
    acuity: Positive | None = None,
) -> Job:
    """Change someone's height, age, wheelchair or sharpness of sight."""
    return change_in(job, PEOPLE, ref, stature=stature, age=age, wheelchair=wheelchair, acuity=acuity)


@edit
def remove_person(job: Job, ref: Ref) -> Job:
    """Take someone out of the household; seats that were theirs become anyone's."""
    left = remove(job, PEOPLE, ref)
    for i, seat in enumerate(left.survey.seats):
        if seat.person == ref:
            left = put(left, ("survey", "seats", i, "person"), None)
    return left


@edit
def add_device(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: Ref,
    place: DevicePlace = "auto",
    watts: NotNegative | None = None,
    width: Size | None = None,
    depth: Size | None = None,
    height: Size | None = None,
    control: Control | None = None,
) -> Job:
    """Add a device."""
    return add(job, DEVICES, Device(ref, kind, place, watts, width, depth, height, control))


@edit
def set_device(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    kind: Ref | None = None,
    place: DevicePlace | None = None,
    watts: NotNegative | None = None,
    width: Size | None = None,
    depth: Size | None = None,
    height: Size | None = None,
    control: Control | None = None,
    x: Offset | None = None,
    z: Clear | None = None,
    clear_side: Size | None = None,
    clear_above: Size | None = None,
) -> Job:
    """Change a device: its place, power, size, control, or the opening of what is let into the wall."""
    return change_in(
        job,
        DEVICES,
        ref,
        kind=kind,
        place=place,
        watts=watts,
        width=width,
        depth=depth,
        height=height,
        control=control,
        x=x,
        z=z,
        clear_side=clear_side,
        clear_above=clear_above,
    )


@edit
def remove_device(job: Job, ref: Ref) -> Job:
    """Take a device out of the brief."""
    return remove(job, DEVICES, ref)


@edit
def set_thing(  # noqa: PLR0913
    job: Job,
    kind: Ref,
    count: Count,
    low: bool | None = None,
    name: Words | None = None,
    width: Size | None = None,
    depth: Size | None = None,
    height: Size | None = None,
    mass: Positive | None = None,
    use: Use | None = None,
    care: Care | None = None,
) -> Job:
    """Set how many of a household thing are kept, its own size, mass and use; a count of 0 takes it off the list."""
    things = job.brief.things
    old = next((thing for thing in things if thing.kind == kind), None)
    own = {
        "low": low,
        "name": name,
        "width": width,
        "depth": depth,
        "height": height,
        "mass": mass,
        "use": use,
        "care": care,
    }
    given = {field: value for field, value in own.items() if value is not None}
    new = replace(old or Thing(kind, count), count=count, **given)
    if old is not None:
        listed = tuple(new if thing is old else thing for thing in things)
    else:
        listed = (*things, new)
    return put(job, ("brief", "things"), tuple(thing for thing in listed if thing.kind != kind or count > 0))


@edit
def set_storage(job: Job, storage: Literal["little", "moderate", "much"]) -> Job:
    """Say how much storage the wall is to give."""
    return change(job, "brief", storage=storage)


@edit
def set_budget(job: Job, amount: Positive, reserve: Share | None = None) -> Job:
    """Set what may be spent, and the share kept back for surprises."""
    old = job.brief.budget
    kept = old.reserve if old and reserve is None else reserve
    return change(job, "brief", budget=Budget(amount, kept, old.keep if old else ()))


@edit
def set_tenure(job: Job, tenure: Literal["own", "rent"]) -> Job:
    """Say whether the home is owned or rented."""
    return change(job, "brief", tenure=tenure)


@edit
def set_style(job: Job, style: tuple[Words, ...]) -> Job:
    """Set the client's own style words."""
    return change(job, "brief", style=style)


@edit
def set_opposite_wall(job: Job, weight: Weight) -> Job:
    """Say how much the wall behind the seats asks to be looked at."""
    return change(job, "brief", opposite_wall=weight)


@edit
def set_night_viewing(job: Job, share: Share) -> Job:
    """Set the share of the hours watched after dark."""
    return change(job, "brief", night_viewing=share)


@edit
def set_floor_cleaning(
    job: Job, floor_cleaning: Literal["mop", "robot", "none"], robot_height: Number | None = None
) -> Job:
    """Say how the floor is cleaned, and how tall the robot is in mm."""
    return change(job, "brief", floor_cleaning=floor_cleaning, robot_height=robot_height)
