"""Whether a remote's beam reaches a box: a straight line from the hand through the front's opening, past what stands between.

Plan: x along the wall, out from it into the room, z above FFL; all mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from wallwright.core.shape import Box


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the room: a hand, or the eye of a box."""

    x: float
    out: float
    z: float


@dataclass(frozen=True, slots=True)
class Opening:
    """What a beam must pass on its way in: an outline on the wall's face, so far out, and whether its front lets infrared through.

    front : of what kind · slats : for an upright slatted front, its gap, pitch and the slats' depth [mm]
    """

    box: Box
    out: float
    front: str
    passes: bool
    slats: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class Between:
    """Something in the way: its plan and its heights."""

    name: str
    left: float
    right: float
    near: float
    far: float
    low: float
    top: float


@dataclass(frozen=True, slots=True)
class Beam:
    """A beam from a seat to a box: its length, its angle off straight ahead, and what stops it ("" where it arrives).

    share : of it that passes between slats, 1 where there are none
    """

    seat: str
    device: str
    length: float
    angle: float
    stopped: str
    share: float = 1.0


def at(hand: Spot, eye: Spot, out: float) -> tuple[float, float]:
    """Where the beam is (x, z) when it is so far out from the wall."""
    share = (hand.out - out) / (hand.out - eye.out)
    return hand.x + (eye.x - hand.x) * share, hand.z + (eye.z - hand.z) * share


def off_axis(hand: Spot, eye: Spot) -> float:
    """The angle of the beam from straight before the eye [deg]."""
    return math.degrees(math.atan2(math.hypot(hand.x - eye.x, hand.z - eye.z), hand.out - eye.out))


def between_slats(hand: Spot, eye: Spot, gap: float, pitch: float, deep: float) -> float:
    """The share of a beam that passes upright slats: as it crosses their depth aslant, it moves aside and each gap looks narrower."""
    aside = abs(hand.x - eye.x) / (hand.out - eye.out) * deep if hand.out > eye.out else gap
    return max(0.0, gap - aside) / pitch


def crosses(hand: Spot, eye: Spot, thing: Between) -> bool:
    """Whether the beam goes through a thing: the line cut to its depth, its width and its heights in turn."""
    low, high = 0.0, 1.0
    for start, end, least, most in (
        (hand.out, eye.out, thing.near, thing.far),
        (hand.x, eye.x, thing.left, thing.right),
        (hand.z, eye.z, thing.low, thing.top),
    ):
        step = end - start
        if abs(step) < 1e-9:
            if not least <= start <= most:
                return False
            continue
        a, b = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, a), min(high, b)
        if low > high:
            return False
    return True


def beam(  # noqa: PLR0913
    seat: str, hand: Spot, device: str, eye: Spot, opening: Opening | None, between: Iterable[Between], cone: float, far: float
) -> Beam:  # fmt: skip
    """The beam from a seat's hand to a box's eye, with the first thing that stops it. cone : half angle the eye takes in."""
    angle, length = off_axis(hand, eye), math.dist((hand.x, hand.out, hand.z), (eye.x, eye.out, eye.z))
    share = between_slats(hand, eye, *opening.slats) if opening is not None and opening.slats else 1.0
    far *= math.sqrt(share)  # what arrives falls with the square of the way
    stopped = _stopped(hand, eye, opening, between, (angle, cone), (length, far))
    return Beam(seat, device, length, angle, stopped, share)


def _stopped(
    hand: Spot, eye: Spot, opening: Opening | None, between: Iterable[Between], angle: tuple[float, float],
    length: tuple[float, float],
) -> str:  # fmt: skip
    if opening is not None:
        x, z = at(hand, eye, opening.out)
        if not opening.passes:
            return f"the {opening.front} front"
        if not (opening.box.x <= x <= opening.box.right and opening.box.z <= z <= opening.box.top):
            return "the boards round its bay"
        if opening.slats and length[0] > length[1]:
            return (
                "the slats, so far aside"
                if length[1] <= 0
                else f"the slats: too little is left after {length[0] / 1000:.1f} m"
            )
    thing = next((thing for thing in between if crosses(hand, eye, thing)), None)
    if thing is not None:
        return thing.name
    if angle[0] > angle[1]:
        return f"{angle[0]:.0f}° aside of straight ahead"
    return f"{length[0] / 1000:.1f} m are too far" if length[0] > length[1] else ""
