"""Where the eyes are: from the seat, the posture and the person; a measured eye height overrides it all.

Sitting eye heights: ANSUR II public files (4 082 men and 1 986 women, 2010-12). The soldiers measured sat erect on a hard seat:
a slump is taken off, and the seat's height is the one under load.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from functools import cache

from wallwright.core.limit import Certainty, Limit, Limits
from wallwright.core.units import Length
from wallwright.core.why import Given
from wallwright.job.brief import Person
from wallwright.job.survey import Seat
from wallwright.library import load

_STATURE_SLOPE, _STATURE_BASE = (
    0.3988,
    102.2,
)  # ANSUR II, both sexes pooled, residual 21.5 mm (computed from the public files)
_NECK_SHARE = (
    651.6 / 776.1
)  # C7 above the seat over sitting eye height, means of both sexes (computed from the public files)
CROWN = 111.3  # crown above the eye: sitting height less sitting eye height, both sexes (computed from the public files)

_ANY_SEAT = Seat("any", "sofa", Length(0.0), Length(1.0)).seat_height
GROWN_UP = 15  # years
SMALLEST_GROWN_UP = 1400  # mm: a shorter person of unknown age sits like a child


@dataclass(frozen=True, slots=True)
class Body:
    """A person as the eye height needs it: eye and neck (C7) above the seat when sitting erect, eye above the
    floor standing [mm].
    """

    sitting_eye: float
    neck: float
    standing_eye: float
    says: str
    certainty: Certainty


@dataclass(frozen=True, slots=True)
class Eye:
    """The eyes in one seat: x and height above FFL, distance from the wall [mm]; recline, head brought forward,
    and gaze [deg].
    """

    seat: Seat
    x: float
    z: float
    distance: float
    measured: bool
    recline: float
    flexion: float
    says: str
    formula: str
    inputs: tuple[Given, ...]
    certainty: Certainty
    source: str = ""
    """Where a surveyed eye height comes from; "" of a computed one."""


def body(person: Person | None, limits: Limits) -> Body:
    """The person's body: by stature, by age, or a mean adult."""
    if person is None or (person.stature is None and (person.age is None or person.age >= GROWN_UP)):
        return _grown_up(
            limits.value("sight.sitting_eye"), limits.value("sight.stature"), "a mean adult", "computed"
        )
    age = person.age
    if person.stature is not None:
        stature = person.stature.mm
        if age is None:
            grown = stature >= SMALLEST_GROWN_UP
        else:
            grown = age >= GROWN_UP
        if grown:
            sitting_eye = _STATURE_SLOPE * stature + _STATURE_BASE
            return _grown_up(sitting_eye, stature, f"{person.ref}, {stature:.0f} mm tall", "computed")
        years = age if age is not None else _age_of(stature)
    else:
        years = age or 0.0
        stature = _at(_children()[0], years)
    sitting_eye = _at(_children()[1], years) * stature - CROWN
    says = f"{person.ref}, a child of {stature:.0f} mm"  # WHO statures; the sitting ratio is from memory
    return Body(sitting_eye, _NECK_SHARE * sitting_eye, stature - CROWN, says, "from memory")


def _grown_up(sitting_eye: float, stature: float, says: str, certainty: Certainty) -> Body:
    return Body(sitting_eye, _NECK_SHARE * sitting_eye, stature - CROWN, says, certainty)


def _at(row: tuple[float, ...], years: float) -> float:
    """The row's value at that age, straight between whole years (the row starts at 1 year)."""
    place = min(max(years - 1, 0.0), len(row) - 1.0)
    i = min(int(place), len(row) - 2)
    return row[i] + (place - i) * (row[i + 1] - row[i])


@cache
def _children() -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Stature and sitting ratio at 1, 2 .. years, from the library."""
    rows = sorted(load.children().values(), key=lambda row: row.years)
    return tuple(row.stature for row in rows), tuple(row.sitting for row in rows)


def _age_of(stature: float) -> float:
    """The age at which a child of that stature is of median height."""
    statures = _children()[0]
    i = min(max(bisect_right(statures, stature), 1), len(statures) - 1)
    low, high = statures[i - 1], statures[i]
    return max(1.0, i + (stature - low) / (high - low))


def leaned(eye: float, neck: float, hip: float, recline: float, flexion: float) -> tuple[float, float]:
    """Eye above the seat, and how far it moved back, when the back leans by `recline` and the head comes forward by `flexion`.

    The trunk turns about the hip joint, `hip` above the seat; the head about the neck:
    z = hip + (C7 − hip) cos ρ + (eye − C7) cos(ρ − f); back the same with sines. f = 0 is a rigid back, f = ρ a
    head kept upright.
    """
    back, head = math.radians(recline), math.radians(recline - flexion)
    up = hip + (neck - hip) * math.cos(back) + (eye - neck) * math.cos(head)
    return up, (neck - hip) * math.sin(back) + (eye - neck) * math.sin(head)


def recline_of(seat: Seat, limits: Limits) -> float:
    """The back's angle from vertical: as surveyed, else the posture's usual one."""
    if seat.posture == "standing" or seat.kind == "standing":
        return 0.0
    if seat.recline is not None:
        return seat.recline
    return limits.value(f"sight.recline_{seat.posture}")


def flexion_of(seat: Seat, recline: float, limits: Limits) -> float:
    """How far the head is brought forward of the back: by the pillow or headrest when lying back, else by the neck
    as far as it goes.
    """
    if seat.kind == "bed" or seat.posture == "reclined":
        return min(recline, limits.value("sight.pillow"))
    return min(recline, limits.value("sight.neck"))


def surface(seat: Seat, limits: Limits) -> tuple[float, str]:
    """The height of the loaded seat above FFL, and what was done to the surveyed number."""
    height = seat.seat_height.mm
    if seat.kind == "bed":
        sink = limits.value("sight.mattress_sink")
        return height - sink, f"mattress {height:.0f} less {sink:.0f} sunk in"
    usual = usual_seat(seat, limits)
    if usual is not None and not stated(seat):
        return (
            usual.value,
            "usual cushion on the floor" if seat.kind == "floor" else "usual wheelchair cushion",
        )
    return height, "seat under load" if usual is None else "seat under load, as surveyed"


def usual_seat(seat: Seat, limits: Limits) -> Limit | None:
    """The seat height that is taken where none was surveyed, of a floor cushion or a wheelchair; None of other seats."""
    return limits[f"sight.{seat.kind}_seat"] if seat.kind in ("floor", "wheelchair") else None


def stated(seat: Seat) -> bool:
    """Whether somebody gave this seat's height: it is not just the height that the survey takes for any seat."""
    return seat.seat_height != _ANY_SEAT


def _sure(length: Length) -> str:
    """How sure a surveyed reading is, in words."""
    tolerance = f", ± {length.tolerance:g} mm" if length.tolerance else ""
    return f"{length.state}{tolerance}" if length.state != "assumed" else "given, not said to be measured"


def eye_of(seat: Seat, person: Person | None, limits: Limits) -> Eye:
    """The eyes of who sits there.

    A recliner's back turns about the hip, so the eyes go back with it. On a sofa one slides forward instead, and in bed the head
    stays at the headboard: there the surveyed distance holds.
    """
    recline = recline_of(seat, limits)
    flexion = flexion_of(seat, recline, limits)
    who = body(person, limits)
    if seat.kind == "standing" or seat.posture == "standing":
        inputs = (Given("eye standing", round(who.standing_eye), "mm"),)
        z, back = who.standing_eye, 0.0
        says, formula = f"standing: {who.says}", "stature − crown above the eye"
    else:
        seat_z, how = surface(seat, limits)
        slump, hip = limits.value("sight.slump"), limits.value("sight.hip_pivot")
        erect = who.sitting_eye - slump
        rise, shift = leaned(erect, who.neck - slump, hip, recline, flexion)
        z = seat_z + rise
        back = shift if seat.posture == "reclined" and seat.kind != "bed" else 0.0
        inputs = (
            Given(how, seat_z, "mm"), Given("sitting eye height", round(who.sitting_eye), "mm"), Given("slump", slump, "mm"),
            Given("hip joint above the seat", hip, "mm"), Given("back from vertical", recline, "deg"),
            Given("head brought forward", flexion, "deg"),
        )  # fmt: skip
        says = f"{who.says} sits with the back at {recline:.0f}° on {seat_z:.0f} mm ({how})"
        formula = "seat + hip + (C7 − hip) cos ρ + (eye − C7) cos(ρ − f), eye and C7 less the slump"
    certainty: Certainty = who.certainty if recline == 0 else "from memory"
    source = ""
    if seat.eye_height is not None:
        sure = _sure(seat.eye_height)
        z, says, formula, certainty = seat.eye_height.mm, f"taken on the seat: {sure}", "", "derived"
        inputs, source = (Given("eye height on the seat", z, "mm"),), f"the survey: {sure}"
    return Eye(
        seat,
        seat.x.mm,
        z,
        seat.distance.mm + back,
        seat.eye_height is not None,
        recline,
        flexion,
        says,
        formula,
        inputs,
        certainty,
        source,
    )
