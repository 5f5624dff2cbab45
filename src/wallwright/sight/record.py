"""What the sight stage hands on: the screen, its height, what each seat sees, and the sizes compared."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.shape import Box, Point2
from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class Screen:
    """The screen as it hangs. Lengths mm, mass kg, power W, angles degrees.

    frame : outline with bezel · picture : lit area · plate : wall plate of the mount · holes : the hole group on the wall ·
    stand_off : wall face to the screen's back · depth : of the screen itself · pinned : names of values that were decided
    """

    diagonal: float
    panel: str
    lines: int
    frame: Box
    picture: Box
    plate: Box
    holes: Box
    depth: float
    stand_off: float
    tilt: float
    mount: str
    mass: float
    watts: float
    standby_watts: float
    source: str
    pinned: frozenset[str]

    @property
    def centre(self) -> Point2:
        """The middle of the frame (x, z)."""
        return self.frame.centre


@dataclass(frozen=True, slots=True)
class SeatView:
    """What one seat sees. Angles in degrees, elevations above the horizontal through the eye.

    eye : (x, y, z), y negative into the room · wanted : the elevation of the centre that suits the posture ·
    off : how far the centre is from `wanted` · share : this seat's share of the hours · pixels : pixels per degree
    """

    ref: str
    kind: str
    posture: str
    eye: tuple[float, float, float]
    eye_measured: bool
    recline: float
    hours: float
    share: float
    distance: float
    picture_angle: float
    centre_up: float
    top_up: float
    bottom_up: float
    wanted: float
    off: float
    sideways: float
    sideways_far: float
    pixels: float
    acuity_distance: float
    best_height: float


@dataclass(frozen=True, slots=True)
class Heights:
    """The centre height over all seats [mm above FFL].

    best : recommended (hours-weighted least squares) · minimax : smallest worst angle · low, high : band good for
    all seats (or the nearest to it) · rule_low, rule_high : the trade's usual band for this room · used : what the design has
    """

    best: float
    minimax: float
    low: float
    high: float
    rule_low: float
    rule_high: float
    used: float
    pinned: bool


@dataclass(frozen=True, slots=True)
class Candidate:
    """One named size compared: fits the wall or not, the nearest and farthest picture angle, and the verdict in words."""

    diagonal: float
    frame_width: float
    frame_height: float
    mass: float
    watts: float
    fits: bool
    angle_far: float
    angle_near: float
    score: float
    verdict: str


@dataclass(frozen=True, slots=True)
class Reflection:
    """A window mirrored in the picture for a seat: the polygon on the wall and its share of the picture (0..1)."""

    seat: str
    window: str
    polygon: tuple[Point2, ...]
    share: float


@dataclass(frozen=True, slots=True)
class Sight:
    """All of it."""

    screen: Screen
    seats: tuple[SeatView, ...]
    heights: Heights
    candidates: tuple[Candidate, ...]
    reflections: tuple[Reflection, ...]
    whys: tuple[Why, ...]
