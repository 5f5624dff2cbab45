"""What the sight stage hands on: the screen, its height, what each seat sees, and the sizes compared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.shape import Box, Point2
from wallwright.core.why import Whys
from wallwright.sight.fit import Carton, Route
from wallwright.sight.heights import recommended
from wallwright.sight.legible import Legible
from wallwright.sight.mount import Hanging
from wallwright.sight.swivel import Swivel


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
    swivel: float = 0.0
    """Degrees turned on its arm, towards larger x positive."""
    carton: Carton = Carton(0.0, 0.0, 0.0)
    """The box it comes in."""
    pulled: float = 0.0
    """How much further out than folded its arm holds it for its swivel [mm]."""
    turned_to: Point2 | None = None
    """The middle of the turned picture on plan (x, out from the wall); None where it is not turned."""

    @property
    def centre(self) -> Point2:
        """The middle of the frame (x, z)."""
        return self.frame.centre

    @property
    def middle(self) -> Point2:
        """The middle of the picture on plan (x, out from the wall's face), pulled out and turned as it is watched."""
        return self.turned_to or (self.picture.centre[0], self.stand_off + self.depth)


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

    best : hours-weighted least squares · minimax : smallest worst angle · low, high : band good for all seats (the minimax
    twice where serves_all is false: no height is good for all) · rule_low, rule_high : the trade's usual band for this room ·
    used : what the design has
    """

    best: float
    minimax: float
    low: float
    high: float
    rule_low: float
    rule_high: float
    used: float
    pinned: bool
    serves_all: bool = True

    @property
    def band(self) -> tuple[float, float] | None:
        """The heights good for all seats; None where there are none."""
        return (self.low, self.high) if self.serves_all else None

    @property
    def recommended(self) -> float:
        """The height to hang it at: `best`, held inside the band that is good for all."""
        return recommended(self.best, self.band)


@dataclass(frozen=True, slots=True)
class CandidateSeat:
    """One size seen from one seat. Angles in degrees, elevations above the eye's horizontal.

    hangs : the centre height this size would have · dots : nearer than the acuity distance · class_limit : what the panel's class
    bears sideways · mirrored : share of the picture in which windows and lamps are mirrored (0..1) · faults : what must be put
    right, in words · worries : what is to be weighed · verdict : both in one line
    """

    seat: str
    share: float
    hangs: float
    distance: float
    picture_angle: float
    pixels: float
    acuity_distance: float
    dots: bool
    centre_up: float
    top_up: float
    off: float
    sideways: float
    class_limit: float
    mirrored: float
    faults: tuple[str, ...]
    worries: tuple[str, ...]

    @property
    def verdict(self) -> str:
        """In one line."""
        return "; ".join((*self.faults, *self.worries)) or "good"


@dataclass(frozen=True, slots=True)
class Candidate:
    """One named size compared: fits the wall or not, the nearest and farthest picture angle, and the verdict in words.

    fits : on the wall · niche_short : by how much the niche is too small for it [mm], 0 or less where it is not · route : its
    carton's way in · seats, rank, reasons : filled by `compare.compare` (1 is best), empty on the quick path
    """

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
    niche_short: float = 0.0
    route: Route | None = None
    seats: tuple[CandidateSeat, ...] = ()
    rank: int = 0
    reasons: tuple[str, ...] = ()

    @property
    def possible(self) -> bool:
        """Whether it can hang there at all: wall, niche and the way in."""
        return self.fits and self.niche_short <= 0 and (self.route is None or self.route.passes)


@dataclass(frozen=True, slots=True)
class Reflection:
    """A window, lamp or LED line mirrored in the picture for a seat: the polygon on the wall, its share of the picture (0..1).

    window : ref of what is mirrored · kind : window, a kind of lamp, or line · luminance : of it as the eye meets it, behind
    its drawn blind [cd/m²] · angle : of incidence · ratio : mirrored over the picture's own luminance · contrast : white to
    black left inside the polygon · night : seen after dark · verdict : in words
    """

    seat: str
    window: str
    polygon: tuple[Point2, ...]
    share: float
    kind: str = "window"
    luminance: float = 0.0
    angle: float = 0.0
    ratio: float = 0.0
    contrast: float = 0.0
    night: bool = False
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class Sight:
    """All of it. candidates : the sizes compared, written out when somebody first asks · hanging : where the mount goes, and whether its
    height may be drilled · swivel : turning, solved for the seats (None without any) · legible : captions from each seat · route : the
    carton's way in · axis : x of the main seats' axis, away : their mean distance, both weighted by hours [mm] (no seat: of the one that
    is assumed, and 0). All are there whenever `plan` made it.
    """

    screen: Screen
    seats: tuple[SeatView, ...]
    heights: Heights
    candidates: Sequence[Candidate]
    reflections: tuple[Reflection, ...]
    whys: Whys
    hanging: Hanging | None = None
    swivel: Swivel | None = None
    legible: tuple[Legible, ...] = ()
    route: Route | None = None
    axis: float = 0.0
    away: float = 0.0
