"""Whether a carton comes in: door, lift, stair. And whether a frame goes into its niche.

A carton is a rigid box: width and height of its face, depth. It is tried in the ways it is carried, one edge always along the
room's own directions; a box skew in all three is not tried, as nobody carries one so. Lengths mm.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

UPRIGHT, LEANED = "upright", "leaned over"
ON_END, ONE_END_UP, FLAT = "on end", "one end up", "lying flat"
EASY = (UPRIGHT, LEANED)
"""Ways a screen may always be carried; in the others only with its carrier's word."""


@dataclass(frozen=True, slots=True)
class Carton:
    """The box a screen comes in, standing as its arrows say: width × height × depth."""

    width: float
    height: float
    depth: float

    def grown(self, by: float) -> Carton:
        """The carton with `by` added to each size: what must pass for it to pass with that much to spare."""
        return Carton(self.width + by, self.height + by, self.depth + by)


@dataclass(frozen=True, slots=True)
class Way:
    """The way in, clear sizes; None = not surveyed (a lift's door: as its car; the flight after the turn: as before it)."""

    door: tuple[float, float] | None = None
    lift: tuple[float, float, float] | None = None
    lift_door: tuple[float, float] | None = None
    stair: tuple[float, float, float] | None = None
    """Width before the turn, width after it, headroom."""


@dataclass(frozen=True, slots=True)
class Step:
    """One narrow place and how the carton passes it: one of the ways of carrying, or "" where it does not."""

    place: str
    how: str

    @property
    def passes(self) -> bool:
        """Whether it passes at all."""
        return bool(self.how)


@dataclass(frozen=True, slots=True)
class Route:
    """The whole way. on_end : it passes only in a way of carrying that needs the carrier's word · surveyed : something was."""

    steps: tuple[Step, ...]
    passes: bool
    on_end: bool
    surveyed: bool
    says: str


def rectangle_fits(p: float, q: float, a: float, b: float) -> bool:
    """Whether a p × q rectangle fits, turned as it likes, into one of a × b.

    With p ≥ q and a ≥ b: straight when p ≤ a and q ≤ b; aslant when p > a, q ≤ b and
    b ≥ (2pqa + (p² − q²)√(p² + q² − a²)) / (p² + q²). Source: Carver 1957, in Wetzel, Mathematics Magazine 73 (2000).
    """
    p, q = max(p, q), min(p, q)
    a, b = max(a, b), min(a, b)
    if q > b:
        return False
    if p <= a:
        return True
    square = p * p + q * q
    return b * square >= 2 * p * q * a + (p * p - q * q) * math.sqrt(square - a * a)


def longest_round_corner(before: float, after: float, thickness: float) -> float:
    """The longest rectangle of that thickness that goes level round a square corner between passages of these two widths.

    With its outer side against both outer walls at the angle θ the inner corner must stay clear:
    L(θ) = (a sin θ + b cos θ − t) / (sin θ cos θ); the smallest over θ. 0 where it is too thick for either passage.
    """
    if thickness > min(before, after):
        return 0.0

    def length(angle: float) -> float:
        sine, cosine = math.sin(angle), math.cos(angle)
        return (before * sine + after * cosine - thickness) / (sine * cosine)

    low, high = 1e-4, math.pi / 2 - 1e-4
    shrink = (math.sqrt(5) - 1) / 2
    for _ in range(45):
        one, two = high - shrink * (high - low), low + shrink * (high - low)
        if length(one) < length(two):
            high = two
        else:
            low = one
    return length((low + high) / 2)


def leans(height: float, thickness: float, across: float, room: float) -> bool:
    """Whether a carton that high and thick, leant back by at most half a right angle, stands within across × room.

    Leant by β it is h cos β + t sin β high and h sin β + t cos β deep: the least β that makes it low enough takes least depth.
    """
    if height <= room:
        return thickness <= across
    whole = math.hypot(height, thickness)
    beta = math.atan2(thickness, height) + math.acos(room / whole)
    return beta <= math.pi / 4 and height * math.sin(beta) + thickness * math.cos(beta) <= across


def in_car(box: Carton, width: float, depth: float, height: float) -> str:
    """How the carton stands in a lift car: the easiest way of carrying it that fits, or ""."""
    w, h, t = box.width, box.height, box.depth
    plan = ((width, depth), (depth, width))
    if h <= height and rectangle_fits(w, t, width, depth):
        return UPRIGHT
    if any(w <= along and leans(h, t, across, height) for along, across in plan):
        return LEANED
    if w <= height and rectangle_fits(h, t, width, depth):
        return ON_END
    if any(h <= along and leans(w, t, across, height) for along, across in plan):
        return ON_END
    if any(t <= across and rectangle_fits(w, h, along, height) for along, across in plan):
        return ONE_END_UP
    flat = t <= height and rectangle_fits(w, h, width, depth)
    flat = flat or any(w <= along and rectangle_fits(h, t, across, height) for along, across in plan)
    return FLAT if flat else ""


def through_door(box: Carton, width: float, height: float) -> str:
    """How the carton goes straight through a door: end first, upright or leaned, else on its end."""
    if box.depth <= width and box.height <= height:
        return UPRIGHT
    if leans(box.height, box.depth, width, height):
        return LEANED
    return ON_END if rectangle_fits(box.width, box.depth, width, height) else ""


def round_stair(box: Carton, before: float, after: float, headroom: float) -> str:
    """How the carton is carried level round the turn of a stair."""
    longest = longest_round_corner(before, after, box.depth)
    if box.height <= headroom and box.width <= longest:
        return UPRIGHT
    return ON_END if box.width <= headroom and box.height <= longest else ""


def route(carton: Carton, way: Way, spare: float) -> Route:
    """The carton along the whole way, each size with `spare` added: every door, and the lift or else the stair."""
    box = carton.grown(spare)
    doors = [Step("door", through_door(box, *way.door))] if way.door else []
    lift: list[Step] = []
    if way.lift:
        if way.lift_door:
            lift.append(Step("lift door", through_door(box, *way.lift_door)))
        lift.append(Step("lift", in_car(box, *way.lift)))
    stair = [Step("stair turn", round_stair(box, *way.stair))] if way.stair else []
    ups = [steps for steps in (lift, stair) if steps]
    chosen = next((steps for steps in ups if all(step.how in EASY for step in steps)), None)
    if chosen is None:
        chosen = next((steps for steps in ups if all(step.passes for step in steps)), ups[0] if ups else [])
    used = [*doors, *chosen]
    passes = all(step.passes for step in used)
    on_end = passes and any(step.how not in EASY for step in used)
    return Route(
        (*doors, *lift, *stair), passes, on_end, bool(doors or ups), _says(carton, used, passes, on_end)
    )


@lru_cache(maxsize=8)
def passing(way: Way) -> Callable[[float, float, float], bool] | None:
    """Whether a box of a width, height and depth passes the way in, for furniture: carried in any way. None: nothing is surveyed."""
    if not (way.door or way.lift or way.stair):
        return None

    @lru_cache(maxsize=2048)
    def passes(width: float, height: float, depth: float) -> bool:
        return route(Carton(width, height, depth), way, 0.0).passes

    return passes


def _says(carton: Carton, used: list[Step], passes: bool, on_end: bool) -> str:
    size = f"the carton, {carton.width:.0f} × {carton.height:.0f} × {carton.depth:.0f},"
    if not used:
        return f"{size} is not checked: no door, lift or stair is surveyed"
    if not passes:
        return f"{size} does not pass the {' or the '.join(step.place for step in used if not step.passes)}"
    ways = ", ".join(f"{step.place} {step.how}" for step in used)
    return f"{size} passes: {ways}" + ("; only with the carrier's word" if on_end else "")


def niche_short(frame: tuple[float, float], niche: tuple[float | None, float | None], gap: float) -> float:
    """By how much [mm] a niche is too small for a frame with `gap` on every side; 0 or less where it is large enough."""
    short = [size + 2 * gap - clear for size, clear in zip(frame, niche, strict=True) if clear is not None]
    return max(short, default=0.0)
