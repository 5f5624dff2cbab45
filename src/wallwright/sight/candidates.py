"""Screen sizes compared for all seats: how wide the picture is for each, whether the frame fits the wall, and a
verdict in words.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from wallwright.core.limit import Limits
from wallwright.core.shape import Point2
from wallwright.library.load import ScreenSize
from wallwright.sight.angles import acuity_distance, picture_angle, picture_size, turned
from wallwright.sight.eyes import Eye
from wallwright.sight.fit import Carton, Route, Way, niche_short, route
from wallwright.sight.record import Candidate


@dataclass(frozen=True, slots=True)
class Taste:
    """What a seat asks of the picture's angle [deg]: the aim, the least and the most that is still comfortable."""

    aim: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Arm:
    """A screen turned on its arm. swivel [deg] · picture : the middle of a size's picture on plan (x, out)"""

    swivel: float
    picture: Callable[[ScreenSize], Point2]


def taste(eye: Eye, limits: Limits) -> Taste:
    """A bed is content with less than a sofa."""
    bed = eye.seat.kind == "bed"
    return Taste(
        limits.value("sight.angle_aim_bed" if bed else "sight.angle_aim"),
        limits.value("rule.picture_angle_least_bed" if bed else "rule.picture_angle_least"),
        limits.value("rule.picture_angle_most"),
    )


def regret(angle: float, wish: Taste) -> float:
    """How far a picture angle is from a seat's wish: 0 at the aim.

    Square of the logarithm of tan(θ/2) against the aim's, and the same again, four times, outside the comfortable band. On axis
    tan(θ/2) is the picture's width over twice the distance: the regret is convex in its logarithm, so a seat that moves nearer
    can never ask for a larger screen.
    """
    size = math.log(math.tan(math.radians(max(angle, 0.1)) / 2))
    aim, least, most = (
        math.log(math.tan(math.radians(deg) / 2)) for deg in (wish.aim, wish.least, wish.most)
    )
    return (size - aim) ** 2 + 4 * max(0.0, size - most) ** 2 + 4 * max(0.0, least - size) ** 2


def compare(
    sizes: Iterable[ScreenSize],
    eyes: Sequence[Eye],
    shares: Sequence[float],
    axis: float,
    stand_off: float,
    lines: int,
    fits: Callable[[float, float], bool],
    limits: Limits,
    niche: tuple[float | None, float | None] = (None, None),
    way: Way | None = None,
    arm: Arm | None = None,
) -> tuple[Candidate, ...]:
    """All sizes, smallest first. score 0..100: 100 = every seat has exactly the angle it would like; seats count by their hours.

    niche : its clear width and height · way : the way in for the carton; None = not surveyed ·
    arm : how all sizes are turned; None = they are not
    """
    gap, spare = limits.value("sight.niche_gap"), limits.value("sight.route_clear")
    wishes = [taste(eye, limits) for eye in eyes]
    rows: list[Candidate] = []
    for size in sizes:
        width, height = picture_size(size.diagonal)
        x, out = arm.picture(size) if arm else (axis, stand_off + size.frame_depth)
        swivel = arm.swivel if arm else 0.0
        angles = [picture_angle(width, *turned(eye.x - x, eye.distance - out, swivel)) for eye in eyes]
        total = sum(
            part * regret(angle, wish) for part, angle, wish in zip(shares, angles, wishes, strict=True)
        )
        room = fits(size.frame_width, size.frame_height)
        near = min(eye.distance for eye in eyes) - out
        short = niche_short((size.frame_width, size.frame_height), niche, gap)
        carried = route(Carton(size.box_width, size.box_height, size.box_depth), way, spare) if way else None
        rows.append(
            Candidate(
                size.diagonal, size.frame_width, size.frame_height, size.mass, size.watts, room, min(angles), max(angles),
                100 * math.exp(-total), _verdict(angles, wishes, room, short, carried, near < acuity_distance(height, lines)),
                short, carried,
            )
        )  # fmt: skip
    return tuple(rows)


def _verdict(  # noqa: PLR0913
    angles: Sequence[float],
    wishes: Sequence[Taste],
    fits: bool,
    short: float,
    carried: Route | None,
    dots: bool,
) -> str:
    if not fits:
        return "does not fit the wall"
    said: list[str] = []
    if short > 0:
        said.append(f"the niche is {short:.0f} mm too small")
    if carried is not None and not carried.passes:
        said.append(carried.says)
    small = [angle for angle, wish in zip(angles, wishes, strict=True) if angle < wish.least]
    large = [angle for angle, wish in zip(angles, wishes, strict=True) if angle > wish.most]
    if small:
        said.append(f"too small from {len(small)} of {len(angles)} seats ({min(small):.1f}°)")
    if large:
        said.append(f"too wide from {len(large)} of {len(angles)} seats ({max(large):.1f}°)")
    if dots:
        said.append("dots show from the nearest seat")
    return "; ".join(said) or f"good: fills {min(angles):.1f}°" + (
        f" to {max(angles):.1f}°" if max(angles) - min(angles) > 0.1 else ""
    )


def pick(candidates: Sequence[Candidate]) -> Candidate:
    """The best-scored size that fits wall, niche and way in; then wall alone; the smallest where none does. ValueError for an
    empty list.
    """
    if not candidates:
        raise ValueError("no screen sizes to choose from")
    fitting = [candidate for candidate in candidates if candidate.possible]
    fitting = fitting or [candidate for candidate in candidates if candidate.fits]
    if not fitting:
        return min(candidates, key=lambda candidate: candidate.diagonal)
    return max(fitting, key=lambda candidate: (candidate.score, -candidate.diagonal))
