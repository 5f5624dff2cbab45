"""Rules of the surveyed seats: a reading that was given is believed; where it is far from the usual, that is said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wallwright.core.finding import Finding, finding
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.sight.eyes import eye_of, stated, usual_seat


@rule("sight.seat_height")
def seat_height(wall: Wall) -> Iterator[Finding]:
    """The surveyed height of a floor cushion or a wheelchair is near the usual one."""
    limit = wall.limits["rule.seat_height_off"]
    for seat in wall.job.survey.seats:
        usual = usual_seat(seat, wall.limits)
        if usual is None or not stated(seat):
            continue
        off = seat.seat_height.mm - usual.value
        if abs(off) <= limit.value:
            continue
        kind = "floor seat" if seat.kind == "floor" else "wheelchair"
        yield finding(
            "sight.seat_height",
            "consider",
            seat.ref,
            f"{kind} {seat.ref} is surveyed {seat.seat_height.mm:.0f} mm high, {abs(off):.0f} mm {'above' if off > 0 else 'below'} "
            f"the usual {usual.value:.0f} mm ({usual.source}); the surveyed height is used",
            measured=round(abs(off)),
            limit=limit,
            cure=f"measure it again with someone sitting on it; if it is not known, take {usual.value:.0f} mm",
        )


@rule("sight.eye_height")
def eye_height(wall: Wall) -> Iterator[Finding]:
    """An eye height taken on the seat agrees with what seat, posture and person give."""
    limit = wall.limits["rule.eye_height_off"]
    people = {person.ref: person for person in wall.job.brief.people}
    for seat in wall.job.survey.seats:
        if seat.eye_height is None:
            continue
        computed = eye_of(replace(seat, eye_height=None), people.get(seat.person or ""), wall.limits)
        off = seat.eye_height.mm - computed.z
        if abs(off) <= limit.value:
            continue
        yield finding(
            "sight.eye_height",
            "consider",
            seat.ref,
            f"the eye height of seat {seat.ref} is surveyed as {seat.eye_height.mm:.0f} mm, {abs(off):.0f} mm "
            f"{'above' if off > 0 else 'below'} the {computed.z:.0f} mm of {computed.says}; the surveyed height is used",
            measured=round(abs(off)),
            limit=limit,
            cure="measure it again from FFL, with the person who watches sitting as they watch; or leave it out and it is computed",
        )
