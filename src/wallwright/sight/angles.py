"""Picture size, picture angle, acuity, and the angles up, down and sideways to the picture.

Lengths mm, angles degrees. A distance is from the eye to the picture's plane along the wall's normal unless said otherwise.
"""

from __future__ import annotations

import math

from wallwright.core.units import INCH

WIDE, HIGH = 16, 9
_DIAGONAL = math.hypot(WIDE, HIGH)
ARC_MINUTE = 1 / 60


def picture_size(diagonal: float) -> tuple[float, float]:
    """Width and height [mm] of a 16:9 picture of that diagonal [in]: W = 16 D/√337, H = 9 D/√337."""
    mm = diagonal * INCH
    return mm * WIDE / _DIAGONAL, mm * HIGH / _DIAGONAL


def picture_angle(width: float, sideways: float, distance: float) -> float:
    """The angle that the picture's width fills, seen from `sideways` off its axis: the difference of the angles to its edges."""
    if distance <= 0:
        return 0.0
    half = width / 2
    return math.degrees(math.atan((sideways + half) / distance) - math.atan((sideways - half) / distance))


def width_for_angle(angle: float, distance: float) -> float:
    """The width that fills `angle` on axis: W = 2 d tan(θ/2)."""
    return 2 * distance * math.tan(math.radians(angle) / 2)


def distance_for_angle(width: float, angle: float) -> float:
    """The distance on axis at which the width fills `angle`: d = W / (2 tan(θ/2))."""
    return width / (2 * math.tan(math.radians(angle) / 2))


def acuity_distance(height: float, lines: int) -> float:
    """Nearer than this an eye that resolves one arc minute sees the lines: d = H / (N tan 1′).

    This is the rule behind "3.2 H for 1080 lines, 1.6 H for 2160"; it says where dots begin to show, not what is comfortable.
    """
    return height / (lines * math.tan(math.radians(ARC_MINUTE)))


def pixels_per_degree(width: float, lines: int, distance: float) -> float:
    """Picture points in one degree at the picture's middle; 60 = one point an arc minute. distance: eye to the middle."""
    across = lines * WIDE / HIGH
    return 2 * distance * math.tan(math.radians(0.5)) * across / width


def up(rise: float, run: float) -> float:
    """Elevation above the horizontal through the eye of a point `rise` above the eye and `run` away on plan."""
    return math.degrees(math.atan2(rise, run))


def turned(across: float, distance: float, swivel: float) -> tuple[float, float]:
    """An eye beside and before the picture's middle, in plan, as a picture turned by `swivel` [deg] about its middle has it."""
    sine, cosine = math.sin(math.radians(swivel)), math.cos(math.radians(swivel))
    return across * cosine - distance * sine, across * sine + distance * cosine


def sideways(offset: float, distance: float) -> float:
    """The angle from the picture's axis to an eye `offset` beside it (how obliquely the middle is seen)."""
    return math.degrees(math.atan2(abs(offset), distance))


def sideways_far(offset: float, distance: float, width: float) -> float:
    """The same to the picture's far edge: what the worst points of the panel are seen at."""
    return math.degrees(math.atan2(abs(offset) + width / 2, distance))


def edge_of_tilted(half_height: float, tilt: float) -> tuple[float, float]:
    """Where the top edge of a picture tilted forward stands from its middle: (rise, towards the room). The bottom mirrors it."""
    angle = math.radians(tilt)
    return half_height * math.cos(angle), half_height * math.sin(angle)


def tilt_to_face(rise: float, distance: float) -> float:
    """The forward tilt at which the picture's normal meets an eye `rise` below its middle: δ = atan(rise/d)."""
    return math.degrees(math.atan2(rise, distance))


def hidden_up_to(top: float, out: float, eye: float, distance: float) -> float:
    """How high on the picture's plane a bar hides the picture: its top edge `top` high stands `out` in front of the picture.

    z = z_eye + (z_bar − z_eye) d / (d − p). Heights from FFL.
    """
    return eye + (top - eye) * distance / (distance - out)


def ray_height(eye: float, target: float, distance: float, at: float) -> float:
    """The height of the sight line from the eye to a target `distance` away, `at` that far from the eye."""
    return eye + (target - eye) * at / distance
