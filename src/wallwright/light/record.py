"""What the light stage hands on: LED runs with their driver, feed and drop, what the eye sees of them, and the light behind
the screen.
"""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.shape import Point2
from wallwright.core.why import Whys


@dataclass(frozen=True, slots=True)
class LightRun:
    """One run of LED strip: its line on the wall, length [mm], load, driver and drop.

    setback : from the edge that hides it [mm] · seen_by : whose eye meets the strip (a seat's ref, or in words) ·
    wall_lux : light on the wall 100 mm from the edge · drop_percent : of the volts, along the strip;
    feed_drop_percent : in its feed of `feed_size` mm² · drivers : how many share driver_watts · dim_to : share of
    full output that makes it a bias light (0 = not a bias light)

    feed_points : where its feed comes in · driver_at : where its driver stands (None: not known) · feed_length [mm] ·
    lit : facing or grazing, by `gap` from the face · surface, surface_gloss, reflectance : what it lights (reflectance 0..1) ·
    wall_luminance : of that face 100 mm from the edge, peak_luminance : where it is brightest in view, peak_at [mm] from the
    edge [cd/m²], band_luminance : mean of the first band beside the edge (of a bias light) ·
    evenness : light at the run's end over that at its middle · dot_ripple, wall_ripple : how plainly single diodes show on
    the diffuser and on the face, 0 even, 1 dots · visible_lumens : what lands in view at full output ·
    lip : as laid; hide_setback, hide_lip : the least that hides it from every eye (None: that way does not) ·
    dim_low : lowest share of full output that its driver must hold · least_hz : lowest frequency at which its flicker is of
    low risk · driver_low, flicker_hz : of the driver chosen (0 = not told) · profile : in an aluminium profile · heat [W/m],
    rise [K] : without one · circuit : what it is switched with · curve : radius of the curve that it follows edge on, 0 without ·
    turn : how far it turns there [rad] · round_curve : in straight pieces, or bendable; "" = not settled
    """

    ref: str
    along: str
    of: str
    path: tuple[Point2, ...]
    y: float
    length: float
    watts_per_m: float
    watts: float
    volts: int
    amps: float
    driver_watts: float
    driver_load: float
    driver_place: str
    feed: str
    drop_percent: float
    pitch: float
    depth: float
    colour: float
    lumens_per_m: float
    wall_lux: float
    dim_to: float
    dimmable: bool
    setback: float
    seen_by: tuple[str, ...]
    feed_drop_percent: float = 0.0
    feed_size: float = 0.0
    drivers: int = 1
    feed_points: tuple[Point2, ...] = ()
    driver_at: Point2 | None = None
    feed_length: float = 0.0
    lit: str = "facing"
    gap: float = 0.0
    surface: str = "wall"
    surface_gloss: str = "matt"
    reflectance: float = 0.0
    wall_luminance: float = 0.0
    peak_luminance: float = 0.0
    peak_at: float = 0.0
    band_luminance: float = 0.0
    evenness: float = 0.0
    dot_ripple: float = 0.0
    wall_ripple: float = 0.0
    visible_lumens: float = 0.0
    lip: float = 0.0
    hide_setback: float | None = None
    hide_lip: float | None = None
    dim_low: float = 0.0
    least_hz: float = 0.0
    driver_low: float = 0.0
    flicker_hz: float = 0.0
    flicker_depth: float = 1.0
    profile: bool = False
    heat: float = 0.0
    rise: float = 0.0
    circuit: str = "mood"
    curve: float = 0.0
    turn: float = 0.0
    round_curve: str = ""

    @property
    def bias(self) -> bool:
        """Whether it is the light behind the screen."""
        return self.along == "behind_screen"


@dataclass(frozen=True, slots=True)
class Background:
    """How bright what one sees round the screen is: by day, in the evening with the lamps on, or dark with the bias light alone.

    room_lux : the room's light there · room, bias : luminance by each [cd/m²] · white : the picture's own · share : of it
    """

    when: str
    room_lux: float
    room: float
    bias: float
    white: float

    @property
    def luminance(self) -> float:
        """Together [cd/m²]."""
        return self.room + self.bias

    @property
    def share(self) -> float:
        """Of the picture's white."""
        return self.luminance / self.white

    @property
    def room_share(self) -> float:
        """Of the picture's white, by the room's light alone."""
        return self.room / self.white


@dataclass(frozen=True, slots=True)
class Circuit:
    """What is switched and dimmed together: its runs, power [W], colours [K], and how low it must dim (0..1)."""

    ref: str
    runs: tuple[str, ...]
    watts: float
    colours: tuple[float, ...]
    dim_low: float


@dataclass(frozen=True, slots=True)
class Light:
    """All runs. beside : what one sees round the screen, day, evening, dark · circuits : for the switch legend · around : the faces in
    the band of light round the screen by reference, with the share of it (0..1) that each has, the largest first.
    """

    runs: tuple[LightRun, ...]
    whys: Whys
    beside: tuple[Background, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    around: tuple[tuple[str, float], ...] = ()
