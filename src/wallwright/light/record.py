"""What the light stage hands on: LED runs with their driver, feed and drop, and what the eye sees of them."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.shape import Point2
from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class LightRun:
    """One run of LED strip: its line on the wall, length [mm], load, driver and drop.

    setback : from the edge that hides it [mm] · seen_by : refs of seats whose eye meets the strip ·
    wall_lux : light on the wall 100 mm from the edge · drop_percent : of the volts, along the strip;
    feed_drop_percent : in its feed of `feed_size` mm² · drivers : how many share driver_watts · dim_to : share of
    full output that makes it a bias light (0 = not a bias light)
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


@dataclass(frozen=True, slots=True)
class Light:
    """All runs."""

    runs: tuple[LightRun, ...]
    whys: tuple[Why, ...]
